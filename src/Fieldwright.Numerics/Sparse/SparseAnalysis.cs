using System.Numerics;
using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// What can be known of a symmetric factorisation from the pattern alone: the order of elimination, the pattern of the factor, and what it will cost.
/// Made once and shared by every factorisation of the same pattern. Immutable: threads may share it.
/// </summary>
public sealed class SparseAnalysis
{
    // Unknowns above which dissection is worth its trouble.
    private const int Large = 5_000;

    private SparseAnalysis(SymmetricPattern pattern, ReadOnlySpan<double> coordinates, ReadOnlySpan<int> last)
    {
        Pattern = pattern;
        var graph = new Adjacency(pattern);
        Fronts = new FrontTree(pattern, graph, last.IsEmpty ? Arrange(graph, coordinates) : ArrangeLast(graph, coordinates, last));
        Schedule = new FrontSchedule(Fronts);
    }

    /// <summary>The pattern that was analysed.</summary>
    public SymmetricPattern Pattern { get; }

    /// <summary>Number of unknowns.</summary>
    public int Order => Pattern.Order;

    /// <summary>Entries of the factor L, its diagonal and the zeros stored for speed included.</summary>
    public long FactorEntries => Fronts.FactorEntries;

    /// <summary>Multiplications and additions of one numeric factorisation (complex ones for a complex matrix).</summary>
    public double Operations => Fronts.Operations;

    /// <summary>Bytes that one real factorisation will take at its peak, the factor included.</summary>
    public long PredictedBytes => Schedule.PeakNumbers * sizeof(double) + Pattern.EntryCount * 8L;

    /// <summary>Bytes that one complex factorisation will take at its peak, the factor included.</summary>
    public long PredictedComplexBytes => 2 * Schedule.PeakNumbers * sizeof(double) + Pattern.EntryCount * 16L;

    /// <summary>Bytes that <see cref="IndefiniteLdl{T}"/> will take at its peak, the factor included, when no pivot is delayed: each one handed on adds a row and a column to a front.</summary>
    /// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
    /// <returns>Bytes.</returns>
    public long PredictedIndefiniteBytes<T>()
        where T : unmanaged => (FrontSchedule.PivotingNumbers(Fronts, 1) + Pattern.EntryCount) * Unsafe.SizeOf<T>();

    /// <summary>Bytes that <see cref="SparseLu{T}"/> will take at its peak, the factor included, when no pivot is delayed.</summary>
    /// <typeparam name="T"><see cref="double"/> or <see cref="Complex"/>.</typeparam>
    /// <returns>Bytes.</returns>
    public long PredictedLuBytes<T>()
        where T : unmanaged => (FrontSchedule.PivotingNumbers(Fronts, 2) + 2L * Pattern.EntryCount) * Unsafe.SizeOf<T>();

    internal FrontTree Fronts { get; }

    internal FrontSchedule Schedule { get; }

    /// <summary>Analyses a pattern.</summary>
    /// <param name="pattern">Lower triangle of the matrix.</param>
    /// <param name="coordinates">2·order values x₀ y₀ x₁ y₁ … in any one unit, places of the unknowns in the plane, or empty: with them large systems are dissected by place.</param>
    /// <returns>The analysis, the same for the same input.</returns>
    /// <exception cref="ArgumentException">The coordinates are neither empty nor two finite values an unknown.</exception>
    public static SparseAnalysis Create(SymmetricPattern pattern, ReadOnlySpan<double> coordinates = default) => Create(pattern, coordinates, []);

    /// <summary>
    /// Analyses a pattern some of whose unknowns are to be eliminated after all others. Multipliers and currents whose diagonal is zero belong there: when the rest is
    /// definite, their pivots are then those of a Schur complement, definite too, and <see cref="RealLdl"/> or <see cref="ComplexLdl"/> serves without pivoting.
    /// </summary>
    /// <param name="pattern">Lower triangle of the matrix.</param>
    /// <param name="coordinates">Places of the unknowns as in the other overload, or empty; those of <paramref name="last"/> are not looked at.</param>
    /// <param name="last">Unknowns to eliminate last, in this order; a few, since each fills its row.</param>
    /// <returns>The analysis, the same for the same input.</returns>
    /// <exception cref="ArgumentException">The coordinates are neither empty nor two finite values an unknown, or an entry of <paramref name="last"/> is no unknown or is repeated.</exception>
    public static SparseAnalysis Create(SymmetricPattern pattern, ReadOnlySpan<double> coordinates, ReadOnlySpan<int> last)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        if (!coordinates.IsEmpty)
        {
            Guard.Length(coordinates.Length, 2L * pattern.Order, nameof(coordinates));
            Guard.Finite(coordinates);
        }
        return new SparseAnalysis(pattern, coordinates, last);
    }

    // What is covered is set aside, where that is worth another graph; the rest is ordered, and the covered nodes go back.
    private static EliminationOrder Arrange(Adjacency graph, ReadOnlySpan<double> coordinates)
    {
        var covered = new CoveredNodes(graph);
        if (covered.Count < graph.Order / 8)
            return new EliminationOrder(ArrangeAll(graph, coordinates));
        var (rest, kept) = graph.Without(covered.IsCovered);
        var order = ArrangeAll(rest, Places(coordinates, kept));
        for (var k = 0; k < order.Length; k++)
            order[k] = kept[order[k]];
        return covered.Complete(order);
    }

    private static int[] ArrangeAll(Adjacency graph, ReadOnlySpan<double> coordinates)
    {
        if (graph.Order >= Large)
            return coordinates.IsEmpty ? NestedDissection.Order(graph) : NestedDissection.Order(graph, coordinates);
        var order = new int[graph.Order];
        new MinimumDegree().Order(graph.Order, graph.Starts, graph.Neighbours, graph.Order, order);
        return order;
    }

    private static EliminationOrder ArrangeLast(Adjacency graph, ReadOnlySpan<double> coordinates, ReadOnlySpan<int> last)
    {
        var excluded = new bool[graph.Order];
        foreach (var i in last)
        {
            if (excluded[Guard.InRange(i, 0, graph.Order - 1, nameof(last))])
                throw new ArgumentException($"unknown {i} is named twice", nameof(last));
            excluded[i] = true;
        }
        var (rest, kept) = graph.Without(excluded);
        var (order, joined) = Arrange(rest, Places(coordinates, kept));
        return new EliminationOrder([.. order.Select(k => kept[k]), .. last], [.. joined, .. new bool[last.Length]]);
    }

    private static double[] Places(ReadOnlySpan<double> coordinates, int[] kept)
    {
        var places = coordinates.IsEmpty ? [] : new double[2 * kept.Length];
        for (var k = 0; k < places.Length / 2; k++)
            (places[2 * k], places[2 * k + 1]) = (coordinates[2 * kept[k]], coordinates[2 * kept[k] + 1]);
        return places;
    }
}
