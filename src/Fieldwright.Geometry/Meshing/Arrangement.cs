namespace Fieldwright.Geometry;

/// <summary>The edges of a drawing cut where they touch, with coincident points and stretches made one.</summary>
internal sealed class Arrangement
{
    private const double AcuteCosine = 0.2588; // 75°
    private const double CuspSine = 1e-3;

    private readonly double tolerance;
    private readonly List<Point> points = [];
    private readonly Dictionary<(long, long), List<int>> cells = [];
    private readonly IReadOnlyList<Edge> edges;
    private readonly Drawing drawing;
    private readonly List<(double At, int Point)>[] cuts;

    private Arrangement(Drawing drawing)
    {
        this.drawing = drawing;
        edges = drawing.Edges;
        tolerance = drawing.Tolerance;
        cuts = new List<(double, int)>[edges.Count];
    }

    /// <summary>Corners of the drawing.</summary>
    public IReadOnlyList<Point> Points => points;

    /// <summary>Stretches between corners.</summary>
    public List<Piece> Pieces { get; } = [];

    /// <exception cref="OverlapException">Two edges cross.</exception>
    public static Arrangement Of(Drawing drawing)
    {
        var arrangement = new Arrangement(drawing);
        arrangement.Cut();
        arrangement.Join();
        arrangement.MarkCorners();
        return arrangement;
    }

    private void Cut()
    {
        for (var i = 0; i < edges.Count; i++)
            cuts[i] = [(0, Snap(edges[i].From)), (1, Snap(edges[i].To))];
        var boxes = edges.Select(edge => edge.Bounds.Grown(tolerance)).ToArray();
        var order = Enumerable.Range(0, edges.Count).ToArray();
        Array.Sort(boxes.Select(box => box.Left).ToArray(), order);
        for (var k = 0; k < order.Length; k++)
        {
            for (var l = k + 1; l < order.Length && boxes[order[l]].Left <= boxes[order[k]].Right; l++)
            {
                var (i, j) = (Math.Min(order[k], order[l]), Math.Max(order[k], order[l]));
                if (boxes[i].Meets(boxes[j]))
                    Meet(i, j);
            }
        }
    }

    /// <summary>Cuts two edges where an end of one lies on the other, where they are tangent, and finds where they cross.</summary>
    private void Meet(int i, int j)
    {
        CutAtEnds(i, j);
        CutAtEnds(j, i);
        foreach (var meeting in Intersection.Of(edges[i], edges[j], tolerance))
        {
            var p = meeting.At;
            if (NearEnd(edges[i], p) || NearEnd(edges[j], p))
                continue;
            if (!meeting.Tangent)
            {
                var (first, second) = (drawing.OutlineOf(i), drawing.OutlineOf(j));
                throw new OverlapException(drawing.Outlines[first].Region, drawing.Outlines[second].Region, p,
                    first == 0 ? "cross: the part reaches outside the boundary" : "cross");
            }
            var point = Snap(p);
            CutAt(i, p, point);
            CutAt(j, p, point);
        }
    }

    private bool NearEnd(Edge edge, Point p) => p.DistanceTo(edge.From) <= 4 * tolerance || p.DistanceTo(edge.To) <= 4 * tolerance;

    private void CutAtEnds(int edge, int other)
    {
        foreach (var end in (ReadOnlySpan<Point>)[edges[other].From, edges[other].To])
        {
            if (edges[edge].DistanceTo(end, out _) <= tolerance)
                CutAt(edge, end, Snap(end));
        }
    }

    private void CutAt(int edge, Point p, int point)
    {
        if (cuts[edge].Exists(cut => cut.Point == point))
            return;
        edges[edge].DistanceTo(p, out var at);
        cuts[edge].Add((at, point));
    }

    /// <summary>The corner at a place, a new one if none is within the tolerance.</summary>
    private int Snap(Point p)
    {
        var size = 4 * tolerance;
        var (column, row) = ((long)Math.Floor(p.X / size), (long)Math.Floor(p.Y / size));
        for (var c = column - 1; c <= column + 1; c++)
        {
            for (var r = row - 1; r <= row + 1; r++)
            {
                if (cells.TryGetValue((c, r), out var near))
                {
                    foreach (var candidate in near)
                    {
                        if (points[candidate].DistanceTo(p) <= tolerance)
                            return candidate;
                    }
                }
            }
        }
        if (!cells.TryGetValue((column, row), out var here))
            cells[(column, row)] = here = [];
        here.Add(points.Count);
        points.Add(p);
        return points.Count - 1;
    }

    /// <summary>Makes pieces between the cuts, one where several edges run together.</summary>
    private void Join()
    {
        var between = new Dictionary<(int, int), List<Piece>>();
        var outline = 0;
        var last = drawing.Outlines[0].Edges.Count;
        for (var i = 0; i < edges.Count; i++)
        {
            while (i >= last)
                last += drawing.Outlines[++outline].Edges.Count;
            cuts[i].Sort((a, b) => a.At.CompareTo(b.At));
            for (var k = 0; k + 1 < cuts[i].Count; k++)
            {
                var (from, to) = (cuts[i][k], cuts[i][k + 1]);
                if (from.Point == to.Point)
                    continue;
                var curve = edges[i].Part(from.At, to.At, points[from.Point], points[to.Point]);
                var key = (Math.Min(from.Point, to.Point), Math.Max(from.Point, to.Point));
                if (!between.TryGetValue(key, out var known))
                    between[key] = known = [];
                var piece = known.Find(other => other.Curve.PointAt(0.5).DistanceTo(curve.PointAt(0.5)) <= 4 * tolerance);
                if (piece is null)
                {
                    piece = new() { From = from.Point, To = to.Point, Curve = curve, Marker = i };
                    known.Add(piece);
                    Pieces.Add(piece);
                }
                // Running over the same stretch twice enters and leaves: an outline may not touch itself, so this does not happen.
                piece.Owners.Add(outline);
            }
        }
    }

    private void MarkCorners()
    {
        var leaving = new List<(Piece Piece, bool AtFrom, Point Direction)>[points.Count];
        foreach (var piece in Pieces)
        {
            (leaving[piece.From] ??= []).Add((piece, true, piece.Curve.DirectionAt(0)));
            (leaving[piece.To] ??= []).Add((piece, false, -1 * piece.Curve.DirectionAt(1)));
        }
        foreach (var star in leaving)
        {
            if (star is null)
                continue;
            for (var i = 0; i < star.Count; i++)
            {
                for (var j = i + 1; j < star.Count; j++)
                {
                    if (Point.Dot(star[i].Direction, star[j].Direction) <= AcuteCosine)
                        continue;
                    var cusp = Math.Abs(Point.Cross(star[i].Direction, star[j].Direction)) < CuspSine;
                    Mark(star[i].Piece, star[i].AtFrom, cusp);
                    Mark(star[j].Piece, star[j].AtFrom, cusp);
                }
            }
        }

        static void Mark(Piece piece, bool atFrom, bool cusp)
        {
            if (atFrom)
                (piece.AcuteFrom, piece.CuspFrom) = (true, piece.CuspFrom || cusp);
            else
                (piece.AcuteTo, piece.CuspTo) = (true, piece.CuspTo || cusp);
        }
    }
}
