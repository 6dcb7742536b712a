using System.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Tests.Numerics;

/// <summary>Matrices the solver tests share: their pattern, values and places are made here, from formulas or a seeded generator.</summary>
internal static class SparseMatrices
{
    /// <summary>Five-point Laplacian of a rows × columns grid with the edge held: definite, eigenvalues known in closed form.</summary>
    public static (SymmetricPattern Pattern, double[] Values, double[] Coordinates) Grid(int rows, int columns)
    {
        var starts = new List<int> { 0 };
        var indices = new List<int>();
        var values = new List<double>();
        var places = new List<double>();
        for (var r = 0; r < rows; r++)
            for (var c = 0; c < columns; c++)
            {
                var k = r * columns + c;
                places.AddRange([c, r]);
                indices.Add(k);
                values.Add(4);
                if (c + 1 < columns) { indices.Add(k + 1); values.Add(-1); }
                if (r + 1 < rows) { indices.Add(k + columns); values.Add(-1); }
                starts.Add(indices.Count);
            }
        return (new SymmetricPattern(rows * columns, [.. starts], [.. indices]), [.. values], [.. places]);
    }

    /// <summary>Quadratic triangles on a grid of rows × columns cells, each halved one way or the other, the edge free: the pattern, corners at even places and midsides between.</summary>
    public static (SymmetricPattern Pattern, double[] Coordinates) Quadratic(int rows, int columns)
    {
        var random = new Random(11);
        int high = 2 * rows + 1, wide = 2 * columns + 1;
        var dofs = new List<int>();
        for (var r = 0; r < 2 * rows; r += 2)
            for (var c = 0; c < 2 * columns; c += 2)
            {
                (int R, int C)[] corners = [(r, c), (r, c + 2), (r + 2, c + 2), (r + 2, c)];
                var turn = random.Next(2);
                foreach (var (i, j, k) in new[] { (0, 1, 2), (0, 2, 3) })
                {
                    var (x, y, z) = (corners[(i + turn) & 3], corners[(j + turn) & 3], corners[(k + turn) & 3]);
                    foreach (var (a, b) in new[] { (x, x), (y, y), (z, z), (x, y), (y, z), (z, x) })
                        dofs.Add((a.R + b.R) / 2 * wide + (a.C + b.C) / 2);
                }
            }
        var pattern = SymmetricPattern.FromElements(high * wide, [.. dofs], 6, out _);
        return (pattern, [.. Enumerable.Range(0, high * wide).SelectMany(k => new double[] { k % wide, k / wide })]);
    }

    /// <summary>Values that make a pattern a graph's Laplacian plus so much on the diagonal: definite.</summary>
    public static double[] Laplacian(SymmetricPattern pattern, double diagonal)
    {
        var degree = Multiply(pattern, _ => 1.0, Enumerable.Repeat(1.0, pattern.Order).ToArray());
        var values = Enumerable.Repeat(-1.0, pattern.EntryCount).ToArray();
        for (var j = 0; j < pattern.Order; j++)
            values[pattern.ColumnStarts[j]] = degree[j] - 1 + diagonal;
        return values;
    }

    /// <summary>Eigenvalues of <see cref="Grid"/>: 4 − 2 cos(iπ/(R+1)) − 2 cos(jπ/(C+1)).</summary>
    public static IEnumerable<double> GridEigenvalues(int rows, int columns) =>
        from i in Enumerable.Range(1, rows)
        from j in Enumerable.Range(1, columns)
        select 4 - 2 * Math.Cos(i * Math.PI / (rows + 1)) - 2 * Math.Cos(j * Math.PI / (columns + 1));

    /// <summary>A random symmetric pattern with values in (−1, 1) and the given number on the diagonal.</summary>
    public static (SymmetricPattern Pattern, double[] Values) Random(int order, int perColumn, double diagonal, int seed)
    {
        var random = new Random(seed);
        var starts = new int[order + 1];
        var indices = new List<int>();
        var values = new List<double>();
        for (var j = 0; j < order; j++)
        {
            var below = new SortedSet<int> { j };
            for (var k = 0; k < perColumn; k++)
                below.Add(random.Next(j, order));
            foreach (var i in below)
            {
                indices.Add(i);
                values.Add(i == j ? diagonal : 2 * random.NextDouble() - 1);
            }
            starts[j + 1] = indices.Count;
        }
        return (new SymmetricPattern(order, starts, [.. indices]), [.. values]);
    }

    /// <summary>A x for the lower triangle of a symmetric A.</summary>
    public static T[] Multiply<T>(SymmetricPattern pattern, Func<int, T> value, ReadOnlySpan<T> x) where T : INumberBase<T>
    {
        var y = new T[pattern.Order];
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
            {
                var i = pattern.RowIndices[p];
                y[i] += value(p) * x[j];
                if (i != j)
                    y[j] += value(p) * x[i];
            }
        return y;
    }

    /// <summary>The whole matrix, dense.</summary>
    public static double[,] Dense(SymmetricPattern pattern, double[] values)
    {
        var a = new double[pattern.Order, pattern.Order];
        for (var j = 0; j < pattern.Order; j++)
            for (var p = pattern.ColumnStarts[j]; p < pattern.ColumnStarts[j + 1]; p++)
                a[pattern.RowIndices[p], j] = a[j, pattern.RowIndices[p]] = values[p];
        return a;
    }

    /// <summary>Right-hand side with entries in (−1, 1).</summary>
    public static double[] Vector(int length, int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, length).Select(_ => 2 * random.NextDouble() - 1)];
    }
}
