using Fieldwright.Matter;

namespace Fieldwright.Bench.Model;

/// <summary>A coil of real wire in a place.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Turns">Number of turns.</param>
/// <param name="Wire">The wire it is wound of.</param>
/// <param name="Space">The space it fills.</param>
/// <param name="Reversed">Whether its sense is reversed against the others of its supply.</param>
/// <param name="ThermalClass">Insulation class by IEC 60085, as a letter or number.</param>
public sealed record Winding(string Name, double Turns, WireChoice Wire, WindingSpace Space, bool Reversed, string ThermalClass);

/// <summary>Wire as the file states it.</summary>
/// <param name="BareDiameter">Diameter of the bare conductor, m.</param>
/// <param name="OverallDiameter">Diameter over the enamel, m.</param>
/// <param name="Metal">Conductor.</param>
/// <param name="Strands">Strands in parallel.</param>
/// <param name="Text">As the file wrote it.</param>
/// <param name="Twist">Length of a strand over the length of the bundle: 1 side by side, more in litz.</param>
public sealed record WireChoice(double BareDiameter, double OverallDiameter, Material Metal, int Strands, string Text, double Twist = 1)
{
    /// <summary>Section of metal, m².</summary>
    public double Section => Strands * 0.25 * Math.PI * BareDiameter * BareDiameter;
}

/// <summary>The space a winding fills.</summary>
public abstract record WindingSpace;

/// <summary>A round coil; about the z axis unless a free apparatus places it elsewhere.</summary>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="OuterRadius">Outer radius, m.</param>
/// <param name="FromZ">Lower end, m.</param>
/// <param name="ToZ">Upper end, m.</param>
/// <param name="X">x of its centre, m.</param>
/// <param name="Y">y of its centre, m.</param>
/// <param name="Attitude">How it is turned about its centre; upright as given by its ends when nothing is said.</param>
public sealed record RoundSpace(double InnerRadius, double OuterRadius, double FromZ, double ToZ, double X = 0, double Y = 0, Attitude Attitude = default) : WindingSpace;

/// <summary>A coil round a rectangular opening with rounded corners, anywhere in space.</summary>
/// <param name="Length">Length of the opening, along x when upright, m.</param>
/// <param name="Width">Width of the opening, m.</param>
/// <param name="CornerRadius">Inner radius of its corners, m.</param>
/// <param name="Build">Thickness of the winding off the opening, m.</param>
/// <param name="FromZ">Lower end when upright, m.</param>
/// <param name="ToZ">Upper end when upright, m.</param>
/// <param name="X">x of its centre, m.</param>
/// <param name="Y">y of its centre, m.</param>
/// <param name="Attitude">How it is turned about its centre.</param>
public sealed record FrameSpace(double Length, double Width, double CornerRadius, double Build, double FromZ, double ToZ, double X = 0, double Y = 0, Attitude Attitude = default) : WindingSpace;

/// <summary>A coil wound round the limb of a core.</summary>
/// <param name="Core">Name of the core part.</param>
/// <param name="CentredAt">Where its middle lies along the ring, degrees from the x axis towards y.</param>
/// <param name="Length">Length along the limb at the mean radius, m.</param>
/// <param name="Build">Thickness of the winding off the limb, m.</param>
/// <param name="Clearance">Former and insulation between limb and wire, m.</param>
public sealed record LimbSpace(string Core, double CentredAt, double Length, double Build, double Clearance) : WindingSpace;

/// <summary>Two straight sides of a long coil: out of the page in one rectangle, into it in the other.</summary>
/// <param name="Out">The side whose current comes out of the page for positive current.</param>
/// <param name="Into">The side whose current goes into the page.</param>
public sealed record TwoSides(Box Out, Box Into) : WindingSpace;

/// <summary>A rectangle in the section of a long apparatus.</summary>
/// <param name="X">x of the centre, m.</param>
/// <param name="Y">y of the centre, m.</param>
/// <param name="Width">Extent along x, m.</param>
/// <param name="Height">Extent along y, m.</param>
public sealed record Box(double X, double Y, double Width, double Height);
