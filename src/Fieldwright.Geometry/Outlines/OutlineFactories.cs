namespace Fieldwright.Geometry;

public sealed partial class Outline
{
    /// <summary>An upright rectangle. Edges in order: bottom, right, top, left.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="left">Least x or r, m.</param>
    /// <param name="bottom">Least y or z, m.</param>
    /// <param name="right">Greatest x or r, m.</param>
    /// <param name="top">Greatest y or z, m.</param>
    public static Outline Rectangle(int region, double left, double bottom, double right, double top) =>
        Polygon(region, [new(left, bottom), new(right, bottom), new(right, top), new(left, top)]);

    /// <summary>A polygon of straight edges; edge i runs from corner i to the next.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="corners">Three corners or more, in order, either way round; the last joins the first.</param>
    public static Outline Polygon(int region, IReadOnlyList<Point> corners)
    {
        ArgumentNullException.ThrowIfNull(corners);
        return new(region, [.. corners.Select((corner, i) => new LineEdge(corner, corners[(i + 1) % corners.Count]))]);
    }

    /// <summary>A circle of two half arcs, counter-clockwise: upper half, then lower.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="centre">Centre, m.</param>
    /// <param name="radius">Radius, m; positive.</param>
    public static Outline Circle(int region, Point centre, double radius)
    {
        var east = new Point(centre.X + radius, centre.Y);
        var west = new Point(centre.X - radius, centre.Y);
        return new(region, [new ArcEdge(east, west, centre, true), new ArcEdge(west, east, centre, true)]);
    }

    /// <summary>The right half of a disc with its straight side on the axis x = 0: edge 0 is the arc, upwards; edge 1 the axis, downwards.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="radius">Radius, m; positive.</param>
    /// <param name="height">Height y or z of its centre, m.</param>
    public static Outline HalfDisc(int region, double radius, double height = 0)
    {
        var south = new Point(0, height - radius);
        var north = new Point(0, height + radius);
        return new(region, [new ArcEdge(south, north, new(0, height), true), new LineEdge(north, south)]);
    }

    /// <summary>A sector of a ring: outer arc counter-clockwise, end face inwards, inner arc back, start face outwards. With a sweep a little short of a turn it is a ring with a gap.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="centre">Centre, m.</param>
    /// <param name="inner">Inner radius, m; positive and below <paramref name="outer"/>.</param>
    /// <param name="outer">Outer radius, m.</param>
    /// <param name="startDegrees">Direction of the start face from the centre, degrees counter-clockwise from x.</param>
    /// <param name="sweepDegrees">Angle swept counter-clockwise, degrees, between 0 and 360.</param>
    public static Outline AnnulusSector(int region, Point centre, double inner, double outer, double startDegrees, double sweepDegrees)
    {
        var a = At(outer, startDegrees);
        var b = At(outer, startDegrees + sweepDegrees);
        var c = At(inner, startDegrees + sweepDegrees);
        var d = At(inner, startDegrees);
        return new(region, [new ArcEdge(a, b, centre, true), new LineEdge(b, c), new ArcEdge(c, d, centre, false), new LineEdge(d, a)]);

        Point At(double radius, double degrees) => centre + (radius * Direction(degrees));
    }

    /// <summary>A ring cut by a gap of parallel faces.</summary>
    /// <param name="region">Region inside.</param>
    /// <param name="centre">Centre, m.</param>
    /// <param name="inner">Inner radius, m; more than half the gap.</param>
    /// <param name="outer">Outer radius, m.</param>
    /// <param name="gap">Width of the gap between its parallel faces, m.</param>
    /// <param name="towardsDegrees">Direction of the middle of the gap from the centre, degrees counter-clockwise from x.</param>
    public static Outline RingWithGap(int region, Point centre, double inner, double outer, double gap, double towardsDegrees = 0)
    {
        var along = Direction(towardsDegrees);
        var across = (0.5 * gap) * along.TurnedLeft;
        Point At(double radius, int side) => centre + (Math.Sqrt((radius * radius) - (0.25 * gap * gap)) * along) + (side * across);
        var (a, b, c, d) = (At(outer, 1), At(outer, -1), At(inner, -1), At(inner, 1));
        return new(region, [new ArcEdge(a, b, centre, true), new LineEdge(b, c), new ArcEdge(c, d, centre, false), new LineEdge(d, a)]);
    }

    private static Point Direction(double degrees)
    {
        // Exact on the axes, so that faces meant to be upright are.
        var quarter = Math.Round(degrees / 90);
        var (sin, cos) = Math.SinCos((degrees - (90 * quarter)) * Math.PI / 180);
        return ((((int)quarter % 4) + 4) % 4) switch
        {
            0 => new(cos, sin),
            1 => new(-sin, cos),
            2 => new(-cos, -sin),
            _ => new(sin, -cos),
        };
    }
}
