using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Geometry;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Sheets;

/// <summary>The things of a free apparatus seen from the side, along y, or from above: cut through the axis where the view lies square to it, in outline where they lean.</summary>
internal static class FreeViews
{
    private const double Square = 1e-6;
    private const int Rim = 48;

    /// <summary>Whether a view from above tells more than the side does.</summary>
    public static bool NeedsPlan(Apparatus apparatus) =>
        apparatus.Parts.Any(p => p.Shape is BlockShape or PumpChannelShape || p.Place.Y != 0 || Leans(p.Attitude)) || apparatus.Windings.Any(w => w.Space is FrameSpace || w.Space is RoundSpace r && (r.Y != 0 || Leans(r.Attitude)));

    /// <summary>Everything that can be drawn.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="plan">From above instead of from the side.</param>
    public static List<DrawnThing> Of(Apparatus apparatus, bool plan)
    {
        var view = new View(plan);
        var things = new List<DrawnThing>();
        for (int i = 0; i < apparatus.Parts.Count; i++)
        {
            var part = apparatus.Parts[i];
            if (view.Of(part) is not { Count: > 0 } loops)
                continue;
            bool plain = !plan && part.Attitude == default && part.Shape is DiscShape or RingShape or BallShape;
            things.Add(plain ? DrawnThing.Sized(i, false, loops, part, Layout.Free) : Measured(i, false, loops, part.Attitude == default && part.Shape is BlockShape or PumpChannelShape, plan));
        }

        for (int i = 0; i < apparatus.Windings.Count; i++)
        {
            var space = apparatus.Windings[i].Space;
            if (view.Of(space) is not { Count: > 0 } loops)
                continue;
            int position = apparatus.Parts.Count + i;
            things.Add(space switch
            {
                RoundSpace r when !plan && r.Attitude == default => new(position, true, loops, [(r.X - r.OuterRadius, r.X + r.OuterRadius, true), (r.X - r.InnerRadius, r.X + r.InnerRadius, true)], [(r.FromZ, r.ToZ)]),
                FrameSpace f when !plan && f.Attitude == default => new(position, true, loops, [(f.X - 0.5 * f.Length - f.Build, f.X + 0.5 * f.Length + f.Build, false), (f.X - 0.5 * f.Length, f.X + 0.5 * f.Length, false)], [(f.FromZ, f.ToZ)]),
                FrameSpace f when plan && f.Attitude == default => new(position, true, loops, [], [(f.Y - 0.5 * f.Width - f.Build, f.Y + 0.5 * f.Width + f.Build), (f.Y - 0.5 * f.Width, f.Y + 0.5 * f.Width)]),
                _ => Measured(position, true, loops, false, plan),
            });
        }

        if (things.Count > 0 && !plan)
            things.AddRange(apparatus.Parts.Select((p, i) => (p, i)).Where(t => t.p.Shape is IronPlaneShape).Select(t => Ground(t.i, t.p, things)).ToList());
        return things;
    }

    private static bool Leans(Attitude a) => a.Tilt != 0 || a.Turned != 0;

    // What leans has no sizes of its own in a view; the tables give them.
    private static DrawnThing Measured(int position, bool isWinding, List<IReadOnlyList<Point>> loops, bool square, bool plan)
    {
        double left = loops.Min(l => l.Min(p => p.X)), right = loops.Max(l => l.Max(p => p.X)), low = loops.Min(l => l.Min(p => p.Y)), high = loops.Max(l => l.Max(p => p.Y));
        return new DrawnThing(position, isWinding, loops, square && !plan ? [(left, right, false)] : [], square ? [(low, high)] : []);
    }

    private static DrawnThing Ground(int position, Part plane, List<DrawnThing> things)
    {
        double left = things.Min(t => t.Left), right = things.Max(t => t.Right), aside = 0.15 * (right - left), z = plane.Place.Z, deep = 0.06 * (right - left);
        return new DrawnThing(position, false, [[new(left - aside, z - deep), new(right + aside, z - deep), new(right + aside, z), new(left - aside, z)]], [], []);
    }

    private sealed class View(bool plan)
    {
        private Point At(Vector v) => plan ? new(v.X, v.Y) : new(v.X, v.Z);

        private double Along(Vector v) => Math.Abs(plan ? v.Z : v.Y);

        public List<IReadOnlyList<Point>> Of(Part part)
        {
            var centre = FreeSpace.Centre(part);
            var own = FreeSpace.Axes(part.Attitude);
            switch (part.Shape)
            {
                case BallShape b:
                    var at = At(centre);
                    return b.Wall is { } wall ? [DrawnThing.Circle(at.X, at.Y, b.Radius), DrawnThing.Circle(at.X, at.Y, b.Radius - wall)] : [DrawnThing.Circle(at.X, at.Y, b.Radius)];
                case DiscShape d:
                    return Round(centre, own, 0, d.Radius, 0.5 * d.Thickness);
                case RingShape r:
                    return Round(centre, own, r.InnerRadius, r.OuterRadius, 0.5 * r.Height);
                case BlockShape b:
                    return [Hull(Corners(centre, own, 0.5 * b.Length, 0.5 * b.Width, 0.5 * b.Thickness))];
                case PumpChannelShape c:
                    return [Hull(Corners(centre, own, 0.5 * c.Length, 0.5 * c.Width, 0.5 * c.Thickness))];
                case FoilLoopShape f:
                    return [Hanging(f, centre, own)];
                case ProbeShape:
                    return [DrawnThing.Circle(At(centre).X, At(centre).Y, 1.5e-3)];
                default:
                    return [];
            }
        }

        public List<IReadOnlyList<Point>> Of(WindingSpace space) => space switch
        {
            RoundSpace r => Round(FreeSpace.Centre(r), FreeSpace.Axes(r.Attitude), r.InnerRadius, r.OuterRadius, 0.5 * (r.ToZ - r.FromZ)),
            FrameSpace f => Frame(f, FreeSpace.Centre(f), FreeSpace.Axes(f.Attitude)),
            _ => [],
        };

        private List<IReadOnlyList<Point>> Round(Vector centre, (Vector X, Vector Y, Vector Z) own, double inner, double outer, double half)
        {
            if (Along(own.Z) < Square)
            {
                // Cut through its axis: its own level direction in the plane of the view stands square to the axis.
                var (axis, level) = (At(own.Z), new Point(-At(own.Z).Y, At(own.Z).X));
                IReadOnlyList<Point> Box(double from, double to) => [At(centre) + from * level - half * axis, At(centre) + to * level - half * axis, At(centre) + to * level + half * axis, At(centre) + from * level + half * axis];
                return inner == 0 ? [Box(-outer, outer)] : [Box(-outer, -inner), Box(inner, outer)];
            }

            IReadOnlyList<Point> Ring(double radius, double z) => [.. Enumerable.Range(0, Rim).Select(k => 2 * Math.PI * k / Rim).Select(a => At(centre + radius * Math.Cos(a) * own.X + radius * Math.Sin(a) * own.Y + z * own.Z))];
            if (Along(own.Z) > 1 - Square)
                return inner == 0 ? [Ring(outer, 0)] : [Ring(outer, 0), Ring(inner, 0)];
            return [Hull([.. Ring(outer, -half), .. Ring(outer, half)])];
        }

        private List<IReadOnlyList<Point>> Frame(FrameSpace f, Vector centre, (Vector X, Vector Y, Vector Z) own)
        {
            double half = 0.5 * (f.ToZ - f.FromZ), length = 0.5 * f.Length, width = 0.5 * f.Width;
            if (Along(own.Z) > 1 - Square)
                return [Rounded(length + f.Build, width + f.Build, f.CornerRadius + f.Build), Rounded(length, width, f.CornerRadius)];
            // Square to one of its sides it is cut through the middle.
            foreach (var (side, extent, seen) in new[] { (own.X, length, own.Y), (own.Y, width, own.X) })
                if (Along(seen) > 1 - Square)
                {
                    IReadOnlyList<Point> Box(double from, double to) => [At(centre + from * side - half * own.Z), At(centre + to * side - half * own.Z), At(centre + to * side + half * own.Z), At(centre + from * side + half * own.Z)];
                    return [Box(-extent - f.Build, -extent), Box(extent, extent + f.Build)];
                }

            return [Hull(Corners(centre, own, length + f.Build, width + f.Build, half))];

            IReadOnlyList<Point> Rounded(double l, double w, double r)
            {
                var corners = new[] { (l - r, w - r, 0), (r - l, w - r, 1), (r - l, r - w, 2), (l - r, r - w, 3) };
                return [.. corners.SelectMany(c => Enumerable.Range(0, 9).Select(k => 0.5 * Math.PI * (c.Item3 + k / 8.0)).Select(a => At(centre + (c.Item1 + r * Math.Cos(a)) * own.X + (c.Item2 + r * Math.Sin(a)) * own.Y)))];
            }
        }

        // A hanging strip of the right length, about the shape that it takes; its thickness is not to scale.
        private IReadOnlyList<Point> Hanging(FoilLoopShape f, Vector middle, (Vector X, Vector Y, Vector Z) own)
        {
            if (plan)
                return Hull([.. new[] { -0.5, 0.5 }.SelectMany(x => new[] { -0.5, 0.5 }.Select(y => At(middle + x * f.Span * own.X + y * f.Width * own.Y)))]);
            double low = 0, high = f.Length;
            for (int i = 0; i < 40; i++)
            {
                double deep = 0.5 * (low + high);
                (low, high) = Length(Curve(deep)) > f.Length ? (low, deep) : (deep, high);
            }

            var curve = Curve(0.5 * (low + high));
            double thick = 0.004 * f.Length;
            return [.. curve.Select(At), .. curve.AsEnumerable().Reverse().Select(p => At(p + new Vector(0, 0, thick)))];

            List<Vector> Curve(double deep) => [.. Enumerable.Range(0, 41).Select(k => Math.PI * k / 40).Select(a => middle - 0.5 * f.Span * Math.Cos(a) * own.X + new Vector(0, 0, -deep * Math.Sin(a)))];
            static double Length(List<Vector> curve) => Enumerable.Range(1, curve.Count - 1).Sum(k => (curve[k] - curve[k - 1]).Length);
        }

        private List<Point> Corners(Vector centre, (Vector X, Vector Y, Vector Z) own, double x, double y, double z) =>
            [.. from i in new[] { -1, 1 } from j in new[] { -1, 1 } from k in new[] { -1, 1 } select At(centre + i * x * own.X + j * y * own.Y + k * z * own.Z)];

        // The convex hull, by the monotone chain.
        private static IReadOnlyList<Point> Hull(IReadOnlyList<Point> points)
        {
            var sorted = points.OrderBy(p => p.X).ThenBy(p => p.Y).ToList();
            List<Point> Chain(IEnumerable<Point> of)
            {
                var chain = new List<Point>();
                foreach (var p in of)
                {
                    while (chain.Count > 1 && Turn(chain[^2], chain[^1], p) <= 1e-15)
                        chain.RemoveAt(chain.Count - 1);
                    chain.Add(p);
                }

                return chain;
            }

            return [.. Chain(sorted).SkipLast(1), .. Chain(sorted.AsEnumerable().Reverse()).SkipLast(1)];
            static double Turn(Point a, Point b, Point c) => (b.X - a.X) * (c.Y - a.Y) - (b.Y - a.Y) * (c.X - a.X);
        }
    }
}
