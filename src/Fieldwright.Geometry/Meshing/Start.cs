namespace Fieldwright.Geometry;

/// <summary>The constrained Delaunay triangulation of a drawing's chords, each triangle with its region, from which refinement starts.</summary>
internal sealed class Start
{
    private readonly Drawing drawing;
    private readonly int[] component;
    private readonly List<int[]> inside = [];

    private Start(Drawing drawing, Arrangement arrangement, Chording chording)
    {
        this.drawing = drawing;
        Arrangement = arrangement;
        Chording = chording;
        Mesh = Insert(chording);
        component = new int[Mesh.TriangleCount];
        Regions = [.. drawing.Outlines.Select(outline => outline.Region).Where(region => region != Outline.Void).Distinct()];
    }

    public Arrangement Arrangement { get; }

    public Chording Chording { get; }

    /// <summary>Wall i is chord i of the chording; vertex v of the chording is vertex v + 4. V[4t + 3] is an index into <see cref="Regions"/>, or <see cref="Triangulation.Outside"/>.</summary>
    public Triangulation Mesh { get; }

    /// <summary>Region numbers in order of first use.</summary>
    public int[] Regions { get; }

    /// <exception cref="OverlapException">Two outlines overlap in part or coincide, or a part reaches outside the boundary.</exception>
    public static Start Of(Drawing drawing, Arrangement arrangement, double largestSweep)
    {
        var start = new Start(drawing, arrangement, Chording.Of(arrangement, largestSweep));
        start.FindInsides();
        start.RefuseOverlaps();
        start.Paint();
        return start;
    }

    private static Triangulation Insert(Chording chording)
    {
        var count = chording.Vertices.Count;
        var xy = new double[2 * count];
        var box = Box.Empty;
        for (var i = 0; i < count; i++)
        {
            (xy[2 * i], xy[(2 * i) + 1]) = (chording.Vertices[i].X, chording.Vertices[i].Y);
            box = box.With(chording.Vertices[i]);
        }
        var order = Hilbert.Order(xy, count);
        var mesh = new Triangulation(box, count);
        var name = new int[count];
        var near = 0;
        foreach (var i in order)
        {
            near = mesh.Walk(xy[2 * i], xy[(2 * i) + 1], near, false, out _);
            mesh.Gather(xy[2 * i], xy[(2 * i) + 1], near);
            name[i] = mesh.Fill(xy[2 * i], xy[(2 * i) + 1]);
            near = mesh.Star[0];
        }
        mesh.Rename(name);
        var recovery = new WallRecovery(mesh);
        foreach (var chord in chording.Chords)
            mesh.AddWall(recovery.Recover(chord.A + Triangulation.BoxCorners, chord.B + Triangulation.BoxCorners));
        recovery.MakeDelaunay();
        return mesh;
    }

    /// <summary>For every component between walls, the outlines it lies in: walls are crossed from the outside in, each entering or leaving its owners.</summary>
    private void FindInsides()
    {
        Array.Fill(component, -1);
        var crossings = new Queue<(int Half, int From)>();
        var outer = Enumerable.Range(0, Mesh.TriangleCount).First(t => Mesh.V[4 * t] == 0 || Mesh.V[(4 * t) + 1] == 0 || Mesh.V[(4 * t) + 2] == 0);
        Flood(outer, [], crossings);
        while (crossings.Count > 0)
        {
            var (half, from) = crossings.Dequeue();
            var t = Mesh.Twin(half) >> 2;
            var owners = Arrangement.Pieces[Chording.Chords[Mesh.S[half]].Piece].Owners;
            var set = inside[from].Where(o => owners.Count(x => x == o) % 2 == 0)
                .Concat(owners.Distinct().Where(o => owners.Count(x => x == o) % 2 == 1 && !inside[from].Contains(o))).Order().ToArray();
            if (component[t] < 0)
                Flood(t, set, crossings);
            else if (!inside[component[t]].SequenceEqual(set))
                throw new InvalidOperationException("the outlines of the drawing do not close");
        }
    }

    private void Flood(int seed, int[] set, Queue<(int, int)> crossings)
    {
        var number = inside.Count;
        inside.Add(set);
        var waiting = new Stack<int>([seed]);
        component[seed] = number;
        while (waiting.Count > 0)
        {
            var t = waiting.Pop();
            for (var h = 4 * t; h < (4 * t) + 3; h++)
            {
                var twin = Mesh.Twin(h);
                if (twin < 0)
                    continue;
                if (Mesh.IsWall(h))
                {
                    crossings.Enqueue((h, number));
                }
                else if (component[twin >> 2] < 0)
                {
                    component[twin >> 2] = number;
                    waiting.Push(twin >> 2);
                }
            }
        }
    }

    private void RefuseOverlaps()
    {
        var count = drawing.Outlines.Count;
        var common = new HashSet<int>?[count];
        foreach (var set in inside)
        {
            foreach (var i in set)
            {
                if (common[i] is null)
                    common[i] = [.. set];
                else
                    common[i]!.IntersectWith(set);
            }
        }
        for (var c = 0; c < inside.Count; c++)
        {
            var set = inside[c];
            if (set.Length > 0 && set[0] != 0)
                throw Overlap(0, set[0], c, "meet outside the boundary: the second reaches out of it");
            for (var i = 0; i < set.Length; i++)
            {
                for (var j = i + 1; j < set.Length; j++)
                {
                    var (a, b) = (set[i], set[j]);
                    var (inA, inB) = (common[b]!.Contains(a), common[a]!.Contains(b));
                    if (!inA && !inB)
                        throw Overlap(a, b, c, "overlap in part");
                    if (inA && inB)
                        throw Overlap(a, b, c, "have the same outline");
                }
            }
        }
    }

    private OverlapException Overlap(int first, int second, int where, string finding)
    {
        var t = 4 * Array.IndexOf(component, where);
        var middle = (1.0 / 3) * (Mesh.At(Mesh.V[t]) + Mesh.At(Mesh.V[t + 1]) + Mesh.At(Mesh.V[t + 2]));
        return new(drawing.Outlines[first].Region, drawing.Outlines[second].Region, middle, finding);
    }

    private void Paint()
    {
        var areas = drawing.Outlines.Select(outline => outline.Area).ToArray();
        var colour = inside.Select(set => set.Length == 0 ? Triangulation.Outside
            : Array.IndexOf(Regions, drawing.Outlines[set.MinBy(outline => areas[outline])].Region)).ToArray();
        for (var t = 0; t < Mesh.TriangleCount; t++)
            Mesh.V[(4 * t) + 3] = colour[component[t]];
    }
}
