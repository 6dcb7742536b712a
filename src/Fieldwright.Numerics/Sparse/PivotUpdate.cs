using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// C −= A B for the pivoting factorisations, real or complex (re and im beside one another): A has few columns, those of the pivots made since the last such step.
/// Every entry of C is summed in the same order, whatever its place in a tile, up to the rounding of fused products.
/// </summary>
internal static unsafe class PivotUpdate<T>
    where T : unmanaged, INumberBase<T>
{
    /// <summary>Subtracts a product.</summary>
    /// <param name="c">First entry of C, by columns.</param>
    /// <param name="ldc">Distance of its columns.</param>
    /// <param name="rows">Rows of C and of A.</param>
    /// <param name="columns">Columns of C and of B.</param>
    /// <param name="a">First entry of A, by columns.</param>
    /// <param name="lda">Distance of its columns.</param>
    /// <param name="depth">Columns of A, rows of B.</param>
    /// <param name="b">First entry of B.</param>
    /// <param name="down">Distance of its rows.</param>
    /// <param name="across">Distance of its columns.</param>
    /// <param name="triangle">Whether rows above the diagonal of C may be left out: C is then square at its first columns.</param>
    public static void Subtract(T* c, nint ldc, int rows, int columns, T* a, nint lda, int depth, T* b, nint down, nint across, bool triangle)
    {
        if (depth == 0)
            return;
        var width = typeof(T) == typeof(double) ? 4 : 2;
        for (var j = 0; j < columns; j += width)
        {
            var from = triangle ? j : 0;
            var count = Math.Min(width, columns - j);
            if (typeof(T) == typeof(double) && count == 4)
                RealColumns((double*)c + j * ldc + from, ldc, rows - from, (double*)a + from, lda, depth, (double*)b + j * across, down, across);
            else if (typeof(T) == typeof(Complex) && count == 2)
                ComplexColumns((double*)c + 2 * (j * ldc + from), ldc, rows - from, (double*)a + 2 * from, lda, depth, (double*)b + 2 * j * across, down, across);
            else
                for (var k = 0; k < count; k++)
                    Column(c + (j + k) * ldc + from, rows - from, a + from, lda, depth, b + (j + k) * across, down);
        }
    }

    /// <summary>One column of C.</summary>
    public static void Column(T* c, int rows, T* a, nint lda, int depth, T* b, nint down)
    {
        for (var k = 0; k < depth; k++)
            Dense<T>.SubtractMultiple(new Span<T>(c, rows), new ReadOnlySpan<T>(a + k * lda, rows), b[k * down]);
    }

    // Four real columns, eight or four rows at a time.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void RealColumns(double* c, nint ldc, int rows, double* a, nint lda, int depth, double* b, nint down, nint across)
    {
        double* c1 = c + ldc;
        double* c2 = c1 + ldc;
        double* c3 = c2 + ldc;
        var i = 0;
        for (; i + 8 <= rows; i += 8)
        {
            Lane x00 = Vector256.Load(c + i), x10 = Vector256.Load(c + i + 4), x01 = Vector256.Load(c1 + i), x11 = Vector256.Load(c1 + i + 4);
            Lane x02 = Vector256.Load(c2 + i), x12 = Vector256.Load(c2 + i + 4), x03 = Vector256.Load(c3 + i), x13 = Vector256.Load(c3 + i + 4);
            double* l = a + i;
            double* u = b;
            for (var k = 0; k < depth; k++, l += lda, u += down)
            {
                Lane a0 = Vector256.Load(l), a1 = Vector256.Load(l + 4), s = Vector256.Create(u[0]);
                x00 = Lanes.SubtractProduct(a0, s, x00);
                x10 = Lanes.SubtractProduct(a1, s, x10);
                s = Vector256.Create(u[across]);
                x01 = Lanes.SubtractProduct(a0, s, x01);
                x11 = Lanes.SubtractProduct(a1, s, x11);
                s = Vector256.Create(u[2 * across]);
                x02 = Lanes.SubtractProduct(a0, s, x02);
                x12 = Lanes.SubtractProduct(a1, s, x12);
                s = Vector256.Create(u[3 * across]);
                x03 = Lanes.SubtractProduct(a0, s, x03);
                x13 = Lanes.SubtractProduct(a1, s, x13);
            }
            x00.Store(c + i);
            x10.Store(c + i + 4);
            x01.Store(c1 + i);
            x11.Store(c1 + i + 4);
            x02.Store(c2 + i);
            x12.Store(c2 + i + 4);
            x03.Store(c3 + i);
            x13.Store(c3 + i + 4);
        }
        for (; i + 4 <= rows; i += 4)
        {
            Lane x0 = Vector256.Load(c + i), x1 = Vector256.Load(c1 + i), x2 = Vector256.Load(c2 + i), x3 = Vector256.Load(c3 + i);
            double* l = a + i;
            double* u = b;
            for (var k = 0; k < depth; k++, l += lda, u += down)
            {
                var a0 = Vector256.Load(l);
                x0 = Lanes.SubtractProduct(a0, Vector256.Create(u[0]), x0);
                x1 = Lanes.SubtractProduct(a0, Vector256.Create(u[across]), x1);
                x2 = Lanes.SubtractProduct(a0, Vector256.Create(u[2 * across]), x2);
                x3 = Lanes.SubtractProduct(a0, Vector256.Create(u[3 * across]), x3);
            }
            x0.Store(c + i);
            x1.Store(c1 + i);
            x2.Store(c2 + i);
            x3.Store(c3 + i);
        }
        for (; i < rows; i++)
        {
            double s0 = c[i], s1 = c1[i], s2 = c2[i], s3 = c3[i];
            double* u = b;
            for (var k = 0; k < depth; k++, u += down)
            {
                var l = a[i + k * lda];
                s0 -= l * u[0];
                s1 -= l * u[across];
                s2 -= l * u[2 * across];
                s3 -= l * u[3 * across];
            }
            (c[i], c1[i], c2[i], c3[i]) = (s0, s1, s2, s3);
        }
    }

    // Two complex columns, four or two rows at a time. p gathers a·Re b and q gathers a·Im b; their difference, parts of q exchanged, is the product.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void ComplexColumns(double* c, nint ldc, int rows, double* a, nint lda, int depth, double* b, nint down, nint across)
    {
        double* d = c + 2 * ldc;
        var i = 0;
        for (; i + 4 <= rows; i += 4)
        {
            Lane p00 = Lane.Zero, p10 = Lane.Zero, q00 = Lane.Zero, q10 = Lane.Zero, p01 = Lane.Zero, p11 = Lane.Zero, q01 = Lane.Zero, q11 = Lane.Zero;
            double* l = a + 2 * i;
            double* u = b;
            for (var k = 0; k < depth; k++, l += 2 * lda, u += 2 * down)
            {
                Lane a0 = Vector256.Load(l), a1 = Vector256.Load(l + 4), s = Vector256.Create(u[0]);
                p00 = Vector256.MultiplyAddEstimate(a0, s, p00);
                p10 = Vector256.MultiplyAddEstimate(a1, s, p10);
                s = Vector256.Create(u[1]);
                q00 = Vector256.MultiplyAddEstimate(a0, s, q00);
                q10 = Vector256.MultiplyAddEstimate(a1, s, q10);
                s = Vector256.Create(u[2 * across]);
                p01 = Vector256.MultiplyAddEstimate(a0, s, p01);
                p11 = Vector256.MultiplyAddEstimate(a1, s, p11);
                s = Vector256.Create(u[2 * across + 1]);
                q01 = Vector256.MultiplyAddEstimate(a0, s, q01);
                q11 = Vector256.MultiplyAddEstimate(a1, s, q11);
            }
            Take(c + 2 * i, p00, q00);
            Take(c + 2 * i + 4, p10, q10);
            Take(d + 2 * i, p01, q01);
            Take(d + 2 * i + 4, p11, q11);
        }
        for (; i + 2 <= rows; i += 2)
        {
            Lane p0 = Lane.Zero, q0 = Lane.Zero, p1 = Lane.Zero, q1 = Lane.Zero;
            double* l = a + 2 * i;
            double* u = b;
            for (var k = 0; k < depth; k++, l += 2 * lda, u += 2 * down)
            {
                var a0 = Vector256.Load(l);
                p0 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(u[0]), p0);
                q0 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(u[1]), q0);
                p1 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(u[2 * across]), p1);
                q1 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(u[2 * across + 1]), q1);
            }
            Take(c + 2 * i, p0, q0);
            Take(d + 2 * i, p1, q1);
        }
        if (i < rows)
        {
            Column((T*)c + i, 1, (T*)a + i, lda, depth, (T*)b, down);
            Column((T*)d + i, 1, (T*)a + i, lda, depth, (T*)b + across, down);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Take(double* c, Lane p, Lane q) =>
        (Vector256.Load(c) - p - Vector256.Shuffle(q, Vector256.Create(1L, 0, 3, 2)) * Vector256.Create(-1.0, 1, -1, 1)).Store(c);
}
