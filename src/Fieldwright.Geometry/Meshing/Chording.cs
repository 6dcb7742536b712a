namespace Fieldwright.Geometry;

/// <summary>A straight stand-in for a stretch of a piece, between two vertices on it.</summary>
/// <param name="A">First vertex.</param>
/// <param name="B">Second vertex.</param>
/// <param name="Piece">Index of the piece.</param>
/// <param name="From">Fraction of the piece's length at A.</param>
/// <param name="To">Fraction at B.</param>
internal readonly record struct Chord(int A, int B, int Piece, double From, double To);

/// <summary>Replaces pieces by chords fine enough that no two chords cross and nothing lies between an arc and its chord: the polygons then
/// divide the plane as the curves do.</summary>
internal sealed class Chording
{
    private readonly Arrangement arrangement;
    private readonly List<Point> vertices;
    private readonly List<Chord> chords = [];
    private readonly List<Box> boxes = [];

    private Chording(Arrangement arrangement)
    {
        this.arrangement = arrangement;
        vertices = [.. arrangement.Points];
    }

    /// <summary>Corners of the arrangement first, then the points put on arcs.</summary>
    public IReadOnlyList<Point> Vertices => vertices;

    public IReadOnlyList<Chord> Chords => chords;

    /// <summary>Cuts each piece into equal chords of at most a given angle (or as many as are prescribed for it), and further where need be.</summary>
    public static Chording Of(Arrangement arrangement, double largestSweep)
    {
        var chording = new Chording(arrangement);
        for (var i = 0; i < arrangement.Pieces.Count; i++)
        {
            var piece = arrangement.Pieces[i];
            chording.CutEvenly(i, piece.Prescribed > 0 ? piece.Prescribed : Math.Max(1, (int)Math.Ceiling((Math.Abs(piece.Sweep) / largestSweep) - 1e-9)));
        }
        chording.CutWhereInTheWay();
        return chording;
    }

    private void CutEvenly(int piece, int count)
    {
        var curve = arrangement.Pieces[piece];
        var a = curve.From;
        for (var k = 1; k <= count; k++)
        {
            var b = curve.To;
            if (k < count)
            {
                b = vertices.Count;
                vertices.Add(curve.Curve.PointAt((double)k / count));
            }
            Add(new(a, b, piece, (double)(k - 1) / count, (double)k / count));
            a = b;
        }
    }

    private void Add(Chord chord)
    {
        chords.Add(chord);
        boxes.Add(BoxOf(chord));
    }

    /// <summary>A box round chord and arc.</summary>
    private Box BoxOf(Chord chord)
    {
        var box = Box.Of(vertices[chord.A], vertices[chord.B]);
        return IsArc(chord) ? box.Grown(Rise(chord)) : box;
    }

    private bool IsArc(Chord chord) => arrangement.Pieces[chord.Piece].Curve is ArcEdge;

    /// <summary>Greatest distance between arc and chord.</summary>
    private double Rise(Chord chord)
    {
        if (arrangement.Pieces[chord.Piece].Curve is not ArcEdge arc)
            return 0;
        var quarter = 0.25 * Math.Abs(arc.Sweep) * (chord.To - chord.From);
        var sin = Math.Sin(quarter);
        return 2 * arc.Radius * sin * sin;
    }

    private void CutWhereInTheWay()
    {
        for (var round = 0; ; round++)
        {
            var cut = new bool[chords.Count];
            var any = false;
            var order = Enumerable.Range(0, chords.Count).ToArray();
            Array.Sort(boxes.Select(box => box.Left).ToArray(), order);
            for (var k = 0; k < order.Length; k++)
            {
                for (var l = k + 1; l < order.Length && boxes[order[l]].Left <= boxes[order[k]].Right; l++)
                {
                    var (i, j) = (Math.Min(order[k], order[l]), Math.Max(order[k], order[l]));
                    if ((IsArc(chords[i]) || IsArc(chords[j])) && boxes[i].Meets(boxes[j]))
                        any |= Judge(i, j, cut);
                }
            }
            if (!any)
                return;
            if (round == 60)
                throw new InvalidOperationException("two edges of the drawing run too close together to be told apart");
            for (var i = 0; i < cut.Length; i++)
            {
                if (cut[i])
                    Halve(i);
            }
        }
    }

    private bool Judge(int i, int j, bool[] cut)
    {
        var (e, f) = (chords[i], chords[j]);
        var inTheWay = (e.A == f.A && e.B == f.B) || (e.A == f.B && e.B == f.A);
        var (cutE, cutF) = (inTheWay, inTheWay);
        cutE |= Swallows(e, f.A) || Swallows(e, f.B);
        cutF |= Swallows(f, e.A) || Swallows(f, e.B);
        if (!cutE && !cutF && Cross(e, f))
            (cutE, cutF) = Rise(e) >= Rise(f) ? (true, false) : (false, true);
        cut[i] |= cutE &= IsArc(e);
        cut[j] |= cutF &= IsArc(f);
        return cutE || cutF;
    }

    /// <summary>Whether a vertex lies on or between an arc and its chord.</summary>
    private bool Swallows(Chord chord, int vertex)
    {
        if (vertex == chord.A || vertex == chord.B || arrangement.Pieces[chord.Piece].Curve is not ArcEdge arc)
            return false;
        var (a, b, p) = (vertices[chord.A], vertices[chord.B], vertices[vertex]);
        var side = Predicates.Orient(a.X, a.Y, b.X, b.Y, p.X, p.Y);
        return (arc.CounterClockwise ? side <= 0 : side >= 0) && p.DistanceTo(arc.Centre) <= arc.Radius;
    }

    private bool Cross(Chord e, Chord f)
    {
        if (e.A == f.A || e.A == f.B || e.B == f.A || e.B == f.B)
            return false;
        var (a, b, c, d) = (vertices[e.A], vertices[e.B], vertices[f.A], vertices[f.B]);
        return Side(a, b, c) * Side(a, b, d) <= 0 && Side(c, d, a) * Side(c, d, b) <= 0;

        static int Side(Point p, Point q, Point r) => Math.Sign(Predicates.Orient(p.X, p.Y, q.X, q.Y, r.X, r.Y));
    }

    private void Halve(int i)
    {
        var chord = chords[i];
        var piece = arrangement.Pieces[chord.Piece];
        if (piece.Prescribed > 0)
            throw new ArgumentException($"edge {piece.Marker} of the drawing lies too close to another for the {piece.Prescribed} segments prescribed for it");
        var middle = 0.5 * (chord.From + chord.To);
        vertices.Add(piece.Curve.PointAt(middle));
        var v = vertices.Count - 1;
        chords[i] = chord with { B = v, To = middle };
        boxes[i] = BoxOf(chords[i]);
        Add(chord with { A = v, From = middle });
    }
}
