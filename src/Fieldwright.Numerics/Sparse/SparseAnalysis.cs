namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// What can be known of a symmetric factorisation from the pattern alone: the order of elimination, the pattern of the factor, and what it will cost.
/// Made once and shared by every factorisation of the same pattern. Immutable: threads may share it.
/// </summary>
public sealed class SparseAnalysis
{
    // Unknowns above which dissection is worth its trouble.
    private const int Large = 5_000;

    private SparseAnalysis(SymmetricPattern pattern, ReadOnlySpan<double> coordinates)
    {
        Pattern = pattern;
        var graph = new Adjacency(pattern);
        var order = graph.Order < Large ? MinimumDegree.Order(graph.Order, graph.Starts, graph.Neighbours, graph.Order)
            : coordinates.IsEmpty ? NestedDissection.Order(graph) : NestedDissection.Order(graph, coordinates);
        Fronts = new FrontTree(pattern, graph, order);
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

    internal FrontTree Fronts { get; }

    internal FrontSchedule Schedule { get; }

    /// <summary>Analyses a pattern.</summary>
    /// <param name="pattern">Lower triangle of the matrix.</param>
    /// <param name="coordinates">2·order values x₀ y₀ x₁ y₁ … in any one unit, places of the unknowns in the plane, or empty: with them large systems are dissected by place, which is quicker and fills less.</param>
    /// <returns>The analysis, the same for the same input.</returns>
    /// <exception cref="ArgumentException">The coordinates are neither empty nor two finite values an unknown.</exception>
    public static SparseAnalysis Create(SymmetricPattern pattern, ReadOnlySpan<double> coordinates = default)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        if (!coordinates.IsEmpty)
        {
            Guard.Length(coordinates.Length, 2L * pattern.Order, nameof(coordinates));
            Guard.Finite(coordinates);
        }
        return new SparseAnalysis(pattern, coordinates);
    }
}
