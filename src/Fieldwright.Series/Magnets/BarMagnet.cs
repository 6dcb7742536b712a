using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Magnets;

/// <summary>A rectangular block magnet with an even, rigid polarisation in any direction, standing anyhow in space.</summary>
/// <remarks>Equivalent pole sheets on its six faces; recoil permeability 1. The field is a closed form: rounding about 1e-15 of the polarisation, so digits are lost
/// with the cube of the distance over the size. Immutable; may be shared between threads.</remarks>
/// <source key="AkounYonnet1984"/>
public sealed class BarMagnet : ICurrents
{
    private readonly Vector ex, ey, ez;

    /// <summary>Describes a bar.</summary>
    /// <param name="size">Full lengths of its edges along its own x, y, z, m.</param>
    /// <param name="polarisation">J in its own axes, T.</param>
    /// <param name="centre">Centre, m; the origin when left out.</param>
    /// <param name="ownX">Direction of its own x axis in space; +x when left out.</param>
    /// <param name="ownZ">Direction of its own z axis in space, square to the x axis; +z when left out.</param>
    /// <exception cref="ArgumentException">A size is not positive, or the axes are not square to one another.</exception>
    public BarMagnet(Vector size, Vector polarisation, Vector centre = default, Vector? ownX = null, Vector? ownZ = null)
    {
        Guard.Positive(size.X, nameof(size));
        Guard.Positive(size.Y, nameof(size));
        Guard.Positive(size.Z, nameof(size));
        if (!polarisation.IsFinite || !centre.IsFinite)
            throw new ArgumentException("Polarisation and centre must be finite.");
        Size = size;
        Polarisation = polarisation;
        Centre = centre;
        ex = (ownX ?? new Vector(1, 0, 0)).Unit();
        ez = (ownZ ?? Vector.AlongZ).Unit();
        if (Math.Abs(Vector.Dot(ex, ez)) > 1e-12)
            throw new ArgumentException("The bar's own x and z axes must be square to one another.", nameof(ownX));
        ey = Vector.Cross(ez, ex);
    }

    /// <summary>Full lengths of the edges, m.</summary>
    public Vector Size { get; }

    /// <summary>Polarisation in the bar's own axes, T.</summary>
    public Vector Polarisation { get; }

    /// <summary>Centre, m.</summary>
    public Vector Centre { get; }

    /// <summary>Magnetic moment in the axes of space, A·m².</summary>
    public Vector Moment => Size.X * Size.Y * Size.Z / PhysicalConstants.MagneticConstant * ToSpace(Polarisation);

    /// <summary>Flux density anywhere, T; inside the magnet too.</summary>
    /// <param name="point">Point, m; not on an edge.</param>
    /// <returns>B in the axes of space.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    /// <source key="AkounYonnet1984" at="field of a pole sheet"/>
    public Vector FluxDensity(Vector point)
    {
        var h = FieldTimesPermeability(point);
        var p = ToOwn(point - Centre);
        var inside = Math.Abs(p.X) < 0.5 * Size.X && Math.Abs(p.Y) < 0.5 * Size.Y && Math.Abs(p.Z) < 0.5 * Size.Z;
        return inside ? h + ToSpace(Polarisation) : h;
    }

    /// <summary>Force on the second of two bars whose edges are parallel and whose polarisations lie along their own z, in closed form, N.</summary>
    /// <param name="first">Bar that stays.</param>
    /// <param name="second">Bar whose force is asked; its own axes parallel to the first one's.</param>
    /// <returns>Force in the axes of space; rounding about 1e-13 of the largest of its 64 terms, so digits are lost when the bars are far apart against their size.</returns>
    /// <exception cref="ArgumentException">The bars are not parallel or not polarised along their own z.</exception>
    /// <source key="AkounYonnet1984" at="eqs. for the force"/>
    public static Vector ParallelForce(BarMagnet first, BarMagnet second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (Vector.Cross(first.ex, second.ex).Length > 1e-12 || Vector.Cross(first.ez, second.ez).Length > 1e-12)
            throw new ArgumentException("The bars must have parallel edges.");
        if (first.Polarisation.X != 0 || first.Polarisation.Y != 0 || second.Polarisation.X != 0 || second.Polarisation.Y != 0)
            throw new ArgumentException("Both bars must be polarised along their own z.");
        var shift = first.ToOwn(second.Centre - first.Centre);
        var total = default(Vector);
        for (var corners = 0; corners < 64; corners++)
        {
            var sign = System.Numerics.BitOperations.PopCount((uint)corners) % 2 == 0 ? 1 : -1;
            double Side(int bit, double a, double b) => 0.5 * ((corners >> (2 * bit + 1) & 1) == 0 ? -b : b) - 0.5 * ((corners >> (2 * bit) & 1) == 0 ? -a : a);
            var u = shift.X + Side(0, first.Size.X, second.Size.X);
            var v = shift.Y + Side(1, first.Size.Y, second.Size.Y);
            var w = shift.Z + Side(2, first.Size.Z, second.Size.Z);
            total += sign * ForceTerm(u, v, w);
        }
        var same = Vector.Dot(first.ez, second.ez) > 0 ? 1 : -1;
        return same * first.Polarisation.Z * second.Polarisation.Z / (4 * Math.PI * PhysicalConstants.MagneticConstant) * first.ToSpace(total);
    }

    /// <summary>Force and torque on the second of two bars in any attitude that do not touch.</summary>
    /// <param name="first">Bar that stays.</param>
    /// <param name="second">Bar whose load is asked.</param>
    /// <returns>Force, and torque about the second bar's centre: the first bar's exact field summed over the second one's pole faces until two refinements agree.</returns>
    /// <exception cref="NotConvergedException">The bars come so near that the sums do not settle to 1e-6.</exception>
    /// <source key="AkounYonnet1984" at="field of a pole sheet, integrated over the other's faces"/>
    public static MagnetLoad Load(BarMagnet first, BarMagnet second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        var force = second.OverFaces((_, field) => field, first, "The force between bars");
        var torque = second.OverFaces((arm, field) => Vector.Cross(arm, field), first, "The torque between bars");
        return new(force.Value, torque.Value, force.Error, torque.Error);
    }

    /// <summary>Load of an ideal iron half-space z &lt; 0 on this bar above it.</summary>
    /// <returns>That of its mirror image; see <see cref="CylinderMagnet.LoadFromIronPlane"/>.</returns>
    /// <exception cref="ArgumentException">The bar reaches the plane.</exception>
    /// <exception cref="NotConvergedException">The bar stands so near that the sums do not settle to 1e-6.</exception>
    /// <source key="Smythe1968" at="images in a plane of infinite permeability"/>
    public MagnetLoad LoadFromIronPlane()
    {
        var reach = 0.5 * (Math.Abs(ex.Z) * Size.X + Math.Abs(ey.Z) * Size.Y + Math.Abs(ez.Z) * Size.Z);
        if (Centre.Z <= reach)
            throw new ArgumentException(FormattableString.Invariant($"The bar must lie above the plane z = 0: its lowest point is at {Centre.Z - reach} m."));
        // The image of a pole in iron is of the opposite sign: J becomes minus its mirrored self. The own axes stay right-handed, which turns y once more.
        static Vector Mirrored(Vector a) => new(a.X, a.Y, -a.Z);
        var image = new BarMagnet(Size, new Vector(-Polarisation.X, Polarisation.Y, -Polarisation.Z), Mirrored(Centre), Mirrored(ex), Mirrored(ez));
        return Load(image, this);
    }

    /// <inheritdoc/>
    /// <remarks>Current sheets on the faces beside each component of the polarisation, M × n.</remarks>
    public void AddElements(int refinement, ICollection<CurrentElement> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        var rule = GaussRule.WithNodes(6 << refinement);
        Belt(Polarisation.X, Size.X * ex, Size.Y * ey, Size.Z * ez);
        Belt(Polarisation.Y, Size.Y * ey, Size.Z * ez, Size.X * ex);
        Belt(Polarisation.Z, Size.Z * ez, Size.X * ex, Size.Y * ey);

        // The sheet runs right-handed about the polarisation: on the face towards +first along +second, and so on round.
        void Belt(double polarisation, Vector axis, Vector first, Vector second)
        {
            if (polarisation == 0)
                return;
            var sheet = polarisation / PhysicalConstants.MagneticConstant * axis.Length;
            foreach (var (outwards, along) in (ReadOnlySpan<(Vector, Vector)>)[(first, second), (second, -first), (-first, -second), (-second, first)])
                for (var i = 0; i < rule.Nodes.Length; i++)
                    for (var j = 0; j < rule.Nodes.Length; j++)
                        into.Add(new(Centre + 0.5 * outwards + (rule.Nodes[i] - 0.5) * axis + (rule.Nodes[j] - 0.5) * along, sheet * rule.Weights[i] * rule.Weights[j] * along));
        }
    }

    private Vector ToOwn(Vector v) => new(Vector.Dot(v, ex), Vector.Dot(v, ey), Vector.Dot(v, ez));

    private Vector ToSpace(Vector v) => v.X * ex + v.Y * ey + v.Z * ez;

    // μ₀H of the six pole sheets, in the axes of space.
    private Vector FieldTimesPermeability(Vector point)
    {
        if (!point.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(point), point, "must be finite");
        var p = ToOwn(point - Centre);
        var total = default(Vector);
        if (Polarisation.Z != 0)
            total += Polarisation.Z * Poles(p.X, p.Y, p.Z, Size.X, Size.Y, Size.Z);
        if (Polarisation.X != 0)
        {
            var f = Poles(p.Y, p.Z, p.X, Size.Y, Size.Z, Size.X);
            total += Polarisation.X * new Vector(f.Z, f.X, f.Y);
        }
        if (Polarisation.Y != 0)
        {
            var f = Poles(p.Z, p.X, p.Y, Size.Z, Size.X, Size.Y);
            total += Polarisation.Y * new Vector(f.Y, f.Z, f.X);
        }
        return ToSpace(total);
    }

    // Two sheets of unit pole density, + at z = c/2 and − at z = −c/2.
    private static Vector Poles(double x, double y, double z, double a, double b, double c)
    {
        double fx = 0, fy = 0, fz = 0;
        for (var corner = 0; corner < 8; corner++)
        {
            var u = x + ((corner & 1) == 0 ? 0.5 : -0.5) * a;
            var v = y + ((corner & 2) == 0 ? 0.5 : -0.5) * b;
            var w = z + ((corner & 4) == 0 ? 0.5 : -0.5) * c;
            // Lower limits of u, v, w come first: two minus signs for (u, v), one for the sheet.
            var sign = ((corner & 1) == 0 ? 1 : -1) * ((corner & 2) == 0 ? 1 : -1) * ((corner & 4) == 0 ? -1 : 1);
            var r = Math.Sqrt(u * u + v * v + w * w);
            fx -= sign * LogRest(r, v, u, w);
            fy -= sign * LogRest(r, u, v, w);
            fz += w == 0 ? 0 : sign * Math.Atan(u * v / (w * r));
        }
        return 1 / (4 * Math.PI) * new Vector(fx, fy, fz);
    }

    // ln(r + t) without cancellation for negative t, where r² = t² + p² + q². On the line of an edge the infinite parts of its two ends cancel.
    private static double LogRest(double r, double t, double p, double q) =>
        t > 0 ? Math.Log(r + t) : Math.Log(Math.Max(p * p + q * q, 1e-300)) - Math.Log(Math.Max(r - t, 1e-150));

    // The force's primitive at one pair of corners.
    private static Vector ForceTerm(double u, double v, double w)
    {
        var r = Math.Sqrt(u * u + v * v + w * w);
        // ln(r − u) and ln(r − v); where they are infinite their factor is zero.
        double lu = LogRest(r, -u, v, w), lv = LogRest(r, -v, u, w);
        var at = w == 0 ? 0 : Math.Atan(u * v / (r * w));
        return new(0.5 * (v * v - w * w) * lu + u * v * lv + v * w * at + 0.5 * r * u,
            0.5 * (u * u - w * w) * lv + u * v * lu + u * w * at + 0.5 * r * v,
            -u * w * lu - v * w * lv + u * v * at - r * w);
    }

    private Estimate<Vector> OverFaces(Func<Vector, Vector, Vector> contribution, BarMagnet source, string what) => Settling.Of(step =>
    {
        var rule = GaussRule.WithNodes(8 << step);
        var total = default(Vector);
        double scale = 0;
        Face(Polarisation.X, Size.X * ex, Size.Y * ey, Size.Z * ez);
        Face(Polarisation.Y, Size.Y * ey, Size.Z * ez, Size.X * ex);
        Face(Polarisation.Z, Size.Z * ez, Size.X * ex, Size.Y * ey);
        return (total, scale);

        void Face(double poles, Vector normal, Vector along, Vector across)
        {
            if (poles == 0)
                return;
            var strength = poles / PhysicalConstants.MagneticConstant * along.Length * across.Length;
            for (var side = -1; side <= 1; side += 2)
                for (var i = 0; i < rule.Nodes.Length; i++)
                    for (var j = 0; j < rule.Nodes.Length; j++)
                    {
                        var arm = 0.5 * side * normal + (rule.Nodes[i] - 0.5) * along + (rule.Nodes[j] - 0.5) * across;
                        var part = side * strength * rule.Weights[i] * rule.Weights[j] * contribution(arm, source.FieldTimesPermeability(Centre + arm));
                        scale += part.Length;
                        total += part;
                    }
        }
    }, 4, what);
}
