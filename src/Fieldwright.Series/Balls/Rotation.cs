using System.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>Solid harmonics of a leaning frame in the axes of space: c_lm = e^(−jmα) Σ d^l_mn(β) c′_ln, the frame turned by β about y, then by α about z.</summary>
/// <remarks>d^l_mn from l to l + 1 by its recurrence of three terms, begun at l = max(m, |n|): stable, for it is the growing solution there.</remarks>
/// <source key="Varshalovich1988" at="functions d^l_mn: recurrence in l, extreme orders, symmetries"/>
internal static class Rotation
{
    /// <summary>Turns the coefficients of a real field.</summary>
    /// <param name="leaning">c′_lm for m ≥ 0 at l² + l + m.</param>
    /// <param name="degrees">Highest degree.</param>
    /// <param name="direction">Where the third axis of the leaning frame points; its first axis lies in the plane of that and z, its second across both.</param>
    /// <param name="c">Receives c_lm, orders of both signs.</param>
    public static void Into(ReadOnlySpan<Complex> leaning, int degrees, Vector direction, Span<Complex> c)
    {
        var lean = double.Hypot(direction.X, direction.Y);
        var halfCosine = Math.Sqrt(0.5 * (1 + direction.Z));
        var halfSine = halfCosine > 0.1 ? 0.5 * lean / halfCosine : Math.Sqrt(0.5 * (1 - direction.Z));
        Complex turn = 1, back = lean > 0 ? new Complex(direction.X / lean, -direction.Y / lean) : 1;
        c.Clear();
        for (var m = 0; m <= degrees; m++)
        {
            for (var n = -degrees; n <= degrees; n++)
                Add(leaning, degrees, m, n, direction.Z, halfCosine, halfSine, c);
            for (var l = m; l <= degrees; l++)
            {
                var value = turn * c[SolidHarmonics.Index(l, m)];
                c[SolidHarmonics.Index(l, m)] = value;
                if (m > 0)
                    c[SolidHarmonics.Index(l, -m)] = (m % 2 == 0 ? 1 : -1) * Complex.Conjugate(value);
            }
            turn *= back;
        }
    }

    private static void Add(ReadOnlySpan<Complex> leaning, int degrees, int m, int n, double cosine, double halfCosine, double halfSine, Span<Complex> c)
    {
        int size = Math.Abs(n), first = Math.Max(m, size);
        var odd = n < 0 && n % 2 != 0 ? -1 : 1;
        double before = 0, value = Start(m, n, halfCosine, halfSine);
        for (var l = first; l <= degrees; l++)
        {
            if (l > 0)
            {
                var given = leaning[SolidHarmonics.Index(l, size)];
                c[SolidHarmonics.Index(l, m)] += value * odd * (n < 0 ? Complex.Conjugate(given) : given);
            }
            if (l == 0)
            {
                (before, value) = (value, cosine);
                continue;
            }
            // l √((l+1)²−m²) √((l+1)²−n²) d^(l+1) = (2l+1)(l(l+1) cos β − mn) d^l − (l+1) √(l²−m²) √(l²−n²) d^(l−1)
            var next = ((2 * l + 1) * (l * (l + 1) * cosine - m * n) * value - (l + 1) * Root2(l, m) * Root2(l, size) * before) / (l * Root2(l + 1, m) * Root2(l + 1, size));
            (before, value) = (value, next);
        }
    }

    private static double Root2(int l, int m) => SolidHarmonics.Root(l - m) * SolidHarmonics.Root(l + m);

    // d^l_ln = (−1)^(l−n) √((2l)!/((l+n)!(l−n)!)) cos^(l+n)(β/2) sin^(l−n)(β/2); d_mn = (−1)^(m−n) d_nm = d_(−n)(−m).
    private static double Start(int m, int n, double halfCosine, double halfSine)
    {
        var size = Math.Abs(n);
        if (m >= size)
            return ((m - n) % 2 == 0 ? 1 : -1) * Extreme(m, n, halfCosine, halfSine);
        return n > 0 ? Extreme(n, m, halfCosine, halfSine) : ((size + m) % 2 == 0 ? 1 : -1) * Extreme(size, -m, halfCosine, halfSine);
    }

    private static double Extreme(int l, int n, double halfCosine, double halfSine) =>
        CoilExpansion.RootFactorial(2 * l) / (CoilExpansion.RootFactorial(l + n) * CoilExpansion.RootFactorial(l - n)) * Math.Pow(halfCosine, l + n) * Math.Pow(halfSine, l - n);
}
