using System.Numerics;

namespace Fieldwright.Numerics;

public static partial class SpecialFunctions
{
    private const double EulerGamma = 0.57721566490153286061;
    private static readonly double Tiny = 1e-300;

    /// <summary>Modified Bessel function of the first kind I_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>I_n(z); infinite beyond |Re z| ≈ 709, where <see cref="BesselIScaled"/> still serves. Error as there.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    public static Complex BesselI(int order, Complex z) => BesselIScaled(order, z) * Math.Exp(Math.Abs(z.Real));

    /// <summary>Modified Bessel function of the first kind, scaled: e^(−|Re z|) I_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>The scaled value; relative error some 1e-14, growing with |z| as the phase of e^z loses digits, and near zeros on the imaginary axis relative to the neighbouring maximum.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    /// <source key="DLMF" at="10.25.2, 10.33.1, 10.40.5"/>
    public static Complex BesselIScaled(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z.Real < 0)
            return (order % 2 == 0 ? 1 : -1) * BesselIScaled(order, -z);
        return UsesSeries(order, z) ? SeriesI(order, z) * Math.Exp(-z.Real) : PairIK(order, z).I * Complex.Exp(new Complex(0, z.Imaginary));
    }

    /// <summary>Modified Bessel function of the second kind K_n(z), principal branch (cut along the negative real axis, value from above on it).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite and not zero.</param>
    /// <returns>K_n(z); zero where it underflows. Error as for <see cref="BesselKScaled"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or z is zero or not finite.</exception>
    public static Complex BesselK(int order, Complex z) => BesselKScaled(order, z) * Complex.Exp(-z);

    /// <summary>Modified Bessel function of the second kind, scaled: e^z K_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite and not zero; principal branch.</param>
    /// <returns>The scaled value; relative error some 1e-14.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or z is zero or not finite.</exception>
    /// <source key="DLMF" at="10.31.1, 10.34.2, 10.40.2"/>
    /// <source key="Temme1975"/>
    public static Complex BesselKScaled(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z == Complex.Zero)
            throw new ArgumentOutOfRangeException(nameof(z), z, "K is infinite at zero");
        if (z.Real >= 0)
            return ScaledK(order, z).K;
        // K_n(w e^{±iπ}) = (−1)ⁿ K_n(w) ∓ iπ I_n(w); here w = −z, and e^z = e^{−w}.
        var w = -z;
        var above = z.Imaginary >= 0;
        var second = ScaledK(order, w).K * Complex.Exp(-2 * w);
        var first = BesselIScaled(order, w) * Complex.Exp(new Complex(0, -w.Imaginary));
        return (order % 2 == 0 ? second : -second) + new Complex(0, above ? -Math.PI : Math.PI) * first;
    }

    /// <summary>The first two modified Bessel functions of the second kind, scaled: e^z K₀(z) and e^z K₁(z), for the price of one.</summary>
    /// <param name="z">Argument, finite, not zero, with Re z ≥ 0.</param>
    /// <returns>The scaled values; relative error some 1e-14.</returns>
    /// <exception cref="ArgumentOutOfRangeException">z is zero, not finite or in the left half-plane.</exception>
    /// <source key="DLMF" at="10.31.1, 10.40.2"/>
    /// <source key="Temme1975"/>
    public static (Complex Zero, Complex One) BesselKScaledPair(Complex z)
    {
        CheckBessel(0, z);
        if (z == Complex.Zero || z.Real < 0)
            throw new ArgumentOutOfRangeException(nameof(z), z, "must not be zero nor in the left half-plane");
        return ScaledK(0, z);
    }

    /// <summary>Bessel function of the first kind J_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>J_n(z); error some 1e-14 relative to the neighbouring maximum. Infinite beyond |Im z| ≈ 709.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    public static Complex BesselJ(int order, Complex z) => BesselJScaled(order, z) * Math.Exp(Math.Abs(z.Imaginary));

    /// <summary>Bessel function of the first kind, scaled: e^(−|Im z|) J_n(z).</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite, anywhere in the plane.</param>
    /// <returns>The scaled value.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative or z is not finite.</exception>
    /// <source key="DLMF" at="10.27.6"/>
    public static Complex BesselJScaled(int order, Complex z) =>
        PowerOfI(-order) * BesselIScaled(order, new Complex(-z.Imaginary, z.Real));

    /// <summary>Bessel function of the second kind Y_n(z), principal branch.</summary>
    /// <param name="order">n, zero or more.</param>
    /// <param name="z">Argument, finite and not zero.</param>
    /// <returns>Y_n(z); error some 1e-14 relative to the neighbouring maximum. Infinite beyond |Im z| ≈ 709.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The order is negative, or z is zero or not finite.</exception>
    /// <source key="DLMF" at="10.4.3, 10.27.8"/>
    public static Complex BesselY(int order, Complex z)
    {
        CheckBessel(order, z);
        if (z.Imaginary < 0)
            return Complex.Conjugate(BesselY(order, Complex.Conjugate(z)));
        // H⁽¹⁾ = J + iY = (2/πi) e^{−inπ/2} K_n(−iz), and for Im z ≥ 0 the argument −iz keeps Re ≥ 0.
        var hankel = new Complex(0, -2 / Math.PI) * PowerOfI(-order) * BesselK(order, new Complex(z.Imaginary, -z.Real));
        return z.Imaginary == 0 && z.Real > 0 ? hankel.Imaginary : (hankel - BesselJ(order, z)) / Complex.ImaginaryOne;
    }

    private static void CheckBessel(int order, Complex z)
    {
        Guard.NotNegative(order);
        if (!Complex.IsFinite(z))
            throw new ArgumentOutOfRangeException(nameof(z), z, "must be finite");
    }

    private static Complex PowerOfI(int n) => (n & 3) switch
    {
        0 => 1,
        1 => Complex.ImaginaryOne,
        2 => -1,
        _ => -Complex.ImaginaryOne,
    };

    // Below this the terms of the power series fall from the first, so nothing cancels in any direction.
    private static bool UsesSeries(int order, Complex z) => Square(z) <= 4 * (order + 1.0);

    private static double Square(Complex z) => z.Real * z.Real + z.Imaginary * z.Imaginary;

    // I_n(z) = (z/2)ⁿ/n! Σ (z²/4)^k / (k! (n+1)…(n+k))
    private static Complex SeriesI(int order, Complex z)
    {
        var half = z / 2;
        var lead = Complex.One;
        for (var k = 1; k <= order; k++)
            lead *= half / k;
        var q = half * half;
        Complex term = 1, sum = 1;
        for (var k = 1; k < 200; k++)
        {
            term *= q / (k * (order + (double)k));
            sum += term;
            if (Square(term) < 1e-36 * Square(sum))
                break;
        }
        return lead * sum;
    }

    // e^z K_n and e^z K_{n+1} for Re z ≥ 0; recurrence upward, which is stable.
    private static (Complex K, Complex Next) ScaledK(int order, Complex z)
    {
        var (k, next) = Square(z) <= 4 ? SeriesK(z) : Square(z) > 900 ? (HankelSum(0, z, 1), HankelSum(1, z, 1)) : ContinuedK(z);
        if (Square(z) > 900)
        {
            var root = Complex.Sqrt(Math.PI / (2 * z));
            k *= root;
            next *= root;
        }
        for (var n = 1; n <= order; n++)
            (k, next) = (next, k + 2 * n / z * next);
        return (k, next);
    }

    // K₀ and K₁ by their logarithmic series, times e^z; |z| ≤ 2.
    private static (Complex, Complex) SeriesK(Complex z)
    {
        var q = z * z / 4;
        var log = Complex.Log(z / 2);
        Complex k0 = -log - EulerGamma, sum1 = 0, term = 1;
        Complex i1 = 1;
        var psi = -EulerGamma; // ψ(k + 1)
        var k1 = 0.5 * (psi + psi + 1);
        Complex logFree = k1;
        for (var k = 1; k < 60; k++)
        {
            var harmonic = psi + 1.0 / k; // ψ(k + 1)
            term *= q / ((double)k * k);
            k0 += term * (harmonic - log);
            var term1 = term / (k + 1.0);
            i1 += term1;
            logFree += 0.5 * term1 * (harmonic + harmonic + 1 / (k + 1.0));
            psi = harmonic;
            if (Square(term) < 1e-40)
                break;
        }
        sum1 = 1 / z + z / 2 * (log * i1 - logFree);
        var e = Complex.Exp(z);
        return (k0 * e, sum1 * e);
    }

    // Steed's summation of Temme's continued fraction for order 0; |z| ≥ 2, Re z ≥ 0.
    private static (Complex, Complex) ContinuedK(Complex z)
    {
        var b = 2 * (1 + z);
        var d = 1 / b;
        Complex h = d, delta = d, q1 = 0, q2 = 1;
        const double a1 = 0.25;
        Complex q = a1, c = a1;
        var a = -a1;
        var s = 1 + q * delta;
        for (var i = 1; i < 10000; i++)
        {
            a -= 2 * i;
            c = -a * c / (i + 1);
            var qNew = (q1 - b * q2) / a;
            q1 = q2;
            q2 = qNew;
            q += c * qNew;
            b += 2;
            d = 1 / (b + a * d);
            delta = (b * d - 1) * delta;
            h += delta;
            var ds = q * delta;
            s += ds;
            if (Square(ds) < 1e-34 * Square(s))
                break;
        }
        h *= a1;
        var k0 = Complex.Sqrt(Math.PI / (2 * z)) / s;
        return (k0, k0 * (z + 0.5 - h) / z);
    }

    // Σ (sign)^k a_k(n)/z^k, summed while the terms fall.
    private static Complex HankelSum(int order, Complex z, int sign)
    {
        Complex sum = 1, term = 1;
        var mu = 4.0 * order * order;
        for (var k = 1; k < 200; k++)
        {
            var factor = sign * (mu - (2 * k - 1.0) * (2 * k - 1.0)) / (8.0 * k) / z;
            if (Square(factor) >= 1)
                break;
            term *= factor;
            sum += term;
            if (Square(term) < 1e-36)
                break;
        }
        return sum;
    }

    // e^(−z) I_n and e^z K_n for Re z ≥ 0 outside the range of the series: K upward, I_{n+1}/I_n by its continued fraction, and the Wronskian.
    private static (Complex I, Complex K) PairIK(int order, Complex z)
    {
        var (k, next) = ScaledK(order, z);
        if (Square(z) > 900 && 2.0 * order * order < Complex.Abs(z))
        {
            // Both exponentials, as the second is as large as the first near the imaginary axis.
            var root = 1 / Complex.Sqrt(2 * Math.PI * z);
            var second = HankelSum(order, z, 1) * Complex.Exp(-2 * z) * new Complex(0, z.Imaginary >= 0 ? 1 : -1);
            return (root * (HankelSum(order, z, -1) + (order % 2 == 0 ? second : -second)), k);
        }
        return (1 / (z * (next + RatioI(order + 1.0, z, 2) * k)), k);
    }

    // I_{ν+1}/I_ν = 1/(2(ν+1)/z + 1/(2(ν+2)/z + …)) by the modified Lentz algorithm; first = ν + 1. Step 2 gives b_j = 2(first + j)/z.
    private static Complex RatioI(double first, Complex z, double step)
    {
        Complex f = Tiny, c = f, d = 0;
        for (var j = 0; j < 2_000_000; j++)
        {
            var b = step * (first + j) / z;
            d = b + d;
            if (d == Complex.Zero)
                d = Tiny;
            d = 1 / d;
            c = b + 1 / c;
            if (c == Complex.Zero)
                c = Tiny;
            var change = c * d;
            f *= change;
            if (Square(change - 1) < 1e-32)
                return f;
        }
        throw new ArithmeticException("the continued fraction of a Bessel ratio did not converge");
    }
}
