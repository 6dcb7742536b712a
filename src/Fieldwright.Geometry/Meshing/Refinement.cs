namespace Fieldwright.Geometry;

/// <summary>Inserts vertices until every triangle is small enough and no angle is too sharp.</summary>
/// <remarks>
/// A wall whose diametral circle holds a vertex is split, and so is a wall in whose circle a vertex would come to lie; otherwise a triangle
/// that is too large or too sharp receives a vertex at the centre of its circle, or nearer to its shortest edge where that suffices. Walls
/// at a corner sharper than 75° are split at powers of two from it, so that the pieces beside one another match; a triangle whose shortest
/// edge spans two such matching places is left, since its angle is the corner's.
/// </remarks>
/// <source key="Ruppert1995" at="the algorithm and its treatment of small angles by concentric shells"/>
/// <source key="Ungor2004" at="off-centres"/>
/// <source key="MillerPavWalkington2003" at="triangles left across small angles"/>
internal sealed partial class Refinement
{
    private const int Corner = -2;
    private const int Free = -1;
    private const int SizeClasses = 16;
    private const int LooksAtMost = 20;
    private const double CosineOf30 = 0.8660254037844386;

    private readonly Triangulation mesh;
    private readonly Start start;
    private readonly MeshOptions options;
    private readonly double[] regionSize;
    private readonly double sineSquared;
    private readonly double offCentre;
    private readonly double shortest;
    private readonly WorkList work = new();
    private bool[] waiting;
    private double[] sizes;
    private int[] onPiece;

    public Refinement(Start start, MeshOptions options, double tolerance)
    {
        this.start = start;
        this.options = options;
        mesh = start.Mesh;
        regionSize = [.. start.Regions.Select(region => Math.Min(options.LargestSize, options.RegionSizes.GetValueOrDefault(region, double.PositiveInfinity)))];
        var angle = options.MinimumAngleDegrees * Math.PI / 180;
        sineSquared = Math.Sin(angle) * Math.Sin(angle);
        offCentre = 0.475 / Math.Tan(0.5 * Math.Max(angle, 0.1));
        shortest = 4 * tolerance;
        waiting = new bool[mesh.V.Length / 4];
        sizes = new double[mesh.VertexCount];
        onPiece = new int[mesh.VertexCount];
        AdoptWalls();
        for (var v = Triangulation.BoxCorners; v < mesh.VertexCount; v++)
            sizes[v] = SizeAt(mesh.Xy[2 * v], mesh.Xy[(2 * v) + 1]);
    }

    /// <summary>Refines until nothing is left to do.</summary>
    public void Run(CancellationToken cancellation)
    {
        for (var wall = 0; wall < walls.Count; wall++)
            Suspect(wall);
        var count = 0;
        for (var look = 0; look < LooksAtMost; look++)
        {
            // Vertices sample the size asked for; a look at every triangle's middle finds what lies between them.
            for (var t = 0; t < mesh.TriangleCount; t++)
                Assess(t, true);
            if (suspects.Count == 0 && work.IsEmpty)
                return;
            while (true)
            {
                SplitSuspects();
                if (!work.TryTake(out var t))
                    break;
                waiting[t] = false;
                if (Class(t, true) >= 0)
                    Improve(t);
                if ((++count & 1023) == 0)
                {
                    cancellation.ThrowIfCancellationRequested();
                    if (mesh.TriangleCount > 1.2 * options.MaximumTriangles)
                        throw new MeshLimitException(options.MaximumTriangles, mesh.At(mesh.V[4 * t]));
                }
            }
        }
    }

    private double SizeAt(double x, double y)
    {
        if (options.SizeAt is null)
            return double.PositiveInfinity;
        var size = options.SizeAt(x, y);
        if (!(size > 0))
            throw new ArgumentException(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"the size asked for at ({x:G6}, {y:G6}) is {size}; it must be positive"));
        return size;
    }

    private void Assess(int t, bool precise)
    {
        if (waiting[t] || mesh.IsLeft(t))
            return;
        var urgency = Class(t, precise);
        if (urgency < 0)
            return;
        waiting[t] = true;
        work.Add(urgency, t);
    }

    /// <summary>How urgently a triangle needs refining: by size from 16 up, by angle from 0 up, −1 not at all.</summary>
    /// <param name="t">The triangle.</param>
    /// <param name="precise">Whether to ask for the size at the middle; else the sizes known at the corners decide.</param>
    private int Class(int t, bool precise)
    {
        int[] v = mesh.V;
        var region = v[(4 * t) + 3];
        if (region < 0)
            return -1;
        int a = v[4 * t], b = v[(4 * t) + 1], c = v[(4 * t) + 2];
        var xy = mesh.Xy;
        double ax = xy[2 * a], ay = xy[(2 * a) + 1], bx = xy[2 * b], by = xy[(2 * b) + 1], cx = xy[2 * c], cy = xy[(2 * c) + 1];
        double ux = bx - ax, uy = by - ay, vx = cx - bx, vy = cy - by, wx = ax - cx, wy = ay - cy;
        double ab = (ux * ux) + (uy * uy), bc = (vx * vx) + (vy * vy), ca = (wx * wx) + (wy * wy);
        var longest = Math.Max(ab, Math.Max(bc, ca));
        var size = regionSize[region];
        if (options.SizeAt is not null)
        {
            var least = Math.Min(size, Math.Min(sizes[a], Math.Min(sizes[b], sizes[c])));
            // Where no corner asks for less than there is, the middle is asked only in the last look.
            size = precise ? Math.Min(size, SizeAt((ax + bx + cx) / 3, (ay + by + cy) / 3)) : least;
        }
        if (longest > size * size)
            return SizeClasses + Math.Min(SizeClasses - 1, Exponent(longest / (size * size)));
        var area = (ux * vy) - (uy * vx);
        var least2 = Math.Min(ab, Math.Min(bc, ca));
        var others = ab * bc * ca / least2;
        if (area * area >= sineSquared * others || least2 <= shortest * shortest)
            return -1;
        if (IsCornersOwn(t, ab, bc, ca))
            return -1;
        return Math.Min(SizeClasses - 1, Exponent(sineSquared * others / Math.Max(area * area, double.Epsilon)));
    }

    private static int Exponent(double ratio) => Math.Max(0, (int)(BitConverter.DoubleToInt64Bits(ratio) >> 52) - 1023);

    /// <summary>Whether the sharpest angle is a corner of the drawing, or spans two walls from a sharp corner at equal distances.</summary>
    private bool IsCornersOwn(int t, double ab, double bc, double ca)
    {
        // The sharpest angle lies opposite the shortest edge.
        var h = 4 * t;
        if (bc <= ab && bc <= ca)
            h++;
        else if (ca <= ab)
            h += 2;
        var (p, q) = (mesh.V[h], mesh.Target(h));
        var after = Triangulation.Next(h);
        var before = Triangulation.Previous(h);
        if (mesh.IsWall(after) && mesh.IsWall(before))
            return onPiece[mesh.V[before]] == Corner;
        var (first, second) = (onPiece[p], onPiece[q]);
        if (first < 0 || second < 0 || first == second)
            return false;
        var (e, f) = (start.Arrangement.Pieces[first], start.Arrangement.Pieces[second]);
        return Match(e.From, e.AcuteFrom) || Match(e.To, e.AcuteTo);

        bool Match(int corner, bool acute)
        {
            if (!acute || (corner != f.From && corner != f.To))
                return false;
            var apex = start.Arrangement.Points[corner];
            var (u, w) = (mesh.At(p) - apex, mesh.At(q) - apex);
            if (Math.Abs(u.Length - w.Length) > 1e-3 * u.Length)
                return false;
            // Between 60° and 30° the sharp triangle can as a rule be mended, but not for ever closer to the corner.
            var cosine = Point.Dot(u, w) / (u.Length * w.Length);
            return cosine > CosineOf30 || (cosine > 0.5 && u.Length < Math.Min(e.Curve.Length, f.Curve.Length) / 64);
        }
    }

    private void Improve(int t)
    {
        var (x, y) = Centre(t);
        var at = mesh.Walk(x, y, t, true, out var wall);
        if (wall >= 0)
        {
            if (mesh.Twin(wall) >= 0 && Force(mesh.S[wall]))
                Retry(t);
            else
                mesh.Leave(t);
            return;
        }
        mesh.Gather(x, y, at);
        if (mesh.RimTouches(x, y))
        {
            mesh.Leave(t);
            return;
        }
        var encroached = false;
        var split = false;
        for (var i = 0; i < mesh.RimCount; i++)
        {
            if (mesh.RimWall[i] >= 0 && Sees(i, x, y))
            {
                encroached = true;
                split |= Force(mesh.RimWall[i]);
            }
        }
        if (encroached)
        {
            if (split)
                Retry(t);
            else
                mesh.Leave(t);
            return;
        }
        var v = mesh.Fill(x, y);
        Register(v, Free);
        for (var i = 0; i < mesh.RimCount; i++)
            Assess(mesh.Star[i], false);
    }

    /// <summary>Whether a point lies in the diametral circle of an edge of the rim.</summary>
    private bool Sees(int rim, double x, double y)
    {
        var xy = mesh.Xy;
        int a = 2 * mesh.RimVertex[rim], b = 2 * mesh.RimVertex[rim + 1 == mesh.RimCount ? 0 : rim + 1];
        return ((xy[a] - x) * (xy[b] - x)) + ((xy[a + 1] - y) * (xy[b + 1] - y)) < 0;
    }

    private void Retry(int t)
    {
        waiting[t] = true;
        work.Add(Math.Max(0, Class(t, true)), t);
    }

    /// <summary>Where the new vertex for a triangle goes.</summary>
    private (double X, double Y) Centre(int t)
    {
        int[] v = mesh.V;
        int a = v[4 * t], b = v[(4 * t) + 1], c = v[(4 * t) + 2];
        var xy = mesh.Xy;
        double ax = xy[2 * a], ay = xy[(2 * a) + 1], bx = xy[2 * b], by = xy[(2 * b) + 1], cx = xy[2 * c], cy = xy[(2 * c) + 1];
        // Start from the shortest edge p–q with apex r.
        var ab = ((bx - ax) * (bx - ax)) + ((by - ay) * (by - ay));
        var bc = ((cx - bx) * (cx - bx)) + ((cy - by) * (cy - by));
        var ca = ((ax - cx) * (ax - cx)) + ((ay - cy) * (ay - cy));
        double px = ax, py = ay, qx = bx, qy = by, rx = cx, ry = cy, pq = ab;
        if (bc < ab && bc <= ca)
            (px, py, qx, qy, rx, ry, pq) = (bx, by, cx, cy, ax, ay, bc);
        else if (ca < ab)
            (px, py, qx, qy, rx, ry, pq) = (cx, cy, ax, ay, bx, by, ca);
        double ux = qx - px, uy = qy - py, wx = rx - px, wy = ry - py;
        var ww = (wx * wx) + (wy * wy);
        var twice = 2 * ((ux * wy) - (uy * wx));
        double dx = ((wy * pq) - (uy * ww)) / twice, dy = ((ux * ww) - (wx * pq)) / twice;
        // The off-centre sees p–q at the least angle; it lies on the same bisector, nearer.
        double ox = (0.5 * ux) - (offCentre * uy), oy = (0.5 * uy) + (offCentre * ux);
        var (fx, fy) = (dx - (0.5 * ux), dy - (0.5 * uy));
        if (offCentre * offCentre * pq < (fx * fx) + (fy * fy))
            (dx, dy) = (ox, oy);
        return (px + dx, py + dy);
    }

    private void Register(int v, int piece)
    {
        if (v >= sizes.Length)
        {
            Array.Resize(ref sizes, 2 * (v + 1));
            Array.Resize(ref onPiece, 2 * (v + 1));
        }
        if (4 * waiting.Length < mesh.V.Length)
            Array.Resize(ref waiting, mesh.V.Length / 4);
        sizes[v] = options.SizeAt is null ? double.PositiveInfinity : SizeAt(mesh.Xy[2 * v], mesh.Xy[(2 * v) + 1]);
        onPiece[v] = piece;
    }
}
