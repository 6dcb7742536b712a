using System.Collections.Concurrent;
using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>The response T_l of a ball at every frequency up to a highest one, and its slope in frequency, from a table: Chebyshev polynomials in the root of the frequency.</summary>
/// <remarks>T_l is a function of ω·σ, without a jump at zero, and T_l(−ω) is its conjugate; its poles lie on the imaginary axis, which the root turns away from the table. As many nodes as make the last
/// terms fall below 1e-9.</remarks>
internal sealed class BallSpectrum
{
    private const double Settled = 1e-9, Lowest = 1e-8;
    private const int FirstNodes = 32, MostNodes = 512;
    private static readonly ConcurrentDictionary<int, double[]> kept = new();
    private readonly double rootOfHighest;
    private readonly Complex[][] terms; // [l][k] of T_l(u), u = √|ω| from 0 to its highest

    /// <summary>Makes the table.</summary>
    /// <param name="body">The ball.</param>
    /// <param name="highest">Highest angular frequency, rad/s; positive.</param>
    /// <param name="degrees">Highest degree.</param>
    public BallSpectrum(SphereBody body, double highest, int degrees)
    {
        (Highest, Degrees, rootOfHighest) = (Guard.Positive(highest), degrees, Math.Sqrt(highest));
        terms = [];
        for (int nodes = FirstNodes; nodes <= MostNodes; nodes *= 2)
        {
            double[] cosines = Cosines(nodes);
            var at = Enumerable.Range(0, nodes).Select(j => new SphereResponse(body, Square(0.5 * rootOfHighest * (1 + cosines[2 * j + 1])) / (2 * Math.PI), degrees)).ToArray();
            terms = [.. Enumerable.Range(0, degrees + 1).Select(l => Transformed([.. at.Select(r => r.Ratios[l])]))];
            if (terms.All(t => t[^1].Magnitude + t[^2].Magnitude + t[^3].Magnitude < Settled))
                break;
        }

        // What is nothing at the end need not be summed.
        terms = [.. terms.Select(t => t[..(1 + Math.Max(1, Array.FindLastIndex(t, c => c.Magnitude > 1e-3 * Settled)))])];
    }

    /// <summary>Highest angular frequency of the table, rad/s.</summary>
    public double Highest { get; }

    /// <summary>Highest degree.</summary>
    public int Degrees { get; }

    /// <summary>T_l at an angular frequency of either sign, and dT_l/dω, s.</summary>
    /// <param name="l">Degree.</param>
    /// <param name="omega">Angular frequency, rad/s, not beyond the highest.</param>
    public (Complex Ratio, Complex Slope) At(int l, double omega)
    {
        double u = Math.Sqrt(Math.Abs(omega)), z = 2 * u / rootOfHighest - 1;
        // Clenshaw's sum of a series and of its slope.
        Complex b = 0, before = 0, d = 0, dBefore = 0;
        var of = terms[l];
        for (int k = of.Length - 1; k > 0; k--)
        {
            (d, dBefore) = (2 * b + 2 * z * d - dBefore, d);
            (b, before) = (of[k] + 2 * z * b - before, b);
        }

        Complex value = of[0] + z * b - before, inRoot = (b + z * d - dBefore) * (2 / rootOfHighest);
        Complex slope = inRoot / (2 * Math.Max(u, Lowest * rootOfHighest));
        return omega < 0 ? (Complex.Conjugate(value), -Complex.Conjugate(slope)) : (value, slope);
    }

    /// <summary>Coefficients of Chebyshev polynomials through values at their nodes cos(π(j+½)/n).</summary>
    public static Complex[] Transformed(ReadOnlySpan<Complex> values)
    {
        int count = values.Length;
        double[] cosines = Cosines(count);
        var found = new Complex[count];
        for (int k = 0; k < count; k++)
        {
            Complex sum = 0;
            for (int j = 0; j < count; j++)
                sum += values[j] * cosines[k * (2 * j + 1) % (4 * count)];
            found[k] = (k == 0 ? 1.0 : 2.0) / count * sum;
        }

        return found;
    }

    /// <summary>cos(πi/2n) for a whole turn, i from 0 to 4n − 1; nodes stand at the odd ones.</summary>
    public static double[] Cosines(int count) => kept.GetOrAdd(count, n => [.. Enumerable.Range(0, 4 * n).Select(i => Math.Cos(Math.PI * i / (2 * n)))]);

    private static double Square(double x) => x * x;
}
