namespace Fieldwright.Geometry;

internal sealed partial class Refinement
{
    private readonly record struct Wall(int Piece, double From, double To);

    private readonly List<Wall> walls = [];
    private readonly Stack<int> suspects = new();
    private readonly List<bool> suspected = [];
    private readonly List<bool> forced = [];

    private void AdoptWalls()
    {
        for (var v = 0; v < mesh.VertexCount; v++)
            onPiece[v] = v - Triangulation.BoxCorners < start.Arrangement.Points.Count ? Corner : Free;
        foreach (var chord in start.Chording.Chords)
        {
            AddWall(new(chord.Piece, chord.From, chord.To));
            foreach (var end in (ReadOnlySpan<int>)[chord.A, chord.B])
            {
                if (onPiece[end + Triangulation.BoxCorners] != Corner)
                    onPiece[end + Triangulation.BoxCorners] = chord.Piece;
            }
        }
    }

    private void AddWall(Wall wall)
    {
        walls.Add(wall);
        suspected.Add(false);
        forced.Add(false);
    }

    private Piece PieceOf(int wall) => start.Arrangement.Pieces[walls[wall].Piece];

    private int FromOf(int wall) => mesh.WallFrom[wall];

    private int ToOf(int wall) => mesh.Target(mesh.WallHalf[wall]);

    private double LengthOf(int wall) => mesh.At(FromOf(wall)).DistanceTo(mesh.At(ToOf(wall)));

    private bool MaySplit(int wall) => PieceOf(wall).Prescribed == 0 && LengthOf(wall) > 2 * shortest;

    /// <summary>Puts a wall on the list of those to look at.</summary>
    private void Suspect(int wall)
    {
        if (suspected[wall])
            return;
        suspected[wall] = true;
        suspects.Push(wall);
    }

    /// <summary>Orders a wall to be split.</summary>
    /// <returns>Whether it may be.</returns>
    private bool Force(int wall)
    {
        if (!MaySplit(wall))
            return false;
        forced[wall] = true;
        Suspect(wall);
        return true;
    }

    private void SplitSuspects()
    {
        while (suspects.TryPop(out var wall))
        {
            suspected[wall] = false;
            if (forced[wall] || (MaySplit(wall) && (IsTooLong(wall) || IsEncroached(wall))))
            {
                forced[wall] = false;
                Split(wall, 0);
            }
        }
    }

    private bool IsTooLong(int wall)
    {
        var h = mesh.WallHalf[wall];
        var (left, right) = (mesh.V[h | 3], mesh.V[mesh.Twin(h) | 3]);
        var size = Math.Min(left >= 0 ? regionSize[left] : double.PositiveInfinity, right >= 0 ? regionSize[right] : double.PositiveInfinity);
        var (a, b) = (FromOf(wall), ToOf(wall));
        if (options.SizeAt is not null)
        {
            var middle = 0.5 * (mesh.At(a) + mesh.At(b));
            size = Math.Min(size, SizeAt(middle.X, middle.Y));
        }
        return LengthOf(wall) > size;
    }

    private bool IsEncroached(int wall)
    {
        var h = mesh.WallHalf[wall];
        return SeenFromApex(h) || SeenFromApex(mesh.Twin(h));
    }

    private bool SeenFromApex(int h)
    {
        if (mesh.V[h | 3] < 0)
            return false;
        var apex = mesh.At(mesh.V[Triangulation.Previous(h)]);
        return Point.Dot(mesh.At(mesh.V[h]) - apex, mesh.At(mesh.Target(h)) - apex) < 0;
    }

    /// <summary>Puts a vertex on the curve of a wall and makes two walls of it.</summary>
    private void Split(int wall, int depth)
    {
        if (depth > 100)
            throw new InvalidOperationException("two edges of the drawing run too close together to be told apart");
        for (var tries = 0; tries < 100; tries++)
        {
            var blocking = TrySplit(wall);
            if (blocking < 0)
                return;
            // The curve reaches across another wall's chord: that one is too coarse.
            if (!MaySplit(blocking))
                throw new InvalidOperationException("two edges of the drawing run too close together to be told apart");
            Split(blocking, depth + 1);
        }
    }

    /// <returns>The wall in the way, or −1 when done.</returns>
    private int TrySplit(int wall)
    {
        var (piece, from, to) = walls[wall];
        var at = SplitFraction(wall);
        var p = start.Arrangement.Pieces[piece].Curve.PointAt(at);
        var h = mesh.WallHalf[wall];
        var g = mesh.Twin(h);
        var (a, b) = (FromOf(wall), ToOf(wall));
        var (left, right) = (mesh.V[h | 3], mesh.V[g | 3]);
        mesh.ClearWall(h);
        var seed = mesh.Walk(p.X, p.Y, h >> 2, true, out var stopped);
        if (stopped >= 0)
        {
            mesh.SetWall(h, wall);
            return mesh.S[stopped];
        }
        mesh.Gather(p.X, p.Y, seed);
        var v = mesh.Fill(p.X, p.Y);
        Register(v, piece);
        PaintStar(a, b, left, right);
        var n = mesh.RimCount;
        var (ia, ib) = (IndexOf(a), IndexOf(b));
        var half = mesh.Twin(4 * mesh.Star[ia]);
        mesh.SetWall(half, wall);
        mesh.WallHalf[wall] = half;
        walls[wall] = new(piece, from, at);
        mesh.AddWall(4 * mesh.Star[ib]);
        AddWall(new(piece, at, to));
        Suspect(wall);
        Suspect(walls.Count - 1);
        for (var i = 0; i < n; i++)
        {
            if (mesh.RimWall[i] >= 0 && Sees(i, p.X, p.Y) && mesh.V[(4 * mesh.Star[i]) + 3] >= 0)
                Suspect(mesh.RimWall[i]);
        }
        for (var i = 0; i < n; i++)
            Assess(mesh.Star[i], false);
        return -1;
    }

    /// <summary>Gives the triangles round the new vertex the region of their side of a–new–b.</summary>
    private void PaintStar(int a, int b, int left, int right)
    {
        var n = mesh.RimCount;
        var (ia, ib) = (IndexOf(a), IndexOf(b));
        if (ia < 0 || ib < 0)
            throw new InvalidOperationException("two edges of the drawing run too close together to be told apart");
        for (var i = ib; i != ia; i = i + 1 == n ? 0 : i + 1)
            mesh.V[(4 * mesh.Star[i]) + 3] = left;
        for (var i = ia; i != ib; i = i + 1 == n ? 0 : i + 1)
            mesh.V[(4 * mesh.Star[i]) + 3] = right;
    }

    private int IndexOf(int vertex) => Array.IndexOf(mesh.RimVertex, vertex, 0, mesh.RimCount);

    /// <summary>Where a wall is split: halfway, or at a power of two from its only end at a sharp corner.</summary>
    private double SplitFraction(int wall)
    {
        var (_, from, to) = walls[wall];
        var piece = PieceOf(wall);
        var atFrom = from == 0 && piece.AcuteFrom;
        var atTo = to == 1 && piece.AcuteTo;
        if (atFrom == atTo)
            return 0.5 * (from + to);
        var length = LengthOf(wall);
        var shell = Math.ScaleB(1, Math.ILogB(length * 2 / 3));
        double fraction;
        if (piece.Curve is ArcEdge arc)
            fraction = 2 * Math.Asin(0.5 * shell / arc.Radius) / Math.Abs(arc.Sweep);
        else
            fraction = shell / piece.Curve.Length;
        return atFrom ? fraction : 1 - fraction;
    }
}
