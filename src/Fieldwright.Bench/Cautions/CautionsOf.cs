using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Cautions;

/// <summary>Finds the hazards of an apparatus and sets each beside its limit.</summary>
/// <remarks>None can be switched off. One that the file acknowledges by name is printed all the same, and says so.</remarks>
internal static class CautionsOf
{
    // What kills first stands first.
    private static readonly Func<WorstOf, IEnumerable<Caution>>[] Rules =
    [
        ElectricHazards.Mains,
        ElectricHazards.LiveTerminals,
        ElectricHazards.StoredEnergy,
        ElectricHazards.BatteryShort,
        ElectricHazards.BrokenCircuit,
        ForceHazards.Magnets,
        ForceHazards.AcrossGap,
        ForceHazards.DrawnDown,
        ForceHazards.Loose,
        BoxHazards.FlyingDiscs,
        BoxHazards.SmallParts,
        BoxHazards.ShakenHands,
        HeatHazards.HotWindings,
        HeatHazards.HotMetal,
        HeatHazards.Melting,
        HeatHazards.Foil,
        FieldHazards.StrayField,
        FieldHazards.RingsOnFingers,
        MatterHazards.LiquidMetal,
        MatterHazards.HeavyCurrent,
        MatterHazards.Hum,
        BoxHazards.Rattle,
        BoardHazards.Water,
        BoardHazards.Hot,
        BoardHazards.Live,
        ElectricHazards.Breaker,
    ];

    /// <summary>Error bar, as a share of a number, that is good enough beside a limit: the number counts at the far end of its bar.</summary>
    private const double Enough = 0.05;

    /// <summary>The cautions of an apparatus, the worst over all its states.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="panel">The routes, for the numbers.</param>
    public static IReadOnlyList<Caution> Apparatus(Apparatus apparatus, RoutePanel panel)
    {
        var worst = new WorstOf(apparatus, panel.Loosely(Enough));
        return [.. Rules.SelectMany(rule => rule(worst)).Select(c => c with { Acknowledged = apparatus.Acknowledged.Any(a => Model.Apparatus.Same(a, c.Name)) })];
    }
}
