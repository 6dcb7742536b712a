using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>LU factorisation of matrices of symmetric pattern and unsymmetric values; see <see cref="SparseLu{T}"/>.</summary>
public static class SparseLu
{
    /// <summary>Factorises a real matrix.</summary>
    /// <param name="analysis">Analysis of its symmetric pattern.</param>
    /// <param name="lower">Entries a_ij on and below the diagonal, one for each of the pattern, in its order.</param>
    /// <param name="upper">The entries a_ji across the diagonal from them, in the same order; those on the diagonal are not looked at.</param>
    /// <param name="memoryLimit">Bytes that the factorisation may take at its peak, the factor included, when no pivot is delayed; see <see cref="SparseAnalysis.PredictedLuBytes{T}"/>.</param>
    /// <returns>The factor; it keeps a copy of the values for refinement.</returns>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="MemoryLimitException">More memory would be needed than is allowed; none has been taken.</exception>
    /// <exception cref="ZeroPivotException">The matrix is singular to working precision.</exception>
    public static SparseLu<double> Create(SparseAnalysis analysis, ReadOnlySpan<double> lower, ReadOnlySpan<double> upper, long memoryLimit = long.MaxValue) =>
        new(analysis, lower, upper, memoryLimit);

    /// <summary>Factorises a complex matrix.</summary>
    /// <inheritdoc cref="Create(SparseAnalysis, ReadOnlySpan{double}, ReadOnlySpan{double}, long)"/>
    public static SparseLu<Complex> Create(SparseAnalysis analysis, ReadOnlySpan<Complex> lower, ReadOnlySpan<Complex> upper, long memoryLimit = long.MaxValue) =>
        new(analysis, lower, upper, memoryLimit);
}

/// <summary>
/// LU factorisation of a matrix whose pattern is symmetric and whose values need not be, such as those of conductors carried through a field. Multifrontal, with
/// threshold pivoting by rows within a front; a pivot that would be too small is handed on to the parent front. Backward stable up to the growth that the threshold 0.1 allows.
/// One factor may serve many threads' <c>Solve</c> at once.
/// </summary>
/// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
/// <source key="DuffReid1984"/>
public sealed class SparseLu<T>
    where T : unmanaged, INumberBase<T>
{
    private const double Threshold = 0.1;
    private const int Block = 32; // pivots between two updates of all that is left

    private readonly SparseAnalysis _analysis;
    private readonly T[] _lower;
    private readonly T[] _upper;
    private readonly FactoredFront[] _fronts;

    internal SparseLu(SparseAnalysis analysis, ReadOnlySpan<T> lower, ReadOnlySpan<T> upper, long memoryLimit)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        Guard.Length(lower.Length, analysis.Pattern.EntryCount, nameof(lower));
        Guard.Length(upper.Length, analysis.Pattern.EntryCount, nameof(upper));
        Dense<T>.CheckFinite(lower, nameof(lower));
        Dense<T>.CheckFinite(upper, nameof(upper));
        MemoryLimitException.Check(analysis.PredictedLuBytes<T>(), memoryLimit);
        _analysis = analysis;
        (_lower, _upper) = (lower.ToArray(), upper.ToArray());
        _fronts = new FactoredFront[analysis.Fronts.Count];
        Factor();
    }

    /// <summary>Pivots that were handed from a front to its parent because they were too small in their own: work beyond what the analysis foretold.</summary>
    public int DelayedPivots { get; private set; }

    /// <summary>Solves A x = b.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; may be the memory of <paramref name="b"/>.</param>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<T> b, Span<T> x)
    {
        var n = _analysis.Order;
        Guard.Length(b.Length, n, nameof(b));
        Guard.Length(x.Length, n, nameof(x));
        Dense<T>.CheckFinite(b, nameof(b));
        var permutation = _analysis.Fronts.Permutation;
        var w = new T[n]; // by equation
        var z = new T[n]; // by variable
        for (var i = 0; i < n; i++)
            w[i] = b[permutation[i]];
        foreach (var front in _fronts)
        {
            for (var k = 0; k < front.Pivots; k++)
            {
                var zk = w[front.RowIds[k]];
                z[front.ColumnIds[k]] = zk;
                var l = front.Lower.AsSpan(k * front.Rows, front.Rows);
                for (var i = k + 1; i < l.Length; i++)
                    w[front.RowIds[i]] -= l[i] * zk;
            }
        }
        for (var f = _fronts.Length - 1; f >= 0; f--)
        {
            var front = _fronts[f];
            for (var k = front.Pivots - 1; k >= 0; k--)
            {
                var sum = z[front.ColumnIds[k]];
                var u = front.Upper.AsSpan(k * front.Rows, front.Rows);
                for (var j = k + 1; j < u.Length; j++)
                    sum -= u[j] * z[front.ColumnIds[j]];
                z[front.ColumnIds[k]] = sum / u[k];
            }
        }
        for (var i = 0; i < n; i++)
            x[permutation[i]] = z[i];
    }

    /// <summary>Solves A X = B for many right-hand sides.</summary>
    /// <param name="b">count columns of one entry an unknown, one column after another.</param>
    /// <param name="x">Receives the solutions in the same layout; may be the memory of <paramref name="b"/>.</param>
    /// <param name="count">Number of right-hand sides.</param>
    /// <exception cref="ArgumentException">A length is not order × count, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<T> b, Span<T> x, int count)
    {
        var n = _analysis.Order;
        Guard.NotNegative(count);
        Guard.Length(b.Length, (long)n * count, nameof(b));
        Guard.Length(x.Length, (long)n * count, nameof(x));
        for (var c = 0; c < count; c++)
            Solve(b.Slice(c * n, n), x.Slice(c * n, n));
    }

    /// <summary>Solves Aᵀ x = b, as a dual solution asks; the complex conjugate is not taken.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; may be the memory of <paramref name="b"/>.</param>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    public void SolveTransposed(ReadOnlySpan<T> b, Span<T> x)
    {
        var n = _analysis.Order;
        Guard.Length(b.Length, n, nameof(b));
        Guard.Length(x.Length, n, nameof(x));
        Dense<T>.CheckFinite(b, nameof(b));
        var permutation = _analysis.Fronts.Permutation;
        var z = new T[n]; // by variable
        var w = new T[n]; // by equation
        for (var i = 0; i < n; i++)
            z[i] = b[permutation[i]];
        foreach (var front in _fronts)
        {
            for (var k = 0; k < front.Pivots; k++)
            {
                var u = front.Upper.AsSpan(k * front.Rows, front.Rows);
                var wk = z[front.ColumnIds[k]] / u[k];
                w[front.RowIds[k]] = wk;
                for (var j = k + 1; j < u.Length; j++)
                    z[front.ColumnIds[j]] -= u[j] * wk;
            }
        }
        for (var f = _fronts.Length - 1; f >= 0; f--)
        {
            var front = _fronts[f];
            for (var k = front.Pivots - 1; k >= 0; k--)
            {
                var sum = w[front.RowIds[k]];
                var l = front.Lower.AsSpan(k * front.Rows, front.Rows);
                for (var i = k + 1; i < l.Length; i++)
                    sum -= l[i] * w[front.RowIds[i]];
                w[front.RowIds[k]] = sum;
            }
        }
        for (var i = 0; i < n; i++)
            x[permutation[i]] = w[i];
    }

    /// <summary>Estimate, from below and rarely by more than a factor 3, of the condition number ‖A‖₁ ‖A⁻¹‖₁.</summary>
    /// <returns>The estimate; 1 or more.</returns>
    /// <source key="Higham1988"/>
    public double ConditionEstimate() => ConditionEstimate<T>.Of(_analysis.Pattern, _lower, _upper, Solve, SolveTransposed);

    /// <summary>Solves A x = b and refines the solution until its backward error is that of rounding or no longer falls.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; must not overlap <paramref name="b"/>.</param>
    /// <returns>Componentwise backward error max |b − A x| / (|A||x| + |b|).</returns>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    /// <source key="ArioliDemmelDuff1989"/>
    public double SolveRefined(ReadOnlySpan<T> b, Span<T> x) => Refinement<T>.Run(_analysis.Pattern, _lower, _upper, Solve, b, x);

    private void Factor()
    {
        var tree = _analysis.Fronts;
        var assembly = new FrontAssembly<T>(tree, _lower, _upper, symmetric: false);
        var columnScale = ColumnScale();
        for (var f = 0; f < tree.Count; f++)
        {
            var (values, summed, rowIds, columnIds) = assembly.Assemble(f);
            Eliminate(f, values, rowIds.Length, summed, rowIds, columnIds, tree.Parent[f] < 0, columnScale, assembly);
        }
    }

    private double[] ColumnScale()
    {
        var tree = _analysis.Fronts;
        var pattern = _analysis.Pattern;
        var scale = new double[_analysis.Order];
        for (var j = 0; j < scale.Length; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                int one = tree.Inverse[j], other = tree.Inverse[pattern.RowIndices[p]];
                scale[one] = Math.Max(scale[one], Dense<T>.Size(_lower[p]));
                scale[other] = Math.Max(scale[other], Dense<T>.Size(one == other ? _lower[p] : _upper[p]));
            }
        return scale;
    }

    // Columns k … current − 1 have had every pivot subtracted, those behind them only the pivots before the current block.
    private unsafe void Eliminate(int f, T[] values, int m, int summed, int[] rowIds, int[] columnIds, bool isRoot, double[] columnScale, FrontAssembly<T> assembly)
    {
        int k = 0, start = 0, current = 0;
        fixed (T* a = values)
        {
            for (var tries = 0; k < summed && tries < summed - k;)
            {
                if (k - start >= Block)
                    Flush(a);
                if (k == current)
                    Bring(a, k);
                var pivot = Choose(values.AsSpan(k * m, m), k, summed, columnScale[columnIds[k]]);
                if (pivot < 0)
                {
                    // Not now: another column takes its place.
                    var next = k + 1 + tries++;
                    if (next == summed)
                        continue;
                    if (next == current)
                        Bring(a, next);
                    Dense<T>.SwapColumns(values, m, k, next);
                    (columnIds[k], columnIds[next]) = (columnIds[next], columnIds[k]);
                    continue;
                }
                tries = 0;
                if (pivot != k)
                {
                    Dense<T>.SwapRows(values, m, m, k, pivot);
                    (rowIds[k], rowIds[pivot]) = (rowIds[pivot], rowIds[k]);
                }
                var column = values.AsSpan(k * m, m);
                var reciprocal = T.One / column[k];
                for (var i = k + 1; i < m; i++)
                    column[i] *= reciprocal;
                for (var j = k + 1; j < current; j++)
                    Dense<T>.SubtractMultiple(values.AsSpan(j * m + k + 1, m - k - 1), column[(k + 1)..], values[j * m + k]);
                current = Math.Max(current, ++k);
            }
            Flush(a);
        }
        if (isRoot && k < summed)
            throw new ZeroPivotException(_analysis.Fronts.Permutation[columnIds[k]], Complex.CreateChecked(values[k * m + k]));
        var upper = new T[k * m];
        for (var j = 0; j < m; j++)
            for (var q = 0; q < Math.Min(k, j + 1); q++)
                upper[q * m + j] = values[j * m + q];
        _fronts[f] = new FactoredFront(k, m, rowIds, columnIds, values.AsSpan(0, k * m).ToArray(), upper);
        DelayedPivots += summed - k;
        assembly.HandOn(f, values, m, k, summed, rowIds, columnIds);

        void Bring(T* a, int j)
        {
            Triangle(a, j);
            PivotUpdate<T>.Column(a + j * m + k, m - k, a + start * m + k, m, k - start, a + j * m + start, 1);
            current = j + 1;
        }

        void Flush(T* a)
        {
            for (var j = current; j < m; j++)
                Triangle(a, j);
            PivotUpdate<T>.Subtract(a + current * m + k, m, m - k, m - current, a + start * m + k, m, k - start, a + current * m + start, 1, m, triangle: false);
            start = k;
        }

        // The rows of U that belong to the pivots of the block.
        void Triangle(T* a, int j)
        {
            for (var q = start; q < k; q++)
                Dense<T>.SubtractMultiple(new Span<T>(a + j * m + q + 1, k - q - 1), new ReadOnlySpan<T>(a + q * m + q + 1, k - q - 1), a[j * m + q]);
        }
    }

    // The row whose entry may be the pivot of a column, the diagonal where it will do, or −1.
    private static int Choose(ReadOnlySpan<T> column, int k, int summed, double scale)
    {
        var pivot = k;
        double inside = 0, all = 0;
        for (var i = k; i < column.Length; i++)
        {
            var size = Dense<T>.Size(column[i]);
            all = Math.Max(all, size);
            if (i < summed && size > inside)
                (inside, pivot) = (size, i);
        }
        if (!(all > 1e-14 * scale) || inside < Threshold * all)
            return -1;
        return Dense<T>.Size(column[k]) >= 0.5 * inside ? k : pivot;
    }

    private sealed record FactoredFront(int Pivots, int Rows, int[] RowIds, int[] ColumnIds, T[] Lower, T[] Upper);
}
