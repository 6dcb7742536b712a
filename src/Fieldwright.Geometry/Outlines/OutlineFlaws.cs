using System.Globalization;

namespace Fieldwright.Geometry;

public sealed partial class Outline
{
    /// <summary>Looks for what keeps a list of edges from being an outline.</summary>
    /// <param name="edges">The edges in order.</param>
    /// <returns>The flaws found; empty if the loop is sound. Crossings are only looked for in a loop that closes.</returns>
    public static IReadOnlyList<OutlineFlaw> Flaws(IReadOnlyList<Edge> edges)
    {
        ArgumentNullException.ThrowIfNull(edges);
        var flaws = new List<OutlineFlaw>();
        if (edges.Count == 0)
            return [new(OutlineFault.TooFewEdges, 0, -1, default, "an outline needs at least two edges; it has none")];
        for (var i = 0; i < edges.Count; i++)
        {
            var e = edges[i];
            if (!e.From.IsFinite || !e.To.IsFinite || (e is ArcEdge { Centre.IsFinite: false }))
                flaws.Add(new(OutlineFault.NotFinite, i, -1, e.From, string.Create(CultureInfo.InvariantCulture, $"edge {i} has a coordinate that is not a finite number")));
        }
        if (flaws.Count > 0)
            return flaws;
        var size = edges.Aggregate(Box.Empty, (box, e) => box.With(e.From).With(e.To)).Diagonal;
        for (var i = 0; i < edges.Count; i++)
        {
            var e = edges[i];
            if (e.From.DistanceTo(e.To) <= 1e-9 * size)
                flaws.Add(new(OutlineFault.ZeroLength, i, -1, e.From, string.Create(CultureInfo.InvariantCulture, $"edge {i} starts and ends at {e.From}")));
            else if (e is ArcEdge arc && Math.Abs(arc.From.DistanceTo(arc.Centre) - arc.To.DistanceTo(arc.Centre)) > 1e-6 * arc.Radius)
                flaws.Add(new(OutlineFault.UnequalRadii, i, -1, e.From, string.Create(CultureInfo.InvariantCulture,
                    $"edge {i} is an arc about {arc.Centre} that starts {arc.From.DistanceTo(arc.Centre):G9} m from it and ends {arc.To.DistanceTo(arc.Centre):G9} m from it")));
            var next = (i + 1) % edges.Count;
            if (e.To.DistanceTo(edges[next].From) > 1e-9 * size)
                flaws.Add(new(OutlineFault.NotClosed, i, next, e.To, string.Create(CultureInfo.InvariantCulture,
                    $"edge {i} ends at {e.To} but edge {next} starts at {edges[next].From}")));
        }
        if (flaws.Count == 0 && edges.Count < 2)
            flaws.Add(new(OutlineFault.TooFewEdges, 0, -1, edges[0].From, "an outline needs at least two edges; it has one"));
        if (flaws.Count == 0)
            AddCrossings(edges, 1e-9 * size, flaws);
        if (flaws.Count == 0 && Math.Abs(edges.Sum(edge => edge.SweptArea(edges[0].From))) <= 1e-9 * size * size)
            flaws.Add(new(OutlineFault.NoArea, 0, -1, edges[0].From, "the outline goes round no area"));
        return flaws;
    }

    private static void AddCrossings(IReadOnlyList<Edge> edges, double tolerance, List<OutlineFlaw> flaws)
    {
        var boxes = edges.Select(edge => edge.Bounds.Grown(tolerance)).ToArray();
        for (var i = 0; i < edges.Count; i++)
        {
            for (var j = i + 1; j < edges.Count; j++)
            {
                if (boxes[i].Meets(boxes[j]) && Meeting(edges[i], edges[j], j == i + 1, (j + 1) % edges.Count == i, tolerance) is { } at)
                {
                    flaws.Add(new(OutlineFault.SelfIntersection, i, j, at, string.Create(CultureInfo.InvariantCulture,
                        $"edges {i} and {j} meet at {at}, where they should not")));
                }
            }
        }
    }

    /// <summary>A point that two edges of a loop share though they should not: any, but for the joint of neighbours.</summary>
    private static Point? Meeting(Edge e, Edge f, bool fFollows, bool eFollows, double tolerance)
    {
        foreach (var meeting in Intersection.Of(e, f, tolerance))
        {
            if (!IsJoint(meeting.At))
                return meeting.At;
        }
        foreach (var p in (ReadOnlySpan<Point>)[e.From, e.To, e.PointAt(0.5)])
        {
            if (!IsJoint(p) && f.DistanceTo(p, out _) <= tolerance)
                return p;
        }
        foreach (var p in (ReadOnlySpan<Point>)[f.From, f.To, f.PointAt(0.5)])
        {
            if (!IsJoint(p) && e.DistanceTo(p, out _) <= tolerance)
                return p;
        }
        return null;

        bool IsJoint(Point p) => (fFollows && p.DistanceTo(f.From) <= 1e4 * tolerance) || (eFollows && p.DistanceTo(e.From) <= 1e4 * tolerance);
    }
}
