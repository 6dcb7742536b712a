using Fieldwright.Numerics.Sparse;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class SupernodesTests
{
    [Theory]
    [InlineData(1, 2)]
    [InlineData(2, 2)]
    [InlineData(3, 3)]
    [InlineData(4, 5)]
    public void Rows_RandomPatternAndOrder_AreThoseOfElimination(int seed, int perColumn)
    {
        var (pattern, _) = SparseMatrices.Random(80, perColumn, 1, seed);
        var order = Shuffled(pattern.Order, seed);
        var nodes = new Supernodes(new Adjacency(pattern), new EliminationOrder(order));
        var columns = Eliminate(pattern, order);
        Assert.Equal(0, nodes.Starts[0]);
        Assert.Equal(pattern.Order, nodes.Starts[nodes.Count]);
        for (var s = 0; s < nodes.Count; s++)
        {
            // Every column of a supernode has the later pivots and the rows, and nothing else.
            int from = nodes.Starts[s], to = nodes.Starts[s + 1];
            int[] rows = nodes.Rows[nodes.RowStarts[s]..nodes.RowStarts[s + 1]];
            for (var k = from; k < to; k++)
                Assert.Equal([.. Enumerable.Range(k + 1, to - k - 1), .. rows.Order()], columns[k]);
            Assert.Equal(rows.Length == 0 ? -1 : Enumerable.Range(0, nodes.Count).Last(p => nodes.Starts[p] <= rows.Min()), nodes.Parent[s]);
        }
    }

    [Theory]
    [InlineData(5)]
    [InlineData(6)]
    public void Rows_ColumnsJoined_HoldThoseOfElimination(int seed)
    {
        var (pattern, _) = SparseMatrices.Random(80, 2, 1, seed);
        var order = Shuffled(pattern.Order, seed);
        var random = new Random(seed);
        bool[] joined = [.. Enumerable.Range(0, pattern.Order).Select(k => k > 0 && random.Next(3) == 0)];
        var nodes = new Supernodes(new Adjacency(pattern), new EliminationOrder(order, joined));
        var columns = Eliminate(pattern, order);
        for (var s = 0; s < nodes.Count; s++)
        {
            int from = nodes.Starts[s], to = nodes.Starts[s + 1];
            Assert.False(joined[from]);
            int[] rows = nodes.Rows[nodes.RowStarts[s]..nodes.RowStarts[s + 1]];
            for (var k = from; k < to; k++)
                Assert.Subset((HashSet<int>)[.. Enumerable.Range(k + 1, to - k - 1), .. rows], columns[k]);
            // Its parent takes every row in.
            if (nodes.Parent[s] is var p and >= 0)
                Assert.Subset((HashSet<int>)[.. Enumerable.Range(nodes.Starts[p], nodes.Starts[p + 1] - nodes.Starts[p]), .. nodes.Rows[nodes.RowStarts[p]..nodes.RowStarts[p + 1]]], (HashSet<int>)[.. rows]);
        }
    }

    // The rows below the diagonal of each column of L, by elimination on sets.
    private static SortedSet<int>[] Eliminate(SymmetricPattern pattern, int[] order)
    {
        var place = new int[order.Length];
        for (var k = 0; k < order.Length; k++)
            place[order[k]] = k;
        var columns = Enumerable.Range(0, order.Length).Select(_ => new SortedSet<int>()).ToArray();
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
            {
                int one = place[j], other = place[pattern.RowIndices[p]];
                columns[Math.Min(one, other)].Add(Math.Max(one, other));
            }
        for (var k = 0; k < order.Length; k++)
            foreach (var i in columns[k])
                columns[i].UnionWith(columns[k].Where(row => row > i));
        return columns;
    }

    private static int[] Shuffled(int count, int seed)
    {
        int[] order = [.. Enumerable.Range(0, count)];
        new Random(seed).Shuffle(order);
        return order;
    }
}
