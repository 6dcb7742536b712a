using Fieldwright.Numerics;

namespace Fieldwright.Matter;

/// <summary>Magnetisation curve of soft steel: H as a smooth, strictly rising function of B, odd about zero.</summary>
/// <remarks>
/// Piecewise cubic Hermite in H(B) with limited slopes, so that neither H nor dH/dB ever turns negative between the points of the table;
/// energies are its exact integrals. Beyond the table the steel is taken as saturated: dB/dH = μ₀. Immutable; threads may share it.
/// </remarks>
/// <source key="FritschButland1984"/>
public sealed class BhCurve
{
    private const double Saturated = 1 / PhysicalConstants.MagneticConstant;
    private readonly double[] b, h, slope, energy;

    private BhCurve(string name, double[] b, double[] h)
    {
        Name = name;
        this.b = b;
        this.h = h;
        slope = Slopes(b, h);
        energy = new double[b.Length];
        for (int i = 1; i < b.Length; i++)
            energy[i] = energy[i - 1] + Integral(i - 1, 1);
    }

    /// <summary>Name used in messages.</summary>
    public string Name { get; }

    /// <summary>Flux densities of the table, T, rising from zero.</summary>
    internal ReadOnlySpan<double> FluxDensities => b;

    /// <summary>Field strengths of the table, A/m, rising from zero.</summary>
    internal ReadOnlySpan<double> FieldStrengths => h;

    /// <summary>Largest flux density of the table, T; beyond it the slope is that of free space.</summary>
    public double LastFluxDensity => b[^1];

    /// <summary>Makes a curve from a table.</summary>
    /// <param name="name">Name used in messages.</param>
    /// <param name="fieldStrength">H, A/m, rising; the origin may be left out.</param>
    /// <param name="fluxDensity">B, T, rising, one for each H.</param>
    /// <exception cref="ArgumentException">Fewer than two points, lengths that differ, or values that do not rise.</exception>
    public static BhCurve Create(string name, ReadOnlySpan<double> fieldStrength, ReadOnlySpan<double> fluxDensity)
    {
        Guard.Length(fluxDensity.Length, fieldStrength.Length, nameof(fluxDensity));
        Guard.Finite(fieldStrength, nameof(fieldStrength));
        Guard.Finite(fluxDensity, nameof(fluxDensity));
        var (h, b) = (new List<double> { 0 }, new List<double> { 0 });
        for (int i = 0; i < fieldStrength.Length; i++)
        {
            if (fieldStrength[i] == 0 && fluxDensity[i] == 0)
                continue;
            if (fieldStrength[i] <= h[^1] || fluxDensity[i] <= b[^1])
                throw new ArgumentException($"The BH table of {name} must rise: point {i + 1} ({fieldStrength[i]:G6} A/m, {fluxDensity[i]:G6} T) does not lie above the one before it.", nameof(fluxDensity));
            h.Add(fieldStrength[i]);
            b.Add(fluxDensity[i]);
        }

        if (b.Count < 3)
            throw new ArgumentException($"The BH table of {name} needs two points at least besides the origin.", nameof(fluxDensity));
        return new BhCurve(name, [.. b], [.. h]);
    }

    /// <summary>H, A/m, at a flux density, T; odd.</summary>
    public double FieldStrength(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        if (size >= b[^1])
            return Math.CopySign(h[^1] + (size - b[^1]) * Saturated, fluxDensity);
        int i = Interval(b, size);
        double w = b[i + 1] - b[i], t = (size - b[i]) / w, s = 1 - t;
        double value = s * s * (1 + 2 * t) * h[i] + t * t * (3 - 2 * t) * h[i + 1] + w * t * s * (s * slope[i] - t * slope[i + 1]);
        return Math.CopySign(value, fluxDensity);
    }

    /// <summary>Reluctivity H/B, m/H; at zero its limit, the slope of the curve there.</summary>
    public double Reluctivity(double fluxDensity) =>
        Math.Abs(fluxDensity) < 1e-9 * b[1] ? slope[0] : FieldStrength(fluxDensity) / fluxDensity;

    /// <summary>Differential reluctivity dH/dB, m/H; positive.</summary>
    public double DifferentialReluctivity(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        if (size >= b[^1])
            return Saturated;
        int i = Interval(b, size);
        double w = b[i + 1] - b[i], t = (size - b[i]) / w;
        return 6 * t * (1 - t) * (h[i + 1] - h[i]) / w + (1 - t) * (1 - 3 * t) * slope[i] + t * (3 * t - 2) * slope[i + 1];
    }

    /// <summary><see cref="FieldStrength"/> and <see cref="DifferentialReluctivity"/> at once, A/m and m/H.</summary>
    public (double Strength, double Slope) StrengthAndSlope(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        if (size >= b[^1])
            return (Math.CopySign(h[^1] + (size - b[^1]) * Saturated, fluxDensity), Saturated);
        int i = Interval(b, size);
        double w = b[i + 1] - b[i], t = (size - b[i]) / w, s = 1 - t;
        double value = s * s * (1 + 2 * t) * h[i] + t * t * (3 - 2 * t) * h[i + 1] + w * t * s * (s * slope[i] - t * slope[i + 1]);
        return (Math.CopySign(value, fluxDensity), 6 * t * s * (h[i + 1] - h[i]) / w + s * (1 - 3 * t) * slope[i] + t * (3 * t - 2) * slope[i + 1]);
    }

    /// <summary>Energy density ∫H dB from zero, J/m³; even.</summary>
    public double EnergyDensity(double fluxDensity)
    {
        double size = Math.Abs(fluxDensity);
        if (size >= b[^1])
        {
            double beyond = size - b[^1];
            return energy[^1] + beyond * (h[^1] + 0.5 * beyond * Saturated);
        }

        int i = Interval(b, size);
        return energy[i] + Integral(i, (size - b[i]) / (b[i + 1] - b[i]));
    }

    /// <summary>Flux density, T, at a field strength, A/m; odd.</summary>
    public double FluxDensity(double fieldStrength)
    {
        double size = Math.Abs(fieldStrength);
        if (size >= h[^1])
            return Math.CopySign(b[^1] + (size - h[^1]) / Saturated, fieldStrength);
        int i = Interval(h, size);
        // The piece as a cubic in t, its share of the interval: h[i] + t·(c1 + t·(c2 + t·c3)).
        double w = b[i + 1] - b[i], rise = h[i + 1] - h[i], wanted = size - h[i];
        double c1 = w * slope[i], c2 = 3 * rise - w * (2 * slope[i] + slope[i + 1]), c3 = w * (slope[i] + slope[i + 1]) - 2 * rise;
        // Newton kept inside its bracket: the curve is monotone, so the bracket always closes. It starts from the chord.
        double low = 0, high = 1, t = wanted / rise;
        for (int step = 0; step < 100 && high - low > 1e-15; step++)
        {
            double residual = t * (c1 + t * (c2 + t * c3)) - wanted;
            if (Math.Abs(residual) <= 1e-14 * size)
                break;
            if (residual > 0)
                high = t;
            else
                low = t;
            double next = t - residual / (c1 + t * (2 * c2 + t * 3 * c3));
            t = next > low && next < high ? next : 0.5 * (low + high);
        }

        return Math.CopySign(b[i] + w * t, fieldStrength);
    }

    /// <summary>Coenergy density ∫B dH from zero, J/m³; even.</summary>
    public double CoenergyDensity(double fieldStrength)
    {
        double size = Math.Abs(fieldStrength), density = FluxDensity(size);
        return size * density - EnergyDensity(density);
    }

    /// <summary>Effective reluctivity under a sinusoidal flux density: fundamental of H over the peak of B, m/H.</summary>
    /// <param name="peak">Peak of B, T.</param>
    /// <remarks>H₁/b = (4/πb) ∫ H(b sin θ) sin θ dθ over a quarter cycle; midpoint rule, relative error below 1e-4 on a table of ordinary steel. Hysteresis is left out.</remarks>
    public double FundamentalReluctivity(double peak)
    {
        const int Points = 96;
        double sum = 0;
        for (int k = 0; k < Points; k++)
        {
            double sine = Math.Sin((k + 0.5) * Math.PI / (2 * Points));
            sum += Reluctivity(peak * sine) * sine * sine;
        }

        return 2 * sum / Points;
    }

    /// <summary>Reluctivity of the linear matter that stores as much energy at that peak: 2 w(b)/b², m/H.</summary>
    /// <param name="peak">Peak of B, T.</param>
    public double EnergyReluctivity(double peak) => Math.Abs(peak) < 1e-9 * b[1] ? slope[0] : 2 * EnergyDensity(peak) / (peak * peak);

    /// <summary>The law between the amplitudes of H and B under a sinusoidal flux, as a curve: its H is the fundamental's peak, its B the peak of B.</summary>
    /// <remarks>Sampled at the points of the table, three between each, and on beyond it until the slope is that of free space to a thousandth.</remarks>
    public BhCurve UnderSinusoidalFlux()
    {
        var (strengths, densities) = (new List<double>(), new List<double>());
        void Take(double density)
        {
            double strength = density * FundamentalReluctivity(density);
            if (strengths.Count == 0 || strength > strengths[^1])
            {
                strengths.Add(strength);
                densities.Add(density);
            }
        }

        for (int i = 1; i < b.Length; i++)
            for (int k = 1; k <= 4; k++)
                Take(b[i - 1] + 0.25 * k * (b[i] - b[i - 1]));
        for (double density = 1.05 * b[^1]; density < 20 * b[^1]; density *= 1.05)
            Take(density);
        return Create(Name + ", sinusoidal flux", [.. strengths], [.. densities]);
    }

    // ∫ of the cubic from the left end of interval i to the fraction t of it.
    private double Integral(int i, double t)
    {
        double w = b[i + 1] - b[i], t2 = t * t, t3 = t2 * t, t4 = t3 * t;
        return w * (h[i] * (t - t3 + 0.5 * t4) + h[i + 1] * (t3 - 0.5 * t4)
            + w * (slope[i] * (0.5 * t2 - 2 * t3 / 3 + 0.25 * t4) + slope[i + 1] * (0.25 * t4 - t3 / 3)));
    }

    // Harmonic means of neighbouring secants: never more than three times the smaller, which keeps every piece monotone.
    private static double[] Slopes(double[] b, double[] h)
    {
        int n = b.Length;
        var d = new double[n];
        for (int i = 1; i < n - 1; i++)
        {
            double left = (h[i] - h[i - 1]) / (b[i] - b[i - 1]), right = (h[i + 1] - h[i]) / (b[i + 1] - b[i]);
            double a = (1 + (b[i + 1] - b[i]) / (b[i + 1] - b[i - 1])) / 3;
            d[i] = left * right / (a * right + (1 - a) * left);
        }

        double first = (h[1] - h[0]) / (b[1] - b[0]), last = (h[^1] - h[^2]) / (b[^1] - b[^2]);
        d[0] = Math.Clamp(1.5 * first - 0.5 * d[1], 0.2 * first, 3 * first);
        d[^1] = Math.Clamp(Saturated, last, 3 * last);
        return d;
    }

    private static int Interval(double[] x, double value)
    {
        int low = 0, high = x.Length - 1; // x[low] ≤ value < x[high], as far as the table reaches
        while (high - low > 1)
        {
            int middle = (low + high) >> 1;
            if (x[middle] <= value)
                low = middle;
            else
                high = middle;
        }

        return low;
    }
}
