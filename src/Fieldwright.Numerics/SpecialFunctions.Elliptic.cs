namespace Fieldwright.Numerics;

/// <summary>
/// Special functions of field theory that need more care than a textbook formula: complete elliptic integrals by parameter and by complementary parameter,
/// Bessel functions of complex argument, Kelvin functions, modified spherical Bessel functions, Legendre functions. Pure functions: threads may share them.
/// </summary>
public static partial class SpecialFunctions
{
    /// <summary>Complete elliptic integral of the first kind K(m) = ∫₀^{π/2} dθ / √(1 − m sin²θ).</summary>
    /// <param name="m">Parameter m = k², below 1; negative ones allowed. Close to 1 use <see cref="EllipticKFromComplement"/>, since 1 − m has lost its digits.</param>
    /// <returns>K, relative error below 1e-15.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m is not below 1.</exception>
    public static double EllipticK(double m) => EllipticKFromComplement(Complement(m));

    /// <summary>Complete elliptic integral of the first kind from the complementary parameter.</summary>
    /// <param name="complement">m₁ = 1 − m, positive, however small.</param>
    /// <returns>K(1 − m₁), relative error below 1e-15.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m₁ is not positive: K is infinite at m₁ = 0.</exception>
    /// <source key="Bulirsch1965"/>
    public static double EllipticKFromComplement(double complement) => CompleteElliptic(Math.Sqrt(Guard.Positive(complement)), 1, 1, 1);

    /// <summary>Complete elliptic integral of the second kind E(m) = ∫₀^{π/2} √(1 − m sin²θ) dθ.</summary>
    /// <param name="m">Parameter m = k², at most 1.</param>
    /// <returns>E, relative error below 1e-15.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m is above 1.</exception>
    public static double EllipticE(double m) => m == 1 ? 1 : EllipticEFromComplement(Complement(m));

    /// <summary>Complete elliptic integral of the second kind from the complementary parameter.</summary>
    /// <param name="complement">m₁ = 1 − m, zero or more.</param>
    /// <returns>E(1 − m₁), relative error below 1e-15.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m₁ is negative.</exception>
    /// <source key="Bulirsch1965"/>
    public static double EllipticEFromComplement(double complement) =>
        Guard.NotNegative(complement) == 0 ? 1 : CompleteElliptic(Math.Sqrt(complement), 1, 1, complement);

    /// <summary>B = (E − m₁K)/m = ∫₀^{π/2} cos²θ / √(1 − m sin²θ) dθ, without the cancellation of the difference at small m.</summary>
    /// <param name="complement">m₁ = 1 − m, zero or more.</param>
    /// <returns>B, relative error below 1e-15; π/4 at m = 0, 1 at m = 1.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m₁ is negative.</exception>
    /// <source key="Bulirsch1965"/>
    public static double EllipticBFromComplement(double complement) =>
        Guard.NotNegative(complement) == 0 ? 1 : CompleteElliptic(Math.Sqrt(complement), 1, 1, 0);

    /// <summary>D = (K − E)/m = ∫₀^{π/2} sin²θ / √(1 − m sin²θ) dθ, without the cancellation of the difference at small m.</summary>
    /// <param name="complement">m₁ = 1 − m, positive.</param>
    /// <returns>D, relative error below 1e-15; π/4 at m = 0.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m₁ is not positive.</exception>
    /// <source key="Bulirsch1965"/>
    public static double EllipticDFromComplement(double complement) => CompleteElliptic(Math.Sqrt(Guard.Positive(complement)), 1, 0, 1);

    /// <summary>
    /// C = ((2 − m)K − 2E)/m² = ∫₀^{π/2} sin²θ cos²θ / (1 − m sin²θ)^{3/2} dθ, by a Landen step, so that it cancels nowhere. Maxwell's mutual inductance
    /// of coaxial circles is μ₀ √(ab) k³ C, with k² = m = 4ab/((a + b)² + z²) and m₁ = ((a − b)² + z²)/((a + b)² + z²).
    /// </summary>
    /// <param name="complement">m₁ = 1 − m, positive; given from the geometry, not as a difference, it keeps its digits for circles that nearly touch.</param>
    /// <returns>C, relative error below 2e-15; π/16 at m = 0.</returns>
    /// <exception cref="ArgumentOutOfRangeException">m₁ is not positive.</exception>
    /// <source key="Maxwell1873" at="art. 701, second form"/>
    public static double EllipticCFromComplement(double complement)
    {
        var kc = Math.Sqrt(Guard.Positive(complement));
        var s = 1 + kc;
        return 2 / (s * s * s) * EllipticDFromComplement(4 * kc / (s * s));
    }

    /// <summary>
    /// General complete elliptic integral cel(kc, p, a, b) = ∫₀^{π/2} (a cos²θ + b sin²θ) / ((cos²θ + p sin²θ) √(cos²θ + kc² sin²θ)) dθ.
    /// Fields of solenoids and the integral of the third kind are single calls of it.
    /// </summary>
    /// <param name="kc">Complementary modulus √(1 − k²); positive.</param>
    /// <param name="p">Characteristic, positive; Π(n, m) has p = 1 − n, a = b = 1.</param>
    /// <param name="a">Weight of cos²θ; of the same sign as <paramref name="b"/> nothing cancels.</param>
    /// <param name="b">Weight of sin²θ.</param>
    /// <returns>The integral, relative error below 1e-15 for a and b of one sign.</returns>
    /// <exception cref="ArgumentOutOfRangeException">kc or p is not positive, or a or b is not finite.</exception>
    /// <source key="Bulirsch1965"/>
    public static double CompleteElliptic(double kc, double p, double a, double b)
    {
        Guard.Positive(kc);
        Guard.Positive(p);
        Guard.Finite(a);
        Guard.Finite(b);
        var e = kc;
        var m = 1.0;
        p = Math.Sqrt(p);
        b /= p;
        while (true)
        {
            var f = a;
            a += b / p;
            var g = e / p;
            b = 2 * (b + f * g);
            p += g;
            g = m;
            m += kc;
            // Convergence is quadratic: 1e-8 now is 1e-16 after the step just taken.
            if (Math.Abs(g - kc) <= 1e-8 * g)
                return Math.PI / 2 * (b + a * m) / (m * (m + p));
            kc = 2 * Math.Sqrt(e);
            e = kc * m;
        }
    }

    private static double Complement(double m)
    {
        Guard.Finite(m);
        return m < 1 ? 1 - m : throw new ArgumentOutOfRangeException(nameof(m), m, "must be below 1");
    }
}
