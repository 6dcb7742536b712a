using System.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>
/// Solid harmonics r^l C_lm and r^(−l−1) C_lm with C_lm = √((l−m)!/(l+m)!) P_l^m(cos θ) e^(jmφ) and the phase (−1)^m of Condon and Shortley,
/// so that C_l0 = P_l and C_l,−m = (−1)^m conj C_lm. Coefficients are stored at l² + l + m.
/// </summary>
/// <remarks>The slopes are again harmonics, one degree lower or higher: (∂x ± j∂y) and ∂z only shift degree and order.</remarks>
/// <source key="EptonDembart1995"/>
internal static class SolidHarmonics
{
    public const int HighestDegree = 96;
    private static readonly double[] Roots = [.. Enumerable.Range(0, 4 * HighestDegree + 8).Select(i => Math.Sqrt(i))];

    public static int Index(int l, int m) => l * l + l + m;

    public static int Count(int degrees) => (degrees + 1) * (degrees + 1);

    /// <summary>Square root of a whole number, from a table.</summary>
    public static double Root(int n) => Roots[n];

    /// <summary>r^l C_lm for m ≥ 0 at one point, every degree up to the given one.</summary>
    public static void RegularInto(Vector point, int degrees, Span<Complex> values)
    {
        // C_mm from C_(m−1)(m−1), then up in l: √(l²−m²) R_l = (2l−1) z R_(l−1) − √((l−1)²−m²) r² R_(l−2).
        var across = new Complex(point.X, point.Y);
        double z = point.Z, r2 = point.X * point.X + point.Y * point.Y + z * z;
        Complex diagonal = 1;
        for (var m = 0; m <= degrees; m++)
        {
            if (m > 0)
                diagonal *= -Roots[2 * m - 1] / Roots[2 * m] * across;
            Complex before = 0, value = diagonal;
            values[Index(m, m)] = value;
            for (var l = m + 1; l <= degrees; l++)
            {
                var root = Roots[l - m] * Roots[l + m];
                var next = ((2 * l - 1) * z / root) * value - (Roots[l - 1 - m] * Roots[l - 1 + m] * r2 / root) * before;
                (before, value) = (value, next);
                values[Index(l, m)] = value;
            }
        }
        for (var l = 1; l <= degrees; l++)
            for (var m = 1; m <= l; m++)
                values[Index(l, -m)] = (m % 2 == 0 ? 1 : -1) * Complex.Conjugate(values[Index(l, m)]);
    }

    /// <summary>Slope of Σ c_lm r^l C_lm: coefficients of its derivative along x, y and z, one degree fewer.</summary>
    /// <param name="c">Coefficients up to <paramref name="degrees"/>.</param>
    /// <param name="degrees">Highest degree of c.</param>
    /// <param name="x">Receives those of ∂x up to degrees − 1.</param>
    /// <param name="y">Receives those of ∂y.</param>
    /// <param name="z">Receives those of ∂z.</param>
    public static void SlopeInto(ReadOnlySpan<Complex> c, int degrees, Span<Complex> x, Span<Complex> y, Span<Complex> z)
    {
        for (var l = 0; l < degrees; l++)
        {
            var row = Index(l + 1, 0);
            for (var m = -l; m <= l; m++)
            {
                var plus = Roots[l - m + 2] * Roots[l - m + 1] * c[row + m - 1];
                var minus = -Roots[l + m + 2] * Roots[l + m + 1] * c[row + m + 1];
                var i = Index(l, m);
                x[i] = 0.5 * (plus + minus);
                var difference = 0.5 * (plus - minus);
                y[i] = new Complex(difference.Imaginary, -difference.Real); // over j
                z[i] = Roots[l + 1 - m] * Roots[l + 1 + m] * c[row + m];
            }
        }
    }

    /// <summary>ψ-slope H = ∇Σ c_lm r^l C_lm at a point.</summary>
    public static ComplexVector RegularSlope(ReadOnlySpan<Complex> c, int degrees, Vector point)
    {
        var values = new Complex[Count(degrees)];
        RegularInto(point, degrees, values);
        var sum = default(ComplexVector);
        // Same ladder as above, applied to the functions: ∂z R_lm = √(l²−m²) R_(l−1)m and so on.
        for (var l = 1; l <= degrees; l++)
            for (var m = -l; m <= l; m++)
            {
                var a = c[Index(l, m)];
                var z = Math.Abs(m) <= l - 1 ? Roots[l - m] * Roots[l + m] * values[Index(l - 1, m)] : 0;
                var plus = m + 1 <= l - 1 ? Roots[l - m] * Roots[l - m - 1] * values[Index(l - 1, m + 1)] : 0;
                var minus = m - 1 >= 1 - l ? -Roots[l + m] * Roots[l + m - 1] * values[Index(l - 1, m - 1)] : 0;
                sum += Of(a, plus, minus, z);
            }
        return sum;
    }

    /// <summary>H = ∇Σ d_lm r^(−l−1) C_lm at a point off the centre.</summary>
    public static ComplexVector IrregularSlope(ReadOnlySpan<Complex> d, int degrees, Vector point)
    {
        var values = new Complex[Count(degrees + 1)];
        var r2 = Vector.Dot(point, point);
        // Inversion: r^(−l−1) C_lm at r is r^l C_lm at r/r², over r.
        RegularInto(1 / r2 * point, degrees + 1, values);
        var over = 1 / Math.Sqrt(r2);
        var sum = default(ComplexVector);
        // ∂z S_lm = −√((l+1)²−m²) S_(l+1)m, (∂x ± j∂y) S_lm = ±√((l±m+2)(l±m+1)) S_(l+1)(m±1).
        for (var l = 0; l <= degrees; l++)
            for (var m = -l; m <= l; m++)
            {
                var a = over * d[Index(l, m)];
                var z = -Roots[l + 1 - m] * Roots[l + 1 + m] * values[Index(l + 1, m)];
                var plus = Roots[l + m + 2] * Roots[l + m + 1] * values[Index(l + 1, m + 1)];
                var minus = -Roots[l - m + 2] * Roots[l - m + 1] * values[Index(l + 1, m - 1)];
                sum += Of(a, plus, minus, z);
            }
        return sum;
    }

    private static ComplexVector Of(Complex a, Complex plus, Complex minus, Complex z)
    {
        var difference = 0.5 * a * (plus - minus);
        return new ComplexVector(0.5 * a * (plus + minus), new Complex(difference.Imaginary, -difference.Real), a * z);
    }
}
