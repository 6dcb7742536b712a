using System.Numerics;
using System.Runtime.Intrinsics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// LDLᵀ factorisation of a complex <b>symmetric</b> (not Hermitian: Aᵀ = A) sparse matrix, without pivoting. Stable when the real and imaginary parts are both
/// semi-definite, as in K + jωM with K and M of eddy currents; otherwise only as good as its pivots, which are checked (see <see cref="ZeroPivotException"/>)
/// and can be judged by <see cref="ConditionEstimate"/>.
/// One factor may serve many threads' <c>Solve</c> at once; <see cref="Refactor"/> must not run beside them.
/// </summary>
/// <source key="Higham1998"/>
public sealed class ComplexLdl
{
    private readonly MultifrontalFactor<ComplexKernel> _factor;
    private readonly Complex[] _values;

    private ComplexLdl(SparseAnalysis analysis, int threads)
    {
        Analysis = analysis;
        _values = new Complex[analysis.Pattern.EntryCount];
        _factor = new MultifrontalFactor<ComplexKernel>(analysis.Fronts, analysis.Schedule, threads == 0 ? Environment.ProcessorCount : threads);
    }

    /// <summary>The analysis behind the factor.</summary>
    public SparseAnalysis Analysis { get; }

    /// <summary>Factorises a matrix.</summary>
    /// <param name="analysis">Analysis of its pattern.</param>
    /// <param name="real">Real part of each entry of the pattern, in its order.</param>
    /// <param name="imaginary">Imaginary part of each entry, in the same order.</param>
    /// <param name="threads">Threads to use; 0 for as many as the machine has. The result does not depend on it.</param>
    /// <param name="memoryLimit">Bytes that the factorisation may take at its peak, the factor included; see <see cref="SparseAnalysis.PredictedComplexBytes"/>.</param>
    /// <returns>The factor; it keeps a copy of the values.</returns>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="MemoryLimitException">More memory would be needed than is allowed; none has been taken.</exception>
    /// <exception cref="ZeroPivotException">A pivot vanished to working precision.</exception>
    public static ComplexLdl Create(SparseAnalysis analysis, ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary, int threads = 0, long memoryLimit = long.MaxValue)
    {
        ArgumentNullException.ThrowIfNull(analysis);
        Guard.NotNegative(threads);
        MemoryLimitException.Check(analysis.PredictedComplexBytes, memoryLimit);
        var factor = new ComplexLdl(analysis, threads);
        factor.Refactor(real, imaginary);
        return factor;
    }

    /// <summary>Factorises another matrix of the same pattern into the same memory.</summary>
    /// <param name="real">Real part of each entry of the pattern.</param>
    /// <param name="imaginary">Imaginary part of each entry.</param>
    /// <exception cref="ArgumentException">There are not as many values as entries, or one is not finite.</exception>
    /// <exception cref="ZeroPivotException">A pivot vanished to working precision; the factor is of no use until a further call succeeds.</exception>
    public unsafe void Refactor(ReadOnlySpan<double> real, ReadOnlySpan<double> imaginary)
    {
        Guard.Length(real.Length, Analysis.Pattern.EntryCount, nameof(real));
        Guard.Length(imaginary.Length, Analysis.Pattern.EntryCount, nameof(imaginary));
        Guard.Finite(real);
        Guard.Finite(imaginary);
        for (var p = 0; p < _values.Length; p++)
            _values[p] = new Complex(real[p], imaginary[p]);
        int failed;
        fixed (Complex* kept = _values)
            failed = _factor.Factor((double*)kept, ColumnScale());
        if (failed >= 0)
            throw new ZeroPivotException(Analysis.Fronts.Permutation[failed], _factor.Pivot(failed));
    }

    /// <summary>Solves A x = b.</summary>
    /// <param name="b">Right-hand side, one entry an unknown.</param>
    /// <param name="x">Receives the solution; may be the memory of <paramref name="b"/>.</param>
    /// <exception cref="ArgumentException">A length is not the order, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<Complex> b, Span<Complex> x) => Solve(b, x, 1);

    /// <summary>Solves A X = B for many right-hand sides.</summary>
    /// <param name="b">count columns of one entry an unknown, one column after another.</param>
    /// <param name="x">Receives the solutions in the same layout; may be the memory of <paramref name="b"/>.</param>
    /// <param name="count">Number of right-hand sides.</param>
    /// <exception cref="ArgumentException">A length is not order × count, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<Complex> b, Span<Complex> x, int count)
    {
        var n = Analysis.Order;
        Guard.NotNegative(count);
        Guard.Length(b.Length, (long)n * count, nameof(b));
        Guard.Length(x.Length, (long)n * count, nameof(x));
        foreach (var entry in b)
            if (!Complex.IsFinite(entry))
                throw new ArgumentOutOfRangeException(nameof(b), entry, "must be finite");
        Substitute(b, x, count);
    }

    private unsafe void Substitute(ReadOnlySpan<Complex> b, Span<Complex> x, int count)
    {
        var tree = Analysis.Fronts;
        var n = Analysis.Order;
        var permutation = tree.Permutation;
        var lanes = count == 1 ? 1 : 4;
        var padded = (long)((n + 3) & ~3);
        var most = (long)((tree.MostRows + 7) & ~3);
        var memory = new NativeBlock(2 * lanes * (padded + most));
        double* yr = memory.Pointer;
        double* yi = yr + lanes * padded;
        double* tr = yi + lanes * padded;
        double* ti = tr + lanes * most;
        if (count == 1)
        {
            for (var i = 0; i < n; i++)
            {
                yr[i] = b[permutation[i]].Real;
                yi[i] = b[permutation[i]].Imaginary;
            }
            ComplexSolve.One(tree, _factor.Panels.Pointer, yr, yi, tr, ti);
            for (var i = 0; i < n; i++)
                x[permutation[i]] = new Complex(yr[i], yi[i]);
        }
        for (var from = 0; count > 1 && from < count; from += 4)
        {
            for (var i = 0; i < n; i++)
                for (var c = 0; c < 4; c++)
                {
                    var entry = from + c < count ? b[(from + c) * n + permutation[i]] : Complex.Zero;
                    yr[4 * i + c] = entry.Real;
                    yi[4 * i + c] = entry.Imaginary;
                }
            ComplexSolve.Four(tree, _factor.Panels.Pointer, (Vector256<double>*)yr, (Vector256<double>*)yi, (Vector256<double>*)tr, (Vector256<double>*)ti);
            for (var i = 0; i < n; i++)
                for (var c = 0; c < 4 && from + c < count; c++)
                    x[(from + c) * n + permutation[i]] = new Complex(yr[4 * i + c], yi[4 * i + c]);
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
                if (Dense<Complex>.Size(_values[p]) is var size && size > largest)
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
    public double SolveRefined(ReadOnlySpan<Complex> b, Span<Complex> x) => Refinement<Complex>.Run(Analysis.Pattern, _values, _values, Solve, b, x);

    /// <summary>Estimate, from below and rarely by more than a factor 3, of the condition number ‖A‖₁ ‖A⁻¹‖₁.</summary>
    /// <returns>The estimate; 1 or more.</returns>
    /// <source key="Higham1988"/>
    public double ConditionEstimate() => ConditionEstimate<Complex>.Of(Analysis.Pattern, _values, _values, SubstituteOne, SubstituteOne);

    private void SubstituteOne(ReadOnlySpan<Complex> b, Span<Complex> x) => Substitute(b, x, 1);
}
