using System.Numerics;

namespace Fieldwright.Series.Rings;

/// <summary>LDLᵀ of the dense complex symmetric matrix 1 + jωL, L real, symmetric and positive definite.</summary>
/// <remarks>No pivoting is needed: the growth of such matrices is bounded below 3. Immutable after creation; solves may run in parallel.</remarks>
/// <source key="Higham1998"/>
internal sealed class SymmetricFactor
{
    private readonly int n;
    private readonly double[] re, im;      // unit lower factor, row by row
    private readonly Complex[] pivots;

    private SymmetricFactor(int n)
    {
        this.n = n;
        re = new double[n * n];
        im = new double[n * n];
        pivots = new Complex[n];
    }

    /// <summary>Factors 1 + jωL of order n; <paramref name="inductance"/> is row by row and only its lower triangle is read.</summary>
    public static SymmetricFactor Create(int n, ReadOnlySpan<double> inductance, double omega)
    {
        var f = new SymmetricFactor(n);
        double[] wr = new double[n], wi = new double[n];
        for (var i = 0; i < n; i++)
        {
            // w = row i of L·D, then row i of L itself.
            for (var j = 0; j < i; j++)
            {
                var (dr, di) = Dot(wr.AsSpan(0, j), wi.AsSpan(0, j), f.re.AsSpan(j * n, j), f.im.AsSpan(j * n, j));
                wr[j] = -dr;
                wi[j] = omega * inductance[i * n + j] - di;
            }
            Complex pivot = new(1, omega * inductance[i * n + i]);
            for (var j = 0; j < i; j++)
            {
                var w = new Complex(wr[j], wi[j]);
                var l = w / f.pivots[j];
                f.re[i * n + j] = l.Real;
                f.im[i * n + j] = l.Imaginary;
                pivot -= w * l;
            }
            f.pivots[i] = pivot;
        }
        return f;
    }

    /// <summary>Solves in place.</summary>
    public void SolveInPlace(Span<Complex> x)
    {
        for (var i = 0; i < n; i++)
        {
            var sum = x[i];
            for (var j = 0; j < i; j++)
                sum -= new Complex(re[i * n + j], im[i * n + j]) * x[j];
            x[i] = sum;
        }
        for (var i = 0; i < n; i++)
            x[i] /= pivots[i];
        for (var i = n - 1; i >= 0; i--)
        {
            var known = x[i];
            for (var j = 0; j < i; j++)
                x[j] -= new Complex(re[i * n + j], im[i * n + j]) * known;
        }
    }

    // Σ w·l, unconjugated, real and imaginary planes apart.
    private static (double, double) Dot(ReadOnlySpan<double> wr, ReadOnlySpan<double> wi, ReadOnlySpan<double> lr, ReadOnlySpan<double> li)
    {
        var width = Vector<double>.Count;
        Vector<double> real = default, imaginary = default;
        var k = 0;
        for (; k + width <= wr.Length; k += width)
        {
            Vector<double> a = new(wr[k..]), b = new(wi[k..]), c = new(lr[k..]), d = new(li[k..]);
            real += a * c - b * d;
            imaginary += a * d + b * c;
        }
        double re = System.Numerics.Vector.Sum(real), im = System.Numerics.Vector.Sum(imaginary);
        for (; k < wr.Length; k++)
        {
            re += wr[k] * lr[k] - wi[k] * li[k];
            im += wr[k] * li[k] + wi[k] * lr[k];
        }
        return (re, im);
    }
}
