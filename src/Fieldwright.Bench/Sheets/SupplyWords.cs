using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Supplies;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>Supplies as a workshop reads them: what they are, what they are set to, what they feed, what must be bought.</summary>
internal static class SupplyWords
{
    private static readonly double RootTwo = Math.Sqrt(2);

    /// <summary>What it is.</summary>
    public static string Source(Supply s)
    {
        double root = s.Frequency > 0 ? RootTwo : 1;
        string phases = s.Phases == 1 ? "" : s.ThreePhase ? "three-phase " : Text($"{s.Phases} phases, ");
        string inside = s.InternalResistance > 0 ? Text($", {s.InternalResistance:0.####} Ω in source and leads") : "";
        return phases + s.Kind switch
        {
            SupplyKind.Mains => Text($"mains {(s.LineVoltage ?? s.Voltage ?? 0) / root:0} V {s.Frequency:0.##} Hz{(s.Through is { } through ? " through a " + through : "")}"),
            SupplyKind.Battery => Text($"battery {s.Voltage ?? 0:0.##} V"),
            SupplyKind.Inverter => Text($"inverter {s.Frequency:0.####} Hz{Limit(s)}"),
            SupplyKind.BenchSupply => Text($"direct bench supply{Limit(s)}"),
            SupplyKind.CapacitorBank => Text($"capacitor bank {Farads(s.Capacitance ?? 0)}{(s.Bleeder is { } bleeder ? Text($", bleeder {Ohms(bleeder)}") : ", no bleeder")}"),
            _ => s.Frequency > 0 ? Text($"current source {s.Frequency:0.####} Hz") : "current source, direct",
        } + (s.PhaseDegrees != 0 ? Text($", phase {s.PhaseDegrees:0.#}°") : "") + (s.Backwards ? ", phase order reversed" : "") + inside;
    }

    /// <summary>What it is set to.</summary>
    public static string Setting(WorstOf worst, Supply s)
    {
        double root = s.Frequency > 0 ? RootTwo : 1;
        if (s.Kind == SupplyKind.CapacitorBank)
            return Text($"charge to {s.Voltage ?? 0:0.#} V");
        if (s.Current is { } current)
            return Text($"{current / root:0.##} A{(s.Phases > 1 ? " in each winding" : "")}") + (worst.Most("voltage needed", SubjectKind.Supply, s.Name) is { } volts ? Text($", which needs {volts:0.#} V") : "");
        return s.Voltage is { } voltage ? Text($"{voltage / root:0.#} V{(s.ThreePhase ? " between lines" : "")}") + (s.CurrentLimit is { } most ? Text($", at most {most / root:0.##} A") : "") : "";
    }

    /// <summary>Current it gives.</summary>
    public static string Current(WorstOf worst, Supply s) => s.Kind == SupplyKind.CapacitorBank
        ? worst.Most("peak current", SubjectKind.Supply, s.Name) is { } peak ? Text($"{peak:0} A peak") : ""
        : worst.Most("current", SubjectKind.Supply, s.Name) is { } amperes ? Text($"{amperes:0.##} A") : "";

    /// <summary>Power it gives, or the energy of a shot.</summary>
    public static string Power(WorstOf worst, Supply s) => s.Kind == SupplyKind.CapacitorBank
        ? Text($"{Discharge.StoredEnergy(s.Capacitance ?? 0, s.Voltage ?? 0):0.#} J a shot")
        : worst.Most("power", SubjectKind.Supply, s.Name) is { } watts ? Text($"{watts:0.#} W") : "";

    /// <summary>What it feeds and how that is joined.</summary>
    public static string Feeds(Apparatus apparatus, Supply s)
    {
        if (s.Split is { } split)
            return Text($"{string.Join(", ", s.Feeds.Where(f => !Apparatus.Same(f, split.Before)))} beside {split.Before} behind {Farads(split.Capacitance)}");
        if (s.Phases == 1)
            return string.Join(s.Connection == Connection.Series ? " then " : " beside ", s.Feeds);
        string joined = s.Connection == Connection.Delta ? "delta" : "star";
        var called = Called(s.Feeds.Select(f => apparatus.Winding(f)!));
        return called.Count < s.Feeds.Count ? Text($"{string.Join(", ", called)} in {joined}")
            : Text($"{string.Join(", ", s.Feeds.Select((f, i) => Text($"L{i % s.Phases + 1} {f}")))} in {joined}");
    }

    /// <summary>What must be bought for it.</summary>
    public static IEnumerable<(string Item, string For)> ToBuy(WorstOf worst, Supply s)
    {
        double root = s.Frequency > 0 ? RootTwo : 1;
        double? amperes = worst.Most("current", SubjectKind.Supply, s.Name), volts = worst.Most("voltage needed", SubjectKind.Supply, s.Name) ?? s.Voltage / root;
        string size = amperes is { } a && volts is { } v && a > 0 ? Text($", {Math.Ceiling(v)} V {Math.Ceiling(10 * a) / 10:0.#} A or more") : "";
        switch (s.Kind)
        {
            case SupplyKind.Mains when s.Through is { } through:
                double rated = (amperes ?? 0) * Math.Max(volts ?? 0, through == "variable transformer" ? (s.LineVoltage ?? 0) / RootTwo : s.Voltage / RootTwo ?? 0) * (s.ThreePhase ? Math.Sqrt(3) : 1);
                yield return (s.ThreePhase ? "three-phase " + through : through, Text($"for {s.Name}: {(s.LineVoltage ?? 0) / RootTwo:0} V{(through == "safety transformer" ? Text($" to {s.Voltage / RootTwo ?? 0:0.#} V") : "")}{(rated > 0 ? Text($", {Math.Ceiling(rated / 5) * 5:0} VA or more while it is on") : "")}"));
                break;
            case SupplyKind.Battery:
                yield return (Text($"battery {s.Voltage ?? 0:0.##} V"), Text($"for {s.Name}{(amperes is { } drawn ? Text($", good for {Math.Ceiling(10 * drawn) / 10:0.#} A") : "")}"));
                break;
            case SupplyKind.CapacitorBank:
                yield return (Text($"capacitors {Farads(s.Capacitance ?? 0)}"), Text($"for {s.Name}: rated {Math.Ceiling(1.25 * (s.Voltage ?? 0) / 10) * 10:0} V or more (a quarter above its charge, common practice, no source){(worst.Most("peak current", SubjectKind.Supply, s.Name) is { } peak ? Text($", for pulses of {Math.Ceiling(peak / 10) * 10:0} A") : "")}"));
                if (s.Bleeder is { } bleeder)
                    yield return (Text($"resistor {Ohms(bleeder)}"), Text($"bleeder of {s.Name}: {Math.Ceiling(2 * (s.Voltage ?? 0) * (s.Voltage ?? 0) / bleeder):0} W or more, twice what it takes at full charge"));
                yield return ("switch", Text($"for {s.Name}: made for the discharge, out of reach of the spark"));
                break;
            case SupplyKind.Inverter or SupplyKind.BenchSupply or SupplyKind.Current:
                yield return (s.Kind switch { SupplyKind.Inverter => "inverter", SupplyKind.BenchSupply => "direct bench supply", _ => s.Frequency > 0 ? "alternating source, current set" : "direct source, current set" }
                    + (s.Phases > 1 ? Text($", {s.Phases} phases") : ""), Text($"for {s.Name}{size}{(s.Frequency > 0 ? Text($", {s.Frequency:0.##} Hz") : "")}"));
                break;
        }

        if (s.Split is { } split)
            yield return (Text($"motor-run capacitor {Farads(split.Capacitance)}"), Text($"before {split.Before}{(worst.Most("capacitor rating", SubjectKind.Supply, s.Name) is { } rating ? Text($": {Math.Ceiling(rating / 10) * 10:0} V AC or more, for continuous duty") : "")}, with a bleeder"));
        if (s.Breaker is { } breaker)
            yield return ((s.ThreePhase ? "three-pole breaker " : "breaker ") + breaker, "for " + s.Name);
        if (s.Fuse is { } fuse)
            yield return ("fuse " + fuse, "for " + s.Name + ", with a holder");
    }

    /// <summary>A capacitance: <c>82 µF</c>, <c>4.7 mF</c>.</summary>
    public static string Farads(double farads) => farads < 1e-6 ? Text($"{1e9 * farads:0.###} nF") : farads < 1e-3 ? Text($"{1e6 * farads:0.###} µF") : Text($"{1e3 * farads:0.###} mF");

    /// <summary>A resistance: <c>30 mΩ</c>, <c>2.2 kΩ</c>.</summary>
    public static string Ohms(double ohms) => ohms < 1 ? Text($"{1e3 * ohms:0.#} mΩ") : ohms < 1000 ? Text($"{ohms:0.##} Ω") : Text($"{ohms / 1000:0.###} kΩ");

    private static string Limit(Supply s) => s.CurrentLimit is { } most ? Text($" of at most {most / (s.Frequency > 0 ? RootTwo : 1):0.##} A") : "";
}
