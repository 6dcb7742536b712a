using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Magnets;

/// <summary>Force and torque on a rigid body.</summary>
/// <param name="Force">Force, N, in the axes of space.</param>
/// <param name="Torque">Torque about the body's own centre, N·m.</param>
/// <param name="ForceError">Estimated absolute error of the force, N.</param>
/// <param name="TorqueError">Estimated absolute error of the torque, N·m.</param>
public readonly record struct MagnetLoad(Vector Force, Vector Torque, double ForceError, double TorqueError);

/// <summary>A disc, rod or ring magnet with an even, rigid polarisation along its axis, anywhere in space.</summary>
/// <remarks>Equivalent current sheets of J/μ₀ amperes per metre on the rim (and back on the bore); recoil permeability 1, which overstates
/// the pull of real magnets by a few per cent. Immutable; may be shared between threads.</remarks>
/// <source key="Ravaud2010" at="current-sheet model"/>
public sealed class CylinderMagnet : ICurrents
{
    private readonly Frame frame;
    private readonly (double Radius, double Sheet)[] sheets;

    /// <summary>Describes a magnet.</summary>
    /// <param name="radius">Outer radius, m.</param>
    /// <param name="length">Length along the axis, m.</param>
    /// <param name="polarisation">J = μ₀M, T; the remanence. Negative for a magnet turned round.</param>
    /// <param name="centre">Centre of the magnet, m; the origin when left out.</param>
    /// <param name="axis">Direction of positive polarisation, of any length; +z when left out.</param>
    /// <param name="boreRadius">Radius of the hole of a ring magnet, m; 0 for none.</param>
    /// <exception cref="ArgumentException">A size is out of range or the direction is zero.</exception>
    public CylinderMagnet(double radius, double length, double polarisation, Vector centre = default, Vector? axis = null, double boreRadius = 0)
    {
        Radius = Guard.Positive(radius);
        Length = Guard.Positive(length);
        Polarisation = Guard.Finite(polarisation);
        BoreRadius = Guard.NotNegative(boreRadius);
        if (boreRadius >= radius)
            throw new ArgumentOutOfRangeException(nameof(boreRadius), boreRadius, FormattableString.Invariant($"must be smaller than the radius {radius}"));
        frame = new Frame(centre, axis);
        var sheet = polarisation / PhysicalConstants.MagneticConstant;
        sheets = boreRadius > 0 ? [(radius, sheet), (boreRadius, -sheet)] : [(radius, sheet)];
    }

    /// <summary>Outer radius, m.</summary>
    public double Radius { get; }

    /// <summary>Radius of the bore, m; 0 for none.</summary>
    public double BoreRadius { get; }

    /// <summary>Length along the axis, m.</summary>
    public double Length { get; }

    /// <summary>Polarisation along <see cref="Axis"/>, T.</summary>
    public double Polarisation { get; }

    /// <summary>Centre, m.</summary>
    public Vector Centre => frame.Origin;

    /// <summary>Unit vector along the axis.</summary>
    public Vector Axis => frame.Axis;

    /// <summary>Magnetic moment, A·m².</summary>
    public Vector Moment => Polarisation / PhysicalConstants.MagneticConstant * Math.PI * (Radius * Radius - BoreRadius * BoreRadius) * Length * Axis;

    /// <summary>Flux density anywhere, T; inside the magnet too (there B, not μ₀H).</summary>
    /// <param name="point">Point, m; not on an edge, where the field has no finite value.</param>
    /// <returns>B in the axes of space; relative error about 1e-12 in the closed form.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    /// <source key="DerbyOlbert2010" at="eqs. 2–4"/>
    public Vector FluxDensity(Vector point)
    {
        if (!point.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(point), point, "must be finite");
        var (r, z, outward) = frame.Local(point);
        double radial = 0, axial = 0;
        foreach (var (radius, sheet) in sheets)
        {
            var field = Solenoid.Difference(radius, r, z + 0.5 * Length, z - 0.5 * Length);
            radial += sheet * field.Radial;
            axial += sheet * field.Axial;
        }
        return radial * outward + axial * Axis;
    }

    /// <summary>Force and torque on the second of two magnets that do not overlap.</summary>
    /// <param name="first">Magnet that stays.</param>
    /// <param name="second">Magnet whose load is asked.</param>
    /// <returns>Force and torque about the second magnet's centre. Coaxial: closed form, error about 1e-11 of the largest term; the force is along the axis and the torque zero.
    /// Otherwise the first magnet's exact field is integrated over the second one's sheets until two refinements agree.</returns>
    /// <exception cref="NotConvergedException">The magnets come so near, off axis, that the integral does not settle to 1e-6.</exception>
    /// <source key="Ravaud2010" at="coaxial: double integral of the loop coupling in closed form"/>
    public static MagnetLoad Load(CylinderMagnet first, CylinderMagnet second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        if (first.frame.IsCoaxial(second.frame, first.Radius + second.Radius, out var height, out var sense))
        {
            var (force, scale) = first.CoaxialForce(second, height);
            return new(sense * force * first.Axis, default, 1e-12 * scale, 0);
        }
        return Loads.Between(first, second, 1e-10);
    }

    /// <summary>Load of an ideal iron half-space z &lt; 0 (infinite permeability, flat and unlimited) on this magnet above it.</summary>
    /// <returns>That of its mirror image; the pull is towards −z. Real iron pulls less, and a plate must be thick enough to carry the flux.</returns>
    /// <exception cref="ArgumentException">The magnet reaches the plane.</exception>
    /// <exception cref="NotConvergedException">A tilted magnet stands so near that the integral does not settle.</exception>
    /// <source key="Smythe1968" at="images in a plane of infinite permeability"/>
    public MagnetLoad LoadFromIronPlane()
    {
        var reach = 0.5 * Length * Math.Abs(Axis.Z) + Radius * Math.Sqrt(Math.Max(0, 1 - Axis.Z * Axis.Z));
        if (Centre.Z <= reach)
            throw new ArgumentException(FormattableString.Invariant($"The magnet must lie above the plane z = 0: its lowest point is at {Centre.Z - reach} m."));
        var image = new CylinderMagnet(Radius, Length, Polarisation, new Vector(Centre.X, Centre.Y, -Centre.Z),
            new Vector(-Axis.X, -Axis.Y, Axis.Z), BoreRadius);
        return Load(image, this);
    }

    // ∬K₁K₂ ∂M/∂z dz₁dz₂ is the sum over the four pairs of ends of ±∫M dz, and that is the thin solenoid's potential times 2πb.
    private (double Force, double Scale) CoaxialForce(CylinderMagnet second, double height)
    {
        double force = 0, scale = 0;
        foreach (var (a, k1) in sheets)
            foreach (var (b, k2) in second.sheets)
                foreach (var (end1, sign1) in (ReadOnlySpan<(double, int)>)[(-0.5 * Length, 1), (0.5 * Length, -1)])
                    foreach (var (end2, sign2) in (ReadOnlySpan<(double, int)>)[(-0.5 * second.Length, -1), (0.5 * second.Length, 1)])
                    {
                        var term = k1 * k2 * sign1 * sign2 * 2 * Math.PI * b * Solenoid.Potential(a, b, height + end2 - end1).Sheet;
                        force += term;
                        scale += Math.Abs(term);
                    }
        return (force, scale);
    }

    /// <inheritdoc/>
    public void AddElements(int refinement, ICollection<CurrentElement> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        var rule = GaussRule.WithNodes(6 + 6 * refinement);
        var round = 16 << refinement;
        for (var k = 0; k < round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * (k + 0.5) / round);
            var along = frame.Along(cos, sin);
            foreach (var (radius, sheet) in sheets)
                for (var j = 0; j < rule.Nodes.Length; j++)
                    into.Add(new(frame.PointAt(radius, cos, sin, Length * (rule.Nodes[j] - 0.5)), 2 * Math.PI / round * radius * sheet * Length * rule.Weights[j] * along));
        }
    }
}
