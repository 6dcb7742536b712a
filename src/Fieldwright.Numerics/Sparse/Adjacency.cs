using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>A symmetric pattern as a graph: every edge in both directions, no self-edges.</summary>
internal sealed class Adjacency
{
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public Adjacency(SymmetricPattern pattern)
    {
        var n = pattern.Order;
        Order = n;
        var columnStarts = pattern.ColumnStarts;
        var rows = pattern.RowIndices;
        Starts = new int[n + 1];
        for (var j = 0; j < n; j++)
            for (var p = columnStarts[j] + 1; p < columnStarts[j + 1]; p++)
            {
                Starts[j + 1]++;
                Starts[rows[p] + 1]++;
            }
        for (var j = 0; j < n; j++)
            Starts[j + 1] = checked(Starts[j] + Starts[j + 1]);
        Neighbours = new int[Starts[n]];
        var next = Starts.AsSpan(0, n).ToArray();
        // Columns in order leave each list ascending: first the lesser neighbours, one column after another, then the greater.
        for (var j = 0; j < n; j++)
            for (var p = columnStarts[j] + 1; p < columnStarts[j + 1]; p++)
                Neighbours[next[rows[p]]++] = j;
        for (var j = 0; j < n; j++)
            for (var p = columnStarts[j] + 1; p < columnStarts[j + 1]; p++)
                Neighbours[next[j]++] = rows[p];
    }

    private Adjacency(int order, int[] starts, int[] neighbours) =>
        (Order, Starts, Neighbours) = (order, starts, neighbours);

    public int Order { get; }

    /// <summary>order + 1 positions into the other two.</summary>
    public int[] Starts { get; }

    public int[] Neighbours { get; }

    /// <summary>The graph without some of its nodes, and the nodes that are left.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public (Adjacency Graph, int[] Kept) Without(bool[] excluded)
    {
        var number = new int[Order];
        int count = 0, most = 0;
        for (var i = 0; i < Order; i++)
            if (!excluded[i])
            {
                number[i] = count++;
                most += Starts[i + 1] - Starts[i];
            }
        var kept = new int[count];
        var starts = new int[count + 1];
        var neighbours = new int[most];
        int k = 0, end = 0;
        for (var i = 0; i < Order; i++)
        {
            if (excluded[i])
                continue;
            kept[k++] = i;
            for (var p = Starts[i]; p < Starts[i + 1]; p++)
                if (!excluded[Neighbours[p]])
                    neighbours[end++] = number[Neighbours[p]];
            starts[k] = end;
        }
        Array.Resize(ref neighbours, end);
        return (new Adjacency(count, starts, neighbours), kept);
    }
}
