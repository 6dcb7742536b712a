using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Coils;

/// <summary>Field of round currents about an axis at one point of the half-plane (r, z), per ampere.</summary>
/// <param name="VectorPotential">A_φ, positive along +φ, Wb/(m·A).</param>
/// <param name="Radial">B_r, T/A.</param>
/// <param name="Axial">B_z, T/A.</param>
/// <remarks>Plain values: exact sums and multiples by definition.</remarks>
public readonly record struct AxialField(double VectorPotential, double Radial, double Axial)
{
    /// <summary>Sum of two fields.</summary>
    /// <param name="a">First field.</param>
    /// <param name="b">Second field.</param>
    public static AxialField operator +(AxialField a, AxialField b) =>
        new(a.VectorPotential + b.VectorPotential, a.Radial + b.Radial, a.Axial + b.Axial);

    /// <summary>A field made <paramref name="s"/> times stronger.</summary>
    /// <param name="s">Factor.</param>
    /// <param name="a">Field.</param>
    public static AxialField operator *(double s, AxialField a) => new(s * a.VectorPotential, s * a.Radial, s * a.Axial);
}

/// <summary>One thin circular loop about the z axis: its coupling with another and its field.</summary>
/// <param name="Radius">Radius, m.</param>
/// <param name="Height">Height of its plane, m.</param>
/// <param name="Turns">Turns it stands for, positive along +φ; need not be whole.</param>
/// <remarks>All functions are closed forms in complete elliptic integrals; relative error below 1e-12, distant loops included, except where two
/// nearly equal inputs are subtracted (points nearer to the wire than 1e-4 of the radius lose digits in proportion).</remarks>
public readonly record struct Filament(double Radius, double Height, double Turns = 1)
{
    /// <summary>Mutual inductance of two coaxial circular filaments, in H.</summary>
    /// <param name="a">Radius of the first filament, m; positive and finite.</param>
    /// <param name="b">Radius of the second filament, m; positive and finite.</param>
    /// <param name="gap">Axial distance between their planes, m; either sign.</param>
    /// <returns>M in H, positive for currents of the same sense; relative error below 1e-12, distant filaments included.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A radius is not positive, or the filaments coincide (M has no finite value).</exception>
    /// <source key="Maxwell1873" at="art. 701"/>
    public static double MutualInductance(double a, double b, double gap)
    {
        CheckPair(a, b, gap);
        return Mutual(a, b, gap);
    }

    /// <summary>Change of the mutual inductance of two coaxial circular filaments with their axial distance, in H/m.</summary>
    /// <param name="a">Radius of the first filament, m; positive and finite.</param>
    /// <param name="b">Radius of the second filament, m; positive and finite.</param>
    /// <param name="gap">Axial distance from the first plane to the second, m; either sign.</param>
    /// <returns>∂M/∂gap. The force on the second loop along +z is I₁·I₂ times this.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A radius is not positive, or the filaments coincide.</exception>
    /// <source key="Maxwell1873" at="art. 701"/>
    public static double MutualInductanceGradient(double a, double b, double gap)
    {
        CheckPair(a, b, gap);
        return MutualGradient(a, b, gap);
    }

    /// <summary>Vector potential and flux density of a loop of one turn, per ampere.</summary>
    /// <param name="radius">Radius of the loop, m; positive.</param>
    /// <param name="r">Distance of the point from the axis, m; zero or more.</param>
    /// <param name="z">Height of the point above the loop's plane, m.</param>
    /// <returns>A_φ, B_r, B_z per ampere; right-handed: B_z is positive at the centre.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range, or the point lies on the wire.</exception>
    /// <source key="Smythe1968" at="sec. 7.10"/>
    public static AxialField FieldOfLoop(double radius, double r, double z)
    {
        Guard.Positive(radius);
        Guard.NotNegative(r);
        Guard.Finite(z);
        if (r == radius && z == 0)
            throw new ArgumentOutOfRangeException(nameof(r), r, "The point lies on the wire, where the field has no finite value.");
        return LoopField(radius, r, z);
    }

    /// <summary>Field of this filament per ampere in one turn.</summary>
    /// <param name="r">Distance of the point from the axis, m; zero or more.</param>
    /// <param name="z">Height of the point, m.</param>
    /// <returns>A_φ, B_r, B_z per ampere, turns included; accuracy as for <see cref="FieldOfLoop"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range, or the point lies on the wire.</exception>
    /// <source key="Smythe1968" at="sec. 7.10"/>
    public AxialField Field(double r, double z) => Turns * FieldOfLoop(Radius, r, z - Height);

    /// <summary>Inductance of one turn of round wire, in H.</summary>
    /// <param name="radius">Mean radius of the loop, m.</param>
    /// <param name="wireRadius">Radius of the wire, m; smaller than the loop's.</param>
    /// <param name="internalShare">Y: 1/4 for a current spread evenly over the wire, 0 for a current on its surface.</param>
    /// <returns>μ₀R(ln(8R/a) − 2 + Y); the error is of the order (a/R)² ln(R/a).</returns>
    /// <exception cref="ArgumentOutOfRangeException">A radius is out of range.</exception>
    /// <source key="Grover1946" at="circular ring of round wire"/>
    public static double SelfInductance(double radius, double wireRadius, double internalShare = 0.25)
    {
        Guard.Positive(radius);
        Guard.InRange(wireRadius, double.Epsilon, radius);
        Guard.InRange(internalShare, 0, 0.25);
        return PhysicalConstants.MagneticConstant * radius * (Math.Log(8 * radius / wireRadius) - 2 + internalShare);
    }

    internal static double Mutual(double a, double b, double z)
    {
        var e = new LoopIntegrals(a, b, z);
        return 16 * PhysicalConstants.MagneticConstant * a * a * b * b * e.Sigma * e.K / (e.S2 * Math.Sqrt(e.S2));
    }

    internal static double MutualGradient(double a, double b, double z)
    {
        var e = new LoopIntegrals(a, b, z);
        return 8 * PhysicalConstants.MagneticConstant * z * a * a * b * b * e.K * ((2 - e.M) * e.Sigma - 0.5) / (e.S2 * Math.Sqrt(e.S2) * e.D2);
    }

    internal static (double Potential, double Radial) LoopPotentialAndRadial(double a, double r, double z)
    {
        var e = new LoopIntegrals(a, r, z);
        var common = 4 / Math.PI * PhysicalConstants.MagneticConstant * a * a * r * e.K / (e.S2 * Math.Sqrt(e.S2));
        return (2 * common * e.Sigma, -common * z * ((2 - e.M) * e.Sigma - 0.5) / e.D2);
    }

    internal static AxialField LoopField(double a, double r, double z)
    {
        var e = new LoopIntegrals(a, r, z);
        var s = Math.Sqrt(e.S2);
        var scale = PhysicalConstants.MagneticConstant * e.K / (2 * Math.PI * s);
        var potential = scale * 16 * a * a * r * e.Sigma / e.S2;
        var radial = -scale * 8 * z * a * a * r * ((2 - e.M) * e.Sigma - 0.5) / (e.S2 * e.D2);
        double axial;
        if (e.D2 < 0.2 * e.S2)
            axial = 1 + (a * a - r * r - z * z) / e.D2 * e.EOverK;
        else
            axial = (2 * a * a - 8 * a * a * r * r / e.S2) / e.D2 + 16 * a * a * r * r * e.Sigma / (e.S2 * e.S2)
                    - e.M * (0.5 + e.M * e.Sigma) * 2 * a * (a - r) / e.D2;
        return new AxialField(potential, radial, scale * axial);
    }

    private static void CheckPair(double a, double b, double gap)
    {
        Guard.Positive(a);
        Guard.Positive(b);
        Guard.Finite(gap);
        if (a == b && gap == 0)
            throw new ArgumentOutOfRangeException(nameof(gap), gap, "The filaments coincide; their mutual inductance has no finite value.");
    }
}
