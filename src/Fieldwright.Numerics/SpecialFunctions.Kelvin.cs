using System.Numerics;

namespace Fieldwright.Numerics;

public static partial class SpecialFunctions
{
    private static readonly double RootHalf = Math.Sqrt(0.5);

    /// <summary>Kelvin functions ber_n(x) (real part) and bei_n(x) (imaginary part): J_n(x e^{3πi/4}).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="x">Argument, finite and zero or more; they grow as e^{x/√2}, and overflow beyond x ≈ 1000.</param>
    /// <returns>ber_n + i bei_n; error some 1e-14 of the modulus.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order or x is negative, or x is not finite.</exception>
    /// <source key="DLMF" at="10.61.1"/>
    public static Complex KelvinBerBei(int order, double x)
    {
        Guard.NotNegative(x);
        return BesselJ(order, new Complex(-x * RootHalf, x * RootHalf));
    }

    /// <summary>Kelvin functions ker_n(x) (real part) and kei_n(x) (imaginary part): e^{−nπi/2} K_n(x e^{πi/4}).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="x">Argument, finite and positive.</param>
    /// <returns>ker_n + i kei_n; error some 1e-14 of the modulus.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or x is not positive and finite.</exception>
    /// <source key="DLMF" at="10.61.2"/>
    public static Complex KelvinKerKei(int order, double x)
    {
        Guard.Positive(x);
        return PowerOfI(-order) * BesselK(order, new Complex(x * RootHalf, x * RootHalf));
    }
}
