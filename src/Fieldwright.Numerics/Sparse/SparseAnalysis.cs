namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// What can be known of a symmetric factorisation from the pattern alone: the order of elimination, the pattern of the factor, and what it will cost.
/// Made once and shared by every factorisation of the same pattern. Immutable: threads may share it.
/// </summary>
public sealed class SparseAnalysis
{
    private SparseAnalysis(SymmetricPattern pattern)
    {
        Pattern = pattern;
        (FullStarts, FullRows, FullSources) = Expand(pattern);
        var adjacencyStarts = new int[pattern.Order + 1];
        var adjacency = new int[FullRows.Length - pattern.Order];
        var k = 0;
        for (var j = 0; j < pattern.Order; j++)
        {
            for (var p = FullStarts[j]; p < FullStarts[j + 1]; p++)
                if (FullRows[p] != j)
                    adjacency[k++] = FullRows[p];
            adjacencyStarts[j + 1] = k;
        }
        Permutation = MinimumDegree.Order(pattern.Order, adjacencyStarts, adjacency);
        Inverse = new int[pattern.Order];
        for (var i = 0; i < pattern.Order; i++)
            Inverse[Permutation[i]] = i;
        Parent = new int[pattern.Order];
        ColumnCounts = new int[pattern.Order];
        var flag = new int[pattern.Order];
        for (var row = 0; row < pattern.Order; row++)
        {
            Parent[row] = -1;
            flag[row] = row;
            var original = Permutation[row];
            for (var p = FullStarts[original]; p < FullStarts[original + 1]; p++)
                for (var i = Inverse[FullRows[p]]; i < row && flag[i] != row; i = Parent[i])
                {
                    if (Parent[i] < 0)
                        Parent[i] = row;
                    ColumnCounts[i]++;
                    flag[i] = row;
                }
        }
        foreach (var count in ColumnCounts)
        {
            FactorEntries += count + 1L;
            Operations += count * (count + 3.0);
        }
    }

    /// <summary>The pattern that was analysed.</summary>
    public SymmetricPattern Pattern { get; }

    /// <summary>Number of unknowns.</summary>
    public int Order => Pattern.Order;

    /// <summary>Entries of the factor L, its diagonal included.</summary>
    public long FactorEntries { get; }

    /// <summary>Multiplications and additions of one numeric factorisation (complex ones for a complex matrix).</summary>
    public double Operations { get; }

    /// <summary>Bytes that one real factorisation will take at its peak, the factor included.</summary>
    public long PredictedBytes => FactorEntries * 12 + Order * 40L;

    /// <summary>Bytes that one complex factorisation will take at its peak, the factor included.</summary>
    public long PredictedComplexBytes => FactorEntries * 20 + Order * 56L;

    internal int[] Permutation { get; }
    internal int[] Inverse { get; }
    internal int[] Parent { get; }
    internal int[] ColumnCounts { get; }
    internal int[] FullStarts { get; }
    internal int[] FullRows { get; }
    internal int[] FullSources { get; }

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
        return new SparseAnalysis(pattern);
    }

    // Both triangles by columns, rows ascending, with the place of each value in the lower triangle.
    private static (int[] Starts, int[] Rows, int[] Sources) Expand(SymmetricPattern pattern)
    {
        var n = pattern.Order;
        var starts = new int[n + 1];
        for (var j = 0; j < n; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                starts[j + 1]++;
                if (pattern.RowIndices[p] != j)
                    starts[pattern.RowIndices[p] + 1]++;
            }
        for (var j = 0; j < n; j++)
            starts[j + 1] = checked(starts[j] + starts[j + 1]);
        var rows = new int[starts[n]];
        var sources = new int[starts[n]];
        var next = starts.AsSpan(0, n).ToArray();
        for (var j = 0; j < n; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                var i = pattern.RowIndices[p];
                if (i != j)
                {
                    sources[next[i]] = p;
                    rows[next[i]++] = j;
                }
                sources[next[j]] = p;
                rows[next[j]++] = i;
            }
        return (starts, rows, sources);
    }
}
