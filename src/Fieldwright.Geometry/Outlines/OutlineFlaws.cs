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
                flaws.Add(new(OutlineFault.ZeroLength, i, -1, e.From, string.Create(CultureInfo.InvariantCulture, $"edge {i} starts and ends at {Edge.Show(e.From)}")));
            else if (e is ArcEdge arc && Math.Abs(arc.From.DistanceTo(arc.Centre) - arc.To.DistanceTo(arc.Centre)) > 1e-6 * arc.Radius)
                flaws.Add(new(OutlineFault.UnequalRadii, i, -1, e.From, string.Create(CultureInfo.InvariantCulture,
                    $"edge {i} is an arc about {Edge.Show(arc.Centre)} that starts {arc.From.DistanceTo(arc.Centre):G9} m from it and ends {arc.To.DistanceTo(arc.Centre):G9} m from it")));
            var next = (i + 1) % edges.Count;
            if (e.To.DistanceTo(edges[next].From) > 1e-9 * size)
                flaws.Add(new(OutlineFault.NotClosed, i, next, e.To, string.Create(CultureInfo.InvariantCulture,
                    $"edge {i} ends at {Edge.Show(e.To)} but edge {next} starts at {Edge.Show(edges[next].From)}")));
        }
        if (flaws.Count == 0 && edges.Count < 2)
            flaws.Add(new(OutlineFault.TooFewEdges, 0, -1, edges[0].From, "an outline needs at least two edges; it has one"));
        return flaws;
    }
}
