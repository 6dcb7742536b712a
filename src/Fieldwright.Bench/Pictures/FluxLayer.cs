using Fieldwright.Bench.Claims;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Lines of flux on the sheet, the same flux between any two neighbours, with small arrows along them.</summary>
internal sealed class FluxLayer
{
    private const double LineTarget = 15, Tolerance = 0.06, ShortestWithArrow = 70, ArrowsApart = 46;
    private readonly List<Mark> marks = [];

    /// <summary>Traces the lines.</summary>
    public FluxLayer(FieldPlane plane, Stage stage, Palette palette)
    {
        var inView = Enumerable.Range(0, plane.Points.Count).Where(i => stage.Shows(stage.On(plane.Points[i]))).Select(i => plane.Flux[i]).ToList();
        double span = inView.Count == 0 ? 0 : Math.Max(inView.Max(), 0) - Math.Min(inView.Min(), 0);
        if (!(span > 0) || !double.IsFinite(span))
            return;
        Step = FluxLines.RoundStep(span / (stage.IsRound ? LineTarget : 1.6 * LineTarget));
        var pen = new Pen(palette.FluxLine.At(palette.IsDark ? 0.82 : 0.85), 0.95);
        var arrows = new List<(Point Tip, Point Along)>();
        // The axis of a round section is itself a line of flux: the one of no flux.
        if (stage.IsRound)
            marks.Add(new LineMark([new(stage.Middle.X, stage.Top), new(stage.Middle.X, stage.Top + stage.Height)], new Pen(palette.FluxLine.At(0.4), 0.8, [9, 3, 1.5, 3])));
        foreach (var line in FluxLines.Of(plane, Step, stage.IsRound ? 0 : 0.5, skipsZero: stage.IsRound))
        {
            var points = Polylines.Thinned([.. line.Points.Select(stage.On)], Tolerance);
            Add(points, line.IsClosed, pen, stage);
            if (Arrow(points, plane, stage, arrows) is { } arrow)
                arrows.Add(arrow);
        }

        foreach (var (tip, along) in arrows)
        {
            AddArrow(tip, along, palette);
            if (stage.IsRound)
                AddArrow(stage.Mirror(tip), along with { X = -along.X }, palette);
        }
    }

    /// <summary>Flux between neighbours, Wb; 0 when nothing flows.</summary>
    public double Step { get; }

    /// <summary>Flux between neighbours in words.</summary>
    public string StepText => Step < 1e-3 ? (Step < 1e-6 ? Shown.In("nWb").Gap(Step) : Shown.In("µWb").Gap(Step)) : Shown.In("mWb").Gap(Step);

    /// <summary>The marks.</summary>
    public IReadOnlyList<Mark> Marks => marks;

    private void Add(List<Point> points, bool closed, Pen pen, Stage stage)
    {
        marks.Add(new LineMark(points, pen, closed));
        if (stage.IsRound)
            marks.Add(new LineMark([.. points.Select(stage.Mirror)], pen, closed));
    }

    // Where the line runs furthest from the arrows that are there already, well on the stage.
    private static (Point, Point)? Arrow(List<Point> points, FieldPlane plane, Stage stage, List<(Point Tip, Point Along)> others)
    {
        double length = 0, best = ArrowsApart;
        (Point, Point)? chosen = null;
        for (int i = 1; i < points.Count; i++)
            length += points[i].DistanceTo(points[i - 1]);
        if (length < ShortestWithArrow)
            return null;
        for (int i = 1; i < points.Count - 1; i++)
        {
            if (!stage.Shows(points[i], 22) || InCorner(points[i], stage) || points[i].DistanceTo(points[i - 1]) + points[i].DistanceTo(points[i + 1]) > 60)
                continue;
            double clear = others.Count == 0 ? double.MaxValue : others.Min(o => o.Tip.DistanceTo(points[i]));
            if (clear > best)
            {
                best = clear;
                var along = points[i + 1] - points[i - 1];
                chosen = (points[i], 1 / along.Length * along);
            }

            if (others.Count == 0 && chosen is not null)
                break;
        }

        if (chosen is not var (tip, direction))
            return null;
        var b = plane.DensityNear(stage.Off(tip));
        // y runs downwards on the sheet.
        return (tip, b.X * direction.X - b.Y * direction.Y >= 0 ? direction : -1 * direction);
    }

    // Where the scale stands.
    private static bool InCorner(Point spot, Stage stage) => spot.X > stage.Left + 0.7 * stage.Width && spot.Y > stage.Top + stage.Height - 48;

    private void AddArrow(Point tip, Point along, Palette palette)
    {
        var across = new Point(-along.Y, along.X);
        Point At(double back, double side) => tip - back * along + side * across;
        marks.Add(new AreaMark([[At(-3.6, 0), At(3.2, 2.7), At(1.9, 0), At(3.2, -2.7)]], palette.FluxLine));
    }
}
