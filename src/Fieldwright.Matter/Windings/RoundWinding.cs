using Fieldwright.Matter.Heat;
using Fieldwright.Numerics;

namespace Fieldwright.Matter.Windings;

/// <summary>A conductor of one or more round strands side by side.</summary>
/// <param name="BareDiameter">Diameter of one bare strand, m.</param>
/// <param name="OverallDiameter">Diameter of one strand over its enamel, m.</param>
/// <param name="Metal">What it is made of.</param>
/// <param name="Strands">Strands in parallel: wound side by side, or twisted as litz.</param>
/// <param name="Twist">Length of a strand over the length of the bundle; 1 for strands side by side, 1.02 to 1.05 for litz (common practice, no source).</param>
public sealed record Conductor(double BareDiameter, double OverallDiameter, Material Metal, int Strands = 1, double Twist = 1)
{
    /// <summary>Section of metal, m².</summary>
    public double Section => Strands * 0.25 * Math.PI * BareDiameter * BareDiameter;

    /// <summary>Space one turn asks for, m²: a square round each strand.</summary>
    public double SpaceForATurn => Strands * OverallDiameter * OverallDiameter;

    /// <summary>Enamelled copper of the preferred sizes.</summary>
    /// <param name="diameter">Bare diameter, m.</param>
    /// <param name="grade">Grade of enamel, 1 or 2.</param>
    /// <param name="strands">Strands in parallel.</param>
    /// <source key="IEC60317"/>
    public static Conductor EnamelledCopper(double diameter, int grade = 1, int strands = 1) =>
        new(diameter, WireTable.OverallDiameter(diameter, grade), Materials.Copper, Guard.Positive(strands));
}

/// <summary>A winding of round wire: what it takes and what it has. Layers are reckoned square, each turn in a square of its overall diameter.</summary>
/// <remarks>Wire of orthocyclic winding packs up to 2/√3 times denser; wild winding 10 to 20 % looser (common practice, no source). Terminals are not counted.
/// The turns are taken to fill the stated space evenly, so that the mean turn lies in its middle, as it does for the field.</remarks>
public sealed class WindingAnalysis
{
    private WindingAnalysis(Conductor conductor, double turns, int perLayer, int layers, double meanTurn, double window)
    {
        (Conductor, Turns, TurnsPerLayer, Layers, MeanTurn) = (conductor, turns, perLayer, layers, meanTurn);
        Length = turns * meanTurn;
        Fill = turns * conductor.Section / window;
        SpaceShare = turns * conductor.SpaceForATurn / window;
    }

    /// <summary>The conductor.</summary>
    public Conductor Conductor { get; }

    /// <summary>Turns.</summary>
    public double Turns { get; }

    /// <summary>Turns that fit in a layer.</summary>
    public int TurnsPerLayer { get; }

    /// <summary>Layers, the last one perhaps not full.</summary>
    public int Layers { get; }

    /// <summary>Mean length of a turn, m.</summary>
    public double MeanTurn { get; }

    /// <summary>Length of the conductor, m.</summary>
    public double Length { get; }

    /// <summary>Metal over window.</summary>
    public double Fill { get; }

    /// <summary>Squares of overall diameter over window.</summary>
    public double SpaceShare { get; }

    /// <summary>Mass of the metal, kg; null when its density is not known.</summary>
    public double? Mass => Conductor.Metal.Density * Length * Conductor.Twist * Conductor.Section;

    /// <summary>Direct-current resistance, Ω.</summary>
    /// <param name="temperature">Temperature, K.</param>
    public double Resistance(double temperature) => Conductor.Metal.ResistivityAt(temperature) * Length * Conductor.Twist / Conductor.Section;

    /// <summary>Temperature after a time at a constant current with no cooling, K.</summary>
    /// <param name="rmsCurrent">A rms.</param>
    /// <param name="time">s.</param>
    /// <param name="start">Start, K.</param>
    public double TemperatureAfter(double rmsCurrent, double time, double start) =>
        AdiabaticRise.TemperatureAfter(Conductor.Metal, rmsCurrent / Conductor.Section, time, start);

    /// <summary>A round coil about an axis.</summary>
    /// <param name="conductor">The conductor.</param>
    /// <param name="turns">Turns; positive.</param>
    /// <param name="innerRadius">Inner radius, m; not negative.</param>
    /// <param name="outerRadius">Outer radius of the space, m.</param>
    /// <param name="length">Length along the axis, m.</param>
    /// <exception cref="WindingDoesNotFitException">The space holds fewer turns.</exception>
    public static WindingAnalysis Round(Conductor conductor, double turns, double innerRadius, double outerRadius, double length)
    {
        Guard.NotNegative(innerRadius);
        double build = Guard.Positive(outerRadius - innerRadius, nameof(outerRadius));
        return Fit(conductor, turns, build, length, 2 * Math.PI * (innerRadius + 0.5 * build));
    }

    /// <summary>A coil on a rectangular limb, its corners rounded by its own build.</summary>
    /// <param name="conductor">The conductor.</param>
    /// <param name="turns">Turns; positive.</param>
    /// <param name="limbWidth">Width of the limb, m.</param>
    /// <param name="limbDepth">Depth of the limb, m.</param>
    /// <param name="clearance">Between limb and wire, m.</param>
    /// <param name="build">Thickness of the space, m.</param>
    /// <param name="length">Length along the limb, m.</param>
    /// <exception cref="WindingDoesNotFitException">The space holds fewer turns.</exception>
    public static WindingAnalysis OnLimb(Conductor conductor, double turns, double limbWidth, double limbDepth, double clearance, double build, double length)
    {
        double around = 2 * (Guard.Positive(limbWidth) + Guard.Positive(limbDepth)) + 2 * Math.PI * Guard.NotNegative(clearance);
        return Fit(conductor, turns, build, length, around + Math.PI * build);
    }

    /// <summary>A coil in any space of even section, its mean turn known.</summary>
    /// <param name="conductor">The conductor.</param>
    /// <param name="turns">Turns; positive. More than fit wound square are laid in layers that reach beyond the space.</param>
    /// <param name="build">Thickness of the space, m.</param>
    /// <param name="length">Length of the space, m.</param>
    /// <param name="meanTurn">Mean length of a turn, m.</param>
    /// <exception cref="WindingDoesNotFitException">Not even one turn lies in a layer.</exception>
    public static WindingAnalysis In(Conductor conductor, double turns, double build, double length, double meanTurn)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        Guard.Positive(turns);
        var (perLayer, _, strandLayers) = Layout(conductor, Guard.Positive(build), Guard.Positive(length));
        if (perLayer == 0)
            throw new WindingDoesNotFitException(turns, 0, 0, 0, conductor.OverallDiameter);
        int layers = (int)Math.Ceiling(turns / perLayer - 1e-9) * strandLayers;
        return new(conductor, turns, perLayer, layers, Guard.Positive(meanTurn), build * length);
    }

    /// <summary>Turns that a space holds wound square, turn over turn.</summary>
    /// <param name="conductor">The conductor.</param>
    /// <param name="build">Thickness of the space, m; positive.</param>
    /// <param name="length">Length of the space, m; positive.</param>
    public static double RoomIn(Conductor conductor, double build, double length)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        var (perLayer, most, _) = Layout(conductor, Guard.Positive(build), Guard.Positive(length));
        return (double)perLayer * most;
    }

    private static WindingAnalysis Fit(Conductor conductor, double turns, double build, double length, double meanTurn)
    {
        ArgumentNullException.ThrowIfNull(conductor);
        double room = RoomIn(conductor, build, length);
        if (Guard.Positive(turns) > room + 1e-9)
            throw new WindingDoesNotFitException(turns, room, Across(length, conductor), Across(build, conductor), conductor.OverallDiameter);
        return In(conductor, turns, build, length, meanTurn);
    }

    // Turns in a layer, layers of turns, layers of wire that one layer of turns takes. A turn of more strands than a layer is long takes whole layers.
    private static (int PerLayer, int Layers, int StrandLayers) Layout(Conductor conductor, double build, double length)
    {
        int acrossLength = Across(length, conductor), acrossBuild = Across(build, conductor), perLayer = acrossLength / conductor.Strands;
        if (perLayer > 0)
            return (perLayer, acrossBuild, 1);
        if (acrossLength == 0)
            return (0, 0, 1);
        int deep = (conductor.Strands + acrossLength - 1) / acrossLength;
        return (1, acrossBuild / deep, deep);
    }

    // A hair's breadth of rounding must not lose a turn.
    private static int Across(double extent, Conductor conductor) => (int)Math.Floor(extent / Guard.Positive(conductor.OverallDiameter, nameof(conductor)) + 1e-9);
}

/// <summary>A space holds fewer turns than are asked for.</summary>
public sealed class WindingDoesNotFitException : ArgumentException
{
    internal WindingDoesNotFitException(double turns, double room, int perLayer, int layers, double wire)
        : base(FormattableString.Invariant($"{turns:0.##} turns do not fit: the space holds {room:0} ({layers} layers of {perLayer} wires of {wire * 1e3:0.###} mm over the enamel).")) =>
        Room = room;

    /// <summary>Turns that would fit.</summary>
    public double Room { get; }
}
