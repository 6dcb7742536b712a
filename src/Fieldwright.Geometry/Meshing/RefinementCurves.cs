namespace Fieldwright.Geometry;

/// <summary>What refinement knows about curves: midsides of walls, and whether the triangles bent by them are sound.</summary>
internal sealed partial class Refinement
{
    private readonly HashSet<int> straight = [];

    /// <summary>Marker of the drawing's edge a wall lies on.</summary>
    public int MarkerOf(int wall) => PieceOf(wall).Marker;

    /// <summary>Walls by marker and by place along the edge.</summary>
    public IEnumerable<int> WallsInOrder() =>
        Enumerable.Range(0, walls.Count).OrderBy(MarkerOf).ThenBy(wall => walls[wall].Piece).ThenBy(wall => walls[wall].From);

    /// <summary>The midside node of an edge: on the arc, or halfway.</summary>
    public Point MiddleOf(int h)
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
