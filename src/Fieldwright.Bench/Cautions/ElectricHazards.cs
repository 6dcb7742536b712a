using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Protection;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What shocks, and what leaves the hall in the dark.</summary>
internal static class ElectricHazards
{
    // On-times for which a breaker is asked: a show lasts minutes.
    private const double LongestShow = 3600;

    /// <summary>A supply above extra-low voltage.</summary>
    public static IEnumerable<Caution> Mains(WorstOf worst)
    {
        foreach (var supply in worst.Apparatus.Supplies)
        {
            double volts = Rms(supply, supply.LineVoltage ?? supply.Voltage ?? 0);
            var limit = TouchLimits.ExtraLowVoltage(supply.Frequency > 0);
            if (volts <= limit.Value)
                continue;
            bool variable = supply.Through?.Contains("variable", StringComparison.OrdinalIgnoreCase) == true;
            yield return new Caution(
                "mains",
                Text($"'{supply.Name}' is fed from {volts:0} V."),
                Text($"extra-low voltage ends at {limit.Value:0} V {(supply.Frequency > 0 ? "AC" : "DC")}"),
                limit.Document, limit.Grade,
                "Isolate it, earth what can be touched, protect it with a residual-current device, and keep the audience out of reach."
                    + (variable ? " A variable transformer does not isolate." : ""),
                false);
        }
    }

    /// <summary>Windings whose terminals stand above what a hand may touch.</summary>
    public static IEnumerable<Caution> LiveTerminals(WorstOf worst)
    {
        foreach (var supply in worst.Apparatus.Supplies)
        {
            var limit = TouchLimits.LiveParts(supply.Frequency > 0);
            if (worst.Most("voltage needed", SubjectKind.Supply, supply.Name) is not { } volts || volts <= limit.Value)
                continue;
            yield return new Caution(
                "live terminals",
                Text($"The windings on '{supply.Name}' stand at {volts:0} V."),
                Text($"{limit.Value:0} V for bare parts touchable in a dry place"),
                limit.Document, limit.Grade,
                "Cover every terminal and joint; switch off before touching.",
                false);
        }
    }

    /// <summary>Direct current broken by hand: the energy of its field comes out at the switch.</summary>
    public static IEnumerable<Caution> BrokenCircuit(WorstOf worst)
    {
        var limit = TouchLimits.StoredEnergy;
        foreach (var winding in worst.Apparatus.Windings.Where(w => worst.Apparatus.SupplyOf(w.Name) is { Frequency: 0 }))
        {
            if (worst.Most("current", SubjectKind.Winding, winding.Name) is not { } current || worst.Most("inductance", SubjectKind.Winding, winding.Name) is not { } inductance)
                continue;
            double energy = 0.5 * inductance * current * current;
            if (energy <= limit.Value)
                continue;
            yield return new Caution(
                "broken circuit " + winding.Name,
                Text($"'{winding.Name}' holds {energy:0.0#} J in its field at {current:0.##} A; when its circuit is broken that energy comes out as a spark and a high voltage at the gap."),
                Text($"{limit.Value:0.0#} J where a hand may meet it"),
                limit.Document, limit.Grade,
                "Turn the current down before switching off, or put a diode across the winding; never pull a plug under current.",
                false);
        }
    }

    /// <summary>What the breaker will do over a show.</summary>
    public static IEnumerable<Caution> Breaker(WorstOf worst)
    {
        foreach (var supply in worst.Apparatus.Supplies)
        {
            if (supply.Breaker is not { } type || AtBreaker(worst, supply) is not { } current)
                continue;
            var breaker = new Breaker(type[0], double.Parse(type[1..], System.Globalization.CultureInfo.InvariantCulture));
            var verdict = breaker.At(current, LongestShow);
            bool transformer = supply.Through is not null;
            if (verdict == ProtectionVerdict.Holds && !transformer)
                continue;
            string finding = verdict switch
            {
                ProtectionVerdict.Holds => Text($"{type} holds the {current:0.#} A that '{supply.Name}' takes from the mains, but a transformer that is switched on at the wrong instant can draw ten to twenty times its rated current for a few cycles."),
                ProtectionVerdict.MayTrip => Text($"{type} may trip or hold at the {current:0.#} A that '{supply.Name}' takes from the mains: two sound ones may differ."),
                _ => Text($"{type} trips within the hour at the {current:0.#} A that '{supply.Name}' takes from the mains."),
            };
            yield return new Caution(
                "breaker",
                finding,
                Text($"it must hold {1.13 * breaker.Rating:0.#} A for an hour, must trip at {1.45 * breaker.Rating:0.#} A within it, and may trip at once from {breaker.HoldsInstantly:0} A"),
                "IEC 60898-1, three public summaries that agree; the inrush is common practice, no source", 'c',
                verdict == ProtectionVerdict.Holds
                    ? "Switch on with the transformer turned to zero; never fit a larger breaker than the wiring is made for."
                    : "Turn the current down, shorten the on-time, or feed it from another circuit; never fit a larger breaker than the wiring is made for.",
                false);
        }
    }

    /// <summary>Current through the breaker, A rms: on the mains side of a transformer, which passes power.</summary>
    public static double? AtBreaker(WorstOf worst, Supply supply)
    {
        if (worst.Most("current", SubjectKind.Supply, supply.Name) is not { } current)
            return null;
        double line = Rms(supply, supply.LineVoltage ?? 0);
        double volts = worst.Most("voltage needed", SubjectKind.Supply, supply.Name) ?? Rms(supply, supply.Voltage ?? 0);
        return supply.Through is null || line == 0 ? current : current * Math.Min(1, volts / line);
    }

    private static double Rms(Supply supply, double peak) => supply.Frequency > 0 ? peak / Math.Sqrt(2) : peak;
}
