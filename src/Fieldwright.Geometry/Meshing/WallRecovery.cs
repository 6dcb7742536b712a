namespace Fieldwright.Geometry;

/// <summary>Brings given edges into a triangulation by flips, and makes the rest Delaunay again.</summary>
/// <source key="Sloan1993" at="edge insertion by swapping diagonals"/>
internal sealed class WallRecovery
{
    private readonly Triangulation mesh;
    private readonly int[] leaving;

    public WallRecovery(Triangulation mesh)
    {
        this.mesh = mesh;
        leaving = new int[mesh.VertexCount];
        for (var t = 0; t < mesh.TriangleCount; t++)
            Register(t);
    }

    private void Register(int t)
    {
        for (var h = 4 * t; h < (4 * t) + 3; h++)
            leaving[mesh.V[h]] = h;
    }

    /// <summary>Makes a–b an edge of the triangulation.</summary>
    /// <returns>The half-edge from a to b.</returns>
    public int Recover(int a, int b)
    {
        var h = Find(a, b);
        if (h >= 0)
            return h;
        var crossing = Crossing(a, b);
        // Each flip of a convex quadrilateral either frees the edge or leaves as many; a quadrilateral that is not convex waits its turn.
        for (var steps = 0L; crossing.Count > 0; steps++)
        {
            if (steps > 1000L + (100L * mesh.VertexCount))
                throw new InvalidOperationException("an edge of the drawing could not be recovered");
            var (p, q) = crossing.Dequeue();
            h = Find(p, q);
            var c = mesh.V[Triangulation.Previous(h)];
            var d = mesh.V[Triangulation.Previous(mesh.Twin(h))];
            if (Side(c, d, p) * Side(c, d, q) >= 0)
            {
                crossing.Enqueue((p, q));
                continue;
            }
            Turn(h);
            if (c != a && c != b && d != a && d != b && Side(a, b, c) * Side(a, b, d) < 0)
                crossing.Enqueue((c, d));
        }
        return Find(a, b);
    }

    /// <summary>Flips until no edge but a wall has a vertex in the circle across it.</summary>
    public void MakeDelaunay()
    {
        var waiting = new Stack<(int, int)>();
        for (var h = 0; h < 4 * mesh.TriangleCount; h++)
        {
            if ((h & 3) != 3 && !mesh.IsWall(h) && h < mesh.Twin(h))
                waiting.Push((mesh.V[h], mesh.Target(h)));
        }
        while (waiting.Count > 0)
        {
            var (p, q) = waiting.Pop();
            var h = Find(p, q);
            if (h < 0 || mesh.IsWall(h))
                continue;
            var c = mesh.V[Triangulation.Previous(h)];
            var d = mesh.V[Triangulation.Previous(mesh.Twin(h))];
            if (InCircle(p, q, c, d) <= 0)
                continue;
            Turn(h);
            waiting.Push((p, c));
            waiting.Push((q, c));
            waiting.Push((p, d));
            waiting.Push((q, d));
        }
    }

    private void Turn(int h)
    {
        var diagonal = mesh.Flip(h);
        Register(diagonal >> 2);
        Register(mesh.Twin(diagonal) >> 2);
    }

    private int Find(int a, int b)
    {
        var first = leaving[a];
        var h = first;
        do
        {
            if (mesh.Target(h) == b)
                return h;
            h = mesh.Twin(Triangulation.Previous(h));
            if (h < 0)
                break;
        }
        while (h != first);
        if (h >= 0)
            return -1;
        // A corner of the box: turn the other way too.
        for (h = first; mesh.Twin(h) >= 0;)
        {
            h = Triangulation.Next(mesh.Twin(h));
            if (mesh.Target(h) == b)
                return h;
        }
        return mesh.V[Triangulation.Previous(h)] == b && mesh.Twin(Triangulation.Previous(h)) >= 0 ? mesh.Twin(Triangulation.Previous(h)) : -1;
    }

    /// <summary>The edges that a–b crosses, from a to b.</summary>
    private Queue<(int, int)> Crossing(int a, int b)
    {
        var found = new Queue<(int, int)>();
        var h = leaving[a];
        for (var turn = 0; ; turn++)
        {
            var (p, q) = (mesh.Target(h), mesh.V[Triangulation.Previous(h)]);
            if (Side(a, b, p) < 0 && Side(a, b, q) > 0)
                break;
            h = mesh.Twin(Triangulation.Previous(h));
            if (turn > mesh.TriangleCount)
                throw new InvalidOperationException("a corner of the drawing lies on an edge without being part of it");
        }
        h = Triangulation.Next(h);
        while (true)
        {
            if (mesh.IsWall(h))
                throw new InvalidOperationException("two edges of the drawing cross");
            found.Enqueue((mesh.V[h], mesh.Target(h)));
            var g = mesh.Twin(h);
            var apex = mesh.V[Triangulation.Previous(g)];
            if (apex == b)
                return found;
            var side = Side(a, b, apex);
            if (side == 0)
                throw new InvalidOperationException("a corner of the drawing lies on an edge without being part of it");
            // h runs from the right of a–b to its left; go on through the edge that does so too.
            h = side > 0 ? Triangulation.Next(g) : Triangulation.Previous(g);
        }
    }

    private int Side(int a, int b, int p)
    {
        var xy = mesh.Xy;
        return Math.Sign(Predicates.Orient(xy[2 * a], xy[(2 * a) + 1], xy[2 * b], xy[(2 * b) + 1], xy[2 * p], xy[(2 * p) + 1]));
    }

    private double InCircle(int a, int b, int c, int d)
    {
        var xy = mesh.Xy;
        return Predicates.InCircle(xy[2 * a], xy[(2 * a) + 1], xy[2 * b], xy[(2 * b) + 1], xy[2 * c], xy[(2 * c) + 1], xy[2 * d], xy[(2 * d) + 1]);
    }
}
