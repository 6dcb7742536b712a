using Fieldwright.Bench.Model;
using Fieldwright.Series.Cylinders;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>What a plane field leaves out of a part of finite width across: its currents must close within it. Shared by all routes, and so is its bar.</summary>
/// <remarks>
/// The conductivity is multiplied by the transverse-edge factor, which is exact while the part's own field is feeble. How far the thrust may be off when it
/// is not comes from a thin sheet between iron faces with its own field counted (<see cref="SheetOfFiniteWidth"/>): the difference is the bar.
/// </remarks>
internal static class AcrossWidth
{
    /// <summary>What a reader must know about an answer into which the factor went.</summary>
    public const string Remark = "The width across is counted by the transverse-edge factor, in every route alike; what its neglect of the sheet's own field could do is in the bar.";

    /// <summary>Factor on the conductivity of a part; 1 for one that runs on.</summary>
    public static double Factor(Apparatus apparatus, Part part)
    {
        if (part.Across is not { } across || apparatus.Depth is not { } depth)
            return 1;
        if (part.Shape is CylinderShape cylinder)
            return CylinderBody.ShortFactor(across, cylinder.Radius);
        return FlatPitch(apparatus) is { } pitch ? LinearMotorFactors.TransverseEdge(Math.Min(across, depth), Math.Max(0, 0.5 * (across - depth)), pitch) : 1;
    }

    /// <summary>Relative bar that the factor brings to thrust and heat of a part.</summary>
    public static double RelativeBar(Apparatus apparatus, Part part)
    {
        if (part.Across is not { } across || apparatus.Depth is not { } depth || Factor(apparatus, part) == 1)
            return 0;
        // The factor was made for a thin tube; of a solid bar half of what it takes is in doubt (common practice, no source).
        if (part.Shape is CylinderShape cylinder)
            return (cylinder.Bore > 0 ? 0.1 : 0.5) * (1 - Factor(apparatus, part));
        double slip = 1 - apparatus.LeadOf(part).Speed / (apparatus.FieldSpeed() ?? double.PositiveInfinity);
        double reaction = slip * (Goodness.Of(apparatus, part, false) ?? 0);
        double full = SheetOfFiniteWidth.ThrustRatio(reaction, Math.Min(across, depth), Math.Max(0, 0.5 * (across - depth)), FlatPitch(apparatus)!.Value);
        return Math.Abs(full / SheetOfFiniteWidth.ThrustRatioByFactor(reaction, Factor(apparatus, part)) - 1);
    }

    /// <summary>Share of the depth over which a plane field acts on a part: a cylinder's own length; a sheet is acted on wherever the winding is.</summary>
    public static double LengthShare(Apparatus apparatus, Part part) => part is { Shape: CylinderShape, Across: { } across } && apparatus.Depth is { } depth ? across / depth : 1;

    private static double? FlatPitch(Apparatus apparatus) => apparatus.Polyphases().FirstOrDefault(p => p.Row is FlatRow)?.PolePitch;
}
