using System.Numerics;

namespace Fieldwright.Fields;

/// <summary>What one winding has in one region.</summary>
/// <param name="Region">The region, named by the number of its outline.</param>
/// <param name="Turns">Turns that pass through the region, positive along +φ (round) or +z out of the page (long), negative against it.
/// A coil on a limb of a long model has +N in one side and −N in the other.</param>
public sealed record WindingSide(int Region, double Turns);

/// <summary>How a winding is driven.</summary>
public abstract record WindingDrive;

/// <summary>A current held whatever the field does.</summary>
/// <param name="Current">Harmonic: peak phasor, exp(+jωt). Static: the direct current (the imaginary part must be zero). A.</param>
public sealed record ImposedCurrent(Complex Current) : WindingDrive;

/// <summary>A voltage source behind an impedance, closed through the winding's own resistance.</summary>
/// <param name="Voltage">Harmonic: peak phasor, exp(+jωt). Static: the direct voltage. V, driving current in the winding's positive sense.</param>
/// <param name="SeriesImpedance">Impedance outside the winding at the model's frequency, Ω; static: its real part is the series resistance.</param>
public sealed record ImposedVoltage(Complex Voltage, Complex SeriesImpedance = default) : WindingDrive;

/// <summary>Open terminals: no current, but a voltage may be read.</summary>
public sealed record OpenCircuit : WindingDrive;

/// <summary>A winding of fine wire: its current is spread evenly over each side.</summary>
/// <param name="Name">Name used to ask for its current, flux linkage and voltage.</param>
/// <param name="Sides">Where its turns run. Coils in series are one winding with several sides.</param>
/// <param name="Drive">Current, voltage or open terminals.</param>
/// <param name="Resistance">Resistance of the wire, Ω; needed for a voltage drive, and for the loss in the winding.</param>
public sealed record FieldWinding(string Name, IReadOnlyList<WindingSide> Sides, WindingDrive Drive, double Resistance = 0)
{
    /// <summary>A coil with all its turns in one region: the usual round coil.</summary>
    /// <param name="name">Name of the winding.</param>
    /// <param name="region">Region of its section.</param>
    /// <param name="turns">Turns, positive along +φ or +z.</param>
    /// <param name="drive">Current, voltage or open terminals.</param>
    /// <param name="resistance">Resistance of the wire, Ω.</param>
    public static FieldWinding InOneRegion(string name, int region, double turns, WindingDrive drive, double resistance = 0) =>
        new(name, [new(region, turns)], drive, resistance);
}

/// <summary>Solid regions of a long model joined at their ends into one conductor, and what flows through it.</summary>
/// <param name="Name">Name used to ask for its current and voltage.</param>
/// <param name="Regions">Regions joined in parallel at both ends; each region belongs to at most one conductor.</param>
/// <param name="Drive">Total current or end-to-end voltage (behind a series impedance); open terminals mean no net current, which is what
/// holds for every conducting region that is not named in any conductor, each by itself.</param>
public sealed record SolidConductor(string Name, IReadOnlyList<int> Regions, WindingDrive Drive);
