namespace Fieldwright.Bench.Model;

/// <summary>How the windings of one supply are joined.</summary>
public enum Connection
{
    /// <summary>One after the other: the same current.</summary>
    Series,

    /// <summary>Side by side: the same voltage.</summary>
    Parallel,

    /// <summary>Phases in star. With three the star point is left free; with another number a return wire holds it.</summary>
    Star,

    /// <summary>Three phases in delta, each winding between two lines.</summary>
    Delta,
}

/// <summary>What kind of source it is.</summary>
public enum SupplyKind
{
    /// <summary>A given current, whatever the voltage.</summary>
    Current,

    /// <summary>Alternating mains, possibly through a variable transformer.</summary>
    Mains,

    /// <summary>A battery: direct voltage behind an internal resistance.</summary>
    Battery,

    /// <summary>An inverter: alternating voltage of a chosen frequency, up to a current.</summary>
    Inverter,

    /// <summary>A direct-current bench supply that holds a voltage until a current is reached, and then that current.</summary>
    BenchSupply,

    /// <summary>A charged capacitor, emptied through the windings.</summary>
    CapacitorBank,
}

/// <summary>A capacitor in series with one winding of a pair, so that one phase makes two.</summary>
/// <param name="Capacitance">Its capacitance, F.</param>
/// <param name="Before">Name of the winding behind it.</param>
/// <param name="WantedLead">Angle by which the current of that winding shall lead the other, rad.</param>
public sealed record SplittingCapacitor(double Capacitance, string Before, double WantedLead);

/// <summary>What drives windings. Alternating currents and voltages are peak here and everywhere inside; people read and write rms.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Kind">What kind of source it is.</param>
/// <param name="Current">Peak current, A, for a current supply, or set by a dial <c>current in …</c>; otherwise null.</param>
/// <param name="Voltage">Peak open-circuit voltage at the windings, V (what the variable transformer is set to; between two lines when three-phase), or direct voltage; null for a current supply.</param>
/// <param name="LineVoltage">Peak voltage of the mains behind a variable transformer, V; null when there is none.</param>
/// <param name="Frequency">Frequency, Hz; 0 for direct current.</param>
/// <param name="PhaseDegrees">Phase of the source, degrees; positive leads.</param>
/// <param name="InternalResistance">Resistance inside the source, ohm.</param>
/// <param name="Through">Word for what stands between, such as <c>variable transformer</c>; null when nothing does.</param>
/// <param name="Breaker">Breaker such as <c>B16</c>; null when not stated.</param>
/// <param name="Feeds">Names of the windings it feeds.</param>
/// <param name="Connection">How those windings are joined.</param>
public sealed record Supply(
    string Name,
    SupplyKind Kind,
    double? Current,
    double? Voltage,
    double? LineVoltage,
    double Frequency,
    double PhaseDegrees,
    double InternalResistance,
    string? Through,
    string? Breaker,
    IReadOnlyList<string> Feeds,
    Connection Connection)
{
    /// <summary>Whether it has three phases. The windings then belong to L1, L2, L3, L1 … in turn, those of one phase in series, each phase a third of a turn behind the one before.</summary>
    public bool ThreePhase => Phases == 3;

    /// <summary>Current that an inverter or a bench supply gives at most, A (peak when it alternates); null without a limit.</summary>
    public double? CurrentLimit { get; init; }

    /// <summary>Capacitance of a capacitor bank, F; null otherwise.</summary>
    public double? Capacitance { get; init; }

    /// <summary>Time after the first switch at which a capacitor bank is fired, s.</summary>
    public double Delay { get; init; }

    /// <summary>Resistance that empties a capacitor bank when nothing else does, ohm; null without one.</summary>
    public double? Bleeder { get; init; }

    /// <summary>Capacitor that splits one phase into two; null without one.</summary>
    public SplittingCapacitor? Split { get; init; }

    /// <summary>Fuse such as <c>gG 10</c>; null when not stated.</summary>
    public string? Fuse { get; init; }

    /// <summary>Number of phases: 1 in series and side by side; in star or delta that of the polyphase winding it feeds, or three. A given current is that of each winding; a voltage is between two lines of three phases, otherwise that of each phase to the star point.</summary>
    public int Phases { get; init; } = 1;

    /// <summary>Whether its phases follow one another the other way round, as when two leads are changed over.</summary>
    public bool Backwards { get; init; }
}

/// <summary>What kind of load hangs on a winding.</summary>
public enum LoadKind
{
    /// <summary>A resistor.</summary>
    Resistor,

    /// <summary>A filament lamp.</summary>
    FilamentLamp,

    /// <summary>A moving-coil or digital meter with its burden.</summary>
    Meter,
}

/// <summary>What a winding drives.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Kind">What kind of load it is.</param>
/// <param name="On">Name of the winding it hangs on.</param>
/// <param name="Resistance">Resistance, ohm, of a resistor or a meter; null for a lamp.</param>
/// <param name="RatedVoltage">Rated rms voltage of a lamp, V; null otherwise.</param>
/// <param name="RatedPower">Rated power of a lamp, W; null otherwise.</param>
public sealed record Load(string Name, LoadKind Kind, string On, double? Resistance, double? RatedVoltage, double? RatedPower);
