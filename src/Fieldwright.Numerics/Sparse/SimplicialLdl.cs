using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Up-looking LDLᵀ, one row of L at a time: short, and therefore the measure of the quick ones.</summary>
/// <source key="Davis2005"/>
internal sealed class SimplicialLdl<T>
    where T : struct, INumberBase<T>
{
    private readonly SparseAnalysis _analysis;
    private readonly long[] _starts;
    private readonly int[] _rows;
    private readonly T[] _values;
    private readonly T[] _pivots;

    public SimplicialLdl(SparseAnalysis analysis)
    {
        _analysis = analysis;
        var n = analysis.Order;
        _starts = new long[n + 1];
        for (var j = 0; j < n; j++)
            _starts[j + 1] = _starts[j] + analysis.ColumnCounts[j];
        _rows = new int[_starts[n]];
        _values = new T[_starts[n]];
        _pivots = new T[n];
    }

    public ReadOnlySpan<T> Pivots => _pivots;

    public void Factor(Func<int, T> value)
    {
        var n = _analysis.Order;
        var y = new T[n];
        var path = new int[n];
        var flag = new int[n];
        var next = _starts.AsSpan(0, n).ToArray();
        var parent = _analysis.Parent;
        for (var k = 0; k < n; k++)
        {
            var top = n;
            flag[k] = k;
            var original = _analysis.Permutation[k];
            var largest = 0.0;
            for (var p = _analysis.FullStarts[original]; p < _analysis.FullStarts[original + 1]; p++)
            {
                var i = _analysis.Inverse[_analysis.FullRows[p]];
                if (i > k)
                    continue;
                var a = value(_analysis.FullSources[p]);
                y[i] += a;
                largest = Math.Max(largest, Size(a));
                var length = 0;
                for (; flag[i] != k; i = parent[i])
                {
                    path[length++] = i;
                    flag[i] = k;
                }
                while (length > 0)
                    path[--top] = path[--length];
            }
            var d = y[k];
            y[k] = T.Zero;
            for (; top < n; top++)
            {
                var i = path[top];
                var yi = y[i];
                y[i] = T.Zero;
                for (var p = _starts[i]; p < next[i]; p++)
                    y[_rows[p]] -= _values[p] * yi;
                var l = yi / _pivots[i];
                d -= l * yi;
                largest = Math.Max(largest, Size(l * yi));
                _rows[next[i]] = k;
                _values[next[i]++] = l;
            }
            // Rounding leaves some 1e-16 of the largest term: below a few of these the pivot is noise.
            if (!(Size(d) > 1e-15 * largest))
                throw new ZeroPivotException(original, Complex.CreateChecked(d));
            _pivots[k] = d;
        }
    }

    public void Solve(ReadOnlySpan<T> b, Span<T> x)
    {
        var n = _analysis.Order;
        var y = new T[n];
        for (var i = 0; i < n; i++)
            y[i] = b[_analysis.Permutation[i]];
        for (var j = 0; j < n; j++)
            for (var p = _starts[j]; p < _starts[j + 1]; p++)
                y[_rows[p]] -= _values[p] * y[j];
        for (var j = n - 1; j >= 0; j--)
        {
            y[j] /= _pivots[j];
            for (var p = _starts[j]; p < _starts[j + 1]; p++)
                y[j] -= _values[p] * y[_rows[p]];
        }
        for (var i = 0; i < n; i++)
            x[_analysis.Permutation[i]] = y[i];
    }

    private static double Size(T value) => value switch
    {
        double d => Math.Abs(d),
        Complex c => Math.Abs(c.Real) + Math.Abs(c.Imaginary),
        _ => double.CreateChecked(T.Abs(value)),
    };
}
