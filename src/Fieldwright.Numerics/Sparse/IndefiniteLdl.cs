using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>LDLᵀ with pivots of order 1 and 2, for symmetric matrices that are not definite; see <see cref="IndefiniteLdl{T}"/>.</summary>
public static class IndefiniteLdl
{
    /// <summary>Factorises a real symmetric matrix.</summary>
    /// <param name="analysis">Analysis of its pattern.</param>
    /// <param name="values">One value for each entry of the pattern, in its order.</param>
    /// <param name="memoryLimit">Bytes that the factorisation may take at its peak, the factor included, when no pivot is delayed; see <see cref="SparseAnalysis.PredictedIndefiniteBytes{T}"/>.</param>
    /// <returns>The factor; it keeps a copy of the values for refinement.</returns>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="MemoryLimitException">More memory would be needed than is allowed; none has been taken.</exception>
    /// <exception cref="ZeroPivotException">The matrix is singular to working precision.</exception>
    public static IndefiniteLdl<double> Create(SparseAnalysis analysis, ReadOnlySpan<double> values, long memoryLimit = long.MaxValue) => new(analysis, values, memoryLimit);

    /// <summary>Factorises a complex symmetric (not Hermitian) matrix.</summary>
    /// <inheritdoc cref="Create(SparseAnalysis, ReadOnlySpan{double}, long)"/>
    public static IndefiniteLdl<Complex> Create(SparseAnalysis analysis, ReadOnlySpan<Complex> values, long memoryLimit = long.MaxValue) => new(analysis, values, memoryLimit);
}

/// <summary>
/// LDLᵀ of a symmetric matrix with rows of circuits, multipliers or total currents in it, where the diagonal may be zero. Multifrontal; within a front pivots of order 1 and 2
/// are chosen so that no multiplier exceeds 1/u, u = 0.1, and what finds no such pivot is handed on to the parent front. Slower than <see cref="RealLdl"/> and
/// <see cref="ComplexLdl"/>, which are for definite matrices. One factor may serve many threads' <c>Solve</c> at once.
/// </summary>
/// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
/// <source key="BunchKaufman1977"/>
/// <source key="DuffReid1983"/>
public sealed class IndefiniteLdl<T>
    where T : unmanaged, INumberBase<T>
{
    private const double Threshold = 0.1;
    private const int Block = 32; // pivots between two updates of all that is left

    private readonly SparseAnalysis _analysis;
    private readonly T[] _values;
    private readonly FactoredFront[] _fronts;
    private T[] _products = [];

    internal IndefiniteLdl(SparseAnalysis analysis, ReadOnlySpan<T> values, long memoryLimit)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        Guard.Length(values.Length, analysis.Pattern.EntryCount, nameof(values));
        Dense<T>.CheckFinite(values, nameof(values));
        MemoryLimitException.Check(analysis.PredictedIndefiniteBytes<T>(), memoryLimit);
        _analysis = analysis;
        _values = values.ToArray();
        var tree = analysis.Fronts;
        _fronts = new FactoredFront[tree.Count];
        var assembly = new FrontAssembly<T>(tree, _values, _values, symmetric: true);
        var scale = ColumnScale();
        for (var f = 0; f < tree.Count; f++)
        {
            var (a, summed, ids, _) = assembly.Assemble(f);
            Eliminate(f, a, ids.Length, summed, ids, tree.Parent[f] < 0, scale, assembly);
        }
        _products = [];
    }

    /// <summary>Pivots that were handed from a front to its parent: work beyond what the analysis foretold.</summary>
    public int DelayedPivots { get; private set; }

    /// <summary>Pivots of order 2.</summary>
    public int PairedPivots { get; private set; }

    /// <summary>Signs of the eigenvalues of a real matrix; of a complex one, signs of the real parts of the pivots, which mean nothing.</summary>
    public Inertia Inertia { get; private set; }

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
        var y = new T[n];
        for (var i = 0; i < n; i++)
            y[i] = b[permutation[i]];
        foreach (var (pivots, rows, ids, lower, coupling) in _fronts)
            for (var k = 0; k < pivots; k++)
            {
                var yk = y[ids[k]];
                for (var i = k + (coupling[k] != T.Zero ? 2 : 1); i < rows; i++)
                    y[ids[i]] -= lower[k * rows + i] * yk;
            }
        foreach (var (pivots, rows, ids, lower, coupling) in _fronts)
            for (var k = 0; k < pivots; k++)
            {
                ref var one = ref y[ids[k]];
                var d = lower[k * rows + k];
                if (coupling[k] == T.Zero)
                {
                    one /= d;
                    continue;
                }
                ref var two = ref y[ids[k + 1]];
                T c = coupling[k], e = lower[(k + 1) * rows + k + 1], determinant = d * e - c * c;
                (one, two) = ((e * one - c * two) / determinant, (d * two - c * one) / determinant);
                k++;
            }
        for (var f = _fronts.Length - 1; f >= 0; f--)
        {
            var (pivots, rows, ids, lower, coupling) = _fronts[f];
            for (var k = pivots - 1; k >= 0; k--)
            {
                var sum = y[ids[k]];
                for (var i = k + (coupling[k] != T.Zero ? 2 : 1); i < rows; i++)
                    sum -= lower[k * rows + i] * y[ids[i]];
                y[ids[k]] = sum;
            }
        }
        for (var i = 0; i < n; i++)
            x[permutation[i]] = y[i];
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

    /// <summary>Estimate, from below and rarely by more than a factor 3, of the condition number ‖A‖₁ ‖A⁻¹‖₁.</summary>
    /// <returns>The estimate; 1 or more.</returns>
    /// <source key="Higham1988"/>
    public double ConditionEstimate() => ConditionEstimate<T>.Of(_analysis.Pattern, _values, _values, Solve, Solve);

    /// <summary>Solves A x = b and refines the solution until its backward error is that of rounding or no longer falls.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; must not overlap <paramref name="b"/>.</param>
    /// <returns>Componentwise backward error max |b − A x| / (|A||x| + |b|).</returns>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    /// <source key="ArioliDemmelDuff1989"/>
    public double SolveRefined(ReadOnlySpan<T> b, Span<T> x) => Refinement<T>.Run(_analysis.Pattern, _values, _values, Solve, b, x);

    private double[] ColumnScale()
    {
        var tree = _analysis.Fronts;
        var pattern = _analysis.Pattern;
        var scale = new double[_analysis.Order];
        for (var j = 0; j < scale.Length; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                int one = tree.Inverse[j], other = tree.Inverse[pattern.RowIndices[p]];
                scale[one] = Math.Max(scale[one], Dense<T>.Size(_values[p]));
                scale[other] = Math.Max(scale[other], Dense<T>.Size(_values[p]));
            }
        return scale;
    }

    // Columns k … current − 1 have had every pivot subtracted, those behind them only the pivots before the current block, whose L stands in the front and whose L·D in _products.
    private unsafe void Eliminate(int f, T[] values, int m, int summed, int[] ids, bool isRoot, double[] scale, FrontAssembly<T> assembly)
    {
        var coupling = new T[summed]; // off-diagonal entry of D at the first column of a pair
        if (_products.Length < (Block + 1) * m)
            _products = new T[(Block + 1) * m];
        int k = 0, start = 0, current = 0;
        fixed (T* a = values, products = _products)
        {
            for (var tries = 0; k < summed && tries < summed - k;)
            {
                if (k - start >= Block)
                    Flush(a, products);
                if (k == current)
                    Bring(a, products, k);
                var (size, other) = Candidate(a, products);
                if (size == 0)
                {
                    var next = k + 1 + tries++;
                    if (next == summed)
                        continue;
                    if (next == current)
                        Bring(a, products, next);
                    Exchange(values, m, summed, ids, k - start, k, next);
                    continue;
                }
                tries = 0;
                Exchange(values, m, summed, ids, k - start, k + size - 1, other);
                if (size == 1)
                    One(a, products);
                else
                    Two(a, products);
            }
            Flush(a, products);
        }
        if (isRoot && k < summed)
            throw new ZeroPivotException(_analysis.Fronts.Permutation[ids[k]], Complex.CreateChecked(values[k * m + k]));
        DelayedPivots += summed - k;
        _fronts[f] = new FactoredFront(k, m, ids, values.AsSpan(0, k * m).ToArray(), coupling);
        assembly.HandOn(f, values, m, k, summed, ids, ids);

        (int Size, int Other) Candidate(T* a, T* products)
        {
            var partner = Partner(values, m, summed, k, scale[ids[k]], out var order);
            if (partner < 0 || order == 1)
                return (order, k);
            if (partner >= current)
            {
                Exchange(values, m, summed, ids, k - start, partner, current);
                partner = current;
                Bring(a, products, partner);
            }
            return Choose(values, m, k, partner, scale[ids[k]]);
        }

        void Bring(T* a, T* products, int j)
        {
            PivotUpdate<T>.Column(a + j * m + k, m - k, a + start * m + k, m, k - start, products + j, m);
            current = j + 1;
        }

        void Flush(T* a, T* products)
        {
            if (current < summed)
                PivotUpdate<T>.Subtract(a + current * m + k, m, m - k, summed - current, a + start * m + k, m, k - start, products + current, m, 1, triangle: false);
            PivotUpdate<T>.Subtract(a + summed * m + summed, m, m - summed, m - summed, a + start * m + summed, m, k - start, products + summed, m, 1, triangle: true);
            start = k;
        }

        void One(T* a, T* products)
        {
            var d = a[k * m + k];
            Count(Sign(d), 1);
            Span<T> l = new(a + k * m, m), x = new(products + (k - start) * m, m);
            l.CopyTo(x);
            for (var i = k + 1; i < m; i++)
                l[i] /= d;
            for (var j = k + 1; j < current; j++)
                Dense<T>.SubtractMultiple(new Span<T>(a + j * m + k + 1, m - k - 1), l[(k + 1)..], x[j]);
            current = Math.Max(current, ++k);
        }

        void Two(T* a, T* products)
        {
            T p = a[k * m + k], q = a[k * m + k + 1], r = a[(k + 1) * m + k + 1], determinant = p * r - q * q;
            Count(Sign(determinant) < 0 ? 0 : Sign(p), 2);
            PairedPivots++;
            coupling[k] = q;
            Span<T> one = new(a + k * m, m), two = new(a + (k + 1) * m, m), first = new(products + (k - start) * m, m), second = new(products + (k - start + 1) * m, m);
            one.CopyTo(first);
            two.CopyTo(second);
            for (var i = k + 2; i < m; i++)
            {
                one[i] = (r * first[i] - q * second[i]) / determinant;
                two[i] = (p * second[i] - q * first[i]) / determinant;
            }
            for (var j = k + 2; j < current; j++)
            {
                var column = new Span<T>(a + j * m + k + 2, m - k - 2);
                Dense<T>.SubtractMultiple(column, one[(k + 2)..], first[j]);
                Dense<T>.SubtractMultiple(column, two[(k + 2)..], second[j]);
            }
            k += 2;
            current = Math.Max(current, k);
        }
    }

    // Order 1 where the diagonal serves, 0 where the column must wait; otherwise the unknown with which it might make a pair.
    private static int Partner(T[] a, int m, int summed, int k, double scale, out int order)
    {
        var partner = -1;
        double inside = 0, largest = 0;
        for (var i = k + 1; i < m; i++)
        {
            var size = Dense<T>.Size(a[k * m + i]);
            largest = Math.Max(largest, size);
            if (i < summed && size > inside)
                (inside, partner) = (size, i);
        }
        var diagonal = Dense<T>.Size(a[k * m + k]);
        var noise = 1e-14 * scale;
        order = diagonal >= Threshold * largest && diagonal > noise ? 1 : 0;
        return largest > noise ? partner : -1;
    }

    // A pivot of order 1 (the column to exchange with k) or 2 (the column to exchange with k + 1), or order 0: none here.
    private static (int Size, int Other) Choose(T[] a, int m, int k, int partner, double scale)
    {
        var noise = 1e-14 * scale;
        var inside = Dense<T>.Size(a[k * m + partner]);
        var diagonal = Dense<T>.Size(a[k * m + k]);
        double one = 0, two = 0;
        for (var i = k; i < m; i++)
        {
            if (i == k || i == partner)
                continue;
            one = Math.Max(one, Dense<T>.Size(a[k * m + i]));
            two = Math.Max(two, Dense<T>.Size(a[partner * m + i]));
        }
        var partnerLargest = Math.Max(inside, two);
        var partnerDiagonal = Dense<T>.Size(a[partner * m + partner]);
        T p = a[k * m + k], q = a[k * m + partner], r = a[partner * m + partner];
        var determinant = Dense<T>.Size(p * r - q * q);
        // |D⁻¹| (one, two)ᵀ ≤ 1/u
        if (determinant > 1e-14 * inside * inside
            && Threshold * (partnerDiagonal * one + inside * two) <= determinant && Threshold * (inside * one + diagonal * two) <= determinant)
            return (2, partner);
        return partnerDiagonal >= Threshold * partnerLargest && partnerDiagonal > noise ? (1, partner) : (0, 0);
    }

    // Exchanges two summed unknowns, rows and columns both, and the rows of the products L·D at hand.
    private void Exchange(T[] a, int m, int summed, int[] ids, int products, int i, int j)
    {
        if (i == j)
            return;
        Dense<T>.SwapRows(a, m, summed, i, j);
        Dense<T>.SwapColumns(a, m, i, j);
        Dense<T>.SwapRows(_products, m, products, i, j);
        (ids[i], ids[j]) = (ids[j], ids[i]);
    }

    private void Count(int sign, int order) =>
        Inertia = new Inertia(
            Inertia.Positive + (sign > 0 ? order : sign == 0 ? order / 2 : 0),
            Inertia.Negative + (sign < 0 ? order : sign == 0 ? order / 2 : 0), 0);

    private static int Sign(T value) => Math.Sign(Complex.CreateChecked(value).Real);

    private sealed record FactoredFront(int Pivots, int Rows, int[] Ids, T[] Lower, T[] Coupling);
}
