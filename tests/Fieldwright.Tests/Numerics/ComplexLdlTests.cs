using System.Numerics;
using Fieldwright.Numerics.Sparse;
using Xunit;
using DenseComplex = MathNet.Numerics.LinearAlgebra.Complex.DenseMatrix;

namespace Fieldwright.Tests.Numerics;

public class ComplexLdlTests
{
    private const double Rounding = 1.1e-16;

    [Theory]
    [InlineData(1, 1, 1.0)]
    [InlineData(12, 10, 1e-3)]
    [InlineData(60, 50, 1.0)]
    [InlineData(110, 130, 1e3)]
    public void Solve_LaplacianWithEddyTerm_LeavesAResidualOfRounding(int rows, int columns, double omega)
    {
        var (pattern, real, coordinates) = SparseMatrices.Grid(rows, columns);
        var imaginary = Mass(pattern, omega);
        var factor = ComplexLdl.Create(SparseAnalysis.Create(pattern, coordinates), real, imaginary);
        var b = Load(pattern.Order, 1);
        var x = new Complex[pattern.Order];
        Assert.True(factor.SolveRefined(b, x) < 4 * Rounding);
        Assert.True(BackwardError(pattern, real, imaginary, b, x) < 4 * Rounding);
    }

    [Fact]
    public void Solve_SymmetricNotHermitian_AgreesWithDenseLu()
    {
        var (pattern, real) = SparseMatrices.Random(120, 3, 20, seed: 5);
        var imaginary = SparseMatrices.Vector(real.Length, 6);
        var b = Load(120, 7);
        var x = new Complex[120];
        ComplexLdl.Create(SparseAnalysis.Create(pattern), real, imaginary).Solve(b, x);
        var dense = DenseComplex.Create(120, 120, Complex.Zero);
        for (var j = 0; j < 120; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
                dense[pattern.RowIndices[p], j] = dense[j, pattern.RowIndices[p]] = new Complex(real[p], imaginary[p]);
        var exact = dense.LU().Solve(MathNet.Numerics.LinearAlgebra.Complex.DenseVector.OfArray(b));
        for (var i = 0; i < 120; i++)
            Assert.True((exact[i] - x[i]).Magnitude < 1e-13);
    }

    // Full matrices are a single front: every width of a last group of columns, and the edges of the blocks.
    [Theory]
    [InlineData(1, 12)]
    [InlineData(95, 101)]
    [InlineData(191, 194)]
    public void Solve_FullMatrixOfAnySize_LeavesAResidualOfRounding(int from, int to)
    {
        for (var n = from; n <= to; n++)
        {
            var starts = new int[n + 1];
            var rows = new List<int>();
            for (var j = 0; j < n; j++)
            {
                rows.AddRange(Enumerable.Range(j, n - j));
                starts[j + 1] = rows.Count;
            }
            var pattern = new SymmetricPattern(n, starts, [.. rows]);
            var real = SparseMatrices.Vector(rows.Count, n);
            for (var j = 0; j < n; j++)
                real[starts[j]] += n;
            var imaginary = SparseMatrices.Vector(rows.Count, n + 1);
            var b = Load(3 * n, n + 2);
            var x = new Complex[3 * n];
            var factor = ComplexLdl.Create(SparseAnalysis.Create(pattern), real, imaginary);
            factor.Solve(b.AsSpan(0, n), x.AsSpan(0, n));
            Assert.True(BackwardError(pattern, real, imaginary, b[..n], x[..n]) < 20 * Rounding);
            factor.Solve(b, x, 3);
            for (var column = 0; column < 3; column++)
                Assert.True(BackwardError(pattern, real, imaginary, b[(column * n)..((column + 1) * n)], x[(column * n)..((column + 1) * n)]) < 20 * Rounding);
        }
    }

    [Fact]
    public void Create_ZeroPivot_NamesTheColumn()
    {
        var pattern = new SymmetricPattern(3, [0, 1, 2, 3], [0, 1, 2]);
        var thrown = Assert.Throws<ZeroPivotException>(() => ComplexLdl.Create(SparseAnalysis.Create(pattern), [1, 0, 1], [1, 0, -1]));
        Assert.Equal(1, thrown.Column);
    }

    [Fact]
    public void ConditionEstimate_DiagonalMatrix_IsTheRatioOfItsEntries()
    {
        var pattern = new SymmetricPattern(4, [0, 1, 2, 3, 4], [0, 1, 2, 3]);
        var estimate = ComplexLdl.Create(SparseAnalysis.Create(pattern), [0, 3, 1, 1e-6], [1, 4, 0, 0]).ConditionEstimate();
        Assert.Equal(5e6, estimate, 1e-8 * 5e6);
    }

    internal static double[] Mass(SymmetricPattern pattern, double omega)
    {
        // Consistent-mass-like rows in one half of the domain, nothing in the other: a conductor in air.
        var values = new double[pattern.EntryCount];
        for (var j = 0; j < pattern.Order / 2; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
                if (pattern.RowIndices[p] < pattern.Order / 2)
                    values[p] = omega * (pattern.RowIndices[p] == j ? 0.5 : 0.125);
        return values;
    }

    internal static Complex[] Load(int order, int seed)
    {
        var parts = SparseMatrices.Vector(2 * order, seed);
        return [.. Enumerable.Range(0, order).Select(i => new Complex(parts[2 * i], parts[2 * i + 1]))];
    }

    internal static double BackwardError(SymmetricPattern pattern, double[] real, double[] imaginary, Complex[] b, Complex[] x)
    {
        var ax = SparseMatrices.Multiply<Complex>(pattern, p => new Complex(real[p], imaginary[p]), x);
        var scale = SparseMatrices.Multiply<double>(pattern, p => Complex.Abs(new Complex(real[p], imaginary[p])), x.Select(Complex.Abs).ToArray());
        return Enumerable.Range(0, b.Length).Max(i => Complex.Abs(b[i] - ax[i]) / (scale[i] + Complex.Abs(b[i])));
    }
}
