namespace Fieldwright.Geometry;

/// <summary>A place where two edges meet.</summary>
/// <param name="At">Where, m.</param>
/// <param name="Tangent">Whether they only touch there: neither reaches past the other by more than the tolerance.</param>
internal readonly record struct Meeting(Point At, bool Tangent);

/// <summary>Where two edges cross or touch. Stretches they share are not reported: the ends of those are ends of one of the edges.</summary>
internal static class Intersection
{
    public static IEnumerable<Meeting> Of(Edge e, Edge f, double tolerance)
    {
        var places = (e, f) switch
        {
            (LineEdge a, LineEdge b) => Lines(a, b, tolerance),
            (LineEdge a, ArcEdge b) => LineAndCircle(a, b, tolerance),
            (ArcEdge a, LineEdge b) => LineAndCircle(b, a, tolerance),
            (ArcEdge a, ArcEdge b) => Circles(a, b, tolerance),
            _ => [],
        };
        foreach (var place in places)
        {
            if (e.DistanceTo(place.At, out _) <= tolerance && f.DistanceTo(place.At, out _) <= tolerance)
                yield return place;
        }
    }

    private static Meeting[] Lines(LineEdge e, LineEdge f, double tolerance)
    {
        var d = e.To - e.From;
        var g = f.To - f.From;
        var cross = Point.Cross(d, g);
        // Along their whole length the lines part by no more than the tolerance: they run together.
        if (Math.Abs(cross) <= tolerance * Math.Max(d.Length, g.Length))
            return [];
        var t = Point.Cross(f.From - e.From, g) / cross;
        return [new(e.From + (t * d), false)];
    }

    private static Meeting[] LineAndCircle(LineEdge e, ArcEdge f, double tolerance)
    {
        var u = e.DirectionAt(0);
        var along = Point.Dot(f.Centre - e.From, u);
        var foot = e.From + (along * u);
        var offset = Point.Cross(u, f.Centre - e.From);
        var depth = f.Radius - Math.Abs(offset);
        if (Math.Abs(depth) <= tolerance)
        {
            // The touching point is put on the circle.
            var arm = foot - f.Centre;
            return [new(f.Centre + ((f.Radius / arm.Length) * arm), true)];
        }
        if (depth < 0)
            return [];
        var half = Math.Sqrt(depth * (f.Radius + Math.Abs(offset)));
        return [new(foot + (-half * u), false), new(foot + (half * u), false)];
    }

    private static Meeting[] Circles(ArcEdge e, ArcEdge f, double tolerance)
    {
        var (r, s) = (e.Radius, f.Radius);
        var line = f.Centre - e.Centre;
        var d = line.Length;
        if (d <= tolerance)
            return [];
        var u = (1 / d) * line;
        if (Math.Abs(d - (r + s)) <= tolerance)
            return [new(e.Centre + (r * u), true)];
        if (Math.Abs(d - Math.Abs(r - s)) <= tolerance)
            return [new(e.Centre + ((r > s ? r : -r) * u), true)];
        if (d > r + s || d < Math.Abs(r - s))
            return [];
        var a = ((d * d) + ((r - s) * (r + s))) / (2 * d);
        var h = Math.Sqrt(Math.Max(0, (r - a) * (r + a)));
        var middle = e.Centre + (a * u);
        return [new(middle + (h * u.TurnedLeft), false), new(middle + (-h * u.TurnedLeft), false)];
    }

    /// <summary>Least distance between two edges, m.</summary>
    public static double Distance(Edge e, Edge f)
    {
        if (Of(e, f, 1e-12 * (e.Length + f.Length)).Any())
            return 0;
        var least = Math.Min(Math.Min(f.DistanceTo(e.From, out _), f.DistanceTo(e.To, out _)), Math.Min(e.DistanceTo(f.From, out _), e.DistanceTo(f.To, out _)));
        // Between the ends the shortest link is upright on both, hence runs through the centres of arcs.
        foreach (var (one, other) in (ReadOnlySpan<(Edge, Edge)>)[(e, f), (f, e)])
        {
            if (one is not ArcEdge arc)
                continue;
            var foot = other switch
            {
                LineEdge line => arc.Centre + (Point.Cross(line.DirectionAt(0), arc.Centre - line.From) * (-1 * line.DirectionAt(0).TurnedLeft)),
                ArcEdge second => second.Centre,
                _ => arc.Centre,
            };
            var arm = foot - arc.Centre;
            if (arm.Length == 0)
                continue;
            foreach (var side in (ReadOnlySpan<double>)[1, -1])
            {
                var p = arc.Centre + ((side * arc.Radius / arm.Length) * arm);
                if (one.DistanceTo(p, out _) <= 1e-9 * arc.Radius)
                    least = Math.Min(least, other.DistanceTo(p, out _));
            }
        }
        return least;
    }
}
