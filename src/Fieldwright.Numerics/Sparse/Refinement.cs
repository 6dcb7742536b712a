using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Iterative refinement, judged by the componentwise backward error.</summary>
/// <source key="ArioliDemmelDuff1989"/>
internal static class Refinement<T>
    where T : unmanaged, INumberBase<T>
{
    internal delegate void SolveOne(ReadOnlySpan<T> b, Span<T> x);

    /// <summary>Solves and refines; gives the backward error reached.</summary>
    public static double Run(SymmetricPattern pattern, T[] lower, T[] upper, SolveOne solve, ReadOnlySpan<T> b, Span<T> x)
    {
        solve(b, x);
        var residual = new T[b.Length];
        var error = BackwardError(pattern, lower, upper, b, x, residual);
        for (var step = 0; step < 5 && error > 1.1e-16; step++)
        {
            var kept = x.ToArray();
            solve(residual, residual);
            for (var i = 0; i < residual.Length; i++)
                x[i] += residual[i];
            var better = BackwardError(pattern, lower, upper, b, x, residual);
            if (!(better < error))
            {
                kept.CopyTo(x);
                break;
            }
            var slow = better > error / 2;
            error = better;
            if (slow)
                break;
        }
        return error;
    }

    private static double BackwardError(SymmetricPattern pattern, T[] lower, T[] upper, ReadOnlySpan<T> b, ReadOnlySpan<T> x, T[] residual)
    {
        var scale = new double[b.Length];
        b.CopyTo(residual);
        for (var i = 0; i < b.Length; i++)
            scale[i] = Dense<T>.Size(b[i]);
        for (var j = 0; j < b.Length; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                var i = pattern.RowIndices[p];
                residual[i] -= lower[p] * x[j];
                scale[i] += Dense<T>.Size(lower[p]) * Dense<T>.Size(x[j]);
                if (i == j)
                    continue;
                residual[j] -= upper[p] * x[i];
                scale[j] += Dense<T>.Size(upper[p]) * Dense<T>.Size(x[i]);
            }
        var error = 0.0;
        for (var i = 0; i < b.Length; i++)
            if (scale[i] > 0)
                error = Math.Max(error, Dense<T>.Size(residual[i]) / scale[i]);
        return error;
    }
}
