using Fieldwright.Numerics;

namespace Fieldwright.Geometry;

public sealed partial class Mesh
{
    /// <summary>Divides marked triangles in four, and their neighbours as far as needed to keep the mesh conforming: a refinement nested in this mesh.</summary>
    /// <param name="marked">One flag a triangle.</param>
    /// <returns>The finer mesh and where each of its triangles came from. Curved edges stay on their arcs.</returns>
    /// <remarks>Each part has a quarter of the area. Sides are halved longest first, so that however often a mesh is refined no angle falls below
    /// half the least angle of the mesh first made; beside wide arcs, whose halves turn towards the tangent, it may fall further, but no triangle folds.
    /// Quicker than remeshing; remeshing gives better shapes.</remarks>
    /// <exception cref="ArgumentException">The number of flags differs from that of the triangles.</exception>
    /// <source key="Rivara1984" at="4-triangles longest-side partition"/>
    /// <source key="RosenbergStenger1975" at="the bound on the angles"/>
    public MeshRefinement Refine(ReadOnlySpan<bool> marked)
    {
        Guard.Length(marked.Length, TriangleCount, nameof(marked));
        var result = new Bisection(this, marked).Divide();
        // An arc of a wide angle may fold a flat part of its triangle: such parts are divided again, which halves the arc.
        Span<Point> p = stackalloc Point[6];
        while (true)
        {
            var folded = new bool[result.Mesh.TriangleCount];
            var any = false;
            foreach (var edges in (ReadOnlySpan<MeshEdge[]>)[result.Mesh.BoundaryEdges, result.Mesh.InterfaceEdges])
            {
                foreach (var edge in edges)
                {
                    foreach (var t in (ReadOnlySpan<int>)[edge.Left, edge.Right])
                    {
                        if (t < 0)
                            continue;
                        for (var k = 0; k < 6; k++)
                            p[k] = result.Mesh.NodeAt(result.Mesh.Triangles[(6 * t) + k]);
                        any |= folded[t] |= CurvedTriangle.LeastJacobian(p) <= 0.01 * Point.Cross(p[1] - p[0], p[2] - p[0]);
                    }
                }
            }
            if (!any)
                return result;
            var again = new Bisection(result.Mesh, folded).Divide();
            result = new(again.Mesh, [.. again.Parents.Select(t => result.Parents[t])]);
        }
    }
}

/// <summary>Marks sides to be halved and divides triangles accordingly. A side is named by its midside node.</summary>
internal sealed class Bisection
{
    private readonly Mesh mesh;
    private readonly bool[] halved;
    private readonly bool[] curved;

    public Bisection(Mesh mesh, ReadOnlySpan<bool> marked)
    {
        this.mesh = mesh;
        halved = new bool[mesh.NodeCount];
        curved = new bool[mesh.NodeCount];
        foreach (var edge in mesh.BoundaryEdges)
            curved[edge.Middle] = IsCurved(edge);
        foreach (var edge in mesh.InterfaceEdges)
            curved[edge.Middle] = IsCurved(edge);
        var waiting = new Stack<int>();
        for (var t = 0; t < marked.Length; t++)
        {
            if (!marked[t])
                continue;
            for (var e = 0; e < 3; e++)
                Halve(t, e, waiting);
        }
        while (waiting.TryPop(out var t))
        {
            Halve(t, Longest(t), waiting);
            for (var e = 0; e < 3; e++)
            {
                if (curved[Side(t, e)])
                    Halve(t, e, waiting);
            }
        }
    }

    private int Side(int t, int e) => mesh.Triangles[(6 * t) + 3 + e];

    private bool IsCurved(MeshEdge edge)
    {
        var (a, b) = (mesh.NodeAt(edge.From), mesh.NodeAt(edge.To));
        return mesh.Drawing.Edges[edge.Marker] is ArcEdge && mesh.NodeAt(edge.Middle) != new Point(0.5 * (a.X + b.X), 0.5 * (a.Y + b.Y));
    }

    private void Halve(int t, int e, Stack<int> waiting)
    {
        ref var side = ref halved[Side(t, e)];
        if (side)
            return;
        side = true;
        waiting.Push(t);
        if (mesh.Neighbours[(3 * t) + e] >= 0)
            waiting.Push(mesh.Neighbours[(3 * t) + e]);
    }

    /// <summary>The longest side; of equal ones that of the lowest midside, so that both neighbours agree.</summary>
    private int Longest(int t)
    {
        var best = 0;
        for (var e = 1; e < 3; e++)
        {
            var difference = Squared(t, e) - Squared(t, best);
            if (difference > 0 || (difference == 0 && Side(t, e) < Side(t, best)))
                best = e;
        }
        return best;
    }

    private double Squared(int t, int e)
    {
        var side = mesh.CornerOf(t, (e + 1) % 3) - mesh.CornerOf(t, e);
        return Point.Dot(side, side);
    }

    public MeshRefinement Divide()
    {
        // A halved side's midside node becomes a vertex, so vertices keep their node numbers until the mesh is renumbered.
        List<int> corners = [], regions = [], parents = [];
        for (var t = 0; t < mesh.TriangleCount; t++)
            Divide(t, corners, regions, parents);
        var cornerArray = corners.ToArray();
        var soup = new TriangleSoup
        {
            Xy = mesh.Coordinates,
            VertexCount = mesh.NodeCount,
            Corners = cornerArray,
            Regions = [.. regions],
            Twins = Twins(cornerArray, mesh.NodeCount),
            Walls = Walls(cornerArray),
        };
        var (finer, order) = MeshBuilder.Build(mesh.Drawing, soup);
        return new(finer, [.. order.Select(t => parents[t])]);
    }

    private void Divide(int t, List<int> corners, List<int> regions, List<int> parents)
    {
        var first = Longest(t);
        int Corner(int k) => mesh.Triangles[(6 * t) + ((first + k) % 3)];
        int Half(int k) => Side(t, (first + k) % 3);
        var (a, b, c) = (Corner(0), Corner(1), Corner(2));
        var (ab, bc, ca) = (Half(0), Half(1), Half(2));
        if (!halved[ab])
        {
            Add(a, b, c);
            return;
        }
        if (halved[ca])
        {
            Add(a, ab, ca);
            Add(ab, c, ca);
        }
        else
        {
            Add(a, ab, c);
        }
        if (halved[bc])
        {
            Add(ab, b, bc);
            Add(ab, bc, c);
        }
        else
        {
            Add(ab, b, c);
        }

        void Add(int p, int q, int r)
        {
            corners.Add(p);
            corners.Add(q);
            corners.Add(r);
            regions.Add(mesh.Regions[t]);
            parents.Add(t);
        }
    }

    /// <summary>Sides across sides, matched through lists of the sides that leave each vertex.</summary>
    private static int[] Twins(int[] corners, int vertexCount)
    {
        var first = new int[vertexCount];
        Array.Fill(first, -1);
        var next = new int[corners.Length];
        for (var side = 0; side < corners.Length; side++)
        {
            next[side] = first[corners[side]];
            first[corners[side]] = side;
        }
        var twins = new int[corners.Length];
        for (var side = 0; side < corners.Length; side++)
        {
            var (from, to) = (corners[side], corners[Next(side)]);
            var twin = first[to];
            while (twin >= 0 && corners[Next(twin)] != from)
                twin = next[twin];
            twins[side] = twin;
        }
        return twins;
    }

    private static int Next(int side) => side % 3 == 2 ? side - 2 : side + 1;

    private List<WallSide> Walls(int[] corners)
    {
        var sides = new Dictionary<(int, int), int>();
        var onWall = new bool[mesh.NodeCount];
        foreach (var edge in mesh.BoundaryEdges)
            onWall[edge.From] = onWall[edge.To] = onWall[edge.Middle] = true;
        foreach (var edge in mesh.InterfaceEdges)
            onWall[edge.From] = onWall[edge.To] = onWall[edge.Middle] = true;
        for (var side = 0; side < corners.Length; side++)
        {
            if (onWall[corners[side]] && onWall[corners[Next(side)]])
                sides[(corners[side], corners[Next(side)])] = side;
        }
        var walls = new List<WallSide>();
        foreach (var edges in (ReadOnlySpan<MeshEdge[]>)[mesh.BoundaryEdges, mesh.InterfaceEdges])
        {
            foreach (var edge in edges)
            {
                if (halved[edge.Middle])
                {
                    var first = new WallSide(sides[(edge.From, edge.Middle)], edge.Marker, Middle(edge, edge.From, edge.Middle));
                    var second = new WallSide(sides[(edge.Middle, edge.To)], edge.Marker, Middle(edge, edge.Middle, edge.To));
                    // Boundary edges keep the mesh on their left, against the drawing's edge if need be; their order is that along the drawing's edge.
                    var along = RunsAlong(edge);
                    walls.Add(along ? first : second);
                    walls.Add(along ? second : first);
                }
                else
                {
                    walls.Add(new(sides[(edge.From, edge.To)], edge.Marker, mesh.NodeAt(edge.Middle)));
                }
            }
        }
        return walls;
    }

    private bool RunsAlong(MeshEdge edge)
    {
        var curve = mesh.Drawing.Edges[edge.Marker];
        curve.DistanceTo(mesh.NodeAt(edge.From), out var from);
        curve.DistanceTo(mesh.NodeAt(edge.To), out var to);
        return from < to;
    }

    private Point Middle(MeshEdge edge, int from, int to)
    {
        var (a, b) = (mesh.NodeAt(from), mesh.NodeAt(to));
        var chord = new Point(0.5 * (a.X + b.X), 0.5 * (a.Y + b.Y));
        if (!curved[edge.Middle] || mesh.Drawing.Edges[edge.Marker] is not ArcEdge arc)
            return chord;
        var arm = chord - arc.Centre;
        return arc.Centre + ((arc.Radius / arm.Length) * arm);
    }
}
