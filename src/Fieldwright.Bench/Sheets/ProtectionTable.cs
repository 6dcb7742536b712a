using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Supplies;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>What the breaker and the fuse of each supply will do over the time that its windings may stay on.</summary>
internal static class ProtectionTable
{
    // How long a show holds a switch when the windings would bear more, s.
    private const double LongestShow = 3600;

    /// <summary>One row a device; a supply with none says so.</summary>
    public static SheetTable Of(WorstOf worst)
    {
        var rows = new List<IReadOnlyList<string>>();
        foreach (var supply in worst.Apparatus.Supplies.Where(s => s.Kind is not (SupplyKind.CapacitorBank or SupplyKind.Current)))
        {
            double on = Math.Min(LongestShow, supply.Feeds.Select(f => worst.LeastQuickly("longest on-time", SubjectKind.Winding, f) ?? LongestShow).DefaultIfEmpty(LongestShow).Min());
            if (supply.Breaker is { } breaker)
                rows.Add(Row(worst, supply, "breaker " + breaker, "breaker", on));
            if (supply.Fuse is { } fuse)
                rows.Add(Row(worst, supply, "fuse " + fuse, "fuse", on));
            if (supply.Breaker is null && supply.Fuse is null)
                rows.Add([supply.Name, "none stated", "", "", "", "", "fit one that suits the wiring"]);
        }

        return new SheetTable(
            "What protects it",
            ["supply", "device", "carries", "first peak", "surely holds", "surely open by", "over the on-time"],
            rows,
            "Promises of the standards from cold (IEC 60898, IEC 60269, IEC 60127, read in summaries or from memory), between which two sound devices differ. The first peak is that of switching on at the worst instant; a transformer's own stands in the cautions where the device may feel it. They protect the wiring, not the winding: the winding's time is in the table of on-times.");
    }

    private static IReadOnlyList<string> Row(WorstOf worst, Supply supply, string device, string word, double on)
    {
        double holds = worst.LeastQuickly(word + " holds", SubjectKind.Supply, supply.Name) ?? 0, opens = worst.MostQuickly(word + " opens", SubjectKind.Supply, supply.Name) ?? SupplyMeasures.Day;
        string verdict = holds >= on ? Text($"holds for {Time(on)}") : opens <= on ? Text($"opens within {Time(on)}") : Text($"may hold or open within {Time(on)}");
        return
        [
            supply.Name, device, Amperes(worst.MostQuickly("current", SubjectKind.Supply, supply.Name), Share(worst, supply)), Amperes(worst.MostQuickly("peak current", SubjectKind.Supply, supply.Name), Share(worst, supply)),
            holds >= SupplyMeasures.Day ? "a day or more" : Time(holds), opens >= SupplyMeasures.Day ? "need not" : Time(opens), verdict,
        ];
    }

    // Behind a transformer the line carries the windings' current in proportion to the voltages.
    private static double Share(WorstOf worst, Supply supply) => supply.LineVoltage is not { } line ? 1
        : Math.Min(1, (worst.MostQuickly("voltage needed", SubjectKind.Supply, supply.Name) is { } volts ? volts * Math.Sqrt(2) : supply.Voltage ?? line) / line);

    private static string Amperes(double? amperes, double share) => amperes is { } a ? Text($"{a * share:0.##} A") : "";
}
