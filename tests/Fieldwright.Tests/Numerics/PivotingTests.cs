using System.Numerics;
using Fieldwright.Numerics.Sparse;
using MathNet.Numerics.LinearAlgebra;
using Xunit;

namespace Fieldwright.Tests.Numerics;

/// <summary>Matrices that a factorisation without pivoting cannot be trusted with: saddle points, indefinite and unsymmetric ones.</summary>
public class PivotingTests
{
    private const double Rounding = 1.1e-16;

    [Theory]
    [InlineData(60, 2, 1)]
    [InlineData(400, 3, 2)]
    [InlineData(900, 2, 3)]
    public void IndefiniteLdl_RandomMatrixWithZeroDiagonal_HasTheInertiaAndSolutionOfTheDenseOne(int order, int perColumn, int seed)
    {
        var (pattern, values) = SparseMatrices.Random(order, perColumn, 0, seed);
        for (var j = 0; j < order; j += 3)
            values[pattern.ColumnStarts[j]] = j % 2 == 0 ? 0.5 : -0.7;
        var factor = IndefiniteLdl.Create(SparseAnalysis.Create(pattern), values);
        Assert.True(factor.PairedPivots > 0);
        var b = SparseMatrices.Vector(order, 4);
        var x = new double[order];
        Assert.True(factor.SolveRefined(b, x) < 4 * Rounding);
        Assert.True(RealLdlTests.NormwiseError(pattern, values, b, x) < 8 * Rounding);
        if (order > 500)
            return;
        var eigenvalues = Matrix<double>.Build.DenseOfArray(SparseMatrices.Dense(pattern, values)).Evd(Symmetricity.Symmetric).EigenValues;
        var positive = eigenvalues.Count(e => e.Real > 0);
        Assert.Equal(new Inertia(positive, order - positive, 0), factor.Inertia);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void SaddlePoint_GridWithMeanValueMultipliers_IsSolved(bool pivoting)
    {
        // Each multiplier holds the mean over a patch: K symmetric definite, C of full rank, zero corner.
        var (pattern, values, multipliers) = SaddlePoint(40, 40, 9);
        var b = SparseMatrices.Vector(pattern.Order, 5);
        var x = new double[pattern.Order];
        double error;
        Inertia inertia;
        if (pivoting)
        {
            var factor = IndefiniteLdl.Create(SparseAnalysis.Create(pattern), values);
            error = factor.SolveRefined(b, x);
            inertia = factor.Inertia;
        }
        else
        {
            var factor = RealLdl.Create(SparseAnalysis.Create(pattern, [], multipliers), values);
            error = factor.SolveRefined(b, x);
            inertia = factor.Inertia;
        }
        Assert.True(error < 4 * Rounding);
        Assert.Equal(new Inertia(1600, 9, 0), inertia); // K definite and C of full rank: one negative eigenvalue a multiplier
        Assert.True(RealLdlTests.BackwardError(pattern, values, b, x) < 4 * Rounding);
    }

    [Fact]
    public void IndefiniteLdl_ComplexSaddlePoint_IsSolved()
    {
        var (pattern, real, _) = SaddlePoint(25, 30, 6);
        var imaginary = new double[real.Length];
        for (var j = 0; j < 400; j++)
            imaginary[pattern.ColumnStarts[j]] = 3;
        var values = real.Zip(imaginary, (r, i) => new Complex(r, i)).ToArray();
        var factor = IndefiniteLdl.Create(SparseAnalysis.Create(pattern), values);
        var b = ComplexLdlTests.Load(pattern.Order, 6);
        var x = new Complex[pattern.Order];
        Assert.True(factor.SolveRefined(b, x) < 8 * Rounding);
        Assert.True(ComplexLdlTests.BackwardError(pattern, real, imaginary, b, x) < 8 * Rounding);
    }

    [Fact]
    public void IndefiniteLdl_SingularMatrix_IsRefused()
    {
        var pattern = new SymmetricPattern(3, [0, 3, 5, 6], [0, 1, 2, 1, 2, 2]);
        // Rank 2: third row is the sum of the others.
        Assert.Throws<ZeroPivotException>(() => IndefiniteLdl.Create(SparseAnalysis.Create(pattern), [0.0, 1, 1, 0, 1, 2]));
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(3.0)]
    [InlineData(200.0)]
    public void SparseLu_ConvectionOnAGrid_LeavesAResidualOfRounding(double drift)
    {
        var (pattern, lower, coordinates) = SparseMatrices.Grid(70, 80);
        var upper = (double[])lower.Clone();
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
                if (pattern.RowIndices[p] == j + 1)
                {
                    lower[p] -= drift; // central differences carried along x
                    upper[p] += drift;
                }
        var factor = SparseLu.Create(SparseAnalysis.Create(pattern, coordinates), lower, upper);
        var b = SparseMatrices.Vector(pattern.Order, 7);
        var x = new double[pattern.Order];
        factor.Solve(b, x);
        var plain = Residual(pattern, lower, upper, b, x);
        Assert.True(factor.SolveRefined(b, x) < 4 * Rounding);
        Assert.True(Residual(pattern, lower, upper, b, x) <= Math.Max(plain, 1e-14 * (4 + drift)));
        Assert.True(Residual(pattern, lower, upper, b, x) < 1e-14 * (4 + drift) * (1 + x.Max(Math.Abs)));
    }

    [Theory]
    [InlineData(80, 4)]
    [InlineData(300, 3)]
    public void SparseLu_RandomUnsymmetricWithZeroDiagonal_AgreesWithDenseLu(int order, int perColumn)
    {
        var (pattern, lower) = SparseMatrices.Random(order, perColumn, 0, order);
        var upper = SparseMatrices.Vector(lower.Length, 9);
        var factor = SparseLu.Create(SparseAnalysis.Create(pattern), lower, upper);
        var dense = SparseMatrices.Dense(pattern, lower);
        for (var j = 0; j < order; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
                dense[j, pattern.RowIndices[p]] = upper[p];
        var matrix = Matrix<double>.Build.DenseOfArray(dense);
        var b = SparseMatrices.Vector(order, 10);
        var x = new double[order];
        Assert.True(factor.SolveRefined(b, x) < 4 * Rounding);
        var exact = matrix.LU().Solve(MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(b));
        var condition = matrix.ConditionNumber();
        Assert.True((exact - MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(x)).L2Norm() < 50 * Rounding * condition * exact.L2Norm());
    }

    [Fact]
    public void SparseLu_Complex_LeavesAResidualOfRounding()
    {
        var (pattern, real) = SparseMatrices.Random(250, 3, 0.1, 3);
        var parts = SparseMatrices.Vector(3 * real.Length, 12);
        var lower = real.Select((r, p) => new Complex(r, parts[p])).ToArray();
        var upper = real.Select((_, p) => new Complex(parts[real.Length + p], parts[2 * real.Length + p])).ToArray();
        var x = new Complex[250];
        Assert.True(SparseLu.Create(SparseAnalysis.Create(pattern), lower, upper).SolveRefined(ComplexLdlTests.Load(250, 13), x) < 8 * Rounding);
    }

    [Theory]
    [InlineData(150, 3, 21)]
    [InlineData(400, 4, 22)]
    public void SparseLu_Transposed_IsSolvedByTheSameFactor(int order, int perColumn, int seed)
    {
        var (pattern, lower) = SparseMatrices.Random(order, perColumn, 0, seed);
        var upper = SparseMatrices.Vector(lower.Length, seed + 1);
        var factor = SparseLu.Create(SparseAnalysis.Create(pattern), lower, upper);
        var b = SparseMatrices.Vector(order, seed + 2);
        var x = new double[order];
        factor.SolveTransposed(b, x);
        var wrong = Residual(pattern, lower, upper, b, x);
        // The transposed matrix has its triangles exchanged, its diagonal kept.
        var (across, below) = ((double[])lower.Clone(), (double[])upper.Clone());
        for (var j = 0; j < order; j++)
            below[pattern.ColumnStarts[j]] = lower[pattern.ColumnStarts[j]];
        Assert.True(Residual(pattern, below, across, b, x) < 1e-10 * x.Max(Math.Abs));
        Assert.True(wrong > 1e-3);
    }

    [Fact]
    public void ConditionEstimate_PivotingFactors_AreWithinAFactorThreeOfTheInverse()
    {
        var (pattern, lower) = SparseMatrices.Random(90, 3, 0, 31);
        var upper = SparseMatrices.Vector(lower.Length, 32).Select(v => 50 * v).ToArray(); // so that no triangle may be taken for the other
        var analysis = SparseAnalysis.Create(pattern);
        var symmetric = Matrix<double>.Build.DenseOfArray(SparseMatrices.Dense(pattern, lower));
        var unsymmetric = symmetric.Clone();
        for (var j = 0; j < 90; j++)
            for (var p = pattern.ColumnStarts[j] + 1; p < pattern.ColumnStarts[j + 1]; p++)
                unsymmetric[j, pattern.RowIndices[p]] = upper[p];
        foreach (var (matrix, estimate) in new[] { (symmetric, IndefiniteLdl.Create(analysis, lower).ConditionEstimate()), (unsymmetric, SparseLu.Create(analysis, lower, upper).ConditionEstimate()) })
        {
            var condition = matrix.L1Norm() * matrix.Inverse().L1Norm();
            Assert.InRange(estimate, condition / 3, condition * (1 + 1e-8));
        }
    }

    [Fact]
    public void ManyRightHandSides_PivotingFactors_EqualSolvingOneByOne()
    {
        var (pattern, lower) = SparseMatrices.Random(70, 3, 0, 41);
        var upper = SparseMatrices.Vector(lower.Length, 42);
        var analysis = SparseAnalysis.Create(pattern);
        var b = SparseMatrices.Vector(3 * 70, 43);
        var (paired, lu) = (IndefiniteLdl.Create(analysis, lower), SparseLu.Create(analysis, lower, upper));
        double[] together = new double[210], one = new double[70];
        paired.Solve(b, together, 3);
        paired.Solve(b.AsSpan(140, 70), one);
        Assert.Equal(one, together[140..]);
        lu.Solve(b, together, 3);
        lu.Solve(b.AsSpan(140, 70), one);
        Assert.Equal(one, together[140..]);
        Assert.Throws<ArgumentException>(() => lu.Solve(b, together, 2));
    }

    [Fact]
    public void MemoryLimit_BelowWhatIsForetold_IsRefusedByEveryFactorisation()
    {
        var (pattern, values, coordinates) = SparseMatrices.Grid(30, 30);
        var analysis = SparseAnalysis.Create(pattern, coordinates);
        var complex = values.Select(v => new Complex(v, 0)).ToArray();
        (long Bytes, Action<long> Factorise)[] cases =
        [
            (analysis.PredictedBytes, limit => RealLdl.Create(analysis, values, memoryLimit: limit)),
            (analysis.PredictedComplexBytes, limit => ComplexLdl.Create(analysis, values, values, memoryLimit: limit)),
            (analysis.PredictedIndefiniteBytes<double>(), limit => IndefiniteLdl.Create(analysis, values, limit)),
            (analysis.PredictedIndefiniteBytes<Complex>(), limit => IndefiniteLdl.Create(analysis, complex, limit)),
            (analysis.PredictedLuBytes<double>(), limit => SparseLu.Create(analysis, values, values, limit)),
            (analysis.PredictedLuBytes<Complex>(), limit => SparseLu.Create(analysis, complex, complex, limit)),
        ];
        foreach (var (bytes, factorise) in cases)
        {
            factorise(bytes);
            var thrown = Assert.Throws<MemoryLimitException>(() => factorise(bytes - 1));
            Assert.Equal((bytes, bytes - 1), (thrown.Needed, thrown.Allowed));
        }
    }

    [Fact]
    public void PredictedBytes_FullMatrix_AreThoseOfOneFront()
    {
        // One front of n columns: the panel alone for definite matrices; the front and the factors kept of it for the others.
        const int n = 40;
        int[] starts = [.. Enumerable.Range(0, n + 1).Select(j => j * n - j * (j - 1) / 2)];
        int[] rows = [.. Enumerable.Range(0, n).SelectMany(j => Enumerable.Range(j, n - j))];
        var analysis = SparseAnalysis.Create(new SymmetricPattern(n, starts, rows));
        const long entries = n * (n + 1) / 2;
        Assert.Equal(8 * (n * n + entries), analysis.PredictedBytes);
        Assert.Equal(16 * (n * n + entries), analysis.PredictedComplexBytes);
        Assert.Equal(8 * (2 * n * n + entries), analysis.PredictedIndefiniteBytes<double>());
        Assert.Equal(16 * (3 * n * n + 2 * entries), analysis.PredictedLuBytes<Complex>());
    }

    [Fact]
    public void PivotingFactors_LargeFrontsOfAShiftedLaplacian_AgreeWithItsEigenvaluesAndLeaveAResidualOfRounding()
    {
        // Separators of many more unknowns than a block of pivots, with rows beyond them.
        const int rows = 120, columns = 110;
        const double shift = 1.37;
        var (pattern, values, coordinates) = SparseMatrices.Grid(rows, columns);
        for (var j = 0; j < pattern.Order; j++)
            values[pattern.ColumnStarts[j]] -= shift;
        var analysis = SparseAnalysis.Create(pattern, coordinates);
        Assert.Contains(Enumerable.Range(0, analysis.Fronts.Count), f => analysis.Fronts.PivotCount(f) > 40 && analysis.Fronts.UpdateCount(f) > 40);
        var b = SparseMatrices.Vector(pattern.Order, 51);
        var x = new double[pattern.Order];
        var paired = IndefiniteLdl.Create(analysis, values);
        paired.Solve(b, x);
        Assert.True(RealLdlTests.NormwiseError(pattern, values, b, x) < 1e-13);
        var below = SparseMatrices.GridEigenvalues(rows, columns).Count(e => e < shift);
        Assert.Equal(new Inertia(pattern.Order - below, below, 0), paired.Inertia);
        SparseLu.Create(analysis, values, values).Solve(b, x);
        Assert.True(RealLdlTests.NormwiseError(pattern, values, b, x) < 1e-13);
    }

    // Blocks of pivots are cut within these fronts, pairs across their ends among them.
    [Theory]
    [InlineData(257, 1)]
    [InlineData(300, 2)]
    public void IndefiniteLdl_FullMatrixOfPairs_KeepsInertiaAcrossBlocks(int order, int seed)
    {
        int[] starts = [.. Enumerable.Range(0, order + 1).Select(j => j * order - j * (j - 1) / 2)];
        int[] rows = [.. Enumerable.Range(0, order).SelectMany(j => Enumerable.Range(j, order - j))];
        var pattern = new SymmetricPattern(order, starts, rows);
        var values = SparseMatrices.Vector(rows.Length, seed);
        for (var j = 0; j < order; j++)
            if (j % 7 != 0)
                values[starts[j]] = 0;
        var factor = IndefiniteLdl.Create(SparseAnalysis.Create(pattern), values);
        Assert.True(factor.PairedPivots > order / 8);
        var b = SparseMatrices.Vector(order, seed + 5);
        var x = new double[order];
        Assert.True(factor.SolveRefined(b, x) < 4 * Rounding);
        var positive = Matrix<double>.Build.DenseOfArray(SparseMatrices.Dense(pattern, values)).Evd(Symmetricity.Symmetric).EigenValues.Count(e => e.Real > 0);
        Assert.Equal(new Inertia(positive, order - positive, 0), factor.Inertia);
    }

    [Fact]
    public void SparseLu_SingularMatrix_IsRefused()
    {
        var pattern = new SymmetricPattern(2, [0, 2, 3], [0, 1, 1]);
        Assert.Throws<ZeroPivotException>(() => SparseLu.Create(SparseAnalysis.Create(pattern), [1.0, 2, 4], [1.0, 2, 4]));
    }

    [Fact]
    public void BorderedSystem_Real_AgreesWithTheWholeMatrix()
    {
        var (pattern, values, _) = SparseMatrices.Grid(12, 10);
        const int n = 120, p = 3;
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern), values);
        var right = SparseMatrices.Vector(n * p, 1);
        var bottom = SparseMatrices.Vector(n * p, 2);
        var corner = SparseMatrices.Vector(p * p, 3);
        var f = SparseMatrices.Vector(n, 4);
        var g = SparseMatrices.Vector(p, 5);
        var x = new double[n];
        var y = new double[p];
        BorderedSystem.Create(factor, right, bottom, corner).Solve(f, g, x, y);
        var k = SparseMatrices.Dense(pattern, values);
        for (var i = 0; i < n; i++)
            Assert.Equal(f[i], Enumerable.Range(0, n).Sum(j => k[i, j] * x[j]) + Enumerable.Range(0, p).Sum(q => right[q * n + i] * y[q]), 1e-12);
        for (var q = 0; q < p; q++)
            Assert.Equal(g[q], Enumerable.Range(0, n).Sum(j => bottom[q * n + j] * x[j]) + Enumerable.Range(0, p).Sum(s => corner[s * p + q] * y[s]), 1e-12);
    }

    [Fact]
    public void BorderedSystem_ComplexTotalCurrent_IsHeld()
    {
        // Unknown 1 of the border is a potential that makes the sum of the solution a given number.
        var (pattern, values, _) = SparseMatrices.Grid(15, 15);
        var factor = ComplexLdl.Create(SparseAnalysis.Create(pattern), values, ComplexLdlTests.Mass(pattern, 2));
        var ones = Enumerable.Repeat(Complex.One, 225).ToArray();
        var x = new Complex[225];
        var y = new Complex[1];
        BorderedSystem.Create(factor, ones, [], []).Solve(new Complex[225], [new Complex(3, -1)], x, y);
        Assert.True((x.Aggregate(Complex.Zero, (s, v) => s + v) - new Complex(3, -1)).Magnitude < 1e-13);
    }

    [Fact]
    public void BorderedSystem_DependentRows_NameTheBorder()
    {
        var (pattern, values, _) = SparseMatrices.Grid(5, 5);
        var factor = RealLdl.Create(SparseAnalysis.Create(pattern), values);
        var right = Enumerable.Repeat(1.0, 50).ToArray();
        Assert.Equal(26, Assert.Throws<ZeroPivotException>(() => BorderedSystem.Create(factor, right, [], [])).Column);
    }

    [Fact]
    public void ComplexLdl_ManyRightHandSides_EqualsSolvingOneByOne()
    {
        var (pattern, real, _) = SparseMatrices.Grid(30, 41);
        var imaginary = ComplexLdlTests.Mass(pattern, 3);
        var factor = ComplexLdl.Create(SparseAnalysis.Create(pattern), real, imaginary);
        const int count = 6;
        var n = pattern.Order;
        var b = ComplexLdlTests.Load(n * count, 4);
        var x = new Complex[n * count];
        factor.Solve(b, x, count);
        for (var c = 0; c < count; c++)
        {
            var one = new Complex[n];
            factor.Solve(b.AsSpan(c * n, n), one);
            for (var i = 0; i < n; i++)
                Assert.True((one[i] - x[c * n + i]).Magnitude < 1e-12);
        }
    }

    private static double Residual(SymmetricPattern pattern, double[] lower, double[] upper, double[] b, double[] x)
    {
        var r = (double[])b.Clone();
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                r[pattern.RowIndices[p]] -= lower[p] * x[j];
                if (pattern.RowIndices[p] != j)
                    r[j] -= upper[p] * x[pattern.RowIndices[p]];
            }
        return r.Max(Math.Abs);
    }

    private static (SymmetricPattern Pattern, double[] Values, int[] Multipliers) SaddlePoint(int rows, int columns, int count)
    {
        var (grid, k, _) = SparseMatrices.Grid(rows, columns);
        var n = grid.Order;
        var starts = new List<int> { 0 };
        var indices = new List<int>();
        var values = new List<double>();
        for (var j = 0; j < n; j++)
        {
            for (var p = grid.ColumnStarts[j]; p < grid.ColumnStarts[j + 1]; p++)
            {
                indices.Add(grid.RowIndices[p]);
                values.Add(k[p]);
            }
            indices.Add(n + j * count / n);
            values.Add(1);
            starts.Add(indices.Count);
        }
        for (var c = 0; c < count; c++)
        {
            indices.Add(n + c);
            values.Add(0);
            starts.Add(indices.Count);
        }
        return (new SymmetricPattern(n + count, [.. starts], [.. indices]), [.. values], [.. Enumerable.Range(n, count)]);
    }
}
