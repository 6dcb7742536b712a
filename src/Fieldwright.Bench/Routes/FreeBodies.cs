using Fieldwright.Bench.Model;
using Fieldwright.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Magnets;

namespace Fieldwright.Bench.Routes;

/// <summary>The magnets and coils of an apparatus as bodies of current, each with its strength, and the field they make together.</summary>
/// <remarks>
/// A magnet is evenly polarised. Its recoil line lets its own field and that of all others weaken or raise it: J = Bᵣ + (μ − 1)·μ₀H, H being the mean over the
/// magnet along its axis. What that moves is kept, so that half of it can go into the bar. Over an iron plane every current has its mirror image.
/// </remarks>
internal sealed class FreeBodies
{
    private readonly List<Body> bodies = [];
    private readonly double? plane;
    private readonly Dictionary<(string Source, string Body, bool Image), MagnetLoad> known;

    /// <summary>Makes the bodies of an apparatus.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="current">Direct current of each winding, A; null to leave the windings out.</param>
    /// <param name="beside">Flux density of what else is magnetised, a steel ball, at points of the magnets, T; null for nothing.</param>
    /// <param name="known">Loads per strengths of pairs, shared between runs over the same places; null to begin anew.</param>
    /// <param name="unbent">Name of a magnet that keeps its remanence, while the others follow their recoil lines; null for none.</param>
    public FreeBodies(Apparatus apparatus, Func<Winding, double>? current, Func<Vector, Vector>? beside = null,
        Dictionary<(string Source, string Body, bool Image), MagnetLoad>? known = null, string? unbent = null)
    {
        this.known = known ?? [];
        plane = apparatus.Parts.FirstOrDefault(p => p.Shape is IronPlaneShape)?.Place.Z;
        foreach (var part in apparatus.Parts.Where(p => p.Magnetised is not null))
            bodies.Add(Magnet(part));
        if (current is not null)
            foreach (var winding in apparatus.Windings)
                bodies.Add(new Body(winding.Name, Coil(winding), null, []) { Strength = current(winding) });
        // The weakening is small, a round gains a factor of (μ − 1): four rounds leave less than 1e-5.
        for (int round = 0; round < 4; round++)
            foreach (var body in bodies)
                if (body.Part is { } part && part.Material.RelativePermeability > 1 && part.Name != unbent)
                {
                    double chi = part.Material.RelativePermeability - 1, others = 0, own = 0;
                    foreach (var (point, weight) in body.Volume)
                    {
                        others += weight * Vector.Dot(FieldWithout(body, point) + (beside?.Invoke(point) ?? default), body.Axis);
                        own += weight * Vector.Dot(body.Unit.FluxDensity(point), body.Axis);
                    }

                    // Per tesla of polarisation the magnet's own B is 1 − N.
                    body.Strength = (part.Material.Remanence + chi * others) / (1 + chi * (1 - own));
                }
    }

    /// <summary>All of them, magnets first.</summary>
    public IReadOnlyList<Body> All => bodies;

    /// <summary>Coil of a winding in its place, one ampere in it.</summary>
    public static ICoil Coil(Winding winding)
    {
        if (winding.Space is RoundSpace r)
            return RingsRoute.Coil(winding) is var coil && r.Attitude == default && r is { X: 0, Y: 0 } ? coil
                : new ThickCoil(r.InnerRadius, r.OuterRadius, -0.5 * (r.ToZ - r.FromZ), 0.5 * (r.ToZ - r.FromZ), winding.Turns, FreeSpace.Centre(r), FreeSpace.Axes(r.Attitude).Z);
        var f = (FrameSpace)winding.Space;
        var (x, _, z) = FreeSpace.Axes(f.Attitude);
        return new RacetrackCoil(f.Length, f.Width, f.CornerRadius, f.Build, f.ToZ - f.FromZ, winding.Turns, FreeSpace.Centre(f), z, x);
    }

    /// <summary>Flux density of all bodies and images, T.</summary>
    public Vector Field(Vector point) => FieldWithout(null, point);

    /// <summary>The same without one body; its image stays.</summary>
    public Vector FieldWithout(Body? left, Vector point)
    {
        var total = default(Vector);
        foreach (var body in bodies)
        {
            if (body != left)
                total += body.Strength * body.Unit.FluxDensity(point);
            if (plane is { } z)
                total += Mirrored(body.Strength * body.Unit.FluxDensity(Mirror(point, z)));
        }

        return total;
    }

    /// <summary>Load on one body from all others and all images.</summary>
    /// <exception cref="NotConvergedException">Two bodies come too near.</exception>
    public MagnetLoad Load(Body body, double tolerance)
    {
        Vector force = default, torque = default;
        double fe = 0, te = 0;
        foreach (var other in bodies)
        {
            if (other != body && other.Strength != 0)
                Add(Pair(other, body, tolerance), other.Strength);
            if (plane is { } z && other.Strength != 0)
            {
                if (!known.TryGetValue((other.Name, body.Name, true), out var load))
                    known[(other.Name, body.Name, true)] = load = Loads.Of(p => Mirrored(other.Unit.FluxDensity(Mirror(p, z))), body.Unit, tolerance);
                Add(load, other.Strength);
            }

        }

        return new(body.Strength * force, body.Strength * torque, Math.Abs(body.Strength) * fe, Math.Abs(body.Strength) * te);

        void Add(MagnetLoad load, double strength)
        {
            force += strength * load.Force;
            torque += strength * load.Torque;
            fe += Math.Abs(strength) * load.ForceError;
            te += Math.Abs(strength) * load.TorqueError;
        }
    }

    // Load per strengths of one body on another. The field of the one that is quicker to find is summed over the other; action and reaction give the rest.
    private MagnetLoad Pair(Body source, Body body, double tolerance)
    {
        if (known.TryGetValue((source.Name, body.Name, false), out var load))
            return load;
        if (Cost(source.Unit) > Cost(body.Unit))
        {
            var back = Pair(body, source, tolerance);
            var arm = source.Unit.Centre - body.Unit.Centre;
            load = new(-back.Force, -back.Torque - Vector.Cross(arm, back.Force), back.ForceError, back.TorqueError + arm.Length * back.ForceError);
        }
        else
            load = source.Unit is CylinderMagnet a && body.Unit is CylinderMagnet b && IsCoaxial(a, b) ? CylinderMagnet.Load(a, b) : Loads.Between(source.Unit, body.Unit, tolerance);
        return known[(source.Name, body.Name, false)] = load;
    }

    private static int Cost(ICurrents body) => body switch { BarMagnet => 0, CylinderMagnet => 1, ThickCoil => 2, _ => 3 };

    /// <summary>Flux density of a magnet along its axis, mean over its volume, T.</summary>
    /// <param name="body">The magnet.</param>
    /// <param name="beside">Flux density of what else is magnetised, T; null for nothing.</param>
    /// <remarks>What others do there is smooth and summed as the recoil is. Its own field has a logarithm at the edges, so that is summed on 10 and on 20 points a side; twice their difference is the bar.</remarks>
    public Estimate Working(Body body, Func<Vector, Vector>? beside)
    {
        double others = body.Volume.Sum(v => v.Weight * Vector.Dot(FieldWithout(body, v.Point) + (beside?.Invoke(v.Point) ?? default), body.Axis));
        double Own(int points) => VolumeOf(body.Part!, points).Sum(v => v.Weight * Vector.Dot(body.Unit.FluxDensity(v.Point), body.Axis));
        double fine = Own(20), coarse = Own(10);
        return new Estimate(others + body.Strength * fine, Math.Abs(body.Strength) * 2 * Math.Abs(fine - coarse) + 1e-3 * Math.Abs(others));
    }

    private static bool IsCoaxial(CylinderMagnet a, CylinderMagnet b) =>
        Vector.Cross(a.Axis, b.Axis).Length < 1e-13 && Vector.Cross(a.Axis, b.Centre - a.Centre).Length < 1e-13 * (a.Radius + b.Radius);

    // Currents along an iron plane keep their sense in the image, upright ones turn: the field of the image is that of the plain mirror, as an axial vector.
    private static Vector Mirrored(Vector b) => new(-b.X, -b.Y, b.Z);

    private static Vector Mirror(Vector point, double z) => point with { Z = 2 * z - point.Z };

    private static Body Magnet(Part part)
    {
        var (x, _, z) = FreeSpace.Axes(part.Attitude);
        var centre = FreeSpace.Centre(part);
        var (sin, cos) = Math.SinCos(part.Magnetised!.Value * Math.PI / 180);
        if (part.Shape is BlockShape block)
        {
            var unit = new BarMagnet(new Vector(block.Length, block.Width, block.Thickness), new Vector(Clean(cos), 0, Clean(sin)), centre, x, z);
            return new Body(part.Name, unit, part, VolumeOf(part, 3)) { Strength = part.Material.Remanence, Axis = Clean(cos) * x + Clean(sin) * z };
        }

        var (inner, outer, height) = Sizes(part);
        var axis = Math.Sign(sin) * z;
        return new Body(part.Name, new CylinderMagnet(outer, height, 1, centre, axis, inner), part, VolumeOf(part, 3)) { Strength = part.Material.Remanence, Axis = axis };
    }

    // Points of a magnet's volume and their shares of it, Gauss along each side; round ones even in area by Gauss in r², eight round the axis.
    private static IReadOnlyList<(Vector Point, double Weight)> VolumeOf(Part part, int points)
    {
        var (x, y, z) = FreeSpace.Axes(part.Attitude);
        var centre = FreeSpace.Centre(part);
        var rule = Quadrature.GaussLegendre(points);
        var gauss = rule.Nodes.Zip(rule.Weights, (at, weight) => (At: at, Weight: 0.5 * weight)).ToList();
        if (part.Shape is BlockShape block)
            return [.. from u in gauss from v in gauss from w in gauss
                       select (centre + 0.5 * block.Length * u.At * x + 0.5 * block.Width * v.At * y + 0.5 * block.Thickness * w.At * z, u.Weight * v.Weight * w.Weight)];
        var (inner, outer, height) = Sizes(part);
        return [.. from u in gauss from w in gauss from k in Enumerable.Range(0, 8)
                   let r = Math.Sqrt(inner * inner + (outer * outer - inner * inner) * 0.5 * (1 + u.At))
                   let angle = 2 * Math.PI * k / 8
                   select (centre + r * Math.Cos(angle) * x + r * Math.Sin(angle) * y + 0.5 * height * w.At * z, u.Weight * w.Weight / 8)];
    }

    private static (double Inner, double Outer, double Height) Sizes(Part part) => part.Shape switch
    {
        DiscShape d => (0.0, d.Radius, d.Thickness),
        RingShape r => (r.InnerRadius, r.OuterRadius, r.Height),
        _ => throw new RouteFailedException($"'{part.Name}' is no magnet of a shape that has a closed form."),
    };

    private static double Clean(double x) => Math.Abs(x) < 1e-12 ? 0 : x;

    /// <summary>A magnet or a coil: what it is per tesla or per ampere, and how strong.</summary>
    public sealed record Body(string Name, ICurrents Unit, Part? Part, IReadOnlyList<(Vector Point, double Weight)> Volume)
    {
        /// <summary>Polarisation, T, or current, A.</summary>
        public double Strength { get; set; }

        /// <summary>Direction of polarisation of a magnet.</summary>
        public Vector Axis { get; init; }
    }
}
