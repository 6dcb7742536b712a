using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>A flat conducting plate without edges, of any thickness, under coaxial coils square to it.</summary>
/// <remarks>
/// The coils' field is a sum of waves J₁(kr)e^{−kz}; the plate answers each with its own reflection. Valid for plates much wider than the coils
/// and their height together: the field has fallen as the cube of the distance at the rim. Immutable; may be shared between threads.
/// </remarks>
/// <source key="DoddDeeds1968"/>
public sealed class InfinitePlate
{
    /// <summary>Describes a plate.</summary>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="thickness">Thickness, m; infinite for a half-space.</param>
    /// <param name="relativePermeability">Relative permeability, constant.</param>
    /// <param name="top">Height of its upper face, m.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of range.</exception>
    public InfinitePlate(double conductivity, double thickness, double relativePermeability = 1, double top = 0)
    {
        Conductivity = Guard.NotNegative(conductivity);
        Thickness = thickness > 0 ? thickness : Guard.Positive(thickness);
        RelativePermeability = Guard.Positive(relativePermeability);
        Top = Guard.Finite(top);
    }

    /// <summary>Conductivity, S/m.</summary>
    public double Conductivity { get; }

    /// <summary>Thickness, m; may be infinite.</summary>
    public double Thickness { get; }

    /// <summary>Relative permeability.</summary>
    public double RelativePermeability { get; }

    /// <summary>Height of the upper face, m.</summary>
    public double Top { get; }

    /// <summary>Share of a wave of wave number k that the plate sends back, in A_φ at its upper face.</summary>
    /// <param name="waveNumber">k, 1/m; positive.</param>
    /// <param name="angularFrequency">ω, rad/s.</param>
    /// <returns>Γ = (μ²k² − κ²)(1 − e^{−2κt}) / ((μk + κ)² − (μk − κ)²e^{−2κt}), κ² = k² + jωμ₀μσ; −1 for a perfect conductor, (μ−1)/(μ+1) for thick iron at rest.</returns>
    public Complex Reflection(double waveNumber, double angularFrequency)
    {
        var k = RelativePermeability * waveNumber;
        var square = new Complex(waveNumber * waveNumber, angularFrequency * PhysicalConstants.MagneticConstant * RelativePermeability * Conductivity);
        var kappa = Complex.Sqrt(square);
        var through = double.IsInfinity(Thickness) ? Complex.Zero : Complex.Exp(-2 * Thickness * kappa);
        // μ²k² − κ² written so that a non-magnetic plate loses nothing by subtraction.
        var difference = new Complex((k - waveNumber) * (k + waveNumber), -square.Imaginary);
        var sum = k + kappa;
        return difference * (1 - through) / (sum * sum - difference * difference / (sum * sum) * through);
    }

    /// <summary>What the plate brings to coils above it.</summary>
    /// <param name="coils">Coils about z, wholly above the plate's upper face.</param>
    /// <param name="frequency">Frequency, Hz.</param>
    /// <returns>Reflected impedances and lift coefficients with the difference of two rules as their error.</returns>
    /// <exception cref="ArgumentException">A coil is not about z or reaches below the plate's face.</exception>
    /// <exception cref="NotConvergedException">The integral over wave numbers does not end.</exception>
    /// <source key="DoddDeeds1968" at="coil of rectangular section over a layered half-space"/>
    public PlateReflection Reflect(IReadOnlyList<ThickCoil> coils, double frequency)
    {
        ArgumentNullException.ThrowIfNull(coils);
        var omega = 2 * Math.PI * Guard.Positive(frequency);
        if (coils.Count == 0)
            throw new ArgumentException("At least one coil is needed.", nameof(coils));
        foreach (var coil in coils)
            if (!coil.IsAboutZ || coil.SectionAboutZ.ZFrom < Top)
                throw new ArgumentException("Every coil must stand about z, above the plate.", nameof(coils));
        var n = coils.Count;
        Complex[] fine = new Complex[2 * n * n], rough = new Complex[2 * n * n], scale = new Complex[2 * n * n];
        var panel = 3 / coils.Max(c => c.OuterRadius);
        var lowest = coils.Min(c => c.SectionAboutZ.ZFrom) - Top;
        // e^{−2kh} below 1e-17, or, for coils lying on the plate, the fall of the integrand as k⁻⁵ or faster.
        const int mostPanels = 4000;
        for (var p = 0; ; p++)
        {
            var before = fine.ToArray();
            Panel(coils, omega, p * panel, panel, 12, fine, scale);
            Panel(coils, omega, p * panel, panel, 8, rough, null);
            if (p * panel * lowest > 20 || p > 20 && Small(before, fine, scale))
                break;
            if (p == mostPanels)
                throw new NotConvergedException("The integral over wave numbers", 1, p);
        }
        return new PlateReflection(n, omega, fine, rough);

        static bool Small(Complex[] before, Complex[] after, Complex[] scale)
        {
            for (var i = 0; i < after.Length; i++)
                if (Complex.Abs(after[i] - before[i]) > 1e-13 * scale[i].Real)
                    return false;
            return true;
        }
    }

    // Adds ∫ of one panel: [k·n + l] mutual inductance by way of the plate, [n² + k·n + l] its change as coil k alone rises.
    private void Panel(IReadOnlyList<ThickCoil> coils, double omega, double from, double length, int order, Complex[] totals, Complex[]? scale)
    {
        var rule = GaussRule.WithNodes(order);
        var n = coils.Count;
        Span<double> source = stackalloc double[n];
        for (var i = 0; i < order; i++)
        {
            var k = from + length * rule.Nodes[i];
            for (var c = 0; c < n; c++)
            {
                var s = coils[c].SectionAboutZ;
                // N/(area) ∫∫ r J₁(kr) e^{−kz} dr dz
                var along = Math.Exp(-k * (s.ZFrom - Top)) * -double.ExpM1(-k * s.Height) / k;
                source[c] = coils[c].TurnsAboutZ / s.Area * along * RadialSource(k, s.InnerRadius, s.OuterRadius);
            }
            var reflected = Math.PI * PhysicalConstants.MagneticConstant * length * rule.Weights[i] * Reflection(k, omega);
            for (var a = 0; a < n; a++)
                for (var b = 0; b < n; b++)
                {
                    var term = reflected * (source[a] * source[b]);
                    totals[a * n + b] += term;
                    totals[n * n + a * n + b] -= k * term;
                    if (scale is not null)
                    {
                        scale[a * n + b] += Complex.Abs(term);
                        scale[n * n + a * n + b] += k * Complex.Abs(term);
                    }
                }
        }
    }

    // ∫ r J₁(kr) dr between two radii, from J₁(x) = (1/π)∫₀^π sin(x sin θ) sin θ dθ with r integrated in closed form; the trapezoid in θ
    // converges faster than any power once it has more points than kr.
    internal static double RadialSource(double k, double inner, double outer)
    {
        var count = 12 + (int)(0.6 * k * outer);
        double total = 0;
        for (var i = 0; i < count; i++)
        {
            var sine = Math.Sin(0.5 * Math.PI * (i + 0.5) / count);
            var ks = k * sine;
            total += sine * (Primitive(ks * outer) - Primitive(ks * inner)) / (ks * ks);
        }
        return total / count;

        // ∫ x sin x dx from 0.
        static double Primitive(double x)
        {
            if (Math.Abs(x) > 0.3)
                return Math.Sin(x) - x * Math.Cos(x);
            var y = x * x;
            return x * y / 3 * (1 - y / 10 * (1 - y / 28 * (1 - y / 54 * (1 - y / 88 * (1 - y / 130)))));
        }
    }
}

/// <summary>What an infinite plate brings to the coils above it.</summary>
/// <remarks>Every answer carries as its error the difference of two rules for the integral over wave numbers. Immutable; may be shared between threads. Phasors are peak values with exp(+jωt).</remarks>
/// <source key="DoddDeeds1968"/>
public sealed class PlateReflection
{
    private readonly int count;
    private readonly double omega;
    private readonly Complex[] fine, rough;

    internal PlateReflection(int count, double omega, Complex[] fine, Complex[] rough)
    {
        this.count = count;
        this.omega = omega;
        this.fine = fine;
        this.rough = rough;
    }

    /// <summary>Impedance the plate adds between two coils, Ω.</summary>
    /// <param name="k">Coil whose voltage is asked.</param>
    /// <param name="l">Coil that carries the current.</param>
    /// <returns>ΔZ; for k = l a positive real part, the heat in the plate, and for non-magnetic metal a negative imaginary part.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An index is out of range.</exception>
    public Estimate<Complex> Impedance(int k, int l)
    {
        var i = Guard.InRange(k, 0, count - 1) * count + Guard.InRange(l, 0, count - 1);
        var j = new Complex(0, omega);
        return new(j * fine[i], omega * Complex.Abs(fine[i] - rough[i]));
    }

    /// <summary>Mean force of the plate on a coil, N, positive upwards.</summary>
    /// <param name="coil">Coil whose force is asked.</param>
    /// <param name="currents">Peak phasor of each coil's current, A.</param>
    /// <returns>½Re Σ I_k* I_l ∂M_kl/∂z_k.</returns>
    /// <exception cref="ArgumentException">The number of currents or the index is wrong.</exception>
    public Estimate<double> ForceOnCoil(int coil, params ReadOnlySpan<Complex> currents)
    {
        Guard.InRange(coil, 0, count - 1);
        Guard.Length(currents.Length, count, nameof(currents));
        double value = 0, other = 0;
        for (var l = 0; l < count; l++)
        {
            var product = 0.5 * Complex.Conjugate(currents[coil]) * currents[l];
            value += (product * fine[count * count + coil * count + l]).Real;
            other += (product * rough[count * count + coil * count + l]).Real;
        }
        return new(value, Math.Abs(value - other));
    }

    /// <summary>Mean heat in the plate, W.</summary>
    /// <param name="currents">Peak phasor of each coil's current, A.</param>
    /// <returns>½Re Σ I_k* ΔZ_kl I_l.</returns>
    /// <exception cref="ArgumentException">The number of currents is wrong.</exception>
    public Estimate<double> Loss(params ReadOnlySpan<Complex> currents)
    {
        Guard.Length(currents.Length, count, nameof(currents));
        double value = 0, other = 0;
        for (var k = 0; k < count; k++)
            for (var l = 0; l < count; l++)
            {
                var product = 0.5 * Complex.Conjugate(currents[k]) * currents[l] * new Complex(0, omega);
                value += (product * fine[k * count + l]).Real;
                other += (product * rough[k * count + l]).Real;
            }
        return new(value, Math.Abs(value - other));
    }
}
