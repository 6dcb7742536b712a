namespace Fieldwright.Fields;

/// <summary>A magnetic field that changes in time: what lies where at t = 0, the circuits that feed its windings, and the bodies that move.</summary>
/// <remarks>Steel follows its BH curve, solid regions carry induced currents. The record is immutable.</remarks>
public sealed record TransientModel
{
    /// <summary>Parts, matter and windings at t = 0; its frequency must be zero and nothing in it may be in steady motion. The drives of its windings and solid
    /// conductors are not read: <see cref="Circuits"/> and <see cref="ConductorCurrents"/> say what feeds them, and what they leave out carries no net current.</summary>
    public required FieldModel Field { get; init; }

    /// <summary>The circuits; each winding belongs to at most one.</summary>
    public IReadOnlyList<WindingCircuit> Circuits { get; init; } = [];

    /// <summary>Resistances that several circuits share, such as that of one source feeding two windings side by side.</summary>
    public IReadOnlyList<SharedResistance> Shared { get; init; } = [];

    /// <summary>Total current, A, against time, s, of named solid conductors of a long model, positive along +z; all other solid regions carry no net current each.</summary>
    public IReadOnlyDictionary<string, Func<double, double>> ConductorCurrents { get; init; } = new Dictionary<string, Func<double, double>>();

    /// <summary>The bodies that move.</summary>
    public IReadOnlyList<MovingBody> Bodies { get; init; } = [];

    /// <summary>Highest frequency whose skin depth the mesh must resolve, Hz; 0 when no current is induced to speak of.</summary>
    public double ResolvedFrequency { get; init; }
}

/// <summary>Windings in series with a source: fed by a current, or by a voltage behind a resistance, an inductance and a capacitor.</summary>
/// <param name="Name">Name of the circuit.</param>
/// <param name="Windings">Names of the windings in series, each with +1 if the circuit's current runs in its positive sense and −1 if against it.</param>
public sealed record WindingCircuit(string Name, IReadOnlyList<(string Winding, int Sense)> Windings)
{
    /// <summary>Current held by the source, A, against time, s; null when the circuit is fed by its voltage.</summary>
    public Func<double, double>? Current { get; init; }

    /// <summary>Voltage of the source, V, against time, s, driving current in the circuit's positive sense; null for none (a closed circuit, a capacitor that discharges).</summary>
    public Func<double, double>? Voltage { get; init; }

    /// <summary>Resistance outside the windings, Ω; that of the windings' own wire is added.</summary>
    public double Resistance { get; init; }

    /// <summary>Inductance outside the field, H.</summary>
    public double Inductance { get; init; }

    /// <summary>Capacitance in series, F; null for none.</summary>
    public double? Capacitance { get; init; }

    /// <summary>Voltage of the capacitor at t = 0, V, positive when it drives current in the circuit's positive sense as it discharges.</summary>
    public double CapacitorVoltage { get; init; }

    /// <summary>Current at t = 0 of a circuit fed by its voltage, A.</summary>
    public double InitialCurrent { get; init; }

    /// <summary>One winding fed by a current.</summary>
    /// <param name="winding">Name of the winding and of the circuit.</param>
    /// <param name="current">Current, A, against time, s.</param>
    public static WindingCircuit FedByCurrent(string winding, Func<double, double> current) => new(winding, [(winding, 1)]) { Current = current };

    /// <summary>One winding fed by a voltage.</summary>
    /// <param name="winding">Name of the winding and of the circuit.</param>
    /// <param name="voltage">Voltage, V, against time, s.</param>
    /// <param name="resistance">Resistance outside the winding, Ω.</param>
    public static WindingCircuit FedByVoltage(string winding, Func<double, double> voltage, double resistance = 0) =>
        new(winding, [(winding, 1)]) { Voltage = voltage, Resistance = resistance };
}

/// <summary>A resistance through which the currents of two circuits flow together.</summary>
/// <param name="First">Name of a circuit fed by its voltage.</param>
/// <param name="Second">Name of another.</param>
/// <param name="Resistance">Ω; it carries the sum of the two currents.</param>
public sealed record SharedResistance(string First, string Second, double Resistance);

/// <summary>A body that moves as a whole: along z in a round model, along a given direction in a long one.</summary>
/// <param name="Name">Name of the body.</param>
/// <param name="Regions">Its regions.</param>
/// <param name="Mass">Mass, kg; in a long model that of the whole depth.</param>
public sealed record MovingBody(string Name, IReadOnlyList<int> Regions, double Mass)
{
    /// <summary>Direction of the motion in a long model, a unit vector; along x by default. Round models move along z.</summary>
    public PlaneVector Direction { get; init; } = new(1, 0);

    /// <summary>Force besides that of the field, N, along the motion: −m·g for a body that falls along z.</summary>
    public double SteadyForce { get; init; }

    /// <summary>Speed at t = 0, m/s.</summary>
    public double Speed { get; init; }

    /// <summary>Displacement at which a stop is met below, m, zero or negative; negative infinity for none. Nearer to other matter than a fiftieth of its smaller side the body feels the force it has there.</summary>
    public double LowestDisplacement { get; init; } = double.NegativeInfinity;

    /// <summary>Displacement at which a stop is met above, m, zero or positive; infinity for none.</summary>
    public double HighestDisplacement { get; init; } = double.PositiveInfinity;

    /// <summary>Whether the force is taken from the currents in the body, ∫J×B, instead of from virtual work. For a body that is not magnetic and feels a small force close to a strong magnet,
    /// whose own stresses would drown it; the books of energy then close only as far as the mesh is fine.</summary>
    public bool ForceFromCurrents { get; init; }

    /// <summary>Share of its speed a body keeps when a stop throws it back, from 0 to below 1.</summary>
    public double Restitution { get; init; }
}

/// <summary>How a transient is to be followed.</summary>
/// <param name="End">Time to stop at, s.</param>
public sealed record TransientOptions(double End)
{
    /// <summary>Error allowed in one step, relative: of the field in the energy norm against its largest so far, and of speed and place alike.</summary>
    public double RelativeError { get; init; } = 1e-3;

    /// <summary>First step, s; a thousandth of the whole time when zero.</summary>
    public double FirstStep { get; init; }

    /// <summary>Largest step, s; a fiftieth of the whole time when zero. A source that alternates needs some twenty steps a period.</summary>
    public double LargestStep { get; init; }

    /// <summary>Whether every step is as long as the first, whatever the error: for studies of order.</summary>
    public bool FixedStep { get; init; }

    /// <summary>Times at which a source jumps or kinks, s: a step ends there and the next starts afresh.</summary>
    public IReadOnlyList<double> Breaks { get; init; } = [];

    /// <summary>Ends the run after the first step for which it is true, before <see cref="End"/>; null to go on to the end.</summary>
    public Func<TransientStep, bool>? Until { get; init; }

    /// <summary>Steps at most, refused ones counted.</summary>
    public int MostSteps { get; init; } = 200_000;

    /// <summary>Fineness of the mesh: 1 is coarse, 2 halves every size.</summary>
    public double Fineness { get; init; } = 1;
}
