using Fieldwright.Matter;

namespace Fieldwright.Fields.ScalarPotential;

/// <summary>B against H of one region along H, remanence set aside: the other way round of <see cref="Assembly.ReluctivityLaw"/>.</summary>
internal abstract class PermeabilityLaw
{
    public virtual bool IsLinear => false;

    /// <summary>B/H in H/m; at H = 0 its limit.</summary>
    public abstract double Permeability(double h);

    /// <summary>dB/dH in H/m.</summary>
    public abstract double DifferentialPermeability(double h);

    /// <summary>∫B dH in J/m³.</summary>
    public abstract double CoenergyDensity(double h);

    /// <summary>Static law of a region's matter.</summary>
    public static PermeabilityLaw Of(RegionMatter matter)
    {
        if (matter.Curve is null)
            return new LinearPermeability(PhysicalConstants.MagneticConstant * ((matter.StackingFactor * matter.RelativePermeability) + (1 - matter.StackingFactor)));
        return new SteelPermeability(matter.Curve, matter.StackingFactor);
    }
}

/// <summary>Constant permeability.</summary>
internal sealed class LinearPermeability(double permeability) : PermeabilityLaw
{
    public override bool IsLinear => true;

    public override double Permeability(double h) => permeability;

    public override double DifferentialPermeability(double h) => permeability;

    public override double CoenergyDensity(double h) => 0.5 * permeability * h * h;
}

/// <summary>Steel, solid (f = 1) or in sheets that lie in the plane of the model: steel and insulation see the same H.</summary>
internal sealed class SteelPermeability(BhCurve curve, double f) : PermeabilityLaw
{
    private const double Insulation = PhysicalConstants.MagneticConstant;

    public override double Permeability(double h) =>
        h > 0 ? (f * curve.FluxDensity(h) / h) + ((1 - f) * Insulation) : DifferentialPermeability(0);

    public override double DifferentialPermeability(double h) =>
        (f / curve.DifferentialReluctivity(curve.FluxDensity(h))) + ((1 - f) * Insulation);

    public override double CoenergyDensity(double h) => (f * curve.CoenergyDensity(h)) + ((1 - f) * 0.5 * Insulation * h * h);
}
