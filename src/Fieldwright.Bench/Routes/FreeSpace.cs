using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Series;

namespace Fieldwright.Bench.Routes;

/// <summary>Bodies and coils as solids anywhere in space: their axes, their centres, and whether they overlap.</summary>
internal static class FreeSpace
{
    // Bodies that overlap by less than this touch.
    private const double Touch = 1e-9;

    /// <summary>Own axes of a thing in space.</summary>
    public static (Vector X, Vector Y, Vector Z) Axes(Attitude attitude)
    {
        var (st, ct) = Math.SinCos(attitude.Tilt * Math.PI / 180);
        var (sb, cb) = Math.SinCos(attitude.Towards * Math.PI / 180);
        var (sa, ca) = Math.SinCos(attitude.Turned * Math.PI / 180);
        // Leaning over is a turn about the level direction square to where the top goes.
        Vector Lean(double x, double y)
        {
            double towards = x * cb + y * sb, aside = y * cb - x * sb;
            return new Vector(towards * ct * cb - aside * sb, towards * ct * sb + aside * cb, -towards * st);
        }

        return (Lean(ca, sa), Lean(-sa, ca), new Vector(st * cb, st * sb, ct));
    }

    /// <summary>Centre of a part: its place counts to the underside it has upright.</summary>
    public static Vector Centre(Part part) => new(part.Place.X, part.Place.Y, part.Place.Z + 0.5 * part.Shape.Above);

    /// <summary>Centre of a coil.</summary>
    public static Vector Centre(WindingSpace space) => space switch
    {
        RoundSpace r => new Vector(r.X, r.Y, 0.5 * (r.FromZ + r.ToZ)),
        FrameSpace f => new Vector(f.X, f.Y, 0.5 * (f.FromZ + f.ToZ)),
        _ => throw new ArgumentException("Such a coil has no place in free space.", nameof(space)),
    };

    /// <summary>Bodies that overlap, the later one of each pair blamed once.</summary>
    public static IEnumerable<Slip> Overlaps(Apparatus apparatus)
    {
        var solids = apparatus.Parts.Select(Of).Concat(apparatus.Windings.Select(Of)).OfType<Solid>().ToList();
        foreach (var plane in apparatus.Parts.Where(p => p.Shape is IronPlaneShape))
            foreach (var sunk in solids.Where(s => s.Surface().Any(p => p.Z < plane.Place.Z - Touch)))
                yield return new Slip(sunk.Name, $"'{sunk.Name}' reaches below '{plane.Name}'", "bodies above the iron plane", plane.Name);
        for (int i = 0; i < solids.Count; i++)
            for (int j = 0; j < i; j++)
                if (solids[i].Surface().Where(solids[j].Holds).Concat(solids[j].Surface().Where(solids[i].Holds)).Select(p => (Vector?)p).FirstOrDefault() is { } at)
                {
                    yield return new Slip(solids[i].Name, FormattableString.Invariant($"'{solids[i].Name}' and '{solids[j].Name}' overlap near ({at.X * 1e3:G3}, {at.Y * 1e3:G3}, {at.Z * 1e3:G3}) mm"), "bodies that touch at most", solids[j].Name);
                    break;
                }
    }

    private static Solid? Of(Part part)
    {
        double half = 0.5 * part.Shape.Above;
        return part.Shape switch
        {
            DiscShape d => new Solid(part.Name, Centre(part), Axes(part.Attitude), 0, d.Radius, half),
            RingShape r => new Solid(part.Name, Centre(part), Axes(part.Attitude), r.InnerRadius, r.OuterRadius, half),
            BallShape b => new Solid(part.Name, Centre(part), Axes(default), 0, b.Radius, half) { IsBall = true },
            BlockShape b => new Solid(part.Name, Centre(part), Axes(part.Attitude), 0, 0, half) { Outer = (0.5 * b.Length, 0.5 * b.Width) },
            PumpChannelShape c => new Solid(part.Name, Centre(part), Axes(part.Attitude), 0, 0, half) { Outer = (0.5 * c.Length, 0.5 * c.Width) },
            _ => null,
        };
    }

    private static Solid? Of(Winding winding) => winding.Space switch
    {
        RoundSpace r => new Solid(winding.Name, Centre(r), Axes(r.Attitude), r.InnerRadius, r.OuterRadius, 0.5 * (r.ToZ - r.FromZ)),
        FrameSpace f => new Solid(winding.Name, Centre(f), Axes(f.Attitude), 0, 0, 0.5 * (f.ToZ - f.FromZ))
        { Inner = (0.5 * f.Length, 0.5 * f.Width), Outer = (0.5 * f.Length + f.Build, 0.5 * f.Width + f.Build), Corner = f.CornerRadius + f.Build },
        _ => null,
    };

    /// <summary>A round or rectangular solid, with a hole through it when it has an inner radius or an opening, or a ball.</summary>
    private sealed record Solid(string Name, Vector Centre, (Vector X, Vector Y, Vector Z) Own, double InnerRadius, double OuterRadius, double Half)
    {
        public bool IsBall { get; init; }

        public (double X, double Y)? Inner { get; init; }

        public (double X, double Y)? Outer { get; init; }

        public double Corner { get; init; }

        private double Reach => Outer is { } o ? double.Hypot(double.Hypot(o.X, o.Y), Half) : double.Hypot(OuterRadius, IsBall ? 0 : Half);

        public bool Holds(Vector point)
        {
            var rel = point - Centre;
            if (rel.Length > Reach)
                return false;
            if (IsBall)
                return rel.Length < OuterRadius - Touch;
            double x = Math.Abs(Vector.Dot(rel, Own.X)), y = Math.Abs(Vector.Dot(rel, Own.Y)), z = Math.Abs(Vector.Dot(rel, Own.Z)), r = double.Hypot(x, y);
            if (z > Half - Touch)
                return false;
            if (Outer is not { } outer)
                return r < OuterRadius - Touch && (InnerRadius == 0 || r > InnerRadius + Touch);
            bool inHole = Inner is { } hole && x < hole.X + Touch && y < hole.Y + Touch;
            bool offCorner = x > outer.X - Corner && y > outer.Y - Corner && double.Hypot(x - outer.X + Corner, y - outer.Y + Corner) > Corner - Touch;
            return x < outer.X - Touch && y < outer.Y - Touch && !inHole && !offCorner;
        }

        /// <summary>Points of the surface, and of the edges.</summary>
        public IEnumerable<Vector> Surface()
        {
            const int round = 24;
            for (int i = -4; i <= 4; i++)
                for (int k = 0; k < round; k++)
                {
                    var (sin, cos) = Math.SinCos(2 * Math.PI * k / round);
                    double z = 0.25 * i;
                    if (IsBall)
                    {
                        var (high, across) = Math.SinCos(0.5 * Math.PI * z);
                        yield return Centre + OuterRadius * new Vector(across * cos, across * sin, high);
                        continue;
                    }

                    // Round the outside, the inside, and over both ends.
                    double side = i % 2 == 0 ? Half : -Half, share = 0.125 * (i + 4);
                    yield return At(cos, sin, 1, z * Half);
                    if (InnerRadius > 0 || Inner is not null)
                        yield return At(cos, sin, 0, z * Half);
                    yield return At(cos, sin, share, side);
                    yield return At(cos, sin, share, -side);
                }
        }

        private Vector At(double cos, double sin, double share, double z)
        {
            double r = InnerRadius + share * (OuterRadius - InnerRadius), x = r * cos, y = r * sin;
            if (Outer is { } outer)
            {
                // Out to the rectangle along the ray, scaled between opening and outside.
                double most = Math.Max(Math.Abs(cos), Math.Abs(sin)), ix = Inner?.X ?? 0, iy = Inner?.Y ?? 0;
                x = cos / most * (ix + share * (outer.X - ix));
                y = sin / most * (iy + share * (outer.Y - iy));
                double ex = Math.Abs(x) - outer.X + Corner, ey = Math.Abs(y) - outer.Y + Corner, off = double.Hypot(ex, ey);
                if (ex > 0 && ey > 0 && off > Corner)
                    (x, y) = (Math.Sign(x) * (outer.X - Corner + ex / off * Corner), Math.Sign(y) * (outer.Y - Corner + ey / off * Corner));
            }

            return Centre + x * Own.X + y * Own.Y + z * Own.Z;
        }
    }
}
