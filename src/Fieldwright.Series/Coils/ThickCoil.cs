using System.Numerics;
using Fieldwright.Numerics;
using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Coils;

/// <summary>A round coil of rectangular section whose turns fill the section evenly, anywhere in space.</summary>
/// <remarks>Immutable; all members may be called from many threads. The current of a turn is taken as spread evenly over the section, so the
/// inductance differs from that of round wire by the small internal and spacing corrections; everything else is exact to the errors named. A coil with negative turns is wound the other way round its axis.</remarks>
/// <source key="DerbyOlbert2010" at="fields"/>
/// <source key="Maxwell1873" at="art. 701, couplings"/>
public sealed class ThickCoil : ICoil
{
    private readonly Frame frame;

    /// <summary>Describes a coil by its section in its own frame and the place of that frame.</summary>
    /// <param name="innerRadius">Inner radius of the winding, m; zero or more.</param>
    /// <param name="outerRadius">Outer radius, m; larger than the inner one.</param>
    /// <param name="zFrom">Lower end of the winding along its own axis, m, from <paramref name="position"/>.</param>
    /// <param name="zTo">Upper end, m; above the lower one.</param>
    /// <param name="turns">Turns; positive right-handed about the axis, negative for the other sense; not zero.</param>
    /// <param name="position">Origin of the coil's own frame, m; the origin when left out.</param>
    /// <param name="axis">Direction of the coil's axis, of any length; +z when left out.</param>
    /// <exception cref="ArgumentException">A size is out of range or the direction is zero.</exception>
    public ThickCoil(double innerRadius, double outerRadius, double zFrom, double zTo, double turns, Vector position = default, Vector? axis = null)
    {
        InnerRadius = Guard.NotNegative(innerRadius);
        OuterRadius = Guard.Positive(outerRadius);
        ZFrom = Guard.Finite(zFrom);
        ZTo = Guard.Finite(zTo);
        Turns = Guard.Finite(turns);
        if (outerRadius <= innerRadius)
            throw new ArgumentOutOfRangeException(nameof(outerRadius), outerRadius, FormattableString.Invariant($"must be larger than the inner radius {innerRadius}"));
        if (zTo <= zFrom)
            throw new ArgumentOutOfRangeException(nameof(zTo), zTo, FormattableString.Invariant($"must lie above the lower end {zFrom}"));
        if (turns == 0)
            throw new ArgumentOutOfRangeException(nameof(turns), turns, "must not be zero");
        frame = new Frame(position, axis);
        Section = new Section(innerRadius, outerRadius, zFrom, zTo);
    }

    /// <summary>Inner radius of the winding, m.</summary>
    public double InnerRadius { get; }

    /// <summary>Outer radius of the winding, m.</summary>
    public double OuterRadius { get; }

    /// <summary>Lower end along the axis, m from <see cref="Position"/>.</summary>
    public double ZFrom { get; }

    /// <summary>Upper end along the axis, m from <see cref="Position"/>.</summary>
    public double ZTo { get; }

    /// <summary>Turns, positive right-handed about <see cref="Axis"/>.</summary>
    public double Turns { get; }

    /// <summary>Origin of the coil's own frame, m.</summary>
    public Vector Position => frame.Origin;

    /// <summary>Unit vector along the coil's axis.</summary>
    public Vector Axis => frame.Axis;

    /// <summary>Whether the coil lies about the z axis of space, either way round.</summary>
    public bool IsAboutZ => Position.X == 0 && Position.Y == 0 && Math.Abs(Axis.Z) == 1;

    /// <summary>Middle of the winding, m.</summary>
    public Vector Centre => Position + 0.5 * (ZFrom + ZTo) * Axis;

    internal Section Section { get; }

    /// <summary>The section in the axes of space, for a coil about z.</summary>
    internal Section SectionAboutZ => Axis.Z > 0
        ? Section with { ZFrom = Position.Z + ZFrom, ZTo = Position.Z + ZTo }
        : Section with { ZFrom = Position.Z - ZTo, ZTo = Position.Z - ZFrom };

    /// <summary>Turns counted positive about +z, for a coil about z.</summary>
    internal double TurnsAboutZ => Axis.Z > 0 ? Turns : -Turns;

    /// <summary>Distance of a point from the winding, m; below zero inside it.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>The distance, m.</returns>
    public double Distance(Vector point)
    {
        var (r, z, _) = frame.Local(point);
        double across = Math.Max(InnerRadius - r, r - OuterRadius), along = Math.Max(ZFrom - z, z - ZTo);
        return across > 0 || along > 0 ? double.Hypot(Math.Max(across, 0), Math.Max(along, 0)) : Math.Max(across, along);
    }

    /// <summary>The same coil moved.</summary>
    /// <param name="by">Displacement, m.</param>
    /// <returns>A new coil.</returns>
    public ThickCoil Moved(Vector by) => new(InnerRadius, OuterRadius, ZFrom, ZTo, Turns, Position + by, Axis);

    /// <summary>Self-inductance, in H.</summary>
    /// <returns>L for current spread evenly over the section; relative error below 1e-10 (see the benchmark <c>series</c>).</returns>
    /// <source key="Grover1946" at="circular coils of rectangular section"/>
    public double SelfInductance() => Turns * Turns * SectionCoupling.Mutual(Section, Section);

    /// <summary>Field per ampere in the coil's own frame, inside the winding or out.</summary>
    /// <param name="r">Distance from the coil's axis, m; zero or more.</param>
    /// <param name="z">Height along the axis above <see cref="Position"/>, m.</param>
    /// <returns>A_φ, B_r, B_z per ampere of coil current; relative error of the whole vector below 1e-9, except within 1e-6 of the section's size of an edge.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A coordinate is out of range.</exception>
    /// <source key="DerbyOlbert2010" at="eqs. 2–4, integrated over the radius"/>
    public AxialField Field(double r, double z) => Turns * SectionField.At(Section, Guard.NotNegative(r), Guard.Finite(z));

    /// <summary>Flux density and vector potential per ampere at any point of space.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>B in T/A and A in Wb/(m·A), in the axes of space; accuracy as for <see cref="Field"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    public (Vector FluxDensity, Vector VectorPotential) FieldPerAmpere(Vector point)
    {
        var (r, z, outward) = frame.Local(point);
        var field = Field(r, z);
        return (field.Radial * outward + field.Axial * Axis, field.VectorPotential * Vector.Cross(Axis, outward));
    }

    /// <summary>Flux density at any point of space, T.</summary>
    /// <param name="point">Point, m.</param>
    /// <param name="current">Current, A.</param>
    /// <returns>B in the axes of space.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    public Vector FluxDensity(Vector point, double current) => current * FieldPerAmpere(point).FluxDensity;

    /// <summary>Peak phasor of the flux density at any point of space, T.</summary>
    /// <param name="point">Point, m.</param>
    /// <param name="current">Peak phasor of the current, exp(+jωt), A.</param>
    /// <returns>B in the axes of space.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The point is not finite.</exception>
    public ComplexVector FluxDensity(Vector point, Complex current) => ComplexVector.Scaled(current, FieldPerAmpere(point).FluxDensity);

    /// <inheritdoc/>
    Vector ICurrents.FluxDensity(Vector point) => FieldPerAmpere(point).FluxDensity;

    /// <inheritdoc/>
    Vector ICoil.VectorPotential(Vector point) => FieldPerAmpere(point).VectorPotential;

    /// <inheritdoc/>
    public void AddElements(int refinement, ICollection<CurrentElement> into)
    {
        ArgumentNullException.ThrowIfNull(into);
        int round = 12 << refinement, across = 4 + 3 * refinement;
        var loops = Filaments(across, across);
        for (var k = 0; k < round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * (k + 0.5) / round);
            var along = frame.Along(cos, sin);
            foreach (var loop in loops)
                into.Add(new(frame.PointAt(loop.Radius, cos, sin, loop.Height), 2 * Math.PI / round * loop.Radius * loop.Turns * along));
        }
    }

    /// <summary>The coil as loops at Gauss points of its section, in its own frame.</summary>
    /// <param name="radialCount">Loops across the build; 1 or more.</param>
    /// <param name="axialCount">Loops along the axis; 1 or more.</param>
    /// <returns>Loops whose turns add up to those of the coil; sums over them converge exponentially with the counts for points off the winding.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A count is not positive.</exception>
    public IReadOnlyList<Filament> Filaments(int radialCount, int axialCount)
    {
        GaussRule radial = GaussRule.WithNodes(Guard.Positive(radialCount)), axial = GaussRule.WithNodes(Guard.Positive(axialCount));
        var loops = new Filament[radialCount * axialCount];
        for (var i = 0; i < radialCount; i++)
            for (var j = 0; j < axialCount; j++)
                loops[i * axialCount + j] = new Filament(InnerRadius + Section.Build * radial.Nodes[i], ZFrom + Section.Height * axial.Nodes[j],
                    Turns * radial.Weights[i] * axial.Weights[j]);
        return loops;
    }

    /// <summary>Mutual inductance of two coils, in H.</summary>
    /// <param name="first">First coil.</param>
    /// <param name="second">Second coil; coaxial coils may touch or overlap, others must not overlap.</param>
    /// <returns>M, positive when currents of positive sense in both add their fluxes. Coaxial: relative error below 1e-10. Otherwise see
    /// <see cref="CoilPair"/>, which also gives the error reached.</returns>
    /// <exception cref="NotConvergedException">Coils that are not coaxial come so near that the integral does not settle.</exception>
    /// <source key="Maxwell1873" at="art. 701, integrated over both sections"/>
    public static double MutualInductance(ThickCoil first, ThickCoil second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        return first.TryShiftTo(second, out var section, out var sense)
            ? sense * first.Turns * second.Turns * SectionCoupling.Mutual(first.Section, section)
            : new CoilPair(first, second).MutualInductance().Value;
    }

    /// <summary>Force on the second of two coils, N.</summary>
    /// <param name="first">Coil that stays.</param>
    /// <param name="second">Coil whose force is asked.</param>
    /// <param name="firstCurrent">Current of the first coil, A.</param>
    /// <param name="secondCurrent">Current of the second coil, A.</param>
    /// <returns>Force in the axes of space; the opposite acts on the first coil. For alternating currents take half the real part of I₁·conj(I₂) as the product of the two.</returns>
    /// <exception cref="NotConvergedException">Coils that are not coaxial come so near that the integral does not settle.</exception>
    /// <source key="Maxwell1873" at="art. 701, integrated over both sections"/>
    public static Vector Force(ThickCoil first, ThickCoil second, double firstCurrent, double secondCurrent)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        var product = Guard.Finite(firstCurrent) * Guard.Finite(secondCurrent);
        return first.TryShiftTo(second, out var section, out var sense)
            ? product * sense * first.Turns * second.Turns * SectionCoupling.MutualGradient(first.Section, section) * first.Axis
            : product * new CoilPair(first, second).Force().Value;
    }

    internal Frame Frame => frame;

    // Brings a coaxial coil into this one's frame.
    private bool TryShiftTo(ThickCoil other, out Section section, out int sense)
    {
        var coaxial = frame.IsCoaxial(other.frame, OuterRadius + other.OuterRadius, out var z, out sense);
        section = sense > 0
            ? new Section(other.InnerRadius, other.OuterRadius, z + other.ZFrom, z + other.ZTo)
            : new Section(other.InnerRadius, other.OuterRadius, z - other.ZTo, z - other.ZFrom);
        return coaxial;
    }
}
