using Fieldwright.Matter;

namespace Fieldwright.Series.Magnets;

/// <summary>Point dipoles: what every magnet and coil looks like from afar.</summary>
/// <remarks>Exact for points; for a body of size s at distance r the next term is smaller by about (s/r)².</remarks>
/// <source key="Smythe1968" at="magnetic doublets"/>
public static class Dipole
{
    /// <summary>Flux density of a dipole at the origin, T.</summary>
    /// <param name="moment">Moment, A·m².</param>
    /// <param name="point">Point, m; not the origin.</param>
    /// <returns>μ₀/(4πr³)·(3(m·r̂)r̂ − m).</returns>
    /// <exception cref="ArgumentException">The point is the origin or not finite.</exception>
    public static Vector FluxDensity(Vector moment, Vector point)
    {
        var e = point.Unit();
        var r = point.Length;
        return PhysicalConstants.MagneticConstant / (4 * Math.PI * r * r * r) * (3 * Vector.Dot(moment, e) * e - moment);
    }

    /// <summary>Force of a dipole at the origin on a second one, N.</summary>
    /// <param name="first">Moment at the origin, A·m².</param>
    /// <param name="second">Moment of the other, A·m².</param>
    /// <param name="separation">Place of the second, m; not the origin.</param>
    /// <returns>3μ₀/(4πr⁴)·((m₁·r̂)m₂ + (m₂·r̂)m₁ + (m₁·m₂)r̂ − 5(m₁·r̂)(m₂·r̂)r̂), on the second.</returns>
    /// <exception cref="ArgumentException">The separation is zero or not finite.</exception>
    public static Vector Force(Vector first, Vector second, Vector separation)
    {
        var e = separation.Unit();
        var r = separation.Length;
        double a = Vector.Dot(first, e), b = Vector.Dot(second, e);
        return 3 * PhysicalConstants.MagneticConstant / (4 * Math.PI * r * r * r * r)
            * (a * second + b * first + (Vector.Dot(first, second) - 5 * a * b) * e);
    }

    /// <summary>Torque on a dipole in a field, N·m.</summary>
    /// <param name="moment">Moment, A·m².</param>
    /// <param name="fluxDensity">Flux density there, T.</param>
    /// <returns>m×B.</returns>
    public static Vector Torque(Vector moment, Vector fluxDensity) => Vector.Cross(moment, fluxDensity);
}
