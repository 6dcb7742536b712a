using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>The outline of a set of regions, found on the mesh: what lies between the regions of one body is not part of it.</summary>
internal static class RegionLoops
{
    private const int PiecesOfArc = 8;

    /// <summary>Closed loops, m, the regions on their left.</summary>
    /// <param name="field">The field whose mesh it is.</param>
    /// <param name="wanted">The regions.</param>
    public static IReadOnlyList<IReadOnlyList<Point>> Of(MagneticField field, IReadOnlyCollection<int> wanted)
    {
        var mesh = field.Mesh;
        var places = field.Meshed.Coordinates;
        var starting = new Dictionary<int, List<(int To, int Middle)>>();
        for (int t = 0; t < mesh.TriangleCount; t++)
        {
            if (!wanted.Contains(mesh.Regions[t]))
                continue;
            for (int k = 0; k < 3; k++)
            {
                int across = mesh.Neighbours[3 * t + k];
                if (across >= 0 && wanted.Contains(mesh.Regions[across]))
                    continue;
                int from = mesh.Triangles[6 * t + k];
                if (!starting.TryGetValue(from, out var edges))
                    starting[from] = edges = [];
                edges.Add((mesh.Triangles[6 * t + (k + 1) % 3], mesh.Triangles[6 * t + 3 + k]));
            }
        }

        var loops = new List<IReadOnlyList<Point>>();
        foreach (int first in starting.Keys.Order().ToList())
        {
            while (starting[first].Count > 0)
            {
                var loop = new List<Point>();
                int at = first;
                do
                {
                    var (to, middle) = starting[at][^1];
                    starting[at].RemoveAt(starting[at].Count - 1);
                    Append(loop, Place(places, at), Place(places, middle), Place(places, to));
                    at = to;
                }
                while (at != first);
                loops.Add(loop);
            }
        }

        return loops;
    }

    private static void Append(List<Point> loop, Point from, Point middle, Point to)
    {
        double bulge = (middle - 0.5 * (from + to)).Length;
        int pieces = bulge > 1e-9 * from.DistanceTo(to) ? PiecesOfArc : 1;
        for (int k = 0; k < pieces; k++)
        {
            double t = (double)k / pieces;
            loop.Add((1 - t) * (1 - 2 * t) * from + 4 * t * (1 - t) * middle + t * (2 * t - 1) * to);
        }
    }

    private static Point Place(ReadOnlySpan<double> places, int node) => new(places[2 * node], places[2 * node + 1]);
}
