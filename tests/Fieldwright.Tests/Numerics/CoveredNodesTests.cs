using Fieldwright.Numerics.Sparse;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class CoveredNodesTests
{
    [Fact]
    public void Covered_QuadraticTriangles_AreTheMidsides()
    {
        const int rows = 9, columns = 12;
        var (pattern, _) = SparseMatrices.Quadratic(rows, columns);
        var covered = new CoveredNodes(new Adjacency(pattern));
        for (var i = 0; i < pattern.Order; i++)
        {
            int r = i / (2 * columns + 1), c = i % (2 * columns + 1);
            // At the edge of the grid a corner of a single triangle is covered by its neighbours, too.
            if (r > 0 && c > 0 && r < 2 * rows && c < 2 * columns)
                Assert.Equal((r & 1) == 1 || (c & 1) == 1, covered.IsCovered[i]);
        }
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 7)]
    [InlineData(14, 9)]
    public void Covered_QuadraticTriangles_HaveAllTheirNeighboursUnderTheirCover(int rows, int columns)
    {
        var (pattern, _) = SparseMatrices.Quadratic(rows, columns);
        AssertCovered(pattern);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Covered_RandomPattern_HaveAllTheirNeighboursUnderTheirCover(int seed) =>
        AssertCovered(SparseMatrices.Random(60, 3, 1, seed).Pattern);

    [Fact]
    public void Covered_FiveClique_LeavesOne()
    {
        var covered = new CoveredNodes(new Adjacency(SymmetricPattern.FromElements(5, [0, 1, 2, 3, 4], 5, out _)));
        Assert.Equal(4, covered.Count);
        Assert.Equal(5, covered.Complete([.. Enumerable.Range(0, 5).Where(i => !covered.IsCovered[i])]).Unknowns.Distinct().Count());
    }

    [Fact]
    public void Covered_RowAcrossAll_CoversNothing()
    {
        // A grid and an unknown coupled with every one of it: were that one to cover them, nothing would be left to put in order.
        var (grid, _, _) = SparseMatrices.Grid(40, 40);
        var n = grid.Order;
        (int, int)[] couplings = [.. Enumerable.Range(0, n).Select(i => (n, i)), .. Edges(grid)];
        var pattern = SymmetricPattern.FromElements(n + 1, [], 1, couplings, out _, out _);
        Assert.InRange(new CoveredNodes(new Adjacency(pattern)).Count, 0, 4);
        Assert.InRange(SparseAnalysis.Create(pattern).FactorEntries, pattern.EntryCount, 2 * SparseAnalysis.Create(grid).FactorEntries);
    }

    [Theory]
    [InlineData(12, 17)]
    [InlineData(60, 80)]
    public void Analysis_QuadraticTriangles_FillsNoMoreThanWithMidsidesInView(int rows, int columns)
    {
        var (pattern, coordinates) = SparseMatrices.Quadratic(rows, columns);
        var graph = new Adjacency(pattern);
        var whole = new FrontTree(pattern, graph, new EliminationOrder(NestedDissection.Order(graph, coordinates)));
        foreach (var analysis in new[] { SparseAnalysis.Create(pattern, coordinates), SparseAnalysis.Create(pattern) })
        {
            Assert.Equal(Enumerable.Range(0, pattern.Order), analysis.Fronts.Permutation.Order());
            Assert.InRange(analysis.FactorEntries, pattern.EntryCount, 1.03 * whole.FactorEntries);
        }
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern, coordinates), SparseMatrices.Laplacian(pattern, 0.1));
        var x = new double[pattern.Order];
        factor.Solve(Enumerable.Repeat(1.0, pattern.Order).ToArray(), x);
        Assert.All(x, v => Assert.Equal(10, v, 1e-9)); // every row of the matrix sums to 0.1
    }

    private static void AssertCovered(SymmetricPattern pattern)
    {
        var graph = new Adjacency(pattern);
        var covered = new CoveredNodes(graph);
        HashSet<int> Closed(int i) => [i, .. graph.Neighbours[graph.Starts[i]..graph.Starts[i + 1]]];
        var all = Enumerable.Range(0, graph.Order).Select(Closed).ToArray();
        for (var i = 0; i < graph.Order; i++)
        {
            Assert.True(!covered.IsCovered[i] || covered.Under(i).IsEmpty);
            foreach (var e in covered.Under(i))
                Assert.True(covered.IsCovered[e] && all[e].IsSubsetOf(all[i]), $"{i} over {e}");
            // Whoever is covered has someone over it; whoever is not has nobody.
            var over = Enumerable.Range(0, graph.Order).Where(k => covered.Under(k).Contains(i)).ToArray();
            Assert.Equal(covered.IsCovered[i], over.Length > 0);
            Assert.Equal(covered.IsCovered[i], Enumerable.Range(0, graph.Order).Any(k => k != i && all[i].IsSubsetOf(all[k]) && (all[k].Count > all[i].Count || k < i)));
        }
        var order = covered.Complete([.. Enumerable.Range(0, graph.Order).Where(i => !covered.IsCovered[i])]);
        Assert.Equal(Enumerable.Range(0, graph.Order), order.Unknowns.Order());
    }

    private static IEnumerable<(int, int)> Edges(SymmetricPattern pattern) =>
        from j in Enumerable.Range(0, pattern.Order)
        from p in Enumerable.Range(pattern.ColumnStarts[j], pattern.ColumnStarts[j + 1] - pattern.ColumnStarts[j])
        select (pattern.RowIndices[p], j);
}
