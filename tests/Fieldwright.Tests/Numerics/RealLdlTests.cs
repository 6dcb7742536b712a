using Fieldwright.Numerics.Sparse;
using MathNet.Numerics.LinearAlgebra;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class RealLdlTests
{
    private const double Rounding = 1.1e-16;

    [Theory]
    [InlineData(1, 1)]
    [InlineData(7, 9)]
    [InlineData(60, 50)]
    [InlineData(150, 170)]
    public void Solve_Laplacian_LeavesAResidualOfRounding(int rows, int columns)
    {
        var (pattern, values, coordinates) = SparseMatrices.Grid(rows, columns);
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern, coordinates), values);
        var b = SparseMatrices.Vector(pattern.Order, 1);
        var x = new double[pattern.Order];
        factor.Solve(b, x);
        Assert.True(NormwiseError(pattern, values, b, x) < 8 * Rounding, "a backward stable solve leaves ‖b − Ax‖ ≤ O(u)(‖A‖‖x‖ + ‖b‖)");
        var reported = factor.SolveRefined(b, x);
        Assert.True(BackwardError(pattern, values, b, x) < 4 * Rounding, "refinement makes that hold row by row");
        Assert.Equal(BackwardError(pattern, values, b, x), reported, 2 * Rounding);
    }

    [Theory]
    [InlineData(40, 1)]
    [InlineData(150, 3)]
    [InlineData(300, 2)]
    public void Solve_RandomDominantMatrix_AgreesWithDenseCholesky(int order, int perColumn)
    {
        var (pattern, values) = SparseMatrices.Random(order, perColumn, 8 * perColumn, seed: order);
        var b = SparseMatrices.Vector(order, 2);
        var x = new double[order];
        RealLdl.Create(SparseAnalysis.Create(pattern), values).Solve(b, x);
        var dense = Matrix<double>.Build.DenseOfArray(SparseMatrices.Dense(pattern, values)).Cholesky().Solve(Vector<double>.Build.Dense(b));
        // Condition number of these matrices is below 30 by Gershgorin's discs.
        for (var i = 0; i < order; i++)
            Assert.Equal(dense[i], x[i], 1e-13);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(1.0)]
    [InlineData(3.3)]
    [InlineData(8.1)]
    public void Inertia_ShiftedLaplacian_CountsTheEigenvaluesBelowTheShift(double shift)
    {
        const int rows = 13, columns = 17;
        var (pattern, values, _) = SparseMatrices.Grid(rows, columns);
        for (var j = 0; j < pattern.Order; j++)
            values[pattern.ColumnStarts[j]] -= shift + 1e-3;
        var below = SparseMatrices.GridEigenvalues(rows, columns).Count(e => e < shift + 1e-3);
        var inertia = RealLdl.Create(SparseAnalysis.Create(pattern), values).Inertia;
        Assert.Equal(new Inertia(pattern.Order - below, below, 0), inertia);
    }

    [Fact]
    public void Create_ZeroPivot_NamesTheColumn()
    {
        // Columns 0–1 and 3–4 are coupled pairs, column 2 stands alone with nothing on its diagonal.
        var pattern = new SymmetricPattern(5, [0, 2, 3, 4, 6, 7], [0, 1, 1, 2, 3, 4, 4]);
        var thrown = Assert.Throws<ZeroPivotException>(() => RealLdl.Create(SparseAnalysis.Create(pattern), [2, 1, 2, 0, 2, 1, 2]));
        Assert.Equal(2, thrown.Column);
        Assert.Equal(0, thrown.Pivot.Real);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Create_FloatingNetwork_IsSingularThoughNoPivotIsExactlyZero(int seed)
    {
        // Random conductances, no node held: row sums vanish to rounding, the constant vector is in the null space.
        var (pattern, values, _) = SparseMatrices.Grid(25, 20);
        var conductances = SparseMatrices.Vector(values.Length, seed);
        for (var j = 0; j < pattern.Order; j++)
            values[pattern.ColumnStarts[j]] = 0;
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
            {
                values[p] = -1.1 - conductances[p];
                values[pattern.ColumnStarts[j]] -= values[p];
                values[pattern.ColumnStarts[pattern.RowIndices[p]]] -= values[p];
            }
        Assert.Throws<ZeroPivotException>(() => RealLdl.Create(SparseAnalysis.Create(pattern), values));
        values[pattern.ColumnStarts[7]] += 1e-6; // one node tied down ever so weakly, and it is regular
        Assert.Equal(new Inertia(500, 0, 0), RealLdl.Create(SparseAnalysis.Create(pattern), values).Inertia);
    }

    [Fact]
    public void Refactor_NewValues_ReplaceTheOld()
    {
        var (pattern, values, _) = SparseMatrices.Grid(20, 20);
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern), values);
        for (var p = 0; p < values.Length; p++)
            values[p] *= 4;
        factor.Refactor(values);
        var b = SparseMatrices.Vector(pattern.Order, 3);
        var x = new double[pattern.Order];
        factor.Solve(b, x);
        Assert.True(NormwiseError(pattern, values, b, x) < 8 * Rounding);
    }

    [Fact]
    public void Solve_ManyRightHandSides_EqualsSolvingOneByOne()
    {
        var (pattern, values, _) = SparseMatrices.Grid(30, 31);
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern), values);
        const int count = 7;
        var n = pattern.Order;
        var b = SparseMatrices.Vector(n * count, 4);
        var x = new double[n * count];
        factor.Solve(b, x, count);
        for (var c = 0; c < count; c++)
        {
            Assert.True(NormwiseError(pattern, values, b.AsSpan(c * n, n).ToArray(), x.AsSpan(c * n, n).ToArray()) < 8 * Rounding);
        }
    }

    [Fact]
    public void Solve_UnitLoads_AreReciprocal()
    {
        var (pattern, values, _) = SparseMatrices.Grid(25, 40);
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern), values);
        int[] places = [3, 417, 999];
        var response = places.Select(p =>
        {
            var b = new double[pattern.Order];
            b[p] = 1;
            factor.Solve(b, b);
            return b;
        }).ToArray();
        foreach (var (i, j) in new[] { (0, 1), (0, 2), (1, 2) })
            Assert.Equal(response[i][places[j]], response[j][places[i]], 1e-14);
    }

    [Fact]
    public void ConditionEstimate_Laplacian_IsWithinAFactorThreeOfTheInverse()
    {
        var (pattern, values, _) = SparseMatrices.Grid(9, 11);
        var exact = Matrix<double>.Build.DenseOfArray(SparseMatrices.Dense(pattern, values));
        var condition = exact.L1Norm() * exact.Inverse().L1Norm();
        var estimate = RealLdl.Create(SparseAnalysis.Create(pattern), values).ConditionEstimate();
        Assert.InRange(estimate, condition / 3, condition * (1 + 1e-10));
    }

    [Fact]
    public void Create_NotANumber_IsRefused()
    {
        var (pattern, values, _) = SparseMatrices.Grid(3, 3);
        values[4] = double.NaN;
        Assert.Throws<ArgumentOutOfRangeException>(() => RealLdl.Create(SparseAnalysis.Create(pattern), values));
    }

    /// <summary>‖b − Ax‖ / (‖A‖‖x‖ + ‖b‖) in the maximum norm.</summary>
    internal static double NormwiseError(SymmetricPattern pattern, double[] values, double[] b, double[] x)
    {
        var ax = SparseMatrices.Multiply<double>(pattern, p => values[p], x);
        var norm = SparseMatrices.Multiply<double>(pattern, p => Math.Abs(values[p]), x.Select(_ => 1.0).ToArray()).Max();
        return Enumerable.Range(0, b.Length).Max(i => Math.Abs(b[i] - ax[i])) / (norm * x.Max(Math.Abs) + b.Max(Math.Abs));
    }

    /// <summary>max |b − Ax| / (|A||x| + |b|), the componentwise backward error of Oettli and Prager.</summary>
    internal static double BackwardError(SymmetricPattern pattern, double[] values, double[] b, double[] x)
    {
        var ax = SparseMatrices.Multiply<double>(pattern, p => values[p], x);
        var scale = SparseMatrices.Multiply<double>(pattern, p => Math.Abs(values[p]), x.Select(Math.Abs).ToArray());
        return Enumerable.Range(0, b.Length).Max(i => Math.Abs(b[i] - ax[i]) / (scale[i] + Math.Abs(b[i])));
    }
}
