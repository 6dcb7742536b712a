using System.Numerics;

namespace Fieldwright.Fields.Motion;

/// <summary>Generalised minimal residuals for (S + C)·x = b with S factored, as (I + S⁻¹C)·x = S⁻¹b.</summary>
/// <source key="SaadSchultz1986" />
/// <remarks>Without a restart. With moving conductors the number of steps follows the number of space harmonics that the motion shifts in frequency, some tens.
/// C may be linear over the reals only, as the slope of saturating steel is: the vectors are then taken as pairs of real ones.</remarks>
internal static class Krylov
{
    private const int MostSteps = 400;
    private const double Tolerance = 1e-9;

    /// <summary>Solves; throws if the residual does not fall to the tolerance times its start.</summary>
    /// <param name="solve">x ↦ S⁻¹x.</param>
    /// <param name="multiply">x ↦ C·x.</param>
    /// <param name="right">b.</param>
    /// <param name="overReals">Whether C (or S⁻¹) is linear over the reals only.</param>
    /// <param name="tolerance">Residual over its start at which to stop.</param>
    public static Complex[] Solve(Func<Complex[], Complex[]> solve, Func<Complex[], Complex[]> multiply, Complex[] right, bool overReals = false, double tolerance = Tolerance)
    {
        var start = solve(right);
        var beta = Norm(start);
        if (beta == 0) return start;
        List<Complex[]> basis = [Scaled(start, 1 / beta)];
        var columns = new List<Complex[]>();
        var rotations = new List<(double Cos, Complex Sin)>();
        List<Complex> g = [beta];
        var history = new List<double>();
        for (var k = 0; k < MostSteps; k++)
        {
            var w = solve(multiply(basis[k]));
            for (var i = 0; i < w.Length; i++) w[i] += basis[k][i];
            var h = new Complex[k + 2];
            // twice: orthogonal to rounding
            for (var pass = 0; pass < 2; pass++)
                for (var j = 0; j <= k; j++)
                {
                    var projection = Inner(basis[j], w);
                    if (overReals) projection = projection.Real;
                    h[j] += projection;
                    for (var i = 0; i < w.Length; i++) w[i] -= projection * basis[j][i];
                }
            var norm = Norm(w);
            h[k + 1] = norm;
            for (var j = 0; j < k; j++) Rotate(rotations[j], ref h[j], ref h[j + 1]);
            rotations.Add(Rotation(h[k], h[k + 1]));
            Rotate(rotations[k], ref h[k], ref h[k + 1]);
            Complex last = g[k], next = 0;
            Rotate(rotations[k], ref last, ref next);
            g[k] = last;
            g.Add(next);
            columns.Add(h);
            history.Add(Complex.Abs(next) / beta);
            if (history[^1] < tolerance || norm == 0) return Combine(basis, columns, g);
            basis.Add(Scaled(w, 1 / norm));
        }
        throw new FieldNotConvergedException($"The field did not settle in {MostSteps} steps of minimal residuals.", history);
    }

    private static Complex[] Combine(List<Complex[]> basis, List<Complex[]> columns, List<Complex> g)
    {
        var n = columns.Count;
        var y = new Complex[n];
        for (var i = n - 1; i >= 0; i--)
        {
            var sum = g[i];
            for (var j = i + 1; j < n; j++) sum -= columns[j][i] * y[j];
            y[i] = sum / columns[i][i];
        }
        var x = new Complex[basis[0].Length];
        for (var j = 0; j < n; j++)
            for (var i = 0; i < x.Length; i++) x[i] += y[j] * basis[j][i];
        return x;
    }

    private static (double Cos, Complex Sin) Rotation(Complex a, Complex b)
    {
        var size = Math.Sqrt(Square(a) + Square(b));
        if (size == 0) return (1, 0);
        if (a == 0) return (0, 1);
        var modulus = Complex.Abs(a);
        return (modulus / size, a / modulus * Complex.Conjugate(b) / size);
    }

    private static void Rotate((double Cos, Complex Sin) r, ref Complex a, ref Complex b) =>
        (a, b) = ((r.Cos * a) + (r.Sin * b), (r.Cos * b) - (Complex.Conjugate(r.Sin) * a));

    private static Complex Inner(Complex[] a, Complex[] b)
    {
        double re = 0, im = 0;
        for (var i = 0; i < a.Length; i++)
        {
            re += (a[i].Real * b[i].Real) + (a[i].Imaginary * b[i].Imaginary);
            im += (a[i].Real * b[i].Imaginary) - (a[i].Imaginary * b[i].Real);
        }
        return new(re, im);
    }

    private static double Norm(Complex[] a)
    {
        var sum = 0.0;
        foreach (var z in a) sum += Square(z);
        return Math.Sqrt(sum);
    }

    private static double Square(Complex z) => (z.Real * z.Real) + (z.Imaginary * z.Imaginary);

    private static Complex[] Scaled(Complex[] a, double by)
    {
        var result = new Complex[a.Length];
        for (var i = 0; i < a.Length; i++) result[i] = by * a[i];
        return result;
    }
}
