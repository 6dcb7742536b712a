using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Supplies;
using Fieldwright.Circuits.Protection;
using Fieldwright.Circuits.Supplies;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What shocks, and what leaves the hall in the dark.</summary>
internal static class ElectricHazards
{
    // On-times for which a breaker is asked: a show lasts minutes. Short-circuit current that makes iron glow, A.
    // A transformer at hand over one made for just the load (common practice, no source).
    private const double Oversize = 2;

    private const double LongestShow = 3600, ShortThatBurns = 50;

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
            var (fed, remedy) = supply.Kind switch
            {
                SupplyKind.CapacitorBank => ("is charged to", "Close it in a box that opens only when it is discharged, and prove it dead with a meter; a residual-current device is no help behind a bank."),
                SupplyKind.Battery => ("is a battery of", "Cover its poles and every joint; no residual-current device protects behind a battery."),
                SupplyKind.Inverter or SupplyKind.BenchSupply => ("gives", "Cover every terminal, earth what can be touched, and keep the audience out of reach; ask its maker which protective device works behind it."),
                _ => ("is fed from", "Isolate it, earth what can be touched, protect it with a residual-current device, and keep the audience out of reach." + (variable ? " A variable transformer does not isolate." : "")),
            };
            yield return new Caution(
                "mains",
                Text($"'{supply.Name}' {fed} {volts:0} V{(supply.ThreePhase ? " between two lines" : "")}."),
                Text($"extra-low voltage ends at {limit.Value:0} V {(supply.Frequency > 0 ? "AC" : "DC")}"),
                limit.Document, limit.Grade, remedy, false);
        }
    }

    /// <summary>Windings whose terminals stand above what a hand may touch; all supplies of one kind together.</summary>
    public static IEnumerable<Caution> LiveTerminals(WorstOf worst)
    {
        var live = new List<(string Supply, bool Alternates, double Volts)>();
        foreach (var supply in worst.Apparatus.Supplies)
        {
            // A bank stands at its voltage before the switch is thrown; a shifted winding stands behind its capacitor.
            double? volts = supply.Kind == SupplyKind.CapacitorBank ? supply.Voltage : worst.Most("voltage needed", SubjectKind.Supply, supply.Name);
            foreach (string winding in supply.Split is null ? [] : supply.Feeds)
                volts = Math.Max(volts ?? 0, worst.Most("voltage", SubjectKind.Winding, winding) ?? 0);
            if (volts > TouchLimits.LiveParts(supply.Frequency > 0).Value)
                live.Add((supply.Name, supply.Frequency > 0, volts.Value));
        }

        foreach (var like in live.GroupBy(l => l.Alternates))
        {
            var limit = TouchLimits.LiveParts(like.Key);
            var each = like.ToList();
            yield return new Caution(
                "live terminals",
                each.Count == 1 ? Text($"The windings on '{each[0].Supply}' stand at {each[0].Volts:0} V.")
                    : Text($"The windings on {Names([.. each.Select(e => e.Supply)])} stand at up to {each.Max(e => e.Volts):0} V."),
                Text($"{limit.Value:0} V for bare parts touchable in a dry place"),
                limit.Document, limit.Grade,
                "Cover every terminal and joint; switch off before touching.",
                false);
        }
    }

    /// <summary>Energy that stays in capacitors: banks, and those that split a phase.</summary>
    public static IEnumerable<Caution> StoredEnergy(WorstOf worst)
    {
        var limit = TouchLimits.StoredEnergy;
        foreach (var supply in worst.Apparatus.Supplies)
        {
            double? volts = supply.Kind == SupplyKind.CapacitorBank ? supply.Voltage
                : supply.Split is not null && worst.Most("capacitor voltage", SubjectKind.Supply, supply.Name) is { } rms ? Math.Sqrt(2) * rms : null;
            double capacitance = supply.Capacitance ?? supply.Split?.Capacitance ?? 0;
            double charged = volts ?? 0, energy = Discharge.StoredEnergy(capacitance, charged);
            if (energy <= limit.Value)
                continue;
            double bare = TouchLimits.LiveParts(false).Value;
            string what = supply.Split is { } split ? $"The capacitor before '{split.Before}'" : $"'{supply.Name}'";
            string after = charged <= bare ? ""
                : worst.Most("bleed time", SubjectKind.Supply, supply.Name) is { } bleed ? Text($" Its bleeder brings it to {bare:0} V in {Time(bleed)}.")
                : Text($" Nothing empties it: without a bleeder it stays charged for days.");
            yield return new Caution(
                "stored energy " + supply.Name,
                Text($"{what} holds up to {energy:0.##} J at {charged:0} V when it is cut off.{after}"),
                Text($"{limit.Value:0.0#} J where a hand may meet it"),
                limit.Document, limit.Grade,
                "Fit a bleeder for good, short it through a resistor and prove it dead with a meter before touching; leave the short on when it is put away.",
                false);
        }
    }

    /// <summary>What a battery drives through a short.</summary>
    public static IEnumerable<Caution> BatteryShort(WorstOf worst)
    {
        foreach (var supply in worst.Apparatus.Supplies.Where(s => s is { Kind: SupplyKind.Battery, InternalResistance: > 0, Voltage: not null }))
        {
            double amperes = supply.Voltage!.Value / supply.InternalResistance;
            if (amperes < ShortThatBurns)
                continue;
            yield return new Caution(
                "battery short " + supply.Name,
                Text($"Shorted, '{supply.Name}' drives about {amperes:0} A{(supply.Fuse is { } fuse ? Text($" until its fuse {fuse} opens") : ", and it has no fuse")}."),
                Text($"{ShortThatBurns:0} A heat a spanner or a ring on a finger till it burns"),
                "common practice, no source", 'c',
                "Put a fuse at the battery's own pole, cover both poles, and take rings off before reaching in.",
                false);
        }
    }

    /// <summary>Direct current broken by hand: the energy of its field comes out at the switch.</summary>
    public static IEnumerable<Caution> BrokenCircuit(WorstOf worst)
    {
        var limit = TouchLimits.StoredEnergy;
        foreach (var winding in worst.Apparatus.Windings.Where(w => worst.Apparatus.SupplyOf(w.Name) is { Frequency: 0, Kind: not SupplyKind.CapacitorBank }))
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
            var breaker = SupplyMeasures.BreakerOf(supply);
            var verdict = breaker.At(current, LongestShow);
            double first = AtInrush(worst, supply);
            var atFirst = breaker.AtInrush(first);
            // Only where its inrush could reach the magnetic release, were it larger than need be; where it is not known it is not ruled out.
            double? inrush = supply.Through is null ? 0 : worst.Most("transformer inrush", SubjectKind.Supply, supply.Name);
            bool transformer = inrush is null || breaker.AtInrush(Oversize * inrush.Value) != ProtectionVerdict.Holds;
            if (verdict == ProtectionVerdict.Holds && atFirst == ProtectionVerdict.Holds && !transformer)
                continue;
            string finding = verdict switch
            {
                ProtectionVerdict.Holds when atFirst != ProtectionVerdict.Holds =>
                    Text($"{type} holds the {current:0.#} A that '{supply.Name}' takes from the mains, but switched on at the worst instant it draws up to {first:0} A at its first peak, which {(atFirst == ProtectionVerdict.Trips ? "trips" : "may trip")} it at once."),
                ProtectionVerdict.Holds => Text($"{type} holds the {current:0.#} A that '{supply.Name}' takes from the mains, but its transformer, switched on at the wrong instant, can draw {(inrush is { } peak ? Text($"up to {peak:0} A") : "ten to twenty times its rated current")} for a few cycles, and more if it is larger than it need be."),
                ProtectionVerdict.MayTrip => Text($"{type} may trip or hold at the {current:0.#} A that '{supply.Name}' takes from the mains: two sound ones may differ."),
                _ => Text($"{type} trips within the hour at the {current:0.#} A that '{supply.Name}' takes from the mains."),
            };
            yield return new Caution(
                "breaker",
                finding,
                Text($"it must hold {1.13 * breaker.Rating:0.#} A for an hour, must trip at {1.45 * breaker.Rating:0.#} A within it, and may trip at once from {breaker.HoldsInstantly:0} A"),
                "IEC 60898-1, three public summaries that agree; the inrush is common practice, no source", 'c',
                verdict == ProtectionVerdict.Holds
                    ? (supply.Through == "variable transformer" ? "Switch on with the transformer turned to zero" : "Switch on through a resistor that is bridged a second later, or choose type C or D where the wiring allows it") + "; never fit a larger breaker than the wiring is made for."
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

    // Highest first peak on the mains side, A; 0 when no route knows it.
    private static double AtInrush(WorstOf worst, Supply supply)
    {
        double first = worst.Most("peak current", SubjectKind.Supply, supply.Name) ?? 0, line = Rms(supply, supply.LineVoltage ?? 0);
        double volts = worst.Most("voltage needed", SubjectKind.Supply, supply.Name) ?? Rms(supply, supply.Voltage ?? 0);
        return supply.Through is null || line == 0 ? first : first * Math.Min(1, volts / line);
    }

    private static double Rms(Supply supply, double peak) => supply.Frequency > 0 ? peak / Math.Sqrt(2) : peak;
}
