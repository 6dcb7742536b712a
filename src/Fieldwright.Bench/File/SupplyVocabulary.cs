using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>What a supply may be, stated once.</summary>
internal static class SupplyVocabulary
{
    private static readonly TextKind WindingName = new("the name of a winding");
    private static readonly Key InternalResistance = new("internal resistance", Resistance, "Resistance of source and leads.", Default: "0 ohm");
    private static readonly Key Breaker = new("breaker", new TextKind("a breaker such as B16", "^[BCD][0-9]+$"), "Its circuit breaker (IEC 60898).");
    private static readonly Key Fuse = new("fuse", new TextKind("a fuse such as gG 10, F 2 or T 1.6", "^(gG|F|T) [0-9]+(\\.[0-9]+)?$"), "Its fuse: gG (IEC 60269), F quick or T slow (IEC 60127), with its rated current in amperes.");

    private static readonly Key Capacitor = new("capacitor", new MappingKind("capacitor", "A capacitor in series with one of two windings side by side, so that one phase makes two.",
    [
        new("of", Capacitance, "Its capacitance.", Required: true),
        new("before", WindingName, "The winding behind it.", Required: true),
        new("for", Angle with { Range = new Range(0, 180, false) }, "Angle by which the current of that winding shall lead the other's.", Default: "90 deg"),
    ]), "A capacitor that splits one phase into two.", Default: "none");

    /// <summary>A supply.</summary>
    public static MappingKind Supply { get; } = new("supply", "What drives windings. Alternating values are rms unless 'peak' is written behind them.",
    [
        new("feeds", new ListKind("the name of a winding, or a list such as [inner, outer]", WindingName, 1, 100, OneAlone: true), "The windings it feeds.", Required: true),
        new("connection", new ChoiceKind("series", "parallel", "star", "delta"),
            "How those windings are joined. Star and delta give each phase of a polyphase winding its own, or make it three-phase: windings then belong to L1, L2, L3, L1 … in turn, those of one phase in series. Voltages of three phases are between two lines; a star of another number has a return wire, and its voltage is that of each phase.", Default: "series"),
        new("phase", Angle, "Phase of the source (of L1); positive leads.", Default: "0 deg"),
        .. TravelWords.SupplyKeys,
    ],
        new Alternative("current source", "current", null, "A given current, whatever the voltage; in star and delta that of each winding.",
            new Key("current", Current, "Its current.", Required: true),
            new Key("frequency", Frequency, "Its frequency.", Default: "direct current")),
        new Alternative("mains", "mains", null, "Alternating mains, possibly through a transformer.",
            new Key("mains", Voltage, "Voltage of the mains.", Required: true),
            new Key("frequency", Frequency, "Frequency of the mains.", Required: true),
            new Key("through", new ChoiceKind("variable transformer", "safety transformer"), "What stands between mains and windings.", Default: "nothing"),
            new Key("set to", Voltage, "What a variable transformer is set to; a dial 'current in …' sets it for that current instead."),
            new Key("giving", Voltage, "Voltage that a safety transformer gives."),
            InternalResistance, Breaker, Fuse, Capacitor),
        new Alternative("inverter", "inverter", null, "An inverter: alternating voltage of a chosen frequency.",
            new Key("inverter", Voltage, "Its voltage.", Required: true),
            new Key("frequency", Frequency, "Its frequency.", Required: true),
            new Key("current limit", Current with { Range = Range.Positive(1e6) }, "Current it gives at most.", Default: "no limit"),
            InternalResistance, Fuse, Capacitor),
        new Alternative("battery", "battery", null, "A battery: direct voltage behind a resistance.",
            new Key("battery", Voltage, "Its open-circuit voltage.", Required: true),
            InternalResistance, Fuse),
        new Alternative("bench supply", "bench supply", null, "A direct-current bench supply: it holds its voltage until the current reaches its limit, and then the current.",
            new Key("bench supply", Voltage, "Voltage it is set to.", Required: true),
            new Key("current limit", Current with { Range = Range.Positive(1e6), Alternating = false }, "Current it is set to.", Required: true)),
        new Alternative("capacitor bank", "capacitor bank", null, "A charged capacitor, emptied through the windings.",
            new Key("capacitor bank", Voltage, "Voltage it is charged to.", Required: true),
            new Key("capacitance", Capacitance, "Its capacitance.", Required: true),
            new Key("delay", new QuantityKind("a time", "s", "4 ms", Range.NotNegative(1e3)), "Time after the first switch at which it is fired, when coils are fired in turn.", Default: "0 s"),
            new Key("bleeder", Burden, "Resistance that empties it when nothing else does.", Default: "none"),
            InternalResistance))
    {
        Replaced = new Dictionary<string, string> { ["phases"] = "connection: star, or delta; the winding says how many phases it has, and single windings make three" },
    };
}
