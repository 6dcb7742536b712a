using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Series;

namespace Fieldwright.Bench.Pictures.Live;

/// <summary>A body in space as four-sided faces.</summary>
/// <param name="Name">What it is called.</param>
/// <param name="Matter">What it is, as far as drawing goes.</param>
/// <param name="Points">Corners, m.</param>
/// <param name="Faces">Four corners each, by number, counter-clockwise seen from outside.</param>
/// <param name="Along">Which way the current of a winding or a foil goes on each face when it is positive, unit vectors; empty for anything else.</param>
/// <param name="Details">What is said of it under its name.</param>
/// <param name="Centre">Its centre, m.</param>
public sealed record SpaceSolid(
    string Name, StageMatter Matter, IReadOnlyList<Vector> Points, IReadOnlyList<(int A, int B, int C, int D)> Faces, IReadOnlyList<Vector> Along, IReadOnlyList<string> Details, Vector Centre)
{
    /// <summary>Real and imaginary part of the peak current, A; 0 for anything but a winding or a foil.</summary>
    public (double Real, double Imaginary) Current { get; init; }

    /// <summary>Mean force on it, N; null for what is fixed or not known.</summary>
    public Vector? Force { get; init; }

    /// <summary>Weight, N; null when it is fixed or its mass is not known.</summary>
    public double? Weight { get; init; }

    /// <summary>Direction of a magnet's remanence; null for no magnet.</summary>
    public Vector? Magnetised { get; init; }
}

/// <summary>Makes the faces of bodies and coils.</summary>
internal static class SpaceSolids
{
    private const int Round = 36;

    private sealed record Faces(List<Vector> Points, List<(int, int, int, int)> Corners, List<Vector> Along);

    /// <summary>Faces of a part; null for a probe, which has none.</summary>
    /// <param name="part">The part.</param>
    /// <param name="foil">Middle line of the foil, when the part is one.</param>
    /// <param name="reach">How far the rest reaches, m: an iron plane is drawn so wide.</param>
    public static SpaceSolid? Of(Part part, IReadOnlyList<Vector>? foil, double reach)
    {
        var own = FreeSpace.Axes(part.Attitude);
        var centre = FreeSpace.Centre(part);
        var faces = part.Shape switch
        {
            DiscShape d => Swept(Circle(d.Radius), d.Radius, d.Thickness, centre, own),
            RingShape r => Swept(Circle(r.OuterRadius), r.OuterRadius - r.InnerRadius, r.Height, centre, own),
            BallShape b => Ball(b.Radius, centre),
            BlockShape b => Swept(Rectangle(b.Length, b.Width, 0), 0, b.Thickness, centre, own, true),
            PumpChannelShape c => Swept(Rectangle(c.Length, c.Width, 0), 0, c.Thickness, centre, own, true),
            IronPlaneShape => Plane(centre, reach),
            FoilLoopShape f when foil is not null => Strip(foil, f.Width, own.Y),
            _ => null,
        };
        if (faces is null)
            return null;
        bool magnetic = part.Shape is IronPlaneShape || Bodies.IsMagnetic(part);
        Vector? magnetised = null;
        if (part.Magnetised is { } degrees)
        {
            var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
            magnetised = cos * own.X + sin * own.Z;
        }

        return new SpaceSolid(part.Name, magnetic ? StageMatter.Magnetic : StageMatter.Plain, faces.Points, faces.Corners, faces.Along, [], part.Shape is FoilLoopShape ? Middle(foil!) : centre) { Magnetised = magnetised };
    }

    /// <summary>Faces of a winding.</summary>
    public static SpaceSolid Of(Winding winding)
    {
        var faces = winding.Space switch
        {
            RoundSpace r => Swept(Circle(r.OuterRadius), r.OuterRadius - r.InnerRadius, r.ToZ - r.FromZ, FreeSpace.Centre(r), FreeSpace.Axes(r.Attitude)),
            FrameSpace f => Swept(Rectangle(f.Length + 2 * f.Build, f.Width + 2 * f.Build, f.CornerRadius + f.Build), f.Build, f.ToZ - f.FromZ, FreeSpace.Centre(f), FreeSpace.Axes(f.Attitude)),
            _ => throw new ArgumentException("Such a coil has no place in free space.", nameof(winding)),
        };
        return new SpaceSolid(winding.Name, StageMatter.Winding, faces.Points, faces.Corners, faces.Along, [], FreeSpace.Centre(winding.Space));
    }

    private static Vector Middle(IReadOnlyList<Vector> line) => 1.0 / line.Count * line.Aggregate((a, b) => a + b);

    // Points round an outline, counter-clockwise, with the way outwards.
    private static List<(double X, double Y, double Ox, double Oy)> Circle(double radius) =>
        [.. Enumerable.Range(0, Round).Select(k => Math.SinCos(2 * Math.PI * k / Round)).Select(a => (radius * a.Cos, radius * a.Sin, a.Cos, a.Sin))];

    private static List<(double X, double Y, double Ox, double Oy)> Rectangle(double length, double width, double corner)
    {
        var points = new List<(double, double, double, double)>();
        int pieces = corner > 0 ? 6 : 0;
        for (int quarter = 0; quarter < 4; quarter++)
        {
            double x = (quarter is 0 or 3 ? 1 : -1) * (0.5 * length - corner), y = (quarter < 2 ? 1 : -1) * (0.5 * width - corner);
            for (int k = 0; k <= pieces; k++)
            {
                var (sin, cos) = Math.SinCos(0.5 * Math.PI * (quarter + (pieces == 0 ? 0.5 : (double)k / pieces)));
                points.Add((x + corner * cos, y + corner * sin, cos, sin));
            }
        }

        return points;
    }

    // A rectangle of given build inwards from the outline and of given height, carried round it: inner wall only where there is a hole.
    private static Faces Swept(List<(double X, double Y, double Ox, double Oy)> outline, double build, double height, Vector centre, (Vector X, Vector Y, Vector Z) own, bool massive = false)
    {
        var faces = new Faces([], [], []);
        Vector At(double x, double y, double z) => centre + x * own.X + y * own.Y + z * own.Z;
        double size = outline.Max(p => double.Hypot(p.X, p.Y));
        bool full = massive || build >= size * (1 - 1e-9);
        foreach (var (x, y, ox, oy) in outline)
        {
            double ix = full ? 0 : x - build * ox, iy = full ? 0 : y - build * oy;
            foreach (double z in (double[])[-0.5 * height, 0.5 * height])
            {
                faces.Points.Add(At(x, y, z));
                faces.Points.Add(At(ix, iy, z));
            }
        }

        for (int i = 0; i < outline.Count; i++)
        {
            int a = 4 * i, b = 4 * ((i + 1) % outline.Count);
            var along = (faces.Points[b] - faces.Points[a]).Unit();
            // Outside, top, bottom, inside: of each the corners below outer, below inner, above outer, above inner are 0, 1, 2, 3.
            faces.Corners.AddRange([(a, b, b + 2, a + 2), (a + 2, b + 2, b + 3, a + 3), (b, a, a + 1, b + 1)]);
            faces.Along.AddRange([along, along, along]);
            if (!full)
            {
                faces.Corners.Add((b + 1, a + 1, a + 3, b + 3));
                faces.Along.Add(along);
            }
        }

        return faces;
    }

    private static Faces Ball(double radius, Vector centre)
    {
        const int rows = 14;
        var faces = new Faces([], [], []);
        for (int i = 0; i <= rows; i++)
            for (int k = 0; k < Round; k++)
            {
                var (st, ct) = Math.SinCos(Math.PI * i / rows);
                var (sp, cp) = Math.SinCos(2 * Math.PI * k / Round);
                faces.Points.Add(centre + radius * new Vector(st * cp, st * sp, -ct));
            }

        for (int i = 0; i < rows; i++)
            for (int k = 0; k < Round; k++)
                faces.Corners.Add((i * Round + k, i * Round + (k + 1) % Round, (i + 1) * Round + (k + 1) % Round, (i + 1) * Round + k));
        return faces;
    }

    private static Faces Plane(Vector centre, double reach)
    {
        const int cells = 8;
        var faces = new Faces([], [], []);
        for (int i = 0; i <= cells; i++)
            for (int k = 0; k <= cells; k++)
                faces.Points.Add(centre + reach * new Vector(2.0 * i / cells - 1, 2.0 * k / cells - 1, 0));
        for (int i = 0; i < cells; i++)
            for (int k = 0; k < cells; k++)
                faces.Corners.Add((i * (cells + 1) + k, (i + 1) * (cells + 1) + k, (i + 1) * (cells + 1) + k + 1, i * (cells + 1) + k + 1));
        return faces;
    }

    private static Faces Strip(IReadOnlyList<Vector> line, double width, Vector across)
    {
        var faces = new Faces([], [], []);
        foreach (var p in line)
        {
            faces.Points.Add(p - 0.5 * width * across);
            faces.Points.Add(p + 0.5 * width * across);
        }

        for (int i = 0; i + 1 < line.Count; i++)
        {
            // Seen from both sides.
            faces.Corners.Add((2 * i, 2 * i + 2, 2 * i + 3, 2 * i + 1));
            faces.Corners.Add((2 * i + 1, 2 * i + 3, 2 * i + 2, 2 * i));
            var along = (line[i + 1] - line[i]).Unit();
            faces.Along.AddRange([along, along]);
        }

        return faces;
    }
}
