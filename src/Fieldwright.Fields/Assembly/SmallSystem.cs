using System.Numerics;

namespace Fieldwright.Fields.Assembly;

/// <summary>Dense complex systems of the size of the number of windings and conductors.</summary>
internal static class SmallSystem
{
    /// <summary>Solves M·x = b by elimination with partial pivoting; M and b are overwritten, b with x.</summary>
    public static void SolveInPlace(Complex[,] m, Complex[] b)
    {
        var n = b.Length;
        for (var k = 0; k < n; k++)
        {
            var pivot = k;
            for (var i = k + 1; i < n; i++)
                if (Complex.Abs(m[i, k]) > Complex.Abs(m[pivot, k])) pivot = i;
            if (m[pivot, k] == 0) throw new InvalidOperationException($"The circuit of windings and conductors is singular at row {k}: a loop without impedance or a conductor without conductance.");
            if (pivot != k)
            {
                for (var j = 0; j < n; j++) (m[k, j], m[pivot, j]) = (m[pivot, j], m[k, j]);
                (b[k], b[pivot]) = (b[pivot], b[k]);
            }
            for (var i = k + 1; i < n; i++)
            {
                var factor = m[i, k] / m[k, k];
                if (factor == 0) continue;
                for (var j = k; j < n; j++) m[i, j] -= factor * m[k, j];
                b[i] -= factor * b[k];
            }
        }
        for (var k = n - 1; k >= 0; k--)
        {
            for (var j = k + 1; j < n; j++) b[k] -= m[k, j] * b[j];
            b[k] /= m[k, k];
        }
    }
}
