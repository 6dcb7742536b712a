using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>How warm each thing is after a time, how long it may stay on, and how long it must rest.</summary>
internal static class DutyTable
{
    private const double Shown = 30;
    private static readonly double[] Times = [10, Shown, 120];

    /// <summary>One row a winding that carries current, a part that takes heat, a foil and a bank.</summary>
    public static SheetTable Of(WorstOf worst)
    {
        var apparatus = worst.Apparatus;
        var rows = new List<IReadOnlyList<string>>();
        // The phases of a winding are alike but for their ends: the one that carries most stands for all.
        foreach (var group in apparatus.Windings.GroupBy(w => w.Space is PhaseSpace { Of: { Phases: > 1 } whole } ? whole.Name : w.Name))
            if (group.Select(w => (Winding: w, Current: worst.Most("current", SubjectKind.Winding, w.Name) ?? 0)).MaxBy(w => w.Current) is { Current: > 0 } most)
                rows.Add(Row(worst, most.Winding, group.Key, most.Current));
        foreach (var part in apparatus.Parts)
            if (part.Shape is FoilLoopShape)
                rows.AddRange(Foil(worst, part));
            else if (worst.Most("heat", SubjectKind.Part, part.Name) is { } heat and > 0)
                rows.Add(Row(worst, part, heat));
        rows.AddRange(apparatus.Supplies.Where(s => s.Kind == SupplyKind.CapacitorBank).SelectMany(s => Shots(worst, s)));
        return new SheetTable(
            "How long it may stay on",
            ["", "takes", .. Times.Select(t => Text($"after {t:0} s")), "too hot to touch after", "limit after", Text($"rest after {Shown:0} s on"), "steady duty"],
            rows,
            Text($"From {Celsius(apparatus.Ambient):0} °C, the worst of all states, at the careful end of each error bar. Temperatures are those of the hottest turn or of the whole part, cooled by still air, each body by itself (near ones may warm one another: ask for its temperature by the field route); too hot to touch is {Celsius(TouchLimits.BurnsInASecond.Value):0} °C with no cooling counted. The limit of a winding is its insulation class (IEC 60085), of a part that its metal goes soft (common practice, no source) or melts. Rest is to within 10 K of the hall. Measure the winding's resistance before the next go."));
    }

    private static IReadOnlyList<string> Row(WorstOf worst, Winding winding, string called, double current)
    {
        double? At(double time) => worst.MostQuickly("hot spot", SubjectKind.Winding, winding.Name, time);
        return
        [
            called, Text($"{current:0.##} A"), .. Times.Select(t => Degrees(At(t) ?? Warming.OfWinding(winding, worst.Apparatus, new Estimate(current, 0), t).Value)),
            Time(Warming.TimeTo(winding, worst.Apparatus, current, TouchLimits.BurnsInASecond.Value)),
            // Never sooner than with no cooling at all, however wide the bar is.
            Ends(Math.Max(worst.LeastQuickly("longest on-time", SubjectKind.Winding, winding.Name) ?? 0, Warming.TimeTo(winding, worst.Apparatus, current, InsulationClasses.Limit(winding.ThermalClass)))),
            Rest(worst.MostQuickly("cooling time", SubjectKind.Winding, winding.Name, Shown)),
            worst.LeastQuickly("steady duty", SubjectKind.Winding, winding.Name) is { } share ? Text($"{(share > 0.98 ? 100 : Math.Floor(100 * share)):0} %") : "",
        ];
    }

    private static IReadOnlyList<string> Row(WorstOf worst, Part part, double heat)
    {
        double? rate = part.Material.SpecificHeat is null ? null : Warming.OfPart(part, worst.Apparatus, new Estimate(heat, 0), 1).Value - worst.Apparatus.Ambient;
        double? at = part.Material.SofteningPoint ?? part.Material.MeltingPoint;
        double uncooled = at is { } hot && rate is { } perSecond ? (hot - worst.Apparatus.Ambient) / perSecond : 0;
        string limit = (worst.LeastQuickly("time to soften", SubjectKind.Part, part.Name) ?? worst.LeastQuickly("time to melt", SubjectKind.Part, part.Name)) is { } least ? Ends(Math.Max(least, uncooled)) : "";
        return
        [
            part.Name, Text($"{heat:0.#} W"),
            .. Times.Select(t => worst.MostQuickly("temperature", SubjectKind.Part, part.Name, t) is { } kelvin ? Degrees(kelvin) : ""),
            rate is { } r ? Time((TouchLimits.BurnsInASecond.Value - worst.Apparatus.Ambient) / r) : "",
            limit, Rest(worst.MostQuickly("cooling time", SubjectKind.Part, part.Name, Shown)), "",
        ];
    }

    private static IEnumerable<IReadOnlyList<string>> Foil(WorstOf worst, Part foil)
    {
        var carrying = worst.States.Select(worst.In).MaxBy(a => Math.Abs(((FoilLoopShape)a.Part(foil.Name)!.Shape).Carries))!;
        var part = carrying.Part(foil.Name)!;
        double amperes = Math.Abs(((FoilLoopShape)part.Shape).Carries);
        if (amperes == 0)
            yield break;
        double melts = part.Material.MeltingPoint is null ? double.PositiveInfinity : FoilRoute.TimeToMelt(part, carrying);
        yield return
        [
            foil.Name, Text($"{amperes:0.##} A"), .. Times.Select(t => t >= melts ? "molten" : Degrees(FoilRoute.TemperatureAfter(part, carrying, t))),
            Time(FoilRoute.TimeTo(part, carrying, TouchLimits.BurnsInASecond.Value)), Time(melts), "", "",
        ];
    }

    // All the energy of a bank into the wire of its windings, none carried off.
    private static IEnumerable<IReadOnlyList<string>> Shots(WorstOf worst, Supply bank)
    {
        var apparatus = worst.Apparatus;
        double energy = Discharge.StoredEnergy(bank.Capacitance!.Value, bank.Voltage!.Value);
        foreach (string name in bank.Feeds)
        {
            var winding = apparatus.Winding(name)!;
            double rise = energy / HeatBodies.Capacity(winding, apparatus), shots = (InsulationClasses.Limit(winding.ThermalClass) - apparatus.Ambient) / rise;
            yield return [name, Text($"{energy:0.#} J a shot"), .. Times.Select(_ => ""), Text($"{Math.Floor((TouchLimits.BurnsInASecond.Value - apparatus.Ambient) / rise):0} shots"), Text($"{Math.Floor(shots):0} shots"), worst.MostQuickly("shot interval", SubjectKind.Winding, name) is { } interval ? Text($"{Time(interval)} from shot to shot") : Text($"{rise:0.##} K a shot"), ""];
        }
    }

    private static string Ends(double seconds) => seconds >= Cooled.Day ? "may stay on" : Time(seconds);

    private static string Rest(double? seconds) => seconds switch { null => "", 0 => "none", >= Cooled.Day => "a day", { } s => Time(s) };

    private static string Degrees(double kelvin) => Celsius(kelvin) > 2000 ? "molten" : Text($"{Celsius(kelvin):0} °C");
}
