using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Names and numbers in two columns beside the stage, each tied to its body by a thin line; none overlaps another.</summary>
internal sealed class LabelColumns
{
    private static readonly double[] Offsets = [0, -20, -40, -70, -100, 20, 40, 70, 100];
    private const double NameSize = 13, DetailSize = 12, Leading = 16, Between = 14;
    private readonly List<Mark> marks = [];
    private readonly Stage stage;
    private readonly Palette palette;
    private readonly TextWidth textWidth;
    private readonly double columnWidth;
    private readonly IReadOnlyList<Body> everything;

    /// <summary>Lays the labels out.</summary>
    /// <param name="stage">The stage between the columns.</param>
    /// <param name="bodies">What is labelled.</param>
    /// <param name="palette">Colours.</param>
    /// <param name="textWidth">Widths of text.</param>
    /// <param name="left">Outer edge of the left column, px.</param>
    /// <param name="right">Outer edge of the right column, px.</param>
    /// <param name="columnWidth">Width of each column, px.</param>
    public LabelColumns(Stage stage, IReadOnlyList<Body> bodies, Palette palette, TextWidth textWidth, double left, double right, double columnWidth)
    {
        (this.stage, this.palette, this.textWidth, this.columnWidth) = (stage, palette, textWidth, columnWidth);
        everything = bodies;
        var sides = bodies.Where(b => b.Loops.Count > 0).Select(b => (Body: b, Left: IsLeft(b, bodies))).ToList();
        Column([.. sides.Where(s => s.Left).Select(s => s.Body)], true, left + columnWidth);
        Column([.. sides.Where(s => !s.Left).Select(s => s.Body)], false, right - columnWidth);
    }

    /// <summary>The marks.</summary>
    public IReadOnlyList<Mark> Marks => marks;

    // Round sections show everything twice: parts are named on the left, windings on the right. Otherwise each stands on its own side.
    private bool IsLeft(Body body, IReadOnlyList<Body> bodies)
    {
        if (stage.IsRound)
            return !body.IsWinding;
        var box = body.Whole;
        double off = 0.5 * (box.Left + box.Right) - stage.Middle.X;
        if (Math.Abs(off) > 4)
            return off < 0;
        int place = bodies.Where(b => Math.Abs(0.5 * (b.Whole.Left + b.Whole.Right) - stage.Middle.X) <= 4).TakeWhile(b => !ReferenceEquals(b, body)).Count();
        return place % 2 == 0;
    }

    private void Column(List<Body> bodies, bool left, double edge)
    {
        double elbow = left ? stage.Left - 4 : stage.Left + stage.Width + 4;
        var labels = bodies.Select(b => (Place: Place(b, left, elbow), Lines: Lines(b))).OrderBy(l => l.Place.At).ToList();
        if (labels.Count == 0)
            return;
        double[] heights = [.. labels.Select(l => l.Lines.Count * Leading)];
        double[] tops = Spread([.. labels.Select(l => l.Place.At - 0.5 * Leading)], heights, stage.Top, stage.Top + stage.Height);
        for (int i = 0; i < labels.Count; i++)
        {
            var ((foot, _), lines) = labels[i];
            double middle = tops[i] + 0.5 * Leading, inner = left ? edge + 5 : edge - 5;
            marks.Add(new LineMark([new(inner, middle), new(elbow, middle), foot], new Pen(palette.Leader.At(0.9), 0.8)));
            marks.Add(new CircleMark(foot, 2.3, palette.Text, new Pen(palette.Sheet, 0.8)));
            for (int k = 0; k < lines.Count; k++)
            {
                var face = k == 0 ? Face.Bold : Face.Regular;
                double size = k == 0 ? NameSize : DetailSize;
                marks.Add(new TextMark(
                    lines[k], new Point(edge, tops[i] + k * Leading + 12.5), size, face, k == 0 ? palette.Text : palette.QuietText,
                    left ? Anchor.End : Anchor.Start, textWidth(lines[k], size, face)));
            }
        }
    }

    // The foot and the height of the label for which the thin line crosses least of other bodies; level at the side if all are equal.
    private (Point Foot, double At) Place(Body body, bool left, double elbow)
    {
        var choices = body.Feet(left).SelectMany((foot, i) => Offsets.Select(offset => (Foot: foot, At: foot.Y + offset, Cost: 0.01 * Math.Abs(offset) + i)));
        var best = choices.Where(c => c.At > stage.Top + Leading && c.At < stage.Top + stage.Height - Leading)
            .MinBy(c => c.Cost + 4 * Crossed(body, c.Foot, new Point(elbow, c.At)));
        return (best.Foot, best.At);
    }

    private int Crossed(Body own, Point foot, Point end) => everything.Where(b => !ReferenceEquals(b, own)).Sum(b =>
        Enumerable.Range(0, 60).Count(k => Polylines.Contains(b.Loops, foot + k / 60.0 * (end - foot))));

    private List<string> Lines(Body body)
    {
        var lines = new List<string> { body.Name };
        foreach (string detail in body.Details)
            lines.AddRange(Setting.Wrapped(detail, DetailSize, Face.Regular, columnWidth, textWidth));
        return lines;
    }

    // Each label as near its body as its neighbours allow: runs of touching labels are moved as one to where their mean is right.
    private static double[] Spread(double[] wished, double[] heights, double top, double bottom)
    {
        var runs = new List<(int First, int Count, double Top)>();
        for (int i = 0; i < wished.Length; i++)
        {
            runs.Add((i, 1, wished[i]));
            while (true)
            {
                var run = runs[^1];
                double height = Height(run.First, run.Count);
                run.Top = Math.Max(top, Math.Min(run.Top, bottom - height));
                runs[^1] = run;
                if (runs.Count < 2 || runs[^2].Top + Height(runs[^2].First, runs[^2].Count) + Between <= run.Top)
                    break;
                var before = runs[^2];
                int count = before.Count + run.Count;
                double mean = Enumerable.Range(before.First, count).Average(k => wished[k] - (Height(before.First, k - before.First + 1) - heights[k]));
                runs.RemoveAt(runs.Count - 1);
                runs[^1] = (before.First, count, mean);
            }
        }

        double[] tops = new double[wished.Length];
        foreach (var (first, count, start) in runs)
            for (int k = first; k < first + count; k++)
                tops[k] = start + Height(first, k - first + 1) - heights[k];
        return tops;

        double Height(int first, int count) => heights.AsSpan(first, count).ToArray().Sum() + Between * (count - 1);
    }
}
