using Fieldwright.Matter;

namespace Fieldwright.Bench.Model;

/// <summary>How a part is free to move.</summary>
public enum Freedom
{
    /// <summary>It is fixed.</summary>
    Fixed,

    /// <summary>It may move along z.</summary>
    UpAndDown,

    /// <summary>It may move along x.</summary>
    Sideways,

    /// <summary>It may move and turn in every direction.</summary>
    Freely,

    /// <summary>It may turn about its own axis.</summary>
    Turning,
}

/// <summary>A body of matter.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Shape">Its shape and sizes.</param>
/// <param name="Place">Where it stands.</param>
/// <param name="Material">What it is made of.</param>
/// <param name="Freedom">How it is free to move.</param>
/// <param name="Mass">Mass in kg when the file states it; otherwise null and found from volume and density.</param>
/// <param name="Laminated">Whether it is built of insulated sheets, so that no current flows in it.</param>
/// <param name="StackingFactor">Share of the section that is metal when laminated, 0 to 1.</param>
/// <param name="Magnetised">Direction of magnetisation of a magnet in degrees from the x (or r) axis towards y (or z); null when it is no magnet. In a free apparatus from its own x axis towards its own axis.</param>
/// <param name="Attitude">How it stands in a free apparatus; upright otherwise.</param>
public sealed record Part(
    string Name,
    Shape Shape,
    Place Place,
    Material Material,
    Freedom Freedom = Freedom.Fixed,
    double? Mass = null,
    bool Laminated = false,
    double StackingFactor = 1,
    double? Magnetised = null,
    Attitude Attitude = default)
{
    /// <summary>Height of its top while it stands upright, m.</summary>
    public double Top => Place.Z + Shape.Above;

    /// <summary>Emissivity of its surface when the file states it; null for the usual one of its matter.</summary>
    public double? Emissivity { get; init; }

    /// <summary>Steady speed along the travel, m/s: along x in a long apparatus, along z in a round one.</summary>
    public double Speed { get; init; }

    /// <summary>Steady turning about its own axis, rad/s, counter-clockwise; long apparatus only.</summary>
    public double TurningSpeed { get; init; }

    /// <summary>Extent along the hidden direction of a long apparatus, m; null for a part that runs on.</summary>
    public double? Across { get; init; }

    /// <summary>Name of the part it is fixed to and moves with; null when it is on its own.</summary>
    public string? GoesWith { get; init; }

    /// <summary>Steady force that holds it back whenever it moves, N.</summary>
    public double Drag { get; init; }

    /// <summary>Height at which its underside has left the tube it is thrown up, m; null for the usual one.</summary>
    public double? Mouth { get; init; }

    /// <summary>Steady force of the catcher that stops it when it has been thrown, N; null for ten times its weight.</summary>
    public double? Catcher { get; init; }

    /// <summary>What a channel of liquid feeds; null for a part that is no liquid in a channel.</summary>
    public Channel? Channel { get; init; }
}

/// <summary>What a channel of liquid feeds.</summary>
/// <param name="PipeLength">Length of round pipe in series, m; 0 for none.</param>
/// <param name="PipeBore">Its bore, m.</param>
/// <param name="Fittings">Loss coefficients of bends, inlet and outlet together, in heads of the pipe's speed.</param>
/// <param name="Lift">Height it is lifted, m.</param>
/// <param name="NozzleBore">Bore of the nozzle of a fountain, m; null for none.</param>
public sealed record Channel(double PipeLength, double PipeBore, double Fittings, double Lift, double? NozzleBore);

/// <summary>Where something stands: x and y of its centre, z of its underside; m. A round apparatus uses z only, a long one x and y of the centre.</summary>
/// <param name="X">x of the centre, m.</param>
/// <param name="Y">y of the centre, m.</param>
/// <param name="Z">z of the underside, m.</param>
public sealed record Place(double X = 0, double Y = 0, double Z = 0);

/// <summary>A shape with its sizes, m.</summary>
public abstract record Shape
{
    /// <summary>The word for it in the file.</summary>
    public abstract string Word { get; }

    /// <summary>How far it reaches above its place along z while it stands upright, m; 0 for the sections of a long apparatus and for what has no height.</summary>
    public virtual double Above => 0;
}

/// <summary>A round plate on the axis, or a round bar along it when it is tall: <c>disc</c>, <c>plate</c>, <c>sheet</c>, <c>bar</c>.</summary>
/// <param name="Radius">Outer radius, m.</param>
/// <param name="Thickness">Extent along z, m.</param>
/// <param name="Called">The word the file used.</param>
public sealed record DiscShape(double Radius, double Thickness, string Called = "disc") : Shape
{
    /// <inheritdoc/>
    public override string Word => Called;

    /// <inheritdoc/>
    public override double Above => Thickness;
}

/// <summary>A flat ring on the axis, or a tube when it is tall: <c>ring</c>, <c>tube</c>.</summary>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="OuterRadius">Outer radius, m.</param>
/// <param name="Height">Extent along z, m.</param>
/// <param name="IsTube">Whether the file called it a tube.</param>
public sealed record RingShape(double InnerRadius, double OuterRadius, double Height, bool IsTube = false) : Shape
{
    /// <inheritdoc/>
    public override string Word => IsTube ? "tube" : "ring";

    /// <inheritdoc/>
    public override double Above => Height;
}

/// <summary>A ball, solid or hollow: <c>ball</c>.</summary>
/// <param name="Radius">Outer radius, m.</param>
/// <param name="Wall">Wall thickness of a hollow ball, m; null when solid.</param>
public sealed record BallShape(double Radius, double? Wall = null) : Shape
{
    /// <inheritdoc/>
    public override string Word => "ball";

    /// <inheritdoc/>
    public override double Above => 2 * Radius;
}

/// <summary>A rectangle of the cross-section of a long apparatus: <c>plate</c>, <c>bar</c>, <c>sheet</c>.</summary>
/// <param name="Width">Extent along x, m.</param>
/// <param name="Height">Extent along y, m.</param>
/// <param name="Called">The word the file used.</param>
public sealed record RectangleShape(double Width, double Height, string Called) : Shape
{
    /// <inheritdoc/>
    public override string Word => Called;
}

/// <summary>A round bar or tube seen along its axis in a long apparatus: <c>cylinder</c>.</summary>
/// <param name="Radius">Outer radius, m.</param>
/// <param name="Bore">Radius of its bore, m; 0 when solid.</param>
public sealed record CylinderShape(double Radius, double Bore = 0) : Shape
{
    /// <inheritdoc/>
    public override string Word => "cylinder";
}

/// <summary>A ring of steel seen end on in a long apparatus, closed or cut by one gap: <c>core</c>.</summary>
/// <param name="InnerRadius">Inner radius, m.</param>
/// <param name="OuterRadius">Outer radius, m.</param>
/// <param name="Gap">Width of the cut, with parallel faces, m; 0 when closed.</param>
/// <param name="GapAt">Where the cut lies, degrees from the x axis towards y.</param>
public sealed record CoreShape(double InnerRadius, double OuterRadius, double Gap = 0, double GapAt = 0) : Shape
{
    /// <inheritdoc/>
    public override string Word => "core";
}

/// <summary>An outline of lines and arcs, in the (r, z) half-plane or the (x, y) section, relative to the part's place: <c>outline</c>.</summary>
/// <param name="Corners">Corners in order, m; each may bulge into an arc towards the next.</param>
public sealed record OutlineShape(IReadOnlyList<Corner> Corners) : Shape
{
    /// <inheritdoc/>
    public override string Word => "outline";

    /// <inheritdoc/>
    public override double Above => Corners.Max(c => c.Y);
}

/// <summary>A corner of an outline and how the edge to the next one runs.</summary>
/// <param name="X">x or r, m.</param>
/// <param name="Y">y or z, m.</param>
/// <param name="ArcCentre">Centre of the arc to the next corner, m; null for a straight edge.</param>
/// <param name="ArcCounterClockwise">Which way that arc runs.</param>
public sealed record Corner(double X, double Y, (double X, double Y)? ArcCentre = null, bool ArcCounterClockwise = true);
