using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Supplies;
using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>The picture of an apparatus in section: matter, currents, lines of flux, numbers beside the things they belong to.</summary>
public static class SectionPicture
{
    private const double Edge = 28, Gutter = 176, GutterGap = 16, Piece = 4;

    /// <summary>Solves the field of an apparatus and draws it.</summary>
    /// <param name="apparatus">The apparatus, read and checked; round or long.</param>
    /// <param name="options">What is wanted.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The apparatus is free, so that it has no common section, or has no such state.</exception>
    /// <exception cref="RouteFailedException">The field could not be found.</exception>
    public static Scene Of(Apparatus apparatus, PictureOptions options, TextWidth textWidth, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        if (options.State is { } state && !apparatus.States.Any(s => Apparatus.Same(s.Name, state)))
            throw new ArgumentException($"There is no state '{state}'.", nameof(options));
        var (shown, note) = BankShot.Drawn(Circumstances.Of(apparatus, options.State, []).Apparatus, cancellation);
        var (field, sections) = FieldRoute.Picture(shown, options.RelativeTarget, cancellation);
        return Of(shown, options, field, sections, textWidth, note);
    }

    /// <summary>Draws a field that has been found.</summary>
    internal static Scene Of(Apparatus apparatus, PictureOptions options, MagneticField field, Sections sections, TextWidth textWidth, string note = "")
    {
        var palette = options.OnPaper ? Palette.Paper : Palette.Hall;
        var stage = new Stage(sections, apparatus.Layout == Layout.Round, Edge + Gutter + GutterGap, Edge);
        double angle = options.PhaseDegrees * Math.PI / 180 ?? Instants.Strongest(field);
        var plane = FieldPlane.Of(field, angle, stage.View, Piece / stage.Scale);
        var bodies = Bodies.Of(apparatus, field, sections, stage);
        var lines = new FluxLayer(plane, stage, palette);
        var wash = new WashLayer(plane, stage, palette);
        var currents = new CurrentLayer(field, plane, sections, bodies, stage, palette, angle);
        var turning = field is HarmonicField harmonic && apparatus.Layout == Layout.Long && (options.Turning || apparatus.Parts.Any(TurningLayer.IsTester))
            ? new TurningLayer(apparatus, harmonic, bodies, stage, palette, angle) : null;

        var on = new List<Mark> { new LitMark(new Point(stage.Left, stage.Top), stage.Width, stage.Height, stage.Middle, 0.62 * Math.Max(stage.Width, stage.Height), palette.StageLit, palette.StageRim) };
        on.AddRange(wash.Marks);
        on.AddRange(Matter(bodies, palette));
        on.AddRange(currents.Glow);
        on.AddRange(lines.Marks);
        on.AddRange(bodies.SelectMany(b => b.Loops.Select(l => (Mark)new LineMark(l, new Pen(palette.Edge, b.IsWinding ? 0.9 : 1.1), true))));
        on.AddRange(turning?.Marks ?? []);
        on.AddRange(currents.Signs);
        on.AddRange(bodies.SelectMany(b => Poles(b, stage, palette, textWidth)));
        on.AddRange(ScaleBar(stage, palette, textWidth));

        double width = stage.Left + stage.Width + GutterGap + Gutter + Edge;
        var marks = new List<Mark>();
        var labels = new LabelColumns(stage, bodies, palette, textWidth, Edge, width - Edge, Gutter);
        var caption = new Caption(apparatus, options, note, angle, lines, wash, currents, turning, palette, textWidth, new Point(Edge, stage.Top + stage.Height + 34), width - 2 * Edge);
        double height = caption.Bottom + Edge;
        marks.Add(new AreaMark([[new(0, 0), new(width, 0), new(width, height), new(0, height)]], palette.Sheet));
        marks.Add(new ClippedMarks(new Point(stage.Left, stage.Top), stage.Width, stage.Height, on));
        marks.Add(new LineMark(
            [new(stage.Left, stage.Top), new(stage.Left + stage.Width, stage.Top), new(stage.Left + stage.Width, stage.Top + stage.Height), new(stage.Left, stage.Top + stage.Height)],
            new Pen(palette.StageEdge, 1), true));
        marks.AddRange(labels.Marks);
        marks.AddRange(caption.Marks);
        return new Scene(width, height, caption.Title, caption.Text, marks);
    }

    private static IEnumerable<Mark> Matter(IReadOnlyList<Body> bodies, Palette palette)
    {
        foreach (var body in bodies.Where(b => !b.IsWinding))
        {
            yield return new AreaMark(body.Loops, palette.Matter.At(palette.IsDark ? 0.85 : 0.9));
            yield return new StrokesMark(Polylines.Hatching(body.Loops, -45, body.IsMagnetic ? 9 : 5), new Pen(palette.Hatch.At(0.34), 0.7));
            // Steel and magnets are hatched in pairs of lines, as section drawings do.
            if (body.IsMagnetic)
                yield return new StrokesMark(Polylines.Hatching([.. body.Loops.Select(l => (IReadOnlyList<Point>)[.. l.Select(p => new Point(p.X + 3.2, p.Y))])], -45, 9)
                    .ConvertAll(s => (new Point(s.From.X - 3.2, s.From.Y), new Point(s.To.X - 3.2, s.To.Y))), new Pen(palette.Hatch.At(0.34), 0.7));
        }
    }

    // An arrow along the remanence with its north end named; one in each half where the halves differ.
    private static IEnumerable<Mark> Poles(Body body, Stage stage, Palette palette, TextWidth textWidth)
    {
        if (body.MagnetisedDegrees is not { } degrees)
            yield break;
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        foreach (var loop in body.Loops)
        {
            var box = Body.Box(loop);
            var middle = Polylines.Inside([loop]);
            bool acrossAxis = stage.IsRound && box.Left < stage.Middle.X - 1 && box.Right > stage.Middle.X + 1;
            double side = stage.IsRound && middle.X < stage.Middle.X - 1 ? -1 : 1;
            if (acrossAxis && Math.Abs(cos) > 0.01)
                middle = middle with { X = 0.5 * (middle.X + box.Right) };
            var along = new Point(side * cos, -sin);
            double reach = 0.36 * Math.Min(box.Right - box.Left, box.Bottom - box.Top);
            if (reach < 7)
                continue;
            Point tip = middle + reach * along, tail = middle - reach * along, across = new(-along.Y, along.X);
            var pen = new Pen(palette.Text, 2.2);
            yield return new LineMark([tail, tip - 5 * along], new Pen(palette.Matter, 5.5));
            yield return new LineMark([tail, tip - 5 * along], pen);
            yield return new AreaMark([[tip, tip - 9 * along + 4.4 * across, tip - 9 * along - 4.4 * across]], palette.Text);
            var name = tip - 7 * along + 12 * (Math.Abs(along.Y) > 0.5 ? new Point(1, 0) : new Point(0, -1));
            yield return new TextMark("N", new Point(name.X, name.Y + 4.5), 13, Face.Bold, palette.Text, Anchor.Middle, textWidth("N", 13, Face.Bold), palette.Matter);
        }
    }

    private static IEnumerable<Mark> ScaleBar(Stage stage, Palette palette, TextWidth textWidth)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(0.22 * stage.Width / stage.Scale)));
        double length = power * new[] { 1.0, 2, 5 }.Last(s => s * power <= 0.22 * stage.Width / stage.Scale);
        string text = length >= 1 ? Shown.Digits(length, 2) + " m" : Shown.Digits(1000 * length, 2) + " mm";
        double right = stage.Left + stage.Width - 18, left = right - length * stage.Scale, y = stage.Top + stage.Height - 18;
        var pen = new Pen(palette.Text.At(0.9), 1.2);
        Point[] bar = [new(left, y - 4), new(left, y), new(right, y), new(right, y - 4)];
        yield return new LineMark(bar, new Pen(palette.StageRim.At(0.8), 5));
        yield return new LineMark(bar, pen);
        yield return new TextMark(text, new Point(0.5 * (left + right), y - 7), 11.5, Face.Regular, palette.Text, Anchor.Middle, textWidth(text, 11.5, Face.Regular), palette.StageRim.At(0.8));
    }
}
