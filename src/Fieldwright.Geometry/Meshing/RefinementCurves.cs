namespace Fieldwright.Geometry;

/// <summary>What refinement knows about curves: midsides of walls, and whether the triangles bent by them are sound.</summary>
internal sealed partial class Refinement
{
    private readonly HashSet<int> straight = [];

    /// <summary>The triangles inside the drawing.</summary>
    public TriangleSoup Soup()
    {
        var name = new int[mesh.TriangleCount];
        var count = 0;
        for (var t = 0; t < name.Length; t++)
            name[t] = mesh.V[(4 * t) + 3] >= 0 ? count++ : -1;
        var corners = new int[3 * count];
        var twins = new int[3 * count];
        var regions = new int[count];
        for (var t = 0; t < name.Length; t++)
        {
            if (name[t] < 0)
                continue;
            var i = name[t];
            regions[i] = start.Regions[mesh.V[(4 * t) + 3]];
            for (var e = 0; e < 3; e++)
            {
                corners[(3 * i) + e] = mesh.V[(4 * t) + e];
                twins[(3 * i) + e] = SideOf(mesh.Twin((4 * t) + e));
            }
        }
        return new() { Xy = mesh.Xy, VertexCount = mesh.VertexCount, Corners = corners, Regions = regions, Twins = twins, Walls = WallSides() };

        int SideOf(int h) => name[h >> 2] < 0 ? -1 : (3 * name[h >> 2]) + (h & 3);

        List<WallSide> WallSides()
        {
            var sides = new List<WallSide>();
            foreach (var wall in Enumerable.Range(0, walls.Count).OrderBy(wall => PieceOf(wall).Marker).ThenBy(wall => walls[wall].Piece).ThenBy(wall => walls[wall].From))
            {
                var h = mesh.WallHalf[wall];
                var side = SideOf(h);
                if (side < 0)
                    side = SideOf(mesh.Twin(h));
                if (side >= 0)
                    sides.Add(new(side, PieceOf(wall).Marker, MiddleOf(h)));
            }
            return sides;
        }
    }

    /// <summary>The midside node of an edge: on the arc, or halfway.</summary>
    private Point MiddleOf(int h)
    {
        if (mesh.IsWall(h))
        {
            var wall = mesh.S[h];
            if (PieceOf(wall).Curve is ArcEdge && !IsStraight(wall))
                return PieceOf(wall).Curve.PointAt(0.5 * (walls[wall].From + walls[wall].To));
        }
        var (a, b) = (mesh.At(mesh.V[h]), mesh.At(mesh.Target(h)));
        return new(0.5 * (a.X + b.X), 0.5 * (a.Y + b.Y));
    }

    /// <summary>In a cusp between touching curves no curved triangle fits: there the chord stands for the arc.</summary>
    private bool IsStraight(int wall)
    {
        var piece = PieceOf(wall);
        return (walls[wall].From == 0 && piece.CuspFrom) || (walls[wall].To == 1 && piece.CuspTo) || straight.Contains(wall);
    }

    /// <summary>Orders the arcs of every folded triangle to be split; those that may not be are straightened.</summary>
    /// <returns>Whether any was found.</returns>
    public bool SuspectFolds()
    {
        var any = false;
        for (var wall = 0; wall < walls.Count; wall++)
        {
            if (PieceOf(wall).Curve is not ArcEdge || IsStraight(wall))
                continue;
            var h = mesh.WallHalf[wall];
            if (!IsFolded(h >> 2) && !IsFolded(mesh.Twin(h) >> 2))
                continue;
            any = true;
            if (!Force(wall))
                straight.Add(wall);
        }
        return any;
    }

    /// <summary>Whether the quadratic map of a triangle might fold: its Jacobian's Bézier coefficients, which bound it from below, are not all above
    /// a twentieth of that of the straight triangle.</summary>
    private bool IsFolded(int t)
    {
        if (mesh.V[(4 * t) + 3] < 0)
            return false;
        Span<Point> p = stackalloc Point[6];
        for (var e = 0; e < 3; e++)
        {
            p[e] = mesh.At(mesh.V[(4 * t) + e]);
            p[3 + e] = MiddleOf((4 * t) + e);
        }
        return CurvedTriangle.LeastJacobian(p) < 0.05 * Point.Cross(p[1] - p[0], p[2] - p[0]);
    }
}
