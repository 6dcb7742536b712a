using Fieldwright.Bench.Model;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>How the coils of a polyphase winding lie in their slots and in what order and sense each phase joins them.</summary>
internal static class CoilTable
{
    /// <summary>One row a phase.</summary>
    public static SheetTable Of(Apparatus apparatus) => new(
        "How the coils lie and join",
        ["phase", "coils in series, from its start to its finish", "line"],
        [.. apparatus.Polyphases().Where(p => p.Slots > 1).SelectMany(p => Enumerable.Range(0, p.Phases).Select(phase => Row(apparatus, p, phase)))],
        Words(apparatus));

    private static IReadOnlyList<string> Row(Apparatus apparatus, Polyphase row, int phase)
    {
        var coils = row.Sides.Where(s => s.Phase == phase).GroupBy(s => s.Coil).Select(coil => Coil(row, [.. coil]));
        var supply = apparatus.SupplyOf(row.NameOf(phase));
        return [row.NameOf(phase), string.Join(" · ", coils), supply is null ? "" : supply.Phases == 1 ? supply.Name : Text($"L{phase + 1}")];
    }

    // A coil is turned round when its start carries the current into the page for positive current of its phase.
    private static string Coil(Polyphase row, IReadOnlyList<SlotSide> sides)
    {
        bool turned = sides[0].Sign < 0;
        return row.Row is TubeRow ? Text($"{sides[0].Coil}{(turned ? " turned" : "")}") : Text($"{sides[0].Coil}{(turned ? " turned" : "")} ({string.Join("–", sides.Select(s => s.Slot + 1))})");
    }

    private static string Words(Apparatus apparatus)
    {
        if (apparatus.Polyphases() is not [var first, ..])
            return "";
        string slots = first.Row is TubeRow ? "Coils are counted from the lowest." : "In brackets the slots of a coil, its start side first, counted from one along the travel.";
        return slots + " All coils are wound alike; finish goes to the start of the next, and a coil marked turned is entered at its finish. " + (first.DoubleLayer && first.Row is not TubeRow ? "Each slot holds two coil sides, start sides below." : "");
    }
}
