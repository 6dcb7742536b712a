using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Duty;

/// <summary>Warming with no cooling at all: an upper bound that needs no model of the air.</summary>
public static class Warming
{
    /// <summary>The remark that goes with every answer from here.</summary>
    public const string NoCooling = "No cooling is counted, so this is an upper bound.";

    /// <summary>Resistance of a winding at the temperature of the hall, ohm.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    public static double Resistance(Winding winding, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        var metal = winding.Wire.Metal;
        return metal.ResistivityAt(apparatus.Ambient) * winding.Wire.Twist * WireLength(winding, apparatus) / winding.Wire.Section;
    }

    /// <summary>Temperature of a winding after a time at constant current, K. The resistivity rises with temperature, so the rise is exponential.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="rmsCurrent">Current, A rms.</param>
    /// <param name="time">Time since switching on, s.</param>
    /// <source key="IEC60949"/>
    public static Estimate OfWinding(Winding winding, Apparatus apparatus, Estimate rmsCurrent, double time)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        double At(double current)
        {
            double rate = Rate(winding, apparatus, current);
            double alpha = winding.Wire.Metal.TemperatureCoefficientAt(apparatus.Ambient);
            return apparatus.Ambient + (alpha == 0 ? rate * time : double.ExpM1(alpha * rate * time) / alpha);
        }

        double value = At(rmsCurrent.Value);
        return new Estimate(value, Math.Abs(At(rmsCurrent.Value + rmsCurrent.Bar) - value));
    }

    /// <summary>Time in which a winding at constant current warms from the hall to a temperature, s, no cooling counted.</summary>
    /// <param name="winding">The winding.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="rmsCurrent">Current, A rms; positive.</param>
    /// <param name="temperature">Temperature, K.</param>
    public static double TimeTo(Winding winding, Apparatus apparatus, double rmsCurrent, double temperature)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        var metal = winding.Wire.Metal;
        double rise = temperature - apparatus.Ambient;
        double alpha = metal.TemperatureCoefficientAt(apparatus.Ambient);
        return (alpha == 0 ? rise : double.LogP1(alpha * rise) / alpha) / Rate(winding, apparatus, rmsCurrent);
    }

    /// <summary>Temperature of a part after a time, K, its heat held at the value it starts with.</summary>
    /// <param name="part">The part.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="heat">Heat in it, W.</param>
    /// <param name="time">Time since switching on, s.</param>
    public static Estimate OfPart(Part part, Apparatus apparatus, Estimate heat, double time)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(apparatus);
        double perJoule = 1 / (Floats.Mass(part, apparatus.Depth) * Heat(part.Material));
        return new Estimate(apparatus.Ambient + heat.Value * time * perJoule, heat.Bar * time * perJoule);
    }

    /// <summary>Length of wire in a winding, m: turns times the mean turn; strands of litz are longer by their twist.</summary>
    public static double WireLength(Winding winding, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        int coils = winding.Space is PhaseSpace phase ? phase.Of.CoilsOf(phase.Phase) : 1;
        return coils * winding.Turns * MeanTurn(winding, apparatus);
    }

    /// <summary>Mean length of a turn, m.</summary>
    public static double MeanTurn(Winding winding, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(winding);
        ArgumentNullException.ThrowIfNull(apparatus);
        switch (winding.Space)
        {
            case RoundSpace round:
                return Math.PI * (round.InnerRadius + round.OuterRadius);
            case FrameSpace f:
                return 2 * (f.Length + f.Width) - 8 * f.CornerRadius + 2 * Math.PI * (f.CornerRadius + 0.5 * f.Build);
            case LimbSpace limb:
                var core = (CoreShape)(apparatus.Part(limb.Core)?.Shape ?? throw new ArgumentException($"There is no core '{limb.Core}'.", nameof(winding)));
                // Once round the limb's rectangle, with rounded corners at the middle of the build.
                double width = core.OuterRadius - core.InnerRadius;
                return 2 * (width + apparatus.Depth!.Value) + 2 * Math.PI * (limb.Clearance + 0.5 * limb.Build);
            case PhaseSpace { Of: { Row: TubeRow tube } }:
                return Math.PI * (2 * tube.InnerRadius + tube.Build);
            case PhaseSpace { Of: var phases }:
                double over = phases.CoilSpan * phases.SlotPitch * (phases.Row is RingRow ring ? 0.5 * (ring.InnerRadius + ring.OuterRadius) : 1);
                return 2 * (apparatus.Depth!.Value + (phases.EndLength ?? over));
            case TwoSides sides:
                double apart = Math.Sqrt(Math.Pow(sides.Out.X - sides.Into.X, 2) + Math.Pow(sides.Out.Y - sides.Into.Y, 2));
                return 2 * (apparatus.Depth!.Value + apart);
            default:
                throw new ArgumentException($"The space of winding '{winding.Name}' is not known.", nameof(winding));
        }
    }

    // Rise a second at the temperature of the hall, K/s: ρ J² / (c d).
    private static double Rate(Winding winding, Apparatus apparatus, double rmsCurrent)
    {
        double density = rmsCurrent / winding.Wire.Section;
        var metal = winding.Wire.Metal;
        return metal.ResistivityAt(apparatus.Ambient) * density * density / (Heat(metal) * Density(metal));
    }

    private static double Heat(Material material) =>
        material.SpecificHeat ?? throw new RouteFailedException($"The specific heat of {material.Name} is not known.");

    private static double Density(Material material) =>
        material.Density ?? throw new RouteFailedException($"The density of {material.Name} is not known.");
}
