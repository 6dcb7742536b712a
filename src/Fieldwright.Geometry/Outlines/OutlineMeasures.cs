namespace Fieldwright.Geometry;

public sealed partial class Outline
{
    /// <summary>Area inside, m², arcs included exactly; positive whichever way the loop runs.</summary>
    public double Area => Math.Abs(SignedArea);

    /// <summary>Length of the loop, m.</summary>
    public double Perimeter => Edges.Sum(edge => edge.Length);

    /// <summary>Area, positive if the loop runs counter-clockwise.</summary>
    internal double SignedArea => Edges.Sum(edge => edge.SweptArea(Edges[0].From));

    /// <summary>Centroid of the area inside, m, arcs included exactly.</summary>
    public Point Centroid
    {
        get
        {
            var origin = Edges[0].From;
            double area = 0, mx = 0, my = 0;
            foreach (var edge in Edges)
            {
                // The triangle from the origin over the chord, and the circular segment beyond it.
                var (a, b) = (edge.From - origin, edge.To - origin);
                var triangle = 0.5 * Point.Cross(a, b);
                area += triangle;
                mx += triangle * (a.X + b.X) / 3;
                my += triangle * (a.Y + b.Y) / 3;
                if (edge is not ArcEdge arc)
                    continue;
                var segment = arc.SweptArea(origin) - triangle;
                // Its first moment about the centre is 2/3 R³ sin³(θ/2) along the bisector.
                var half = Math.Sin(0.5 * arc.Sweep);
                var moment = 2.0 / 3 * arc.Radius * arc.Radius * arc.Radius * half * half * half;
                var bisector = (1 / arc.Radius) * (arc.PointAt(0.5) - arc.Centre);
                var centre = arc.Centre - origin;
                area += segment;
                mx += (segment * centre.X) + (moment * bisector.X);
                my += (segment * centre.Y) + (moment * bisector.Y);
            }
            return origin + new Point(mx / area, my / area);
        }
    }

    /// <summary>Whether a point lies inside or on the outline (within 1e-12 of its size).</summary>
    /// <param name="point">The point, m.</param>
    public bool Contains(Point point)
    {
        if (!Bounds.Grown(1e-12 * Bounds.Diagonal).Contains(point))
            return false;
        if (Edges.Any(edge => edge.DistanceTo(point, out _) <= 1e-12 * Bounds.Diagonal))
            return true;
        // The angle under which the loop is seen from the point: ±2π inside, 0 outside.
        var turn = 0.0;
        foreach (var edge in Edges)
            turn += Turn(edge, point);
        return Math.Abs(turn) > Math.PI;
    }

    /// <summary>Least distance between this outline's edges and another's, m; 0 where they touch or cross.</summary>
    /// <param name="other">The other outline. Where one lies inside the other, the distance is still that between the edges.</param>
    public double DistanceTo(Outline other)
    {
        ArgumentNullException.ThrowIfNull(other);
        var least = double.PositiveInfinity;
        foreach (var e in Edges)
        {
            foreach (var f in other.Edges)
            {
                if (e.Bounds.Gap(f.Bounds) < least)
                    least = Math.Min(least, Intersection.Distance(e, f));
            }
        }
        return least;
    }

    /// <summary>Whether this outline and another share area: they cross, or one lies inside the other. Touching is no overlap.</summary>
    /// <param name="other">The other outline.</param>
    /// <param name="tolerance">Depth up to which an overlap counts as touching, m; by default 1e-9 of the larger outline.</param>
    public bool Overlaps(Outline other, double tolerance = 0)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (tolerance <= 0)
            tolerance = 1e-9 * Math.Max(Bounds.Diagonal, other.Bounds.Diagonal);
        if (!Bounds.Meets(other.Bounds))
            return false;
        return Enters(other, tolerance) || other.Enters(this, tolerance) || SameArea(other, tolerance);
    }

    /// <summary>Whether some stretch of this outline runs inside the other.</summary>
    private bool Enters(Outline other, double tolerance)
    {
        foreach (var edge in Edges)
        {
            var cuts = new List<double> { 0, 1 };
            foreach (var f in other.Edges)
            {
                foreach (var p in Intersection.Of(edge, f, tolerance).Select(meeting => meeting.At).Concat([f.From, f.To]))
                {
                    if (edge.DistanceTo(p, out var at) <= tolerance)
                        cuts.Add(at);
                }
            }
            cuts.Sort();
            for (var i = 0; i + 1 < cuts.Count; i++)
            {
                if ((cuts[i + 1] - cuts[i]) * edge.Length <= tolerance)
                    continue;
                var p = edge.PointAt(0.5 * (cuts[i] + cuts[i + 1]));
                if (other.Contains(p) && other.Edges.All(f => f.DistanceTo(p, out _) > tolerance))
                    return true;
            }
        }
        return false;
    }

    /// <summary>Whether two outlines that do not enter one another run together all the way round.</summary>
    private bool SameArea(Outline other, double tolerance) =>
        Edges.All(e => other.Edges.Any(f => f.DistanceTo(e.PointAt(0.5), out _) <= tolerance)) && Math.Abs(Area - other.Area) <= tolerance * Perimeter;

    /// <summary>Angle under which an edge is seen from a point not on it.</summary>
    private static double Turn(Edge edge, Point p)
    {
        var (a, b) = (edge.From - p, edge.To - p);
        var side = Point.Cross(a, b);
        var turn = Math.Atan2(side, Point.Dot(a, b));
        if (edge is not ArcEdge arc)
            return turn;
        // The arc goes round the point the other way than its chord when the point lies between the two, or on the chord itself.
        if (side == 0)
            return turn == 0 ? 0 : arc.CounterClockwise ? Math.PI : -Math.PI;
        if (arc.CounterClockwise == (turn > 0) || p.DistanceTo(arc.Centre) >= arc.Radius)
            return turn;
        return turn + (arc.CounterClockwise ? 2 * Math.PI : -2 * Math.PI);
    }
}
