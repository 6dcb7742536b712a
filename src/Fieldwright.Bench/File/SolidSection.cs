using Fieldwright.Geometry;

namespace Fieldwright.Bench.File;

/// <summary>The matter of one body in the plane of the apparatus: outlines filled with it, less the hollows in them.</summary>
/// <param name="filled">Outlines filled with matter.</param>
/// <param name="hollows">Outlines inside them where there is none.</param>
internal sealed class SolidSection(IReadOnlyList<Outline> filled, IReadOnlyList<Outline> hollows)
{
    // Bodies that overlap by less than this touch: a nanometre covers the rounding of coordinates of some metres, a hundredfold.
    private const double Touch = 1e-9;

    private const int Samples = 24;

    private readonly List<Edge> edges = [.. filled.Concat(hollows).SelectMany(o => o.Edges)];

    private (Point Low, Point High)? box;
    private IReadOnlyList<Point>? probes;

    /// <summary>Least x or r, m.</summary>
    public double Left => Box.Low.X;

    // Of the points along the edges; an arc may bulge beyond them by less than a thousandth of its length.
    private (Point Low, Point High) Box => box ??= edges.SelectMany(Along).Aggregate(
        (Low: new Point(double.MaxValue, double.MaxValue), High: new Point(double.MinValue, double.MinValue)),
        (b, p) => (new Point(Math.Min(b.Low.X, p.X), Math.Min(b.Low.Y, p.Y)), new Point(Math.Max(b.High.X, p.X), Math.Max(b.High.Y, p.Y))));

    /// <summary>A point of matter common to both bodies; null when they touch at most.</summary>
    /// <remarks>Points along all edges and just inside them are tried, and straight edges for crossings; a sliver that lies between them all may be missed.</remarks>
    public Point? Overlap(SolidSection other)
    {
        double slack = 0.01 * (edges.Max(e => e.Length) + other.edges.Max(e => e.Length));
        if (Box.Low.X > other.Box.High.X + slack || other.Box.Low.X > Box.High.X + slack || Box.Low.Y > other.Box.High.Y + slack || other.Box.Low.Y > Box.High.Y + slack)
            return null;
        foreach (var point in Probes.Where(other.Holds).Concat(other.Probes.Where(Holds)))
            return point;
        foreach (var a in edges.OfType<LineEdge>())
            foreach (var b in other.edges.OfType<LineEdge>())
                if (Crossing(a, b) is { } at)
                    return at;
        return null;
    }

    // Points of the boundary, and points a little to the matter's side of it: those catch bodies whose edges coincide.
    private IReadOnlyList<Point> Probes => probes ??= [.. FindProbes()];

    private IEnumerable<Point> FindProbes()
    {
        foreach (var edge in edges)
        {
            foreach (var point in Along(edge))
                yield return point;
            var middle = edge.PointAt(0.5);
            var aside = 1e-3 * edge.Length * edge.DirectionAt(0.5).TurnedLeft;
            if (Holds(middle + aside))
                yield return middle + aside;
            if (Holds(middle - aside))
                yield return middle - aside;
        }
    }

    private static IEnumerable<Point> Along(Edge edge) => Enumerable.Range(0, Samples + 1).Select(i => edge.PointAt((double)i / Samples));

    private bool Holds(Point point) =>
        filled.Any(o => Inside(o, point)) && !hollows.Any(o => Inside(o, point)) && edges.All(e => e.DistanceTo(point, out _) > Touch);

    // Crossings of a ray with the chords, turned over once more for every arc whose segment between chord and arc holds the point.
    private static bool Inside(Outline outline, Point p)
    {
        bool inside = false;
        foreach (var edge in outline.Edges)
        {
            Point a = edge.From, b = edge.To;
            if (a.Y > p.Y != b.Y > p.Y && p.X < a.X + (p.Y - a.Y) / (b.Y - a.Y) * (b.X - a.X))
                inside = !inside;
            if (edge is ArcEdge arc && InSegment(arc, p))
                inside = !inside;
        }

        return inside;
    }

    private static bool InSegment(ArcEdge arc, Point p)
    {
        double side = Side(arc.From, arc.To, p), bulge = Side(arc.From, arc.To, arc.PointAt(0.5));
        return side * bulge > 0 && p.DistanceTo(arc.Centre) < arc.Radius;
    }

    private static double Side(Point from, Point to, Point p) => (to.X - from.X) * (p.Y - from.Y) - (to.Y - from.Y) * (p.X - from.X);

    private static Point? Crossing(LineEdge a, LineEdge b)
    {
        double a1 = Side(b.From, b.To, a.From) / b.Length, a2 = Side(b.From, b.To, a.To) / b.Length;
        double b1 = Side(a.From, a.To, b.From) / a.Length, b2 = Side(a.From, a.To, b.To) / a.Length;
        bool crosses = a1 * a2 < 0 && b1 * b2 < 0 && Math.Min(Math.Min(Math.Abs(a1), Math.Abs(a2)), Math.Min(Math.Abs(b1), Math.Abs(b2))) > Touch;
        return crosses ? a.PointAt(a1 / (a1 - a2)) : null;
    }
}
