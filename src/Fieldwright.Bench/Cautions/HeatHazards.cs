using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What burns.</summary>
internal static class HeatHazards
{
    // An hour of full current outlasts any show.
    private const double LongestShow = 3600;

    /// <summary>Windings that reach the limit of their insulation within a show, like ones together.</summary>
    public static IEnumerable<Caution> HotWindings(WorstOf worst)
    {
        var hot = new List<(Winding Winding, double Current, double ToLimit, double ToTouch)>();
        foreach (var winding in worst.Apparatus.Windings)
        {
            if (worst.Most("current", SubjectKind.Winding, winding.Name) is not { } current || current == 0)
                continue;
            double toLimit = Warming.TimeTo(winding, worst.Apparatus, current, InsulationClasses.Limit(winding.ThermalClass));
            if (toLimit <= LongestShow)
                hot.Add((winding, current, toLimit, Warming.TimeTo(winding, worst.Apparatus, current, TouchLimits.BurnsInASecond.Value)));
        }

        // The phases of one winding, and windings joined alike, are one thing to whoever stands there.
        foreach (var like in hot.GroupBy(h => h.Winding.Space is PhaseSpace { Of: { Phases: > 1 } whole } ? whole.Name : OnePhaseEach(worst.Apparatus, h.Winding) ?? Text($"{h.Winding.ThermalClass} {h.Current:0.##} {Time(h.ToLimit)} {Time(h.ToTouch)}")))
        {
            var one = like.MinBy(h => h.ToLimit);
            var names = Called(like.Select(h => h.Winding));
            yield return new Caution(
                "hot winding " + string.Join(", ", names),
                Text($"At {(like.All(h => h.Current == one.Current) ? "" : "up to ")}{one.Current:0.##} A {Names(names)}{PhasesOf(like.Select(h => h.Winding))} {(names.Count > 1 ? "reach" : "reaches")} {Celsius(TouchLimits.BurnsInASecond.Value):0} °C after {Time(one.ToTouch)} and the limit of the insulation after {Time(one.ToLimit)}, no cooling counted."),
                Text($"{Celsius(InsulationClasses.Limit(one.Winding.ThermalClass)):0} °C, class {one.Winding.ThermalClass}; {Celsius(TouchLimits.BurnsInASecond.Value):0} °C burns bare skin in a second"),
                "IEC 60085:2007 (read at second hand); " + TouchLimits.BurnsInASecond.Document, TouchLimits.BurnsInASecond.Grade,
                Text($"Switch on for less than {Time(0.5 * one.ToLimit)} at a go, measure the winding's resistance before the next, and do not touch it."),
                false);
        }
    }

    // Single coils in star or delta are the phases of one supply.
    private static string? OnePhaseEach(Apparatus apparatus, Winding winding) => apparatus.SupplyOf(winding.Name) is { Phases: > 1 } supply ? "phases of " + supply.Name : null;

    private static string PhasesOf(IEnumerable<Winding> windings)
    {
        var letters = windings.Select(w => w.Space).OfType<PhaseSpace>().Where(p => p.Of.Phases > 1).Select(p => ((char)('a' + p.Phase)).ToString()).Distinct().ToList();
        return letters.Count == 0 ? "" : Text($" (phases {string.Join(", ", letters)})");
    }

    /// <summary>A foil that carries its own current: hot in a moment, and molten soon.</summary>
    public static IEnumerable<Caution> Foil(WorstOf worst)
    {
        var limit = TouchLimits.BurnsInASecond;
        foreach (var foil in worst.Apparatus.Parts.Where(p => p.Shape is FoilLoopShape))
        {
            var carrying = worst.States.Select(worst.In).MaxBy(a => Math.Abs(((FoilLoopShape)a.Part(foil.Name)!.Shape).Carries))!;
            var part = carrying.Part(foil.Name)!;
            double amperes = Math.Abs(((FoilLoopShape)part.Shape).Carries);
            if (amperes == 0 || Least(() => FoilRoute.TimeTo(part, carrying, limit.Value)) is not { } touch || touch > LongestShow)
                continue;
            string melts = Least(() => FoilRoute.TimeToMelt(part, carrying)) is { } melt ? Text($" and melts after {Time(melt)}") : "";
            yield return new Caution(
                "hot foil " + foil.Name,
                Text($"At {amperes:0.#} A '{foil.Name}' is at {Celsius(limit.Value):0} °C after {Time(touch)}{melts}, no cooling counted."),
                Text($"{Celsius(limit.Value):0} °C burns bare skin in a second{(part.Material.MeltingPoint is { } at ? Text($"; {Celsius(at):0} °C melts it") : "")}"),
                limit.Document, limit.Grade,
                "Push-button only, a second at a time; a fire-proof tray under it, nothing that burns near, and wait till it is cool before straightening it.",
                false);
        }
    }

    private static double? Least(Func<double> find)
    {
        try
        {
            return find();
        }
        catch (RouteFailedException)
        {
            return null;
        }
    }

    /// <summary>Metal that would burn a hand after a minute.</summary>
    public static IEnumerable<Caution> HotMetal(WorstOf worst)
    {
        var limit = TouchLimits.BurnsInAMinute;
        foreach (var part in worst.Apparatus.Parts)
        {
            if (Rate(worst, part) is not { } rate)
                continue;
            double after = worst.Apparatus.Ambient + 60 * rate.KelvinPerSecond;
            if (after <= limit.Value)
                continue;
            yield return new Caution(
                "hot metal " + part.Name,
                Text($"'{part.Name}' takes {rate.Heat:0.#} W and would {(part.Material.MeltingPoint < after ? "melt within" : Text($"stand at {Celsius(after):0} °C after"))} a minute, no cooling counted."),
                Text($"{Celsius(limit.Value):0} °C for a touch of one minute, {Celsius(TouchLimits.BurnsInASecond.Value):0} °C for one second, bare metal"),
                limit.Document, limit.Grade,
                "Let it cool or lift it off with tongs; keep it away from hands and paper.",
                false);
        }
    }

    /// <summary>Metal that melts within a show.</summary>
    public static IEnumerable<Caution> Melting(WorstOf worst)
    {
        foreach (var part in worst.Apparatus.Parts.Where(p => p.Material.MeltingPoint is not null))
        {
            if (Rate(worst, part) is not { KelvinPerSecond: > 0 } rate)
                continue;
            double seconds = (part.Material.MeltingPoint!.Value - worst.Apparatus.Ambient) / rate.KelvinPerSecond;
            if (seconds is <= 0 or > LongestShow / 6)
                continue;
            yield return new Caution(
                "melting " + part.Name,
                Text($"'{part.Name}' could be at its melting point after {Time(seconds)}, no cooling counted."),
                Text($"{Celsius(part.Material.MeltingPoint.Value):0} °C, the melting point of {part.Material.Name}"),
                "the table of materials; no cooling counted, so it will be later", 'b',
                "Stand a fire-proof tray under it, keep water and paper away, keep a hand on the switch and switch off long before.",
                false);
        }
    }

    // A foil has a caution of its own.
    private static (double Heat, double KelvinPerSecond)? Rate(WorstOf worst, Part part)
    {
        if (part.Shape is FoilLoopShape || part.Material.SpecificHeat is null || worst.Most("heat", SubjectKind.Part, part.Name) is not { } heat || heat <= 0)
            return null;
        return (heat, Warming.OfPart(part, worst.Apparatus, new Estimate(heat, 0), 1).Value - worst.Apparatus.Ambient);
    }
}
