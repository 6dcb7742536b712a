using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Estimate of ‖A‖₁ ‖A⁻¹‖₁ from a few solutions with A and with Aᵀ.</summary>
/// <source key="Higham1988"/>
internal static class ConditionEstimate<T>
    where T : unmanaged, INumberBase<T>
{
    public static double Of(SymmetricPattern pattern, T[] lower, T[] upper, Refinement<T>.SolveOne solve, Refinement<T>.SolveOne solveTransposed)
    {
        var n = pattern.Order;
        if (n == 0)
            return 1;
        var x = new T[n];
        var sign = new T[n];
        Array.Fill(x, T.CreateChecked(1.0 / n));
        var estimate = 0.0;
        for (var step = 0; step < 5; step++)
        {
            solve(x, x);
            var norm = x.Sum(Modulus);
            if (step > 0 && norm <= estimate)
                break;
            estimate = norm;
            for (var i = 0; i < n; i++)
                sign[i] = ConjugateSign(x[i]); // Aᴴ y = s is Aᵀ ȳ = s̄, and of y only the size matters
            solveTransposed(sign, sign);
            var largest = 0;
            for (var i = 1; i < n; i++)
                if (Modulus(sign[i]) > Modulus(sign[largest]))
                    largest = i;
            Array.Clear(x);
            x[largest] = T.One;
        }
        // A vector that catches the matrices for which the search stops too soon.
        for (var i = 0; i < n; i++)
            x[i] = T.CreateChecked((i % 2 == 0 ? 1 : -1) * (1 + (n > 1 ? i / (n - 1.0) : 0)));
        solve(x, x);
        estimate = Math.Max(estimate, 2 * x.Sum(Modulus) / (3.0 * n));
        return Math.Max(1, estimate * Norm(pattern, lower, upper));
    }

    private static double Norm(SymmetricPattern pattern, T[] lower, T[] upper)
    {
        var sums = new double[pattern.Order];
        for (var j = 0; j < sums.Length; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                sums[j] += Modulus(lower[p]);
                if (pattern.RowIndices[p] != j)
                    sums[pattern.RowIndices[p]] += Modulus(upper[p]);
            }
        return sums.Max();
    }

    private static double Modulus(T value) => double.CreateChecked(T.Abs(value));

    private static T ConjugateSign(T value)
    {
        if (T.IsZero(value))
            return T.One;
        var size = T.Abs(value);
        return value is Complex z ? (T)(object)(Complex.Conjugate(z) / Complex.Abs(z)) : value / size;
    }
}
