using Fieldwright.Matter;

namespace Fieldwright.Fields.Assembly;

/// <summary>H against B of one region along B, remanence set aside.</summary>
internal abstract class ReluctivityLaw
{
    public virtual bool IsLinear => false;

    /// <summary>H/B in m/H; at B = 0 its limit.</summary>
    public abstract double Reluctivity(double b);

    /// <summary>dH/dB in m/H.</summary>
    public abstract double DifferentialReluctivity(double b);

    /// <summary>∫H dB in J/m³.</summary>
    public abstract double EnergyDensity(double b);

    /// <summary>Static law of a region's matter.</summary>
    public static ReluctivityLaw Of(RegionMatter matter)
    {
        if (matter.Curve is null)
            return new LinearLaw(1 / (PhysicalConstants.MagneticConstant * ((matter.StackingFactor * matter.RelativePermeability) + (1 - matter.StackingFactor))));
        return matter.StackingFactor == 1 ? new CurveLaw(matter.Curve) : new StackLaw(matter.Curve, matter.StackingFactor);
    }
}

/// <summary>Constant reluctivity.</summary>
internal sealed class LinearLaw(double reluctivity) : ReluctivityLaw
{
    public override bool IsLinear => true;

    public override double Reluctivity(double b) => reluctivity;

    public override double DifferentialReluctivity(double b) => reluctivity;

    public override double EnergyDensity(double b) => 0.5 * reluctivity * b * b;
}

/// <summary>Solid steel.</summary>
internal sealed class CurveLaw(BhCurve curve) : ReluctivityLaw
{
    public override double Reluctivity(double b) => curve.Reluctivity(b);

    public override double DifferentialReluctivity(double b) => curve.DifferentialReluctivity(b);

    public override double EnergyDensity(double b) => curve.EnergyDensity(b);
}

/// <summary>Laminated steel, the sheets in the plane of the model: steel and insulation see the same H.</summary>
internal sealed class StackLaw(BhCurve curve, double f) : ReluctivityLaw
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    public override double Reluctivity(double b) => b > 0 ? curve.FieldStrength(InSteel(b)) / b : DifferentialReluctivity(0);

    public override double DifferentialReluctivity(double b)
    {
        var slope = curve.DifferentialReluctivity(InSteel(b));
        return slope / (f + ((1 - f) * Mu0 * slope));
    }

    public override double EnergyDensity(double b)
    {
        var inSteel = InSteel(b);
        var h = curve.FieldStrength(inSteel);
        return (f * curve.EnergyDensity(inSteel)) + ((1 - f) * 0.5 * Mu0 * h * h);
    }

    /// <summary>Flux density in the steel when the stack as a whole carries b: f·B + (1 − f)·μ0·H(B) = b, monotone in B.</summary>
    private double InSteel(double b)
    {
        // Nearly all of the flux is in the steel until it saturates: that is where the search starts.
        double low = 0, high = b / f, steel = high;
        for (var step = 0; step < 100; step++)
        {
            var (strength, slope) = curve.StrengthAndSlope(steel);
            var rest = (f * steel) + ((1 - f) * Mu0 * strength) - b;
            if (Math.Abs(rest) <= 1e-14 * b) break;
            if (rest > 0) high = steel;
            else low = steel;
            var newton = steel - (rest / (f + ((1 - f) * Mu0 * slope)));
            steel = newton > low && newton < high ? newton : 0.5 * (low + high);
        }
        return steel;
    }
}

/// <summary>Fundamental of H over the amplitude of a sinusoidal B: the effective reluctivity of steel in a harmonic field.</summary>
/// <remarks>H₁/b = (4/πb)∫₀^{π/2} H(b sin θ) sin θ dθ, by the midpoint rule in θ, which converges fast for the periodic integrand.</remarks>
internal sealed class SinusoidalLaw(ReluctivityLaw law) : ReluctivityLaw
{
    private const int Points = 24;

    private static readonly double[] Sines = [.. Enumerable.Range(0, Points).Select(k => Math.Sin((k + 0.5) * Math.PI / (2 * Points)))];

    public override double Reluctivity(double b) => Mean(b, static (l, x) => l.Reluctivity(x));

    /// <summary>d(ν·b)/db = ν + b·dν/db, with ν the effective reluctivity.</summary>
    public override double DifferentialReluctivity(double b) => Mean(b, static (l, x) => l.DifferentialReluctivity(x));

    public override double EnergyDensity(double b) => 0.5 * Reluctivity(b) * b * b;

    private double Mean(double b, Func<ReluctivityLaw, double, double> of)
    {
        var sum = 0.0;
        foreach (var sin in Sines)
            sum += of(law, b * sin) * sin * sin;
        return 2 * sum / Points;
    }
}
