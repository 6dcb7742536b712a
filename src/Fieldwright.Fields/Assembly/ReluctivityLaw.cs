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
    public static ReluctivityLaw Of(RegionMatter matter) =>
        new LinearLaw(1 / (PhysicalConstants.MagneticConstant * ((matter.StackingFactor * matter.RelativePermeability) + (1 - matter.StackingFactor))));
}

/// <summary>Constant reluctivity.</summary>
internal sealed class LinearLaw(double reluctivity) : ReluctivityLaw
{
    public override bool IsLinear => true;

    public override double Reluctivity(double b) => reluctivity;

    public override double DifferentialReluctivity(double b) => reluctivity;

    public override double EnergyDensity(double b) => 0.5 * reluctivity * b * b;
}

/// <summary>Fundamental of H over the amplitude of a sinusoidal B: the effective reluctivity of steel in a harmonic field.</summary>
/// <remarks>H₁/b = (4/πb)∫₀^{π/2} H(b sin θ) sin θ dθ, by the midpoint rule in θ, which converges fast for the periodic integrand.</remarks>
internal sealed class SinusoidalLaw(ReluctivityLaw law) : ReluctivityLaw
{
    private const int Points = 24;

    public override double Reluctivity(double b) => Mean(b, static (l, x) => l.Reluctivity(x));

    /// <summary>d(ν·b)/db = ν + b·dν/db, with ν the effective reluctivity.</summary>
    public override double DifferentialReluctivity(double b) => Mean(b, static (l, x) => l.DifferentialReluctivity(x));

    public override double EnergyDensity(double b) => 0.5 * Reluctivity(b) * b * b;

    private double Mean(double b, Func<ReluctivityLaw, double, double> of)
    {
        var sum = 0.0;
        for (var k = 0; k < Points; k++)
        {
            var sin = Math.Sin((k + 0.5) * Math.PI / (2 * Points));
            sum += of(law, b * sin) * sin * sin;
        }
        return 2 * sum / Points;
    }
}
