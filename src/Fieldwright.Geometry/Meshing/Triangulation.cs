namespace Fieldwright.Geometry;

/// <summary>Growing triangulation of a box, with vertices inserted by cavities and edges that no cavity crosses.</summary>
/// <remarks>
/// A half-edge h = 4t + e (e = 0, 1, 2) runs from corner e of triangle t to the next; <see cref="V"/>[h] is its origin and V[4t + 3] the
/// region of the triangle. <see cref="T"/>[h] is twice its twin, plus one where the edge is a wall, or −1 on the hull (a wall too).
/// <see cref="S"/>[h] is the number of the wall and is meaningless where there is none. T[4t + 3] marks triangles that are to stay.
/// </remarks>
/// <source key="Bowyer1981" at="the cavity of a new vertex"/>
internal sealed class Triangulation
{
    public const int Outside = -1;

    private int[] stack = new int[256];
    private int[] cavity = new int[128];
    private int cavityCount;
    private int[] rimHalf = new int[128];

    public Triangulation(Box box, int capacity)
    {
        Xy = new double[2 * (capacity + 4)];
        V = new int[8 * (capacity + 4)];
        T = new int[V.Length];
        S = new int[V.Length];
        var reach = 4 * Math.Max(box.Width, box.Height);
        var (x, y) = (0.5 * (box.Left + box.Right), 0.5 * (box.Bottom + box.Top));
        AddVertex(x - reach, y - reach);
        AddVertex(x + reach, y - reach);
        AddVertex(x + reach, y + reach);
        AddVertex(x - reach, y + reach);
        SetTriangle(0, 0, 1, 2);
        SetTriangle(1, 0, 2, 3);
        TriangleCount = 2;
        (T[0], T[1], T[2]) = (-1, -1, 2 * 4);
        (T[4], T[5], T[6]) = (2 * 2, -1, -1);
    }

    /// <summary>The four corners of the box come first; what is meshed follows.</summary>
    public static int BoxCorners => 4;

    public double[] Xy { get; private set; }

    public int VertexCount { get; private set; }

    public int[] V { get; private set; }

    public int[] T { get; private set; }

    public int[] S { get; private set; }

    public int TriangleCount { get; private set; }

    /// <summary>Half-edge of each wall that starts at its first vertex.</summary>
    public List<int> WallHalf { get; } = [];

    /// <summary>First vertex of each wall.</summary>
    public List<int> WallFrom { get; } = [];

    /// <summary>Number of edges round the cavity last gathered, or of triangles round the vertex last inserted.</summary>
    public int RimCount { get; private set; }

    /// <summary>Origins of the edges round the cavity, counter-clockwise.</summary>
    public int[] RimVertex { get; private set; } = new int[128];

    /// <summary>Their <see cref="T"/>.</summary>
    public int[] RimTwin { get; private set; } = new int[128];

    /// <summary>Their wall, or −1.</summary>
    public int[] RimWall { get; private set; } = new int[128];

    /// <summary>After <see cref="Fill"/>: the triangles round the new vertex, counter-clockwise; triangle i has corners (new, RimVertex[i], RimVertex[i+1]).</summary>
    public int[] Star { get; private set; } = new int[128];

    public static int Next(int h) => (h & 3) == 2 ? h - 2 : h + 1;

    public static int Previous(int h) => (h & 3) == 0 ? h + 2 : h - 1;

    public int Target(int h) => V[Next(h)];

    public bool IsWall(int h) => (T[h] & 1) != 0;

    /// <summary>The half-edge on the other side, or −1.</summary>
    public int Twin(int h) => T[h] >> 1;

    public Point At(int vertex) => new(Xy[2 * vertex], Xy[(2 * vertex) + 1]);

    public int AddVertex(double x, double y)
    {
        if (2 * VertexCount == Xy.Length)
        {
            var xy = Xy;
            Array.Resize(ref xy, 2 * xy.Length);
            Xy = xy;
        }
        Xy[2 * VertexCount] = x;
        Xy[(2 * VertexCount) + 1] = y;
        return VertexCount++;
    }

    /// <summary>Renumbers the vertices after the box corners.</summary>
    /// <param name="name">Present number of the vertex that shall be number i + 4.</param>
    public void Rename(int[] name)
    {
        var to = new int[VertexCount];
        var xy = (double[])Xy.Clone();
        for (var i = 0; i < BoxCorners; i++)
            to[i] = i;
        for (var i = 0; i < name.Length; i++)
        {
            to[name[i]] = i + BoxCorners;
            (Xy[2 * (i + BoxCorners)], Xy[(2 * (i + BoxCorners)) + 1]) = (xy[2 * name[i]], xy[(2 * name[i]) + 1]);
        }
        for (var h = 0; h < 4 * TriangleCount; h++)
        {
            if ((h & 3) != 3)
                V[h] = to[V[h]];
        }
    }

    private void SetTriangle(int t, int a, int b, int c)
    {
        V[4 * t] = a;
        V[(4 * t) + 1] = b;
        V[(4 * t) + 2] = c;
        V[(4 * t) + 3] = Outside;
    }

    /// <summary>Walks towards a point. Stops at the first wall in the way if asked to.</summary>
    /// <param name="x">x of the point.</param>
    /// <param name="y">y of the point.</param>
    /// <param name="start">Triangle to start from.</param>
    /// <param name="stopAtWalls">Whether walls stop the walk.</param>
    /// <param name="wall">The half-edge of the wall that stopped it, or −1.</param>
    /// <returns>The triangle that holds the point (on its rim included), or the one before the wall.</returns>
    public int Walk(double x, double y, int start, bool stopAtWalls, out int wall)
    {
        int[] v = V, twins = T;
        var xy = Xy;
        var h = 4 * start;
        // In a constrained triangulation a visibility walk could in principle go round in circles; then every triangle is tried.
        for (var steps = 0; steps < 2 * TriangleCount; steps++)
        {
            var moved = false;
            for (var e = 0; e < 3; e++)
            {
                // Edge 0 of the loop is the one entered through, already known to be behind us except at the start.
                int a = 2 * v[h], b = 2 * v[Next(h)];
                if (Predicates.Orient(xy[a], xy[a + 1], xy[b], xy[b + 1], x, y) < 0)
                {
                    var twin = twins[h];
                    if (twin < 0 || (stopAtWalls && (twin & 1) != 0))
                    {
                        wall = h;
                        return h >> 2;
                    }
                    h = Next(twin >> 1);
                    moved = true;
                    break;
                }
                h = Next(h);
            }
            if (!moved)
            {
                wall = -1;
                return h >> 2;
            }
        }
        wall = -1;
        for (var t = 0; t < TriangleCount; t++)
        {
            if (Holds(t, x, y))
                return t;
        }
        throw new InvalidOperationException("no triangle holds the point");
    }

    private bool Holds(int t, double x, double y)
    {
        for (var h = 4 * t; h < (4 * t) + 3; h++)
        {
            int a = 2 * V[h], b = 2 * V[Next(h)];
            if (Predicates.Orient(Xy[a], Xy[a + 1], Xy[b], Xy[b + 1], x, y) < 0)
                return false;
        }
        return true;
    }

    /// <summary>Gathers the triangles whose circle holds a point and that are reached without crossing a wall.</summary>
    public void Gather(double x, double y, int start)
    {
        int[] v = V, twins = T;
        var xy = Xy;
        var sp = 3;
        stack[0] = (4 * start) + 2;
        stack[1] = (4 * start) + 1;
        stack[2] = 4 * start;
        cavityCount = 1;
        cavity[0] = start;
        var n = 0;
        while (sp > 0)
        {
            var h = stack[--sp];
            var twin = twins[h];
            if ((twin & 1) == 0)
            {
                var g = twin >> 1;
                var u = g & ~3;
                int a = 2 * v[u], b = 2 * v[u + 1], c = 2 * v[u + 2];
                if (Predicates.InCircle(xy[a], xy[a + 1], xy[b], xy[b + 1], xy[c], xy[c + 1], x, y) > 0)
                {
                    if (cavityCount == cavity.Length)
                        Array.Resize(ref cavity, 2 * cavity.Length);
                    cavity[cavityCount++] = u >> 2;
                    if (sp + 2 > stack.Length)
                        Array.Resize(ref stack, 2 * stack.Length);
                    // The rim is met counter-clockwise: the edge after the one crossed comes first.
                    stack[sp++] = Previous(g);
                    stack[sp++] = Next(g);
                    continue;
                }
            }
            if (n == rimHalf.Length)
                GrowRim();
            rimHalf[n] = h;
            RimVertex[n] = v[h];
            RimTwin[n] = twin;
            RimWall[n] = (twin & 1) != 0 && twin >= 0 ? S[h] : -1;
            n++;
        }
        RimCount = n;
    }

    private void GrowRim()
    {
        Array.Resize(ref rimHalf, 2 * rimHalf.Length);
        RimVertex = Grown(RimVertex);
        RimTwin = Grown(RimTwin);
        RimWall = Grown(RimWall);
        Star = Grown(Star);
    }

    private static int[] Grown(int[] array)
    {
        Array.Resize(ref array, 2 * array.Length);
        return array;
    }

    /// <summary>Whether a vertex of the rim lies exactly at a point.</summary>
    public bool RimTouches(double x, double y)
    {
        for (var i = 0; i < RimCount; i++)
        {
            if (Xy[2 * RimVertex[i]] == x && Xy[(2 * RimVertex[i]) + 1] == y)
                return true;
        }
        return false;
    }

    /// <summary>Replaces the triangles gathered by a star round a new vertex. They keep the region of the first.</summary>
    public int Fill(double x, double y)
    {
        var vertex = AddVertex(x, y);
        var region = V[(4 * cavity[0]) + 3];
        var n = RimCount;
        if (4 * (TriangleCount + n) > V.Length)
        {
            V = Grown(V);
            T = Grown(T);
            S = Grown(S);
        }
        for (var i = 0; i < n; i++)
            Star[i] = i < cavityCount ? cavity[i] : TriangleCount++;
        int[] v = V, twins = T;
        for (var i = 0; i < n; i++)
        {
            var h = 4 * Star[i];
            var following = i + 1 == n ? 0 : i + 1;
            v[h] = vertex;
            v[h + 1] = RimVertex[i];
            v[h + 2] = RimVertex[following];
            v[h + 3] = region;
            var twin = RimTwin[i];
            twins[h + 1] = twin;
            if (twin >= 0)
                twins[twin >> 1] = (2 * (h + 1)) | (twin & 1);
            if (RimWall[i] >= 0)
            {
                S[h + 1] = RimWall[i];
                if (WallFrom[RimWall[i]] == RimVertex[i])
                    WallHalf[RimWall[i]] = h + 1;
            }
            twins[h + 3] = 0;
            twins[h + 2] = 8 * Star[following];
            twins[4 * Star[following]] = 2 * (h + 2);
        }
        return vertex;
    }

    /// <summary>Marks a triangle as one that is to stay as it is until it is replaced.</summary>
    public void Leave(int t) => T[(4 * t) + 3] = 1;

    public bool IsLeft(int t) => T[(4 * t) + 3] != 0;

    /// <summary>Number of a new wall along a half-edge.</summary>
    public int AddWall(int h)
    {
        WallFrom.Add(V[h]);
        WallHalf.Add(h);
        SetWall(h, WallHalf.Count - 1);
        return WallHalf.Count - 1;
    }

    /// <summary>Makes an edge a wall.</summary>
    public void SetWall(int h, int wall)
    {
        T[h] |= 1;
        S[h] = wall;
        var twin = T[h] >> 1;
        T[twin] |= 1;
        S[twin] = wall;
    }

    /// <summary>Makes an edge passable.</summary>
    public void ClearWall(int h)
    {
        T[h] &= ~1;
        T[T[h] >> 1] &= ~1;
    }

    /// <summary>Turns the diagonal of the two triangles at an edge, which must not be a wall.</summary>
    /// <returns>A half-edge of the new diagonal; its triangle and its twin's are the two changed.</returns>
    public int Flip(int h)
    {
        // (a, b, c) with h: a→b and (b, a, d) with g: b→a become (d, b, c) and (c, a, d). The edges b→c and a→d stay where they are,
        // d→b moves to h and c→a to g.
        var g = T[h] >> 1;
        int hp = Previous(h), gp = Previous(g);
        V[h] = V[gp];
        V[g] = V[hp];
        Attach(h, T[gp], S[gp]);
        Attach(g, T[hp], S[hp]);
        T[hp] = 2 * gp;
        T[gp] = 2 * hp;
        return hp;
    }

    private void Attach(int h, int twin, int wall)
    {
        T[h] = twin;
        S[h] = wall;
        if (twin < 0)
            return;
        T[twin >> 1] = (2 * h) | (twin & 1);
        if ((twin & 1) != 0 && WallFrom[wall] == V[h])
            WallHalf[wall] = h;
    }
}
