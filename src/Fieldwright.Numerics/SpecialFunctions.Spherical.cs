using System.Numerics;

namespace Fieldwright.Numerics;

public static partial class SpecialFunctions
{
    /// <summary>Modified spherical Bessel function of the first kind i_n(z) = √(π/2z) I_{n+½}(z), so that i₀ = sinh z / z.</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>i_n(z); infinite beyond |Re z| ≈ 709, where <see cref="SphericalIScaled"/> still serves.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    public static Complex SphericalI(int order, Complex z) => SphericalIScaled(order, z) * Math.Exp(Math.Abs(z.Real));

    /// <summary>Modified spherical Bessel function of the first kind, scaled: e^(−|Re z|) i_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>The scaled value; relative error some 1e-14, near zeros on the imaginary axis relative to the neighbouring maximum.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    /// <source key="DLMF" at="10.47.7, 10.50.1, 10.53.3"/>
    public static Complex SphericalIScaled(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z.Real < 0)
            return (order % 2 == 0 ? 1 : -1) * SphericalIScaled(order, -z);
        if (Square(z) <= 2 * (2 * order + 3.0))
        {
            // zⁿ/(2n+1)!! Σ (z²/2)^k / (k! (2n+3)(2n+5)…(2n+2k+1)): terms fall from the first.
            var lead = Complex.One;
            for (var k = 1; k <= order; k++)
                lead *= z / (2 * k + 1);
            var q = z * z / 2;
            Complex term = 1, sum = 1;
            for (var k = 1; k < 200; k++)
            {
                term *= q / (k * (2 * (order + k) + 1.0));
                sum += term;
                if (Square(term) < 1e-36 * Square(sum))
                    break;
            }
            return lead * sum * Math.Exp(-z.Real);
        }
        // Wronskian i_n k_{n+1} + i_{n+1} k_n = π/(2z²).
        var (current, next) = ScaledSphericalK(order, z);
        var value = Math.PI / (2 * z * z * (next + SphericalIRatio(order, z) * current));
        return value * Complex.Exp(new Complex(0, z.Imaginary));
    }

    /// <summary>Ratio i_{n+1}(z)/i_n(z), by its continued fraction: neither overflows nor cancels, however large z or n.</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite.</param>
    /// <returns>The ratio, relative error some 1e-15; 0 at z = 0. On the imaginary axis it has poles.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    /// <source key="DLMF" at="10.51.4"/>
    public static Complex SphericalIRatio(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z == Complex.Zero)
            return 0;
        if (order == 0 && Math.Abs(z.Real) > 1)
        {
            // coth z − 1/z, with coth from the falling exponential.
            var w = z.Real > 0 ? z : -z;
            var e = Complex.Exp(-2 * w);
            var ratio = (1 + e) / (1 - e) - 1 / w;
            return z.Real > 0 ? ratio : -ratio;
        }
        if (Math.Abs(z.Real) > 50 && Math.Abs(z.Real) > order)
        {
            // The fraction takes some |z| steps; upward from n = 0 loses no more than n²/|z| digits' worth here.
            var ratio = SphericalIRatio(0, z);
            if (order * (order + 1.0) < Complex.Abs(z))
            {
                for (var n = 1; n <= order; n++)
                    ratio = 1 / ratio - (2 * n + 1) / z;
                return ratio;
            }
        }
        return RatioI(order + 1.5, z, 2);
    }

    /// <summary>Modified spherical Bessel function of the second kind k_n(z) = √(π/2z) K_{n+½}(z), so that k₀ = (π/2) e^{−z}/z.</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite and not zero.</param>
    /// <returns>k_n(z); zero where it underflows.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or z is zero or not finite.</exception>
    public static Complex SphericalK(int order, Complex z) => SphericalKScaled(order, z) * Complex.Exp(-z);

    /// <summary>Modified spherical Bessel function of the second kind, scaled: e^z k_n(z), a polynomial in 1/z.</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite and not zero.</param>
    /// <returns>The scaled value; relative error some 1e-15 for Re z ≥ 0, where the recurrence is stable; digits are lost in the left half-plane for n above |z|.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or z is zero or not finite.</exception>
    /// <source key="DLMF" at="10.47.9, 10.49.12"/>
    public static Complex SphericalKScaled(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z == Complex.Zero)
            throw new ArgumentOutOfRangeException(nameof(z), z, "k is infinite at zero");
        return ScaledSphericalK(order, z).K;
    }

    private static (Complex K, Complex Next) ScaledSphericalK(int order, Complex z)
    {
        var k = Math.PI / (2 * z);
        var next = k * (1 + 1 / z);
        for (var n = 1; n <= order; n++)
            (k, next) = (next, k + (2 * n + 1) / z * next);
        return (k, next);
    }
}
