using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// A factored symmetric matrix K with a few dense rows and columns round it, as the currents of windings, conductors of given total current and the meshes of a circuit make them:
/// K x + B y = f, Cᵀ x + D y = g. Solved by the Schur complement D − Cᵀ K⁻¹ B, so K must itself be regular.
/// </summary>
public static class BorderedSystem
{
    /// <summary>Borders a real matrix.</summary>
    /// <param name="factor">Factor of K, order n; it must not be refactored while the bordered system is used.</param>
    /// <param name="right">B: p columns of n entries, one after another.</param>
    /// <param name="bottom">C in the same layout; empty for C = B, a symmetric system.</param>
    /// <param name="corner">D: p × p by columns; empty for zero.</param>
    /// <returns>The system, ready to be solved.</returns>
    /// <exception cref="ArgumentException">Lengths do not match, or an entry is not finite.</exception>
    /// <exception cref="ZeroPivotException">The Schur complement is singular; the column is n plus that of the border.</exception>
    public static BorderedSystem<double> Create(RealLdl factor, ReadOnlySpan<double> right, ReadOnlySpan<double> bottom, ReadOnlySpan<double> corner)
    {
        ArgumentNullException.ThrowIfNull(factor);
        return new BorderedSystem<double>(factor.Analysis.Order, factor.Solve, right, bottom, corner);
    }

    /// <summary>Borders a complex symmetric matrix.</summary>
    /// <inheritdoc cref="Create(RealLdl, ReadOnlySpan{double}, ReadOnlySpan{double}, ReadOnlySpan{double})"/>
    public static BorderedSystem<Complex> Create(ComplexLdl factor, ReadOnlySpan<Complex> right, ReadOnlySpan<Complex> bottom, ReadOnlySpan<Complex> corner)
    {
        ArgumentNullException.ThrowIfNull(factor);
        return new BorderedSystem<Complex>(factor.Analysis.Order, factor.Solve, right, bottom, corner);
    }
}

/// <summary>A bordered system of real or complex numbers; see <see cref="BorderedSystem"/>. Threads may share it.</summary>
/// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
public sealed class BorderedSystem<T>
    where T : unmanaged, INumberBase<T>
{
    private readonly SolveMany _solve;
    private readonly T[] _bottom;
    private readonly T[] _eliminated; // K⁻¹ B
    private readonly T[] _schur;
    private readonly int[] _rows;

    internal BorderedSystem(int order, SolveMany solve, ReadOnlySpan<T> right, ReadOnlySpan<T> bottom, ReadOnlySpan<T> corner)
    {
        Order = order;
        _solve = solve;
        BorderCount = order == 0 ? 0 : right.Length / order;
        var p = BorderCount;
        Guard.Length(right.Length, (long)order * p, nameof(right));
        if (!bottom.IsEmpty)
            Guard.Length(bottom.Length, right.Length, nameof(bottom));
        if (!corner.IsEmpty)
            Guard.Length(corner.Length, (long)p * p, nameof(corner));
        Dense<T>.CheckFinite(right, nameof(right));
        Dense<T>.CheckFinite(bottom, nameof(bottom));
        Dense<T>.CheckFinite(corner, nameof(corner));
        _bottom = (bottom.IsEmpty ? right : bottom).ToArray();
        _eliminated = new T[right.Length];
        solve(right, _eliminated, p);
        _schur = corner.IsEmpty ? new T[p * p] : corner.ToArray();
        for (var j = 0; j < p; j++)
            for (var i = 0; i < p; i++)
                _schur[j * p + i] -= Dot(_bottom.AsSpan(i * order, order), _eliminated.AsSpan(j * order, order));
        _rows = Dense<T>.Factor(_schur, p, out var failed);
        if (failed >= 0)
            throw new ZeroPivotException(order + failed, Complex.CreateChecked(_schur[failed * p + failed]));
    }

    internal delegate void SolveMany(ReadOnlySpan<T> b, Span<T> x, int count);

    /// <summary>Unknowns of K.</summary>
    public int Order { get; }

    /// <summary>Rows and columns of the border.</summary>
    public int BorderCount { get; }

    /// <summary>Solves for both sets of unknowns.</summary>
    /// <param name="f">Right-hand side of the inner equations, n entries.</param>
    /// <param name="g">Right-hand side of the border, p entries.</param>
    /// <param name="x">Receives the inner unknowns; may be the memory of <paramref name="f"/>.</param>
    /// <param name="y">Receives the unknowns of the border; may be the memory of <paramref name="g"/>.</param>
    /// <exception cref="ArgumentException">A length does not match, or an entry is not finite.</exception>
    public void Solve(ReadOnlySpan<T> f, ReadOnlySpan<T> g, Span<T> x, Span<T> y)
    {
        Guard.Length(g.Length, BorderCount, nameof(g));
        Guard.Length(y.Length, BorderCount, nameof(y));
        Dense<T>.CheckFinite(g, nameof(g));
        _solve(f, x, 1);
        for (var i = 0; i < BorderCount; i++)
            y[i] = g[i] - Dot(_bottom.AsSpan(i * Order, Order), x);
        Dense<T>.Solve(_schur, _rows, y);
        for (var j = 0; j < BorderCount; j++)
            Dense<T>.SubtractMultiple(x, _eliminated.AsSpan(j * Order, Order), y[j]);
    }

    private static T Dot(ReadOnlySpan<T> a, ReadOnlySpan<T> b)
    {
        var sum = T.Zero;
        for (var i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }
}
