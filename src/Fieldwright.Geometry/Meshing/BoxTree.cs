namespace Fieldwright.Geometry;

/// <summary>Boxes round runs of consecutive triangles, and round runs of those boxes: since triangles are numbered along a space-filling curve,
/// few boxes hold any one point.</summary>
internal sealed class BoxTree
{
    private const int Run = 4;
    private const double Slack = 1e-12;

    private readonly Mesh mesh;
    private readonly List<Box[]> levels = [];
    private readonly bool[] curved;

    public BoxTree(Mesh mesh)
    {
        this.mesh = mesh;
        curved = new bool[mesh.TriangleCount];
        var boxes = new Box[mesh.TriangleCount];
        for (var t = 0; t < boxes.Length; t++)
            boxes[t] = BoxOf(t);
        levels.Add(boxes);
        while (levels[^1].Length > 1)
            levels.Add(Grouped(levels[^1]));
    }

    private static Box[] Grouped(Box[] below)
    {
        var groups = new Box[(below.Length + Run - 1) / Run];
        Array.Fill(groups, Box.Empty);
        for (var i = 0; i < below.Length; i++)
            groups[i / Run] = groups[i / Run].With(below[i]);
        return groups;
    }

    private Box BoxOf(int t)
    {
        var box = Box.Empty;
        for (var e = 0; e < 3; e++)
        {
            var (a, b, m) = (mesh.CornerOf(t, e), mesh.CornerOf(t, (e + 1) % 3), mesh.NodeAt(mesh.Triangles[(6 * t) + 3 + e]));
            // The Bézier control point of the edge: curve and chord lie in the triangle of the three.
            var control = (2 * m) - (0.5 * (a + b));
            box = box.With(a).With(control);
            curved[t] |= control.DistanceTo(m) > 1e-10 * a.DistanceTo(b);
        }
        return box.Grown(1e-12 * box.Diagonal);
    }

    public MeshLocation Locate(Point p)
    {
        Span<(int Level, int Index)> waiting = stackalloc (int, int)[Run * 20];
        var n = 0;
        waiting[n++] = (levels.Count - 1, 0);
        while (n > 0)
        {
            var (level, index) = waiting[--n];
            if (!levels[level][index].Contains(p))
                continue;
            if (level == 0)
            {
                if (TryTriangle(index, p, out var place))
                    return place;
                continue;
            }
            var end = Math.Min(levels[level - 1].Length, (index + 1) * Run);
            for (var child = end - 1; child >= index * Run; child--)
                waiting[n++] = (level - 1, child);
        }
        return MeshLocation.Outside;
    }

    private bool TryTriangle(int t, Point p, out MeshLocation place)
    {
        var (a, b, c) = (mesh.CornerOf(t, 0), mesh.CornerOf(t, 1), mesh.CornerOf(t, 2));
        var area = Point.Cross(b - a, c - a);
        var xi = Point.Cross(p - a, c - a) / area;
        var eta = Point.Cross(b - a, p - a) / area;
        if (curved[t] && !TryInvert(t, p, ref xi, ref eta))
        {
            place = default;
            return false;
        }
        place = new(t, xi, eta);
        var slack = curved[t] ? 1e-9 : Slack;
        return xi >= -slack && eta >= -slack && xi + eta <= 1 + slack;
    }

    /// <summary>Newton's method on the quadratic map.</summary>
    private bool TryInvert(int t, Point p, ref double xi, ref double eta)
    {
        var size = levels[0][t].Diagonal;
        for (var step = 0; step < 20; step++)
        {
            var (x, dxi, deta) = mesh.Map(t, xi, eta);
            var r = p - x;
            if (r.Length <= 1e-14 * size)
                return true;
            var det = Point.Cross(dxi, deta);
            if (Math.Abs(det) < 1e-300)
                return false;
            xi += Point.Cross(r, deta) / det;
            eta += Point.Cross(dxi, r) / det;
            if (!(Math.Abs(xi) + Math.Abs(eta) < 10))
                return false;
            if (step >= 8 && r.Length <= 1e-11 * size)
                return true;
        }
        return false;
    }

    /// <summary>The vertex nearest to a point, by descending into nearer boxes first.</summary>
    public int NearestVertex(Point p)
    {
        var best = double.PositiveInfinity;
        var nearest = -1;
        Descend(levels.Count - 1, 0);
        return nearest;

        void Descend(int level, int index)
        {
            if (levels[level][index].Gap(Box.Of(p, p)) >= best)
                return;
            if (level == 0)
            {
                for (var e = 0; e < 3; e++)
                {
                    var distance = mesh.CornerOf(index, e).DistanceTo(p);
                    if (distance < best)
                        (best, nearest) = (distance, mesh.Triangles[(6 * index) + e]);
                }
                return;
            }
            var end = Math.Min(levels[level - 1].Length, (index + 1) * Run);
            Span<(double Gap, int Child)> children = stackalloc (double, int)[Run];
            var n = 0;
            for (var child = index * Run; child < end; child++)
                children[n++] = (levels[level - 1][child].Gap(Box.Of(p, p)), child);
            children[..n].Sort();
            for (var i = 0; i < n; i++)
                Descend(level - 1, children[i].Child);
        }
    }
}
