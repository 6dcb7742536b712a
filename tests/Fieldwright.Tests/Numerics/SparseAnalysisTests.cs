using System.Numerics;
using Fieldwright.Numerics.Sparse;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class SparseAnalysisTests
{
    [Theory]
    [InlineData(3, 40, true)]
    [InlineData(60, 60, true)]
    [InlineData(60, 60, false)]
    [InlineData(120, 90, true)]
    [InlineData(120, 90, false)]
    public void Create_Grid_OrdersEveryUnknownOnceAndRowsAscend(int rows, int columns, bool places)
    {
        var (pattern, _, coordinates) = SparseMatrices.Grid(rows, columns);
        var fronts = SparseAnalysis.Create(pattern, places ? coordinates : []).Fronts;
        Assert.Equal(Enumerable.Range(0, pattern.Order), fronts.Permutation.Order());
        for (var f = 0; f < fronts.Count; f++)
        {
            Assert.True(fronts.Parent[f] < 0 || fronts.Parent[f] > f);
            for (var p = fronts.RowStarts[f]; p < fronts.RowStarts[f + 1]; p++)
            {
                Assert.True(fronts.Rows[p] >= fronts.FirstColumn[f + 1]);
                Assert.True(p == fronts.RowStarts[f] || fronts.Rows[p] > fronts.Rows[p - 1]);
                // The parent knows the row where the child says it does.
                var parent = fronts.Parent[f];
                var place = fronts.RelativeRows[p];
                var row = place < fronts.PivotCount(parent) ? fronts.FirstColumn[parent] + place
                    : fronts.Rows[fronts.RowStarts[parent] + place - fronts.PivotCount(parent)];
                Assert.Equal(fronts.Rows[p], row);
            }
        }
    }

    [Fact]
    public void Create_LargeGrid_FillsAsDissectionShould()
    {
        // George's bound for an n × n grid, five-point: entries of L about 31/4 n² log₂ n; a natural order would have n³.
        const int n = 150;
        var (pattern, _, coordinates) = SparseMatrices.Grid(n, n);
        foreach (var analysis in new[] { SparseAnalysis.Create(pattern, coordinates), SparseAnalysis.Create(pattern) })
            Assert.InRange(analysis.FactorEntries, pattern.EntryCount, 7.75 * n * n * Math.Log2(n));
    }

    [Fact]
    public void Create_SeparateParts_AreAllOrdered()
    {
        // Two grids that do not touch, and an unknown by itself.
        var (grid, values, _) = SparseMatrices.Grid(60, 60);
        var n = grid.Order;
        int[] starts = [.. grid.ColumnStarts, .. grid.ColumnStarts[1..].Select(s => s + grid.EntryCount), 2 * grid.EntryCount + 1];
        int[] rows = [.. grid.RowIndices, .. grid.RowIndices.Select(r => r + n), 2 * n];
        var factor = RealLdl.Create(SparseAnalysis.Create(new SymmetricPattern(2 * n + 1, starts, rows)), [.. values, .. values, 2]);
        var x = new double[2 * n + 1];
        factor.Solve(Enumerable.Repeat(1.0, 2 * n + 1).ToArray(), x);
        Assert.Equal(0.5, x[^1]);
        Assert.Equal(x[7], x[n + 7], 1e-10 * x[7]);
    }

    [Fact]
    public void Schedule_LargeGrid_RanksEveryPieceOnceAndChildrenBeforeParents()
    {
        var (pattern, _, coordinates) = SparseMatrices.Grid(260, 260);
        var schedule = SparseAnalysis.Create(pattern, coordinates).Schedule;
        Assert.Equal(Enumerable.Range(0, schedule.Pieces.Length), schedule.Rank.Order());
        for (var k = 0; k < schedule.Pieces.Length; k++)
            Assert.True(schedule.Parent[k] < 0 || schedule.Rank[k] < schedule.Rank[schedule.Parent[k]]);
        // Of the two that the root waits for, neither has all its leaves first.
        int[] heads = [.. Enumerable.Range(0, schedule.Pieces.Length).Where(k => schedule.Pieces[k].Together).SelectMany(t => Enumerable.Range(0, t).Where(k => schedule.Parent[k] == t && !schedule.Pieces[k].Together))];
        var last = heads.Select(h => Below(h).Max(k => schedule.Rank[k])).ToArray();
        var first = heads.Select(h => Below(h).Min(k => schedule.Rank[k])).ToArray();
        Assert.True(heads.Length > 1 && first.Max() < last.Min());

        IEnumerable<int> Below(int piece) => Enumerable.Range(0, piece).Where(k => schedule.Parent[k] == piece).SelectMany(Below).Append(piece);
    }

    [Fact]
    public void Create_SameInput_SameOrder()
    {
        var (pattern, _, coordinates) = SparseMatrices.Grid(90, 90);
        Assert.Equal(SparseAnalysis.Create(pattern, coordinates).Fronts.Permutation, SparseAnalysis.Create(pattern, coordinates).Fronts.Permutation);
    }

    [Fact]
    public void Create_LastUnknowns_AreEliminatedLast()
    {
        var (pattern, _, coordinates) = SparseMatrices.Grid(20, 20);
        var fronts = SparseAnalysis.Create(pattern, coordinates, [17, 3]).Fronts;
        Assert.Equal([17, 3], fronts.Permutation[^2..].Order().Reverse());
        Assert.Throws<ArgumentException>(() => SparseAnalysis.Create(pattern, coordinates, [4, 4]));
    }

    [Fact]
    public void PredictedBytes_Factorisation_TakesNoMore()
    {
        var (pattern, values, coordinates) = SparseMatrices.Grid(200, 200);
        var analysis = SparseAnalysis.Create(pattern, coordinates);
        var least = (analysis.Fronts.PanelStarts[^1] + pattern.EntryCount) * sizeof(double);
        Assert.InRange(analysis.PredictedBytes, least, 3 * least);
        Assert.InRange(analysis.PredictedComplexBytes, 2 * least, 6 * least);
        Assert.True(RealLdl.Create(analysis, values).Inertia.Positive == pattern.Order);
    }

    [Fact]
    public void Factors_OneThreadAndMore_AreBitForBitTheSame()
    {
        var (pattern, values, coordinates) = SparseMatrices.Grid(260, 260);
        var analysis = SparseAnalysis.Create(pattern, coordinates);
        Assert.True(analysis.Schedule.Pieces.Length > 2 && analysis.Schedule.Pieces.Any(p => p.Together) && analysis.Schedule.Pieces.Any(p => !p.Together && p.First == p.Last), "there is something to share out");
        var imaginary = ComplexLdlTests.Mass(pattern, 1);
        var b = SparseMatrices.Vector(pattern.Order, 8);
        var complexB = ComplexLdlTests.Load(pattern.Order, 9);
        var alone = new double[pattern.Order];
        var complexAlone = new Complex[pattern.Order];
        RealLdl.Create(analysis, values, threads: 1).Solve(b, alone);
        ComplexLdl.Create(analysis, values, imaginary, threads: 1).Solve(complexB, complexAlone);
        foreach (var threads in new[] { 2, 5 })
        {
            var together = new double[pattern.Order];
            var complexTogether = new Complex[pattern.Order];
            RealLdl.Create(analysis, values, threads).Solve(b, together);
            ComplexLdl.Create(analysis, values, imaginary, threads).Solve(complexB, complexTogether);
            Assert.Equal(alone, together);
            Assert.Equal(complexAlone, complexTogether);
        }
    }

    [Fact]
    public void FromElements_TwoTriangles_ScatterFindsEveryEntry()
    {
        // Unknown 2 is held; 0–1 shared by both elements.
        int[] dofs = [0, 1, -1, 1, 0, 2];
        var pattern = SymmetricPattern.FromElements(4, dofs, 3, [(3, 0), (-1, 2)], out var scatter, out var couplings);
        Assert.Equal(-1, couplings[1]);
        Assert.Equal(pattern.IndexOf(0, 3), couplings[0]);
        for (var e = 0; e < 2; e++)
            for (int i = 0, pair = 6 * e; i < 3; i++)
                for (var j = 0; j <= i; j++, pair++)
                {
                    int row = dofs[3 * e + i], column = dofs[3 * e + j];
                    Assert.Equal(row < 0 || column < 0 ? -1 : pattern.IndexOf(row, column), scatter[pair]);
                }
        Assert.Equal(-1, pattern.IndexOf(3, 1));
        Assert.Equal(pattern.ColumnStarts[3], pattern.IndexOf(3, 3));
    }

    [Fact]
    public void SymmetricPattern_RowsOutOfOrder_AreRefused() =>
        Assert.Throws<ArgumentException>(() => new SymmetricPattern(2, [0, 2, 3], [1, 0, 1]));
}
