using System.Runtime.Intrinsics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// LDLᵀ factorisation of a real symmetric sparse matrix, without pivoting: backward stable for definite matrices; for indefinite ones
/// only as good as its pivots, which are checked (see <see cref="ZeroPivotException"/>) and can be judged by <see cref="ConditionEstimate"/>.
/// One factor may serve many threads' <c>Solve</c> at once; <see cref="Refactor"/> must not run beside them.
/// </summary>
/// <source key="DuffErismanReid2017" at="chapters 10 to 12"/>
public sealed class RealLdl
{
    private readonly MultifrontalFactor<RealKernel> _factor;
    private readonly double[] _values;

    private RealLdl(SparseAnalysis analysis, int threads)
    {
        Analysis = analysis;
        _values = new double[analysis.Pattern.EntryCount];
        _factor = new MultifrontalFactor<RealKernel>(analysis.Fronts, analysis.Schedule, threads == 0 ? Environment.ProcessorCount : threads);
    }

    /// <summary>The analysis behind the factor.</summary>
    public SparseAnalysis Analysis { get; }

    /// <summary>Signs of the eigenvalues.</summary>
    public Inertia Inertia { get; private set; }

    /// <summary>Factorises a matrix.</summary>
    /// <param name="analysis">Analysis of its pattern.</param>
    /// <param name="values">One value for each entry of the pattern, in its order.</param>
    /// <param name="threads">Threads to use; 0 for as many as the machine has. The result does not depend on it.</param>
    /// <param name="memoryLimit">Bytes that the factorisation may take at its peak, the factor included; see <see cref="SparseAnalysis.PredictedBytes"/>.</param>
    /// <returns>The factor; it keeps a copy of the values.</returns>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="MemoryLimitException">More memory would be needed than is allowed; none has been taken.</exception>
    /// <exception cref="ZeroPivotException">A pivot vanished to working precision.</exception>
    public static RealLdl Create(SparseAnalysis analysis, ReadOnlySpan<double> values, int threads = 0, long memoryLimit = long.MaxValue)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        Guard.NotNegative(threads);
        MemoryLimitException.Check(analysis.PredictedBytes, memoryLimit);
        var factor = new RealLdl(analysis, threads);
        factor.Refactor(values);
        return factor;
    }

    /// <summary>Factorises another matrix of the same pattern into the same memory.</summary>
    /// <param name="values">One value for each entry of the pattern.</param>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="ZeroPivotException">A pivot vanished to working precision; the factor is of no use until a further call succeeds.</exception>
    public unsafe void Refactor(ReadOnlySpan<double> values)
    {
        Guard.Length(values.Length, Analysis.Pattern.EntryCount, nameof(values));
        Guard.Finite(values);
        values.CopyTo(_values);
        int failed;
        fixed (double* kept = _values)
            failed = _factor.Factor(kept, ColumnScale());
        if (failed >= 0)
            throw new ZeroPivotException(Analysis.Fronts.Permutation[failed], _factor.Pivot(failed));
        Inertia = new Inertia(_factor.PositivePivots, Analysis.Order - _factor.PositivePivots, 0);
    }

    /// <summary>Solves A x = b.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; may be the memory of <paramref name="b"/>.</param>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<double> b, Span<double> x) => Solve(b, x, 1);

    /// <summary>Solves A X = B for many right-hand sides.</summary>
    /// <param name="b">count columns of one entry an unknown, one column after another.</param>
    /// <param name="x">Receives the solutions in the same layout; may be the memory of <paramref name="b"/>.</param>
    /// <param name="count">Number of right-hand sides.</param>
    /// <exception cref="ArgumentException">A length is not order × count, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<double> b, Span<double> x, int count)
    {
        var n = Analysis.Order;
        Guard.NotNegative(count);
        Guard.Length(b.Length, (long)n * count, nameof(b));
        Guard.Length(x.Length, (long)n * count, nameof(x));
        Guard.Finite(b);
        Substitute(b, x, count);
    }

    private unsafe void Substitute(ReadOnlySpan<double> b, Span<double> x, int count)
    {
        var tree = Analysis.Fronts;
        var n = Analysis.Order;
        var permutation = tree.Permutation;
        var lanes = count == 1 ? 1 : 4;
        var memory = new NativeBlock(lanes * ((long)n + tree.MostRows + 8));
        double* y = memory.Pointer;
        double* tmp = y + lanes * (long)((n + 3) & ~3);
        if (count == 1)
        {
            for (var i = 0; i < n; i++)
                y[i] = b[permutation[i]];
            RealSolve.One(tree, _factor.Panels.Pointer, y, tmp);
            for (var i = 0; i < n; i++)
                x[permutation[i]] = y[i];
        }
        for (var from = 0; count > 1 && from < count; from += 4)
        {
            for (var i = 0; i < n; i++)
                for (var c = 0; c < 4; c++)
                    y[4 * i + c] = from + c < count ? b[(from + c) * n + permutation[i]] : 0;
            RealSolve.Four(tree, _factor.Panels.Pointer, (Vector256<double>*)y, (Vector256<double>*)tmp);
            for (var i = 0; i < n; i++)
                for (var c = 0; c < 4 && from + c < count; c++)
                    x[(from + c) * n + permutation[i]] = y[4 * i + c];
        }
        memory.Free();
        GC.KeepAlive(_factor);
    }

    // Largest entry on and below the diagonal of each column: a pivot is measured against it.
    private double[] ColumnScale()
    {
        var scale = new double[Analysis.Order];
        var pattern = Analysis.Pattern;
        var p = 0;
        for (var j = 0; j < scale.Length; j++)
        {
            var largest = 0.0;
            for (var end = pattern.ColumnStarts[j + 1]; p < end; p++)
                if (Math.Abs(_values[p]) is var size && size > largest)
                    largest = size;
            scale[j] = largest;
        }
        return scale;
    }

    /// <summary>Solves A x = b and refines the solution until its backward error is that of rounding or no longer falls.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; must not overlap <paramref name="b"/>.</param>
    /// <returns>
    /// Componentwise backward error max |b − A x| / (|A||x| + |b|): the least relative change of the entries of A and b for which x is exact.
    /// Some 1e-16 is as good as numbers go; much more says that the pivots were bad.
    /// </returns>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    /// <source key="ArioliDemmelDuff1989"/>
    public double SolveRefined(ReadOnlySpan<double> b, Span<double> x) => Refinement<double>.Run(Analysis.Pattern, _values, _values, Solve, b, x);

    /// <summary>Estimate, from below and rarely by more than a factor 3, of the condition number ‖A‖₁ ‖A⁻¹‖₁.</summary>
    /// <returns>The estimate; 1 or more.</returns>
    /// <source key="Higham1988"/>
    public double ConditionEstimate() => ConditionEstimate<double>.Of(Analysis.Pattern, _values, _values, SubstituteOne, SubstituteOne);

    private void SubstituteOne(ReadOnlySpan<double> b, Span<double> x) => Substitute(b, x, 1);
}
