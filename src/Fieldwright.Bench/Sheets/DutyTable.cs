using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>How warm each thing is after a time, and how long it may stay on.</summary>
internal static class DutyTable
{
    private static readonly double[] Times = [10, 30, 60];

    /// <summary>One row a winding that carries current and a part that takes heat.</summary>
    public static SheetTable Of(WorstOf worst)
    {
        var rows = new List<IReadOnlyList<string>>();
        var apparatus = worst.Apparatus;
        foreach (var winding in apparatus.Windings)
        {
            if (worst.Most("current", SubjectKind.Winding, winding.Name) is not { } current || current == 0)
                continue;
            rows.Add([
                winding.Name, Text($"{current:0.##} A"), .. Times.Select(t => Degrees(Warming.OfWinding(winding, apparatus, new Estimate(current, 0), t).Value)),
                Time(Warming.TimeTo(winding, apparatus, current, TouchLimits.BurnsInASecond.Value)),
                Time(Warming.TimeTo(winding, apparatus, current, InsulationClasses.Limit(winding.ThermalClass))),
            ]);
        }

        foreach (var part in apparatus.Parts.Where(p => p.Material.SpecificHeat is not null))
        {
            if (worst.Most("heat", SubjectKind.Part, part.Name) is not { } heat || heat == 0)
                continue;
            double rate = Warming.OfPart(part, apparatus, new Estimate(heat, 0), 1).Value - apparatus.Ambient;
            rows.Add([
                part.Name, Text($"{heat:0.#} W"), .. Times.Select(t => Degrees(apparatus.Ambient + t * rate)),
                Time((TouchLimits.BurnsInASecond.Value - apparatus.Ambient) / rate),
                part.Material.MeltingPoint is { } melts ? Time((melts - apparatus.Ambient) / rate) : "",
            ]);
        }

        return new SheetTable(
            "How long it may stay on",
            ["", "takes", .. Times.Select(t => Text($"after {t:0} s")), "too hot to touch", "class limit or melting"],
            rows,
            "From the temperature of the hall, no cooling counted, so every time here is on the safe side; the worst of all states. Rest until the winding's resistance is back before the next go.");
    }

    private static string Degrees(double kelvin) => Celsius(kelvin) > 2000 ? "molten" : Text($"{Celsius(kelvin):0} °C");
}
