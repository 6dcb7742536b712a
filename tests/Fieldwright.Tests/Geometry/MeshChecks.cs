using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

/// <summary>What every mesh must satisfy, whatever the drawing. (a) counter-clockwise corners; (b) each edge shared by two triangles or on the boundary,
/// and both agree on its midside; (c) neighbours point back; (d) Jacobian positive at all points; (e) regions change only across interface edges;
/// (f) the areas sum to that inside the curved boundary edges; (g) every vertex used.</summary>
internal static class MeshChecks
{
    public static Mesh Triangulate(Drawing drawing, MeshOptions? options = null) =>
        Mesher.Triangulate(drawing, options, TestContext.Current.CancellationToken);

    public static void AssertSound(Mesh mesh)
    {
        var edges = new Dictionary<(int, int), (int Triangle, int Middle)>();
        var used = new bool[mesh.NodeCount];
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            Assert.True(Cross(mesh, t) > 0, $"triangle {t} is not counter-clockwise");
            for (var e = 0; e < 3; e++)
            {
                var (a, b, m) = (Node(mesh, t, e), Node(mesh, t, (e + 1) % 3), Node(mesh, t, 3 + e));
                used[a] = used[m] = true;
                Assert.InRange(a, 0, mesh.VertexCount - 1);
                Assert.InRange(m, mesh.VertexCount, mesh.NodeCount - 1);
                Assert.True(edges.TryAdd((a, b), (t, m)), $"edge {a}-{b} runs twice the same way");
                var neighbour = mesh.Neighbours[(3 * t) + e];
                if (neighbour >= 0)
                    Assert.True(mesh.Neighbours.AsSpan(3 * neighbour, 3).Contains(t), $"triangle {neighbour} does not know its neighbour {t}");
            }
            Assert.True(LeastJacobian(mesh, t) > 0, $"triangle {t} folds");
        }
        Assert.DoesNotContain(false, used);
        var boundary = mesh.BoundaryEdges.ToDictionary(edge => (edge.From, edge.To));
        var interfaces = mesh.InterfaceEdges.SelectMany(edge => new[] { (edge.From, edge.To), (edge.To, edge.From) }).ToHashSet();
        foreach (var ((a, b), (t, m)) in edges)
        {
            if (edges.TryGetValue((b, a), out var other))
            {
                Assert.Equal(m, other.Middle);
                if (mesh.Regions[t] != mesh.Regions[other.Triangle])
                    Assert.Contains((a, b), interfaces);
            }
            else
            {
                Assert.Equal(m, boundary[(a, b)].Middle);
                Assert.Equal(t, boundary[(a, b)].Left);
            }
        }
        Assert.Equal(boundary.Count, edges.Keys.Count(edge => !edges.ContainsKey((edge.Item2, edge.Item1))));
        // Rounding: each of n terms carries a relative error of some 1e-16.
        var inside = mesh.BoundaryEdges.Sum(edge => Swept(mesh, edge));
        Assert.Equal(inside, Enumerable.Range(0, mesh.TriangleCount).Sum(mesh.AreaOf), 1e-13 * inside * Math.Sqrt(mesh.TriangleCount));
    }

    /// <summary>Least angle over all triangles but those in the wedge of a corner or cusp sharper than 25°, whose three vertices lie on the edges that meet there; degrees.</summary>
    public static double LeastAngle(Mesh mesh, Drawing drawing)
    {
        var wedges = Wedges(drawing).ToArray();
        var least = 180.0;
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            var angle = LeastAngle(mesh, t);
            if (angle >= least)
                continue;
            var corners = Enumerable.Range(0, 3).Select(e => mesh.NodeAt(Node(mesh, t, e))).ToArray();
            if (angle >= 25 || !wedges.Any(wedge => corners.All(p => Lies(p, wedge.First) || Lies(p, wedge.Second))))
                least = angle;
        }
        return least;

        static bool Lies(Point p, Edge edge) => edge.DistanceTo(p, out _) < 1e-12;
    }

    private static IEnumerable<(Edge First, Edge Second)> Wedges(Drawing drawing)
    {
        var edges = drawing.Edges;
        for (var i = 0; i < edges.Count; i++)
        {
            for (var j = i + 1; j < edges.Count; j++)
            {
                var places = Intersection.Of(edges[i], edges[j], 1e-9).Select(meeting => meeting.At).Concat([edges[i].From, edges[i].To, edges[j].From, edges[j].To]);
                foreach (var p in places)
                {
                    if (edges[i].DistanceTo(p, out var s) < 1e-9 && edges[j].DistanceTo(p, out var t) < 1e-9)
                    {
                        var (u, v) = (edges[i].DirectionAt(s), edges[j].DirectionAt(t));
                        if (Math.Abs((u.X * v.Y) - (u.Y * v.X)) < Math.Sin(25 * Math.PI / 180))
                        {
                            yield return (edges[i], edges[j]);
                            break;
                        }
                    }
                }
            }
        }
    }

    private static double LeastAngle(Mesh mesh, int t)
    {
        var least = 180.0;
        for (var e = 0; e < 3; e++)
        {
            var p = mesh.NodeAt(Node(mesh, t, e));
            var u = mesh.NodeAt(Node(mesh, t, (e + 1) % 3)) - p;
            var v = mesh.NodeAt(Node(mesh, t, (e + 2) % 3)) - p;
            least = Math.Min(least, Math.Atan2((u.X * v.Y) - (u.Y * v.X), (u.X * v.X) + (u.Y * v.Y)) * 180 / Math.PI);
        }
        return least;
    }

    public static double LargestSize(Mesh mesh, Func<int, bool> where) =>
        Enumerable.Range(0, mesh.TriangleCount).Where(where).Max(mesh.SizeOf);

    private static int Node(Mesh mesh, int t, int k) => mesh.Triangles[(6 * t) + k];

    private static double Cross(Mesh mesh, int t)
    {
        var (a, b, c) = (mesh.NodeAt(Node(mesh, t, 0)), mesh.NodeAt(Node(mesh, t, 1)), mesh.NodeAt(Node(mesh, t, 2)));
        return ((b.X - a.X) * (c.Y - a.Y)) - ((b.Y - a.Y) * (c.X - a.X));
    }

    /// <summary>∫ ½(x dy − y dx) along the parabola of an edge.</summary>
    private static double Swept(Mesh mesh, MeshEdge edge)
    {
        var (a, b, m) = (mesh.NodeAt(edge.From), mesh.NodeAt(edge.To), mesh.NodeAt(edge.Middle));
        var rise = m - (0.5 * (a + b));
        var chord = b - a;
        return (0.5 * ((a.X * b.Y) - (a.Y * b.X))) + (2.0 / 3 * ((rise.X * chord.Y) - (rise.Y * chord.X)));
    }

    /// <summary>Least Jacobian by brute force on a grid of points: independent of the bound the mesher itself uses.</summary>
    private static double LeastJacobian(Mesh mesh, int t)
    {
        const int n = 8;
        var least = double.PositiveInfinity;
        for (var i = 0; i <= n; i++)
        {
            for (var j = 0; i + j <= n; j++)
            {
                var (_, u, v) = mesh.Map(t, (double)i / n, (double)j / n);
                least = Math.Min(least, (u.X * v.Y) - (u.Y * v.X));
            }
        }
        return least;
    }
}
