using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Cylinders;

namespace Fieldwright.Bench.Pictures;

/// <summary>Which way the field goes round, all over a long section: on a grid the ellipses that its tip traces in a cycle, warm counter-clockwise and cool clockwise, with an arrow the way they are traced.</summary>
/// <remarks>Ellipses keep their true shape and lie; their size follows the root of the field, so that weak places show. A cylinder at rest is turned as the two turning parts of the field differ in
/// square, which is the ellipse's area: the glow follows that torque. The field is the one with everything in its place, the tester too, so nothing is drawn within its own width of it.</remarks>
internal sealed class TurningLayer
{
    private const double Apart = 30, Largest = 0.46, Faintest = 0.02, Thin = 0.06;
    private const int Corners = 40;
    private readonly List<Mark> marks = [];

    /// <summary>Finds the ellipses and draws them.</summary>
    /// <param name="apparatus">The apparatus, long and alternating.</param>
    /// <param name="field">Its field.</param>
    /// <param name="bodies">Its bodies on the stage; nothing is drawn in them.</param>
    /// <param name="stage">The stage.</param>
    /// <param name="palette">Its colours.</param>
    /// <param name="angle">The instant shown, rad: where on its ellipse the tip is then, there the arrow stands.</param>
    public TurningLayer(Apparatus apparatus, HarmonicField field, IReadOnlyList<Body> bodies, Stage stage, Palette palette, double angle)
    {
        Tester = apparatus.Parts.FirstOrDefault(IsTester);
        var body = Tester is null ? ((CylinderBody Body, double Length)?)null : LayersRoute.TesterOf(apparatus, Tester);
        int columns = (int)(stage.Width / Apart), rows = (int)(stage.Height / Apart);
        var places = new List<TurningPoint>();
        for (int row = 0; row < rows; row++)
            for (int column = 0; column < columns; column++)
            {
                var spot = new Point(stage.Left + (column + 0.5) * stage.Width / columns, stage.Top + (row + 0.5) * stage.Height / rows);
                var place = stage.Off(spot);
                if (bodies.Any(b => Polylines.Contains(b.Loops, spot)) || (Tester is { Shape: CylinderShape c } && double.Hypot(place.X - Tester.Place.X, place.Y - Tester.Place.Y) < 3 * c.Radius))
                    continue;
                var b = field.FluxDensity(place.X, place.Y);
                var ellipse = new FieldEllipse(b.X, b.Y);
                places.Add(new TurningPoint(place, ellipse, body is { } t ? t.Length * t.Body.PerMetre(ellipse, apparatus.Frequency).Torque : ellipse.SignedArea));
            }

        Points = places;
        double most = places.Select(p => p.Ellipse.SemiMajor).DefaultIfEmpty(0).Max(), greatest = places.Select(p => Math.Abs(p.Torque)).DefaultIfEmpty(0).Max();
        if (!(most > 0))
            return;
        MostTorque = Tester is null ? null : greatest;
        foreach (var point in places.Where(p => p.Ellipse.SemiMajor > Faintest * Faintest * most))
            Draw(point, stage.On(point.Place), Largest * Apart / Math.Sqrt(most * point.Ellipse.SemiMajor), greatest > 0 ? Math.Sqrt(Math.Abs(point.Torque) / greatest) : 0, palette, angle);
    }

    /// <summary>The part that is free to turn and shows which way; null when the picture is asked for without one.</summary>
    public Part? Tester { get; }

    /// <summary>The greatest torque on the tester anywhere on the grid, N·m; null without one.</summary>
    public double? MostTorque { get; }

    /// <summary>The grid outside of matter.</summary>
    public IReadOnlyList<TurningPoint> Points { get; }

    /// <summary>The marks.</summary>
    public IReadOnlyList<Mark> Marks => marks;

    /// <summary>Whether a part shows which way the field goes round.</summary>
    public static bool IsTester(Part part) => part is { Shape: CylinderShape, Freedom: Freedom.Turning };

    /// <summary>The sign of a sense, as it stands in the key.</summary>
    public static IEnumerable<Mark> Sign(Point at, double radius, bool counterClockwise, Palette palette)
    {
        var ink = counterClockwise ? palette.Warm : palette.Cool;
        Point On(double t) => new(at.X + radius * Math.Cos(t), at.Y - (counterClockwise ? 1 : -1) * radius * Math.Sin(t));
        yield return new LineMark([.. Enumerable.Range(0, Corners).Select(k => On(2 * Math.PI * k / Corners))], new Pen(ink, 1.3), true);
        yield return Arrow(On(0), On(0.3), 4.2, ink);
    }

    private static AreaMark Arrow(Point at, Point ahead, double size, Ink ink)
    {
        var along = ahead - at;
        along = 1 / Math.Max(double.Hypot(along.X, along.Y), 1e-12) * along;
        var across = new Point(-along.Y, along.X);
        return new AreaMark([[at + size * along, at - 0.6 * size * along + 0.7 * size * across, at - 0.6 * size * along - 0.7 * size * across]], ink);
    }

    private void Draw(TurningPoint point, Point middle, double scale, double share, Palette palette, double angle)
    {
        var (x, y) = (point.Ellipse.X, point.Ellipse.Y);
        Point On(double t) => new(middle.X + scale * (x * System.Numerics.Complex.FromPolarCoordinates(1, t)).Real, middle.Y - scale * (y * System.Numerics.Complex.FromPolarCoordinates(1, t)).Real);
        var sense = point.Ellipse.Sense(Thin);
        var ink = sense switch { SpinSense.CounterClockwise => palette.Warm, SpinSense.Clockwise => palette.Cool, _ => palette.QuietText };
        var loop = Enumerable.Range(0, Corners).Select(k => On(2 * Math.PI * k / Corners)).ToList();
        if (sense != SpinSense.None)
            marks.Add(new AreaMark([loop], ink.At(0.08 + 0.42 * share)));
        marks.Add(new LineMark(loop, new Pen(ink.At(0.55 + 0.4 * share), 1.1), true));
        double size = Math.Clamp(0.3 * scale * point.Ellipse.SemiMajor, 1.4, 4);
        if (sense != SpinSense.None)
            marks.Add(Arrow(On(angle), On(angle + 0.2), size, ink));
    }
}

/// <summary>The field at a place of the picture, and what it does to the tester held there.</summary>
/// <param name="Place">The place, m.</param>
/// <param name="Ellipse">What the tip of the flux density traces, T.</param>
/// <param name="Torque">Torque on the tester at rest, N·m, counter-clockwise positive; without a tester the signed area of the ellipse, T².</param>
internal readonly record struct TurningPoint(Point Place, FieldEllipse Ellipse, double Torque);
