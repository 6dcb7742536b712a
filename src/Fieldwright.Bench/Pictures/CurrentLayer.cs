using Fieldwright.Bench.Routes;
using Fieldwright.Fields;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>Currents: a warm glow with · towards the reader, a cool one with × away, as strong as the current is dense.</summary>
/// <remarks>Seen from the front of a round section, a current along φ goes away from the reader on the right and comes back on the left.</remarks>
internal sealed class CurrentLayer
{
    private const double Cell = 0.5, SignsApart = 24, LargestSign = 5.2, SmallestSign = 1.1, Faintest = 0.04;
    private readonly List<Mark> glow = [], signs = [];
    private readonly Stage stage;
    private readonly Palette palette;
    private readonly double reference;

    /// <summary>Finds the currents of the instant.</summary>
    public CurrentLayer(MagneticField field, FieldPlane plane, Sections sections, IReadOnlyList<Body> bodies, Stage stage, Palette palette, double angle)
    {
        (this.stage, this.palette) = (stage, palette);
        var later = field is HarmonicField ? FieldPlane.Of(field, angle + 0.5 * Math.PI, stage.View, double.MaxValue) : null;
        double now = plane.Current.Select(Math.Abs).DefaultIfEmpty(0).Max();
        reference = Math.Max(now, later?.Current.Select(Math.Abs).DefaultIfEmpty(0).Max() ?? 0);
        if (!(reference > 0))
            return;
        foreach (var body in bodies)
        {
            if (body.IsWinding)
                Winding(body, plane);
            else
                Solid(body, plane);
        }

        IsAny = signs.Count > 0;
    }

    /// <summary>Whether any current is strong enough at this instant to be shown.</summary>
    public bool IsAny { get; }

    /// <summary>Glow, under the lines of flux.</summary>
    public IReadOnlyList<Mark> Glow => glow;

    /// <summary>· and ×, over them.</summary>
    public IReadOnlyList<Mark> Signs => signs;

    /// <summary>The sign of a current, as it also stands in the key.</summary>
    public static IEnumerable<Mark> Sign(Point at, double radius, bool towards, Palette palette)
    {
        yield return new CircleMark(at, radius, towards ? palette.Warm : palette.Cool, new Pen(palette.MarkInk.At(0.85), Math.Min(0.7, 0.2 * radius)));
        if (towards)
            yield return new CircleMark(at, 0.3 * radius, palette.MarkInk, null);
        else
        {
            double d = 0.5 * radius;
            yield return new StrokesMark([(new(at.X - d, at.Y - d), new(at.X + d, at.Y + d)), (new(at.X - d, at.Y + d), new(at.X + d, at.Y - d))], new Pen(palette.MarkInk, 0.24 * radius));
        }
    }

    private void Winding(Body body, FieldPlane plane)
    {
        foreach (var loop in body.Loops)
        {
            IReadOnlyList<IReadOnlyList<Point>> loops = [loop];
            var inside = Polylines.Inside(loops);
            double share = Towards(inside, plane.CurrentNear(stage.Off(inside))) / reference;
            glow.Add(new AreaMark(loops, palette.Matter.At(0.9)));
            if (Math.Abs(share) < Faintest)
                continue;
            var ink = share > 0 ? palette.Warm : palette.Cool;
            if (palette.IsDark)
                for (int k = 7; k >= 1; k--)
                    glow.Add(new LineMark(loop, new Pen(ink.At(0.035 * Math.Abs(share)), 4.5 * k), true));
            glow.Add(new AreaMark(loops, ink.At((palette.IsDark ? 0.55 : 0.5) * Math.Abs(share))));
            AddSigns(loops, _ => share);
        }
    }

    private void Solid(Body body, FieldPlane plane)
    {
        var box = body.Whole;
        double left = Math.Floor(box.Left), top = Math.Floor(box.Top);
        int columns = (int)Math.Ceiling((box.Right - left) / Cell) + 1, rows = (int)Math.Ceiling((box.Bottom - top) / Cell) + 1;
        double[] dense = new double[columns * rows];
        bool any = false;
        for (int t = 0; t < plane.Regions.Count; t++)
        {
            if (plane.Current[3 * t] == 0 && plane.Current[3 * t + 1] == 0 && plane.Current[3 * t + 2] == 0)
                continue;
            Point[] corners = [.. Enumerable.Range(3 * t, 3).Select(k => stage.On(plane.Points[plane.Triangles[k]]))];
            var middle = 1.0 / 3 * (corners[0] + corners[1] + corners[2]);
            if (!Polylines.Contains(body.Loops, middle))
                continue;
            any = true;
            Paint(corners, false);
            if (stage.IsRound)
                Paint([.. corners.Select(stage.Mirror)], true);

            void Paint(Point[] at, bool mirrored)
            {
                double sign = (stage.IsRound ? -1 : 1) * (mirrored ? -1 : 1);
                Point In(Point p) => new((p.X - left) / Cell, (p.Y - top) / Cell);
                Rasters.Fill(columns, rows, In(at[0]), In(at[1]), In(at[2]), (cell, a, b, c) =>
                    dense[cell] = sign * (a * plane.Current[3 * t] + b * plane.Current[3 * t + 1] + c * plane.Current[3 * t + 2]));
            }
        }

        if (!any)
            return;
        byte[] pixels = new byte[4 * dense.Length];
        for (int cell = 0; cell < dense.Length; cell++)
        {
            double share = dense[cell] / reference;
            var ink = share > 0 ? palette.Warm : palette.Cool;
            (pixels[4 * cell], pixels[4 * cell + 1], pixels[4 * cell + 2], pixels[4 * cell + 3]) = (ink.Red, ink.Green, ink.Blue, (byte)(255 * 0.8 * Math.Min(1, Math.Abs(share))));
        }

        glow.Add(new GridMark(new Point(left, top), columns * Cell, rows * Cell, columns, rows, pixels));
        AddSigns(body.Loops, spot => Towards(spot, plane.CurrentNear(stage.Off(spot))) / reference);
    }

    // Current towards the reader at a spot, from the current along φ or z.
    private double Towards(Point spot, double current) => !stage.IsRound ? current : spot.X > stage.Middle.X ? -current : current;

    // Along the longer side of the body in even steps, and at each step in the middle of what is there: a bent section has its signs along the bend.
    private void AddSigns(IReadOnlyList<IReadOnlyList<Point>> loops, Func<Point, double> share)
    {
        double left = loops.Min(l => Body.Box(l).Left), right = loops.Max(l => Body.Box(l).Right), top = loops.Min(l => Body.Box(l).Top), bottom = loops.Max(l => Body.Box(l).Bottom);
        bool wide = right - left >= bottom - top;
        var turned = wide ? [.. loops.Select(l => (IReadOnlyList<Point>)[.. l.Select(p => new Point(p.Y, p.X))])] : loops;
        var (from, to) = wide ? (left, right) : (top, bottom);
        int steps = Math.Max(1, (int)Math.Round((to - from) / SignsApart));
        // An even count keeps signs off the axis of a round section.
        if (wide && stage.IsRound && left < stage.Middle.X && right > stage.Middle.X && steps % 2 == 1)
            steps++;
        double pitch = (to - from) / steps;
        for (int i = 0; i < steps; i++)
        {
            double at = from + (i + 0.5) * pitch;
            var ends = Polylines.Crossings(turned, at);
            for (int k = 0; k + 1 < ends.Count; k += 2)
            {
                int rows = Math.Max(1, (int)Math.Round((ends[k + 1] - ends[k]) / SignsApart));
                double room = 0.42 * Math.Min(pitch, (ends[k + 1] - ends[k]) / rows);
                for (int j = 0; j < rows; j++)
                {
                    double across = ends[k] + (j + 0.5) * (ends[k + 1] - ends[k]) / rows;
                    var spot = wide ? new Point(at, across) : new Point(across, at);
                    double s = share(spot), radius = Math.Min(room, LargestSign) * Math.Sqrt(Math.Abs(s));
                    if (Math.Abs(s) >= Faintest && radius >= SmallestSign)
                        signs.AddRange(Sign(spot, radius, s > 0, palette));
                }
            }
        }
    }
}
