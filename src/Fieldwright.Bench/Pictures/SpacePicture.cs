using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Pictures;

/// <summary>A view into space: bodies as solids, current warm where it comes towards the reader and cool where it goes away, and lines of the field at one instant.</summary>
public static class SpacePicture
{
    private const double Edge = 36, Width = 900, Height = 560, TitleSize = 19, TextSize = 12.5, NameSize = 15, Leading = 17;

    // From the front, a little from the right and from above, without perspective.
    private const double Yaw = -0.62, Pitch = 0.42;

    /// <summary>Finds the field and draws it.</summary>
    /// <param name="apparatus">A free apparatus.</param>
    /// <param name="options">What is wanted; without a phase, the instant when the currents are strongest.</param>
    /// <param name="textWidth">Widths of text in the type it will be set in.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">No route knows the field around such bodies.</exception>
    public static Scene Of(Apparatus apparatus, PictureOptions options, TextWidth textWidth, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(textWidth);
        var palette = options.OnPaper ? Palette.Paper : Palette.Hall;
        var stage = SpaceStage.Quick(Circumstances.Of(apparatus, options.State, []).Apparatus, cancellation, options.PhaseDegrees * Math.PI / 180);
        double phase = stage.Lines[0].Phase;
        var view = new View(stage);
        var marks = new List<Mark> { new LitMark(new Point(Edge, Edge), Width - 2 * Edge, Height, new Point(0.5 * Width, Edge + 0.5 * Height), 0.66 * Width, palette.StageLit, palette.StageRim) };
        // From far to near: faces and pieces of lines together.
        var drawn = new List<(double Depth, Mark Mark)>();
        double strongest = stage.Lines[0].Lines.SelectMany(l => Enumerable.Range(0, l.Length / 4).Select(i => (double)l[4 * i + 3])).DefaultIfEmpty(1).Max();
        foreach (float[] line in stage.Lines[0].Lines)
            for (int i = 4; i < line.Length; i += 4)
            {
                Vector a = new(line[i - 4], line[i - 3], line[i - 2]), b = new(line[i], line[i + 1], line[i + 2]);
                drawn.Add((view.Depth(0.5 * (a + b)), new LineMark([view.At(a), view.At(b)], new Pen(palette.FluxLine.At(0.25 + 0.7 * Math.Sqrt(line[i + 3] / strongest)), 1.1))));
            }

        double most = stage.Solids.Select(s => double.Hypot(s.Current.Real, s.Current.Imaginary)).DefaultIfEmpty(0).Max();
        foreach (var solid in stage.Solids)
        {
            double current = most > 0 ? (solid.Current.Real * Math.Cos(phase) - solid.Current.Imaginary * Math.Sin(phase)) / most : 0;
            for (int f = 0; f < solid.Faces.Count; f++)
            {
                var (a, b, c, d) = solid.Faces[f];
                Vector[] corners = [solid.Points[a], solid.Points[b], solid.Points[c], solid.Points[d]];
                var normal = Vector.Cross(corners[2] - corners[0], corners[3] - corners[1]);
                double facing = normal.Length > 0 ? Vector.Dot(normal, view.Towards) / normal.Length : 0;
                if (facing <= 0)
                    continue;
                var ink = Palette.Mix(palette.StageRim, palette.Matter, 0.45 + 0.55 * facing);
                if (solid.Along.Count > 0)
                {
                    double towards = current * Vector.Dot(solid.Along[f], view.Towards);
                    ink = Palette.Mix(ink, towards > 0 ? palette.Warm : palette.Cool, 0.8 * Math.Abs(towards));
                }

                drawn.Add((view.Depth(0.25 * corners.Aggregate((s, p) => s + p)), new AreaMark([[.. corners.Select(view.At)]], ink)));
            }
        }

        marks.Add(new ClippedMarks(new Point(Edge, Edge), Width - 2 * Edge, Height, [marks[0], .. drawn.OrderBy(d => d.Depth).Select(d => d.Mark), .. Names(stage, view, palette, textWidth)]));
        marks.RemoveAt(0);
        string title = apparatus.Titled(options.State);
        string text = "Lines of the field through points spread evenly over coils and poles; where they crowd the field is strong. Warm: current towards you; cool: away."
            + (stage.Frequency > 0 ? FormattableString.Invariant($" At the instant {Math.Round(phase * 180 / Math.PI) + 0.0:0}° of the period.") : "");
        double y = Edge + Height + 34;
        marks.Add(new TextMark(title, new Point(Edge, y), TitleSize, Face.Bold, palette.Text, Anchor.Start, textWidth(title, TitleSize, Face.Bold)));
        foreach (string line in Setting.Wrapped(text, TextSize, Face.Regular, Width - 2 * Edge, textWidth))
        {
            y += Leading + 4;
            marks.Add(new TextMark(line, new Point(Edge, y), TextSize, Face.Regular, palette.QuietText, Anchor.Start, textWidth(line, TextSize, Face.Regular)));
        }

        return new Scene(Width, y + Edge, title, text, marks);
    }

    // Names beside the middle of their bodies, pushed apart where they would cover each other.
    private static IEnumerable<Mark> Names(SpaceStage stage, View view, Palette palette, TextWidth textWidth)
    {
        double below = double.NegativeInfinity;
        foreach (var (name, at) in stage.Solids.Select(s => (s.Name, At: view.At(s.Centre))).Concat(stage.Probes.Select(p => (p.Name, At: view.At(p.At)))).OrderBy(n => n.At.Y))
        {
            double y = Math.Max(at.Y, below + NameSize + 4), width = textWidth(name, NameSize, Face.Bold);
            below = y;
            var foot = new Point(Width - Edge - 24 - width, y - 0.3 * NameSize);
            yield return new LineMark([foot, at], new Pen(palette.Leader.At(0.6), 1));
            yield return new CircleMark(at, 2.4, palette.Text, null);
            yield return new TextMark(name, new Point(Width - Edge - 16, y), NameSize, Face.Bold, palette.Text, Anchor.End, width, palette.StageRim);
        }
    }

    private sealed class View
    {
        private readonly Vector right, up, centre;
        private readonly double scale;

        public View(SpaceStage stage)
        {
            var (sy, cy) = Math.SinCos(Yaw);
            var (sp, cp) = Math.SinCos(Pitch);
            right = new Vector(cy, sy, 0);
            Towards = new Vector(sy * cp, -cy * cp, sp);
            up = Vector.Cross(Towards, right);
            var bodies = stage.Solids.Where(s => !SpaceStage.IsPlane(s)).SelectMany(s => s.Points).ToList();
            centre = 1.0 / bodies.Count * bodies.Aggregate((a, b) => a + b);
            double across = bodies.Max(p => Math.Abs(Vector.Dot(p - centre, right))), high = bodies.Max(p => Math.Abs(Vector.Dot(p - centre, up)));
            scale = Math.Min(0.24 * (Width - 2 * Edge) / across, 0.28 * Height / high);
        }

        public Vector Towards { get; }

        public Point At(Vector p) => new(0.5 * Width + scale * Vector.Dot(p - centre, right), Edge + 0.5 * Height - scale * Vector.Dot(p - centre, up));

        public double Depth(Vector p) => Vector.Dot(p - centre, Towards);
    }
}
