using System.Numerics;

namespace Fieldwright.Circuits.Solving;

/// <summary>LU of a small dense matrix with partial pivoting and row scaling.</summary>
internal sealed class DenseLu<T>
    where T : struct, INumberBase<T>
{
    private readonly T[] a;
    private readonly int[] row;

    private DenseLu(T[] a, int[] row) => (this.a, this.row) = (a, row);

    /// <summary>Factors a matrix stored by rows; returns the column at which no pivot was left, or −1.</summary>
    public static int TryFactor(ReadOnlySpan<T> matrix, int n, out DenseLu<T> lu)
    {
        var a = matrix.ToArray();
        var row = new int[n];
        var scale = new double[n];
        lu = new(a, row);
        for (int i = 0; i < n; i++)
        {
            row[i] = i;
            for (int j = 0; j < n; j++)
                scale[i] = Math.Max(scale[i], Size(a[i * n + j]));
        }

        for (int k = 0; k < n; k++)
        {
            int pivot = -1;
            double best = 0;
            for (int i = k; i < n; i++)
            {
                double size = Size(a[row[i] * n + k]) / (scale[row[i]] == 0 ? 1 : scale[row[i]]);
                if (size > best)
                    (best, pivot) = (size, i);
            }

            if (!(best > 1e-14) || !double.IsFinite(best))
                return k;
            (row[k], row[pivot]) = (row[pivot], row[k]);
            int p = row[k] * n;
            for (int i = k + 1; i < n; i++)
            {
                int r = row[i] * n;
                if (a[r + k] == T.Zero)
                    continue;
                var factor = a[r + k] / a[p + k];
                a[r + k] = factor;
                for (int j = k + 1; j < n; j++)
                    a[r + j] -= factor * a[p + j];
            }
        }

        return -1;
    }

    /// <summary>Solves in place.</summary>
    public void Solve(Span<T> b)
    {
        int n = row.Length;
        var y = new T[n];
        for (int i = 0; i < n; i++)
        {
            var sum = b[row[i]];
            for (int j = 0; j < i; j++)
                sum -= a[row[i] * n + j] * y[j];
            y[i] = sum;
        }

        for (int i = n - 1; i >= 0; i--)
        {
            var sum = y[i];
            for (int j = i + 1; j < n; j++)
                sum -= a[row[i] * n + j] * b[j];
            b[i] = sum / a[row[i] * n + i];
        }
    }

    /// <summary>A vector that the matrix maps (nearly) to nothing, given the column at which pivoting failed: it names the unknowns that are left loose.</summary>
    public T[] LooseAt(int column)
    {
        int n = row.Length;
        var x = new T[n];
        x[column] = T.One;
        for (int i = column - 1; i >= 0; i--)
        {
            var sum = -a[row[i] * n + column];
            for (int j = i + 1; j < column; j++)
                sum -= a[row[i] * n + j] * x[j];
            x[i] = sum / a[row[i] * n + i];
        }

        return x;
    }

    private static double Size(T value) => double.CreateSaturating(T.Abs(value));
}
