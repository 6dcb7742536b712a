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

    /// <summary>Law of a region's matter: static, or between amplitudes where the field alternates.</summary>
    public static ReluctivityLaw Of(RegionMatter matter, bool harmonic) => harmonic && matter.Curve is not null ? SinusoidalLaw.Of(matter) : Static(matter);

    /// <summary>Static law of a region's matter.</summary>
    public static ReluctivityLaw Static(RegionMatter matter)
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
