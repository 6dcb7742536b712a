using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>How a drawing looks at its things.</summary>
internal enum Seen
{
    /// <summary>A cut through a round or a long apparatus.</summary>
    Cut,

    /// <summary>A side view, along y.</summary>
    FromTheSide,

    /// <summary>A plan, along −z.</summary>
    FromAbove,

    /// <summary>A flat box, square on.</summary>
    SquareOn,
}

/// <summary>Draws things to scale: hatched parts, crossed windings, size lines stacked outside, numbered balloons. Sizes in mm.</summary>
internal sealed class Draughtsman
{
    private const double TextSize = 10.5, Level = 21, Column = 34, Edge = 10, Balloon = 10.5;
    private static readonly Palette Ink = Palette.Paper;
    private static readonly Pen Outline = new(Ink.Edge, 1.3), Thin = new(Ink.Edge.At(0.85), 0.6), Fine = new(Ink.Hatch.At(0.55), 0.55);
    private readonly Apparatus apparatus;
    private readonly IReadOnlyList<DrawnThing> things;
    private readonly double scale;
    private readonly Seen seen;
    private readonly TextWidth textWidth;
    private readonly List<Mark> marks = [];
    private readonly List<(double From, double To)>[] levels = [[], [], [], []];
    private double left, top, right, bottom;

    public Draughtsman(Apparatus apparatus, IReadOnlyList<DrawnThing> things, double scale, TextWidth textWidth, Seen seen)
    {
        (this.apparatus, this.things, this.scale, this.textWidth, this.seen) = (apparatus, things, scale, textWidth, seen);
        (left, right) = (scale * things.Min(t => t.Left), scale * things.Max(t => t.Right));
        (top, bottom) = (-scale * things.Max(t => t.Top), -scale * things.Min(t => t.Bottom));
    }

    /// <summary>The drawing, and where x = 0 lies in it.</summary>
    public (Scene Scene, double Origin) Scene(string words)
    {
        var (inLeft, inTop, inRight, inBottom) = (left, top, right, bottom);
        foreach (var thing in things)
            Draw(thing);
        bool onAxis = apparatus.Layout == Layout.Round || (seen == Seen.FromTheSide && apparatus.Windings.Any(w => w.Space is RoundSpace { X: 0, Y: 0 } r && r.Attitude == default));
        if (onAxis)
            marks.Add(new LineMark([new(0, inTop - 16), new(0, inBottom + 16)], new Pen(Ink.Edge.At(0.8), 0.7, [14, 3, 3, 3])));
        foreach (bool winding in (ReadOnlySpan<bool>)[false, true])
        {
            var sizes = things.Where(t => t.IsWinding == winding).ToList();
            foreach (var (from, to, isDiameter) in sizes.SelectMany(t => t.Across).DistinctBy(s => (Near(s.From), Near(s.To))).OrderBy(s => s.To - s.From))
                Across(from, to, isDiameter, winding);
            foreach (var (from, to) in sizes.SelectMany(t => t.Along).DistinctBy(s => (Near(s.From), Near(s.To))).OrderBy(s => s.To - s.From))
                Along(from, to, winding);
        }

        // How high a loose part stands over the datum z = 0 is a size too.
        if (apparatus.Layout == Layout.Round || seen == Seen.FromTheSide)
            foreach (double height in things.Where(t => !t.IsWinding && apparatus.Parts[t.Position].Shape is not (FoilLoopShape or IronPlaneShape or ProbeShape)).Where(t => seen == Seen.Cut || apparatus.Parts[t.Position].Attitude == default).Select(t => t.Bottom).Where(b => Math.Abs(b) > 1e-6).DistinctBy(Near))
                Along(Math.Min(0, height), Math.Max(0, height), false);

        if (apparatus.Layout == Layout.Free)
            // Where x, y and z are counted from.
            marks.Add(new StrokesMark([(new(-7, 0), new(7, 0)), (new(0, -7), new(0, 7))], Thin));
        Balloons(things.Where(t => !t.IsWinding), inLeft, -1);
        Balloons(things.Where(t => t.IsWinding), inRight, +1);
        double width = right - left + 2 * Edge, height2 = bottom - top + 2 * Edge;
        string about = string.Create(CultureInfo.InvariantCulture, $"{seen switch { Seen.FromTheSide => "Side view", Seen.FromAbove => "Plan", Seen.SquareOn => "Seen square on", _ => "Section" }} at {words}, sizes in mm{(seen == Seen.SquareOn ? ", inside; walls, floor and lid as thick as suits, discs as they lie at rest" : "")}.{(things.Any(t => t.IsBroken) ? " What is torn off runs on: its length stands in the table." : "")}{(things.Any(t => t.Labels is not null) ? " Letters are phases, with a minus where a positive current goes into the page." : "")}");
        return (new Scene(width, height2, apparatus.Name + ": drawing", about, Marks.Moved(marks, Edge - left, Edge - top)), Edge - left);
    }

    private void Draw(DrawnThing thing)
    {
        var loops = thing.Loops.Select(l => (IReadOnlyList<Point>)[.. l.Select(At)]).ToList();
        marks.Add(new AreaMark(loops, thing.IsWinding ? Ink.Warm.At(0.13) : Ink.Matter.At(0.5)));
        if (thing.Labels is { } labels)
        {
            // As large as the slots allow; too small to read is left to the table.
            double size = Math.Min(9.5, 0.9 * loops.Min(l => Math.Min(l.Max(p => p.Y) - l.Min(p => p.Y), 0.7 * (l.Max(p => p.X) - l.Min(p => p.X)))));
            if (size >= 4.5)
                marks.AddRange(labels.Select(l => new TextMark(l.Text, At(l.At) + new Point(0, 0.36 * size), size, Face.Regular, Ink.Text, Anchor.Middle, textWidth(l.Text, size, Face.Regular))));
        }

        else if (thing.IsWinding)
            foreach (var loop in loops.Where(l => l.Count == 4))
                marks.Add(new StrokesMark([(loop[0], loop[2]), (loop[1], loop[3])], Fine));
        else
            marks.Add(new StrokesMark(Polylines.Hatching(loops, -45, 5), Fine));
        marks.AddRange(loops.Select(l => new LineMark(l, Outline, true)));
    }

    // Balloons in a column beside the things, the leader to a point inside the nearer half of each.
    private void Balloons(IEnumerable<DrawnThing> of, double edge, int side)
    {
        double x = edge + side * Column, next = double.NegativeInfinity;
        var targets = of.Select(t => (Thing: t, To: At(Polylines.Inside(Nearest(t.Loops, side))))).OrderBy(t => t.To.Y).ToList();
        foreach (var (thing, to) in targets)
        {
            double y = Math.Max(to.Y, next);
            next = y + 2 * Balloon + 5;
            var centre = new Point(x, y);
            string number = (thing.Position + 1).ToString(CultureInfo.InvariantCulture);
            marks.Add(new LineMark([new(x - side * Balloon, y), to], Thin));
            marks.Add(new CircleMark(to, 1.8, Ink.Edge, null));
            marks.Add(new CircleMark(centre, Balloon, Ink.Sheet, new Pen(Ink.Edge, 1)));
            marks.Add(new TextMark(number, new Point(x, y + 3.9), 11, Face.Bold, Ink.Text, Anchor.Middle, textWidth(number, 11, Face.Bold)));
            Grow(x - Balloon, y - Balloon, x + Balloon, y + Balloon);
        }
    }

    // The outermost loop on a side and whatever lies inside it: its holes.
    private static List<IReadOnlyList<Point>> Nearest(IReadOnlyList<IReadOnlyList<Point>> loops, int side)
    {
        var outer = loops.MaxBy(l => l.Max(p => side * p.X))!;
        return [outer, .. loops.Where(l => l != outer && Polylines.Contains([outer], l[0]))];
    }

    // Sizes of parts stand above, those of windings below.
    private void Across(double from, double to, bool isDiameter, bool below)
    {
        string text = (isDiameter ? "Ø " : "") + ShapeWords.Mm(to - from);
        double a = scale * from, b = scale * to, width = textWidth(text, TextSize, Face.Regular), middle = 0.5 * (a + b);
        bool outside = b - a < width + 14;
        int level = Free(levels[below ? 1 : 0], outside ? a - 4 : a - 3, outside ? b + width + 14 : b + 3);
        double edge = below ? -scale * things.Min(t => t.Bottom) : -scale * things.Max(t => t.Top);
        double y = edge + (below ? 1 : -1) * (30 + Level * level);
        foreach (double x in (ReadOnlySpan<double>)[a, b])
            marks.Add(new LineMark([new(x, edge + (below ? 5 : -5)), new(x, y + (below ? 4 : -4))], Thin));
        Arrowed(new(a, y), new(b, y), outside);
        var at = outside ? new Point(b + 12, y + 3.6) : new Point(middle, y - 3.5);
        marks.Add(new TextMark(text, at, TextSize, Face.Regular, Ink.Text, outside ? Anchor.Start : Anchor.Middle, width, Ink.Sheet));
        Grow(Math.Min(a, middle - width / 2) - 4, y - 14, Math.Max(outside ? b + width + 16 : b, middle + width / 2) + 4, y + 6);
    }

    // Heights of parts stand at the left, those of windings at the right.
    private void Along(double from, double to, bool atRight)
    {
        string text = ShapeWords.Mm(to - from);
        double a = -scale * to, b = -scale * from, width = textWidth(text, TextSize, Face.Regular), middle = 0.5 * (a + b);
        bool outside = b - a < 16;
        int level = Free(levels[atRight ? 3 : 2], outside ? a - 20 : a - 3, outside ? b + 12 : b + 3);
        double edge = scale * (atRight ? things.Max(t => t.Right) : things.Min(t => t.Left));
        double x = edge + (atRight ? 1 : -1) * (Column + Balloon + 16 + 38 * level);
        foreach (double y in (ReadOnlySpan<double>)[a, b])
            marks.Add(new LineMark([new(edge + (atRight ? 5 : -5), y), new(x + (atRight ? 4 : -4), y)], Thin));
        Arrowed(new(x, a), new(x, b), outside);
        var at = new Point(x + (atRight ? 5 : -5), (outside ? a - 9 : middle) + 3.6);
        marks.Add(new TextMark(text, at, TextSize, Face.Regular, Ink.Text, atRight ? Anchor.Start : Anchor.End, width, Ink.Sheet));
        Grow(Math.Min(x, at.X - (atRight ? 0 : width)) - 3, a - 22, Math.Max(x, at.X + (atRight ? width : 0)) + 3, b + 12);
    }

    // Arrows inside the size when there is room, from without when there is not.
    private void Arrowed(Point from, Point to, bool outside)
    {
        double length = (to - from).Length;
        var along = length > 0 ? (1 / length) * (to - from) : new Point(1, 0);
        var across = new Point(-along.Y, along.X);
        double way = outside ? -1 : 1;
        marks.Add(new LineMark(outside ? [from - 10 * along, to + 10 * along] : [from, to], Thin));
        foreach (var (tip, inwards) in new[] { (from, way * along), (to, -way * along) })
            marks.Add(new AreaMark([[tip, tip + 6.5 * inwards + 1.8 * across, tip + 6.5 * inwards - 1.8 * across]], Ink.Edge));
    }

    private static int Free(List<(double From, double To)> taken, double from, double to)
    {
        // A line nests outside all shorter ones that it spans, so it goes one beyond the outermost it meets.
        int level = 0;
        for (int i = 0; i < taken.Count; i += 2)
            if (taken[i].From < to && taken[i].To > from)
                level = Math.Max(level, (int)taken[i + 1].From + 1);
        taken.Add((from, to));
        taken.Add((level, level));
        return level;
    }

    private void Grow(double l, double t, double r, double b) => (left, top, right, bottom) = (Math.Min(left, l), Math.Min(top, t), Math.Max(right, r), Math.Max(bottom, b));

    private Point At(Point metres) => new(scale * metres.X, -scale * metres.Y);

    private static long Near(double metres) => (long)Math.Round(metres * 1e6);
}
