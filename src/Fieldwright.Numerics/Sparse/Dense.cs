using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Small dense steps shared by the pivoting factorisations; matrices by columns.</summary>
internal static class Dense<T>
    where T : unmanaged, INumberBase<T>
{
    /// <summary>|x| for real numbers, |Re x| + |Im x| for complex ones.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Size(T value)
    {
        if (typeof(T) == typeof(double))
            return Math.Abs((double)(object)value);
        if (typeof(T) == typeof(Complex))
        {
            var z = (Complex)(object)value;
            return Math.Abs(z.Real) + Math.Abs(z.Imaginary);
        }
        throw new NotSupportedException("numbers are double or Complex");
    }

    public static void CheckFinite(ReadOnlySpan<T> values, string name)
    {
        for (var i = 0; i < values.Length; i++)
            if (!T.IsFinite(values[i]))
                throw new ArgumentOutOfRangeException($"{name}[{i}]", values[i], "must be finite");
    }

    /// <summary>to −= factor · from.</summary>
    public static void SubtractMultiple(Span<T> to, ReadOnlySpan<T> from, T factor)
    {
        if (factor == T.Zero)
            return;
        if (typeof(T) == typeof(double))
        {
            var y = MemoryMarshal.Cast<T, double>(to);
            var x = MemoryMarshal.Cast<T, double>(from);
            var f = (double)(object)factor;
            var lanes = Vector<double>.Count;
            var i = 0;
            for (; i + lanes <= y.Length; i += lanes)
                (new Vector<double>(y[i..]) - f * new Vector<double>(x[i..])).CopyTo(y[i..]);
            for (; i < y.Length; i++)
                y[i] -= f * x[i];
            return;
        }
        if (typeof(T) == typeof(Complex) && Vector256.IsHardwareAccelerated)
        {
            var y = MemoryMarshal.Cast<T, double>(to);
            var x = MemoryMarshal.Cast<T, double>(from);
            var f = (Complex)(object)factor;
            var re = Vector256.Create(f.Real);
            var im = Vector256.Create(-f.Imaginary, f.Imaginary, -f.Imaginary, f.Imaginary);
            var i = 0;
            for (; i + 4 <= y.Length; i += 4)
            {
                var v = Vector256.Create(x[i..]);
                (Vector256.Create((ReadOnlySpan<double>)y[i..]) - v * re - Vector256.Shuffle(v, Vector256.Create(1L, 0, 3, 2)) * im).CopyTo(y[i..]);
            }
            if (i < y.Length)
                to[^1] -= factor * from[to.Length - 1];
            return;
        }
        for (var i = 0; i < to.Length; i++)
            to[i] -= factor * from[i];
    }

    /// <summary>Exchanges two rows in the leading columns of a matrix of m rows.</summary>
    public static void SwapRows(Span<T> a, int m, int columns, int i, int j)
    {
        for (var c = 0; c < columns; c++)
            (a[c * m + i], a[c * m + j]) = (a[c * m + j], a[c * m + i]);
    }

    public static void SwapColumns(Span<T> a, int m, int i, int j)
    {
        for (var r = 0; r < m; r++)
            (a[i * m + r], a[j * m + r]) = (a[j * m + r], a[i * m + r]);
    }

    /// <summary>LU with partial pivoting in place; gives the row exchanged with each row, and the column where every pivot vanishes, or −1.</summary>
    public static int[] Factor(T[] a, int n, out int failed)
    {
        var rows = new int[n];
        failed = -1;
        var scale = 0.0;
        foreach (var value in a)
            scale = Math.Max(scale, Size(value));
        for (var k = 0; k < n; k++)
        {
            var pivot = k;
            for (var i = k + 1; i < n; i++)
                if (Size(a[k * n + i]) > Size(a[k * n + pivot]))
                    pivot = i;
            rows[k] = pivot;
            if (!(Size(a[k * n + pivot]) > 1e-15 * scale))
            {
                failed = k;
                return rows;
            }
            if (pivot != k)
                SwapRows(a, n, n, k, pivot);
            for (var i = k + 1; i < n; i++)
                a[k * n + i] /= a[k * n + k];
            for (var j = k + 1; j < n; j++)
                SubtractMultiple(a.AsSpan(j * n + k + 1, n - k - 1), a.AsSpan(k * n + k + 1, n - k - 1), a[j * n + k]);
        }
        return rows;
    }

    public static void Solve(T[] lu, int[] rows, Span<T> x)
    {
        var n = rows.Length;
        for (var k = 0; k < n; k++)
        {
            if (rows[k] != k)
                (x[k], x[rows[k]]) = (x[rows[k]], x[k]);
            for (var i = k + 1; i < n; i++)
                x[i] -= lu[k * n + i] * x[k];
        }
        for (var k = n - 1; k >= 0; k--)
        {
            for (var j = k + 1; j < n; j++)
                x[k] -= lu[j * n + k] * x[j];
            x[k] /= lu[k * n + k];
        }
    }
}
