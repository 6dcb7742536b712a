using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Dense LDLᵀ of one real front. Columns lie one after another, leading dimension a multiple of 4; D stands on the diagonal, L below it, what is above is not meant.
/// Letters: A a strip of L, B the matching rows of −L·D packed by fours, C what they are added to.
/// </summary>
internal unsafe struct RealKernel : IFrontKernel
{
    private const int Strip = 12;
    private const int Block = 128;
    private const int ColumnBlock = 192; // columns of C at a time, so that their part of B stays in the second-level cache

    public static int Planes => 1;

    /// <summary>Factorises the n columns of a panel; blocks of columns look left within themselves, and are then subtracted from those to the right.</summary>
    public static int Factor(Front front, double* tolerance, Workspace work, Splitter splitter)
    {
        double* panel = front.Panel;
        nint ld = front.LeadingDimension;
        var n = front.Pivots;
        var rows = (int)ld;
        for (var k0 = 0; k0 < n; k0 += Block)
        {
            var k1 = Math.Min(k0 + Block, n);
            for (var j = k0; j < k1; j += 4)
            {
                var width = Math.Min(4, k1 - j);
                double* b = work.B;
                for (var k = k0; k < j; k++, b += 4)
                {
                    double* l = panel + k * ld + j;
                    var d = -panel[k * ld + k];
                    for (var c = 0; c < 4; c++)
                        b[c] = c < width ? l[c] * d : 0;
                }
                double* c0 = panel + j * ld;
                double* c1 = width > 1 ? c0 + ld : work.Scratch;
                double* c2 = width > 2 ? c0 + 2 * ld : work.Scratch + ld;
                double* c3 = width > 3 ? c0 + 3 * ld : work.Scratch + 2 * ld;
                double* a = panel + k0 * ld;
                Tile4(false, j - k0, a + j, ld, work.B, c0 + j, c1 + j, c2 + j, c3 + j);
                double* t = work.Small;
                var failed = FactorFour(width, c0 + j, c1 + j, c2 + j, c3 + j, tolerance + j, t);
                if (failed >= 0)
                    return j + failed;
                if (splitter.IsWorthSplitting((long)(rows - j) * (j - k0 + 4) * 8))
                    SplitColumns(j - k0, a, ld, work.B, c0, c1, c2, c3, t, j + 4, rows, splitter);
                else
                    Columns(j - k0, a, ld, work.B, c0, c1, c2, c3, t, j + 4, rows);
            }
            if (k1 < n)
            {
                Pack(panel + k1, panel, ld, k0, k1 - k0, n - k1, work.B);
                Subtract(false, panel + k1 * ld + k1, ld, rows - k1, n - k1, panel + k0 * ld + k1, ld, k1 - k0, work, splitter);
            }
        }
        return -1;
    }

    /// <summary>Writes −L D Lᵀ of the rows below the pivots to the update matrix.</summary>
    public static void Update(Front front, Workspace work, Splitter splitter)
    {
        nint ld = front.LeadingDimension;
        var r = front.UpdateRows;
        var padded = (r + 3) & ~3;
        for (var k0 = 0; k0 < front.Pivots; k0 += Block)
        {
            var depth = Math.Min(Block, front.Pivots - k0);
            Pack(front.Panel + front.Pivots, front.Panel, ld, k0, depth, r, work.B);
            Subtract(k0 == 0, front.Update, padded, padded, padded, front.Panel + k0 * ld + front.Pivots, ld, depth, work, splitter);
        }
    }

    private static void SplitColumns(int depth, double* a, nint ld, double* b, double* c0, double* c1, double* c2, double* c3, double* t, int from, int to, Splitter splitter)
    {
        const int piece = 16 * Strip;
        splitter.Run((to - from + piece - 1) / piece, part =>
        {
            var begin = from + part * piece;
            Columns(depth, a, ld, b, c0, c1, c2, c3, t, begin, Math.Min(begin + piece, to));
        });
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Columns(int depth, double* a, nint ld, double* b, double* c0, double* c1, double* c2, double* c3, double* t, int from, int to)
    {
        var i = from;
        for (; i + 12 <= to; i += 12)
            Column12(depth, a + i, ld, b, c0 + i, c1 + i, c2 + i, c3 + i, t);
        for (; i < to; i += 4)
            Column4(depth, a + i, ld, b, c0 + i, c1 + i, c2 + i, c3 + i, t);
    }

    // LDLᵀ of the 4×4 block on the diagonal; t receives −l10 −l20 −l21 −l30 −l31 −l32 and 1/d0 … 1/d3.
    private static int FactorFour(int width, double* c0, double* c1, double* c2, double* c3, double* tolerance, double* t)
    {
        double d0 = c0[0], d1 = 1, d2 = 1, d3 = 1;
        double l10 = 0, l20 = 0, l30 = 0, l21 = 0, l31 = 0, l32 = 0;
        if (!(Math.Abs(d0) > tolerance[0]))
            return 0;
        var r0 = 1 / d0;
        if (width > 1)
        {
            l10 = c0[1] * r0;
            d1 = c1[1] - c0[1] * l10;
            c1[1] = d1;
            if (!(Math.Abs(d1) > tolerance[1]))
                return 1;
        }
        var r1 = 1 / d1;
        if (width > 2)
        {
            l20 = c0[2] * r0;
            var x21 = c1[2] - c0[2] * l10;
            l21 = x21 * r1;
            d2 = c2[2] - c0[2] * l20 - x21 * l21;
            c2[2] = d2;
            c1[2] = l21;
            if (!(Math.Abs(d2) > tolerance[2]))
                return 2;
        }
        else if (width > 1)
        {
            c1[2] = (c1[2] - c0[2] * l10) * r1;
        }
        var r2 = 1 / d2;
        if (width > 3)
        {
            l30 = c0[3] * r0;
            var x31 = c1[3] - c0[3] * l10;
            l31 = x31 * r1;
            var x32 = c2[3] - c0[3] * l20 - x31 * l21;
            l32 = x32 * r2;
            d3 = c3[3] - c0[3] * l30 - x31 * l31 - x32 * l32;
            c3[3] = d3;
            c1[3] = l31;
            c2[3] = l32;
            if (!(Math.Abs(d3) > tolerance[3]))
                return 3;
        }
        else
        {
            // The rows just below a narrow group belong to L as well.
            var x1 = c1[3] - c0[3] * l10;
            if (width > 2)
                c2[3] = (c2[3] - c0[3] * l20 - x1 * l21) * r2;
            if (width > 1)
                c1[3] = x1 * r1;
        }
        c0[1] *= r0;
        c0[2] *= r0;
        c0[3] *= r0;
        t[0] = -l10;
        t[1] = -l20;
        t[2] = -l21;
        t[3] = -l30;
        t[4] = -l31;
        t[5] = -l32;
        t[6] = r0;
        t[7] = r1;
        t[8] = r2;
        t[9] = 1 / d3;
        return -1;
    }

    // Rows first … first + count − 1 of −L D, columns k0 … k0 + depth − 1, by strips of four rows, the four beside one another.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Pack(double* first, double* panel, nint ld, int k0, int depth, int count, double* b)
    {
        for (var j = 0; j < count; j += 4, b += 4 * depth)
        {
            double* l = first + k0 * ld + j;
            double* to = b;
            if (j + 4 <= count)
            {
                for (var k = k0; k < k0 + depth; k++, l += ld, to += 4)
                    (Vector256.Load(l) * Vector256.Create(-panel[k * ld + k])).Store(to);
                continue;
            }
            for (var k = k0; k < k0 + depth; k++, l += ld, to += 4)
                for (var c = 0; c < 4; c++)
                    to[c] = j + c < count ? l[c] * -panel[k * ld + k] : 0;
        }
    }

    // C −= A Bᵀ on and below the diagonal (tiles that cross it are done whole); fresh: C = −A Bᵀ, whatever stood there.
    private static void Subtract(bool fresh, double* c, nint ldc, int rows, int columns, double* a, nint lda, int depth, Workspace work, Splitter splitter)
    {
        double* b = work.B;
        double* scratch = work.Small + 16;
        if (!splitter.IsWorthSplitting((long)rows * columns * depth))
        {
            SubtractRows(fresh, c, ldc, 0, rows, columns, a, lda, depth, b, work.A, scratch);
            return;
        }
        SplitRows(fresh, c, ldc, rows, columns, a, lda, depth, b, splitter);
    }

    // Parts of whole strips, the same whoever does them; later rows are longer, so they come first.
    private static void SplitRows(bool fresh, double* c, nint ldc, int rows, int columns, double* a, nint lda, int depth, double* b, Splitter splitter)
    {
        var strips = (rows + Strip - 1) / Strip;
        var parts = Math.Min(strips, 24);
        splitter.Run(parts, part =>
        {
            var index = parts - 1 - part;
            var begin = (int)((long)strips * index / parts) * Strip;
            var end = Math.Min(rows, (int)((long)strips * (index + 1) / parts) * Strip);
            var own = Workspace.OfThread();
            SubtractRows(fresh, c, ldc, begin, end, columns, a, lda, depth, b, own.A, own.Small + 16);
        });
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void SubtractRows(bool fresh, double* c, nint ldc, int from, int to, int columns, double* a, nint lda, int depth, double* b, double* packedA, double* scratch)
    {
        for (var block = 0; block < Math.Min(columns, to); block += ColumnBlock)
            for (var i = Math.Max(from, block / Strip * Strip); i < to; i += Strip)
            {
                var height = Math.Min(Strip, to - i);
                var end = Math.Min(Math.Min(columns, block + ColumnBlock), i + height);
                double* strip = a + i;
                var stride = lda;
                if (height == Strip && end - block > 24)
                {
                    double* write = packedA;
                    for (var k = 0; k < depth; k++, strip += lda, write += Strip)
                    {
                        Vector256.Load(strip).Store(write);
                        Vector256.Load(strip + 4).Store(write + 4);
                        Vector256.Load(strip + 8).Store(write + 8);
                    }
                    strip = packedA;
                    stride = Strip;
                }
                for (var j = block; j < end; j += 4)
                {
                    double* bj = b + (nint)j * depth;
                    double* c0 = c + j * ldc + i;
                    double* c1 = j + 1 < columns ? c0 + ldc : scratch;
                    double* c2 = j + 2 < columns ? c0 + 2 * ldc : scratch + 16;
                    double* c3 = j + 3 < columns ? c0 + 3 * ldc : scratch + 32;
                    if (height == Strip)
                        Tile12(fresh, depth, strip, stride, bj, c0, c1, c2, c3);
                    else if (height == 8)
                        Tile8(fresh, depth, strip, stride, bj, c0, c1, c2, c3);
                    else
                        Tile4(fresh, depth, strip, stride, bj, c0, c1, c2, c3);
                }
            }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tile12(bool fresh, int depth, double* a, nint lda, double* b, double* c0, double* c1, double* c2, double* c3)
    {
        Lane x00, x10, x20, x01, x11, x21, x02, x12, x22, x03, x13, x23;
        if (fresh)
        {
            x00 = x10 = x20 = x01 = x11 = x21 = x02 = x12 = x22 = x03 = x13 = x23 = Lane.Zero;
        }
        else
        {
            (x00, x10, x20) = (Vector256.Load(c0), Vector256.Load(c0 + 4), Vector256.Load(c0 + 8));
            (x01, x11, x21) = (Vector256.Load(c1), Vector256.Load(c1 + 4), Vector256.Load(c1 + 8));
            (x02, x12, x22) = (Vector256.Load(c2), Vector256.Load(c2 + 4), Vector256.Load(c2 + 8));
            (x03, x13, x23) = (Vector256.Load(c3), Vector256.Load(c3 + 4), Vector256.Load(c3 + 8));
        }
        for (; depth > 0; depth--, a += lda, b += 4)
        {
            Lane a0 = Vector256.Load(a), a1 = Vector256.Load(a + 4), a2 = Vector256.Load(a + 8);
            var s = Vector256.Create(b[0]);
            x00 = Vector256.MultiplyAddEstimate(a0, s, x00);
            x10 = Vector256.MultiplyAddEstimate(a1, s, x10);
            x20 = Vector256.MultiplyAddEstimate(a2, s, x20);
            s = Vector256.Create(b[1]);
            x01 = Vector256.MultiplyAddEstimate(a0, s, x01);
            x11 = Vector256.MultiplyAddEstimate(a1, s, x11);
            x21 = Vector256.MultiplyAddEstimate(a2, s, x21);
            s = Vector256.Create(b[2]);
            x02 = Vector256.MultiplyAddEstimate(a0, s, x02);
            x12 = Vector256.MultiplyAddEstimate(a1, s, x12);
            x22 = Vector256.MultiplyAddEstimate(a2, s, x22);
            s = Vector256.Create(b[3]);
            x03 = Vector256.MultiplyAddEstimate(a0, s, x03);
            x13 = Vector256.MultiplyAddEstimate(a1, s, x13);
            x23 = Vector256.MultiplyAddEstimate(a2, s, x23);
        }
        x00.Store(c0);
        x10.Store(c0 + 4);
        x20.Store(c0 + 8);
        x01.Store(c1);
        x11.Store(c1 + 4);
        x21.Store(c1 + 8);
        x02.Store(c2);
        x12.Store(c2 + 4);
        x22.Store(c2 + 8);
        x03.Store(c3);
        x13.Store(c3 + 4);
        x23.Store(c3 + 8);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tile8(bool fresh, int depth, double* a, nint lda, double* b, double* c0, double* c1, double* c2, double* c3)
    {
        Lane x00, x10, x01, x11, x02, x12, x03, x13;
        if (fresh)
        {
            x00 = x10 = x01 = x11 = x02 = x12 = x03 = x13 = Lane.Zero;
        }
        else
        {
            (x00, x10, x01, x11) = (Vector256.Load(c0), Vector256.Load(c0 + 4), Vector256.Load(c1), Vector256.Load(c1 + 4));
            (x02, x12, x03, x13) = (Vector256.Load(c2), Vector256.Load(c2 + 4), Vector256.Load(c3), Vector256.Load(c3 + 4));
        }
        for (; depth > 0; depth--, a += lda, b += 4)
        {
            Lane a0 = Vector256.Load(a), a1 = Vector256.Load(a + 4);
            Lane s0 = Vector256.Create(b[0]), s1 = Vector256.Create(b[1]), s2 = Vector256.Create(b[2]), s3 = Vector256.Create(b[3]);
            x00 = Vector256.MultiplyAddEstimate(a0, s0, x00);
            x10 = Vector256.MultiplyAddEstimate(a1, s0, x10);
            x01 = Vector256.MultiplyAddEstimate(a0, s1, x01);
            x11 = Vector256.MultiplyAddEstimate(a1, s1, x11);
            x02 = Vector256.MultiplyAddEstimate(a0, s2, x02);
            x12 = Vector256.MultiplyAddEstimate(a1, s2, x12);
            x03 = Vector256.MultiplyAddEstimate(a0, s3, x03);
            x13 = Vector256.MultiplyAddEstimate(a1, s3, x13);
        }
        x00.Store(c0);
        x10.Store(c0 + 4);
        x01.Store(c1);
        x11.Store(c1 + 4);
        x02.Store(c2);
        x12.Store(c2 + 4);
        x03.Store(c3);
        x13.Store(c3 + 4);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tile4(bool fresh, int depth, double* a, nint lda, double* b, double* c0, double* c1, double* c2, double* c3)
    {
        Lane x0, x1, x2, x3;
        if (fresh)
        {
            x0 = x1 = x2 = x3 = Lane.Zero;
        }
        else
        {
            (x0, x1, x2, x3) = (Vector256.Load(c0), Vector256.Load(c1), Vector256.Load(c2), Vector256.Load(c3));
        }
        for (; depth > 0; depth--, a += lda, b += 4)
        {
            var a0 = Vector256.Load(a);
            x0 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[0]), x0);
            x1 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[1]), x1);
            x2 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[2]), x2);
            x3 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[3]), x3);
        }
        x0.Store(c0);
        x1.Store(c1);
        x2.Store(c2);
        x3.Store(c3);
    }

    // As the tiles, then the four columns' own substitution: X = C − …, L = X/D.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Column12(int depth, double* a, nint lda, double* b, double* c0, double* c1, double* c2, double* c3, double* t)
    {
        Lane x00 = Vector256.Load(c0), x10 = Vector256.Load(c0 + 4), x20 = Vector256.Load(c0 + 8);
        Lane x01 = Vector256.Load(c1), x11 = Vector256.Load(c1 + 4), x21 = Vector256.Load(c1 + 8);
        Lane x02 = Vector256.Load(c2), x12 = Vector256.Load(c2 + 4), x22 = Vector256.Load(c2 + 8);
        Lane x03 = Vector256.Load(c3), x13 = Vector256.Load(c3 + 4), x23 = Vector256.Load(c3 + 8);
        for (; depth > 0; depth--, a += lda, b += 4)
        {
            Lane a0 = Vector256.Load(a), a1 = Vector256.Load(a + 4), a2 = Vector256.Load(a + 8);
            var s = Vector256.Create(b[0]);
            x00 = Vector256.MultiplyAddEstimate(a0, s, x00);
            x10 = Vector256.MultiplyAddEstimate(a1, s, x10);
            x20 = Vector256.MultiplyAddEstimate(a2, s, x20);
            s = Vector256.Create(b[1]);
            x01 = Vector256.MultiplyAddEstimate(a0, s, x01);
            x11 = Vector256.MultiplyAddEstimate(a1, s, x11);
            x21 = Vector256.MultiplyAddEstimate(a2, s, x21);
            s = Vector256.Create(b[2]);
            x02 = Vector256.MultiplyAddEstimate(a0, s, x02);
            x12 = Vector256.MultiplyAddEstimate(a1, s, x12);
            x22 = Vector256.MultiplyAddEstimate(a2, s, x22);
            s = Vector256.Create(b[3]);
            x03 = Vector256.MultiplyAddEstimate(a0, s, x03);
            x13 = Vector256.MultiplyAddEstimate(a1, s, x13);
            x23 = Vector256.MultiplyAddEstimate(a2, s, x23);
        }
        var l = Vector256.Create(t[0]);
        x01 = Vector256.MultiplyAddEstimate(x00, l, x01);
        x11 = Vector256.MultiplyAddEstimate(x10, l, x11);
        x21 = Vector256.MultiplyAddEstimate(x20, l, x21);
        l = Vector256.Create(t[1]);
        x02 = Vector256.MultiplyAddEstimate(x00, l, x02);
        x12 = Vector256.MultiplyAddEstimate(x10, l, x12);
        x22 = Vector256.MultiplyAddEstimate(x20, l, x22);
        l = Vector256.Create(t[2]);
        x02 = Vector256.MultiplyAddEstimate(x01, l, x02);
        x12 = Vector256.MultiplyAddEstimate(x11, l, x12);
        x22 = Vector256.MultiplyAddEstimate(x21, l, x22);
        l = Vector256.Create(t[3]);
        x03 = Vector256.MultiplyAddEstimate(x00, l, x03);
        x13 = Vector256.MultiplyAddEstimate(x10, l, x13);
        x23 = Vector256.MultiplyAddEstimate(x20, l, x23);
        l = Vector256.Create(t[4]);
        x03 = Vector256.MultiplyAddEstimate(x01, l, x03);
        x13 = Vector256.MultiplyAddEstimate(x11, l, x13);
        x23 = Vector256.MultiplyAddEstimate(x21, l, x23);
        l = Vector256.Create(t[5]);
        x03 = Vector256.MultiplyAddEstimate(x02, l, x03);
        x13 = Vector256.MultiplyAddEstimate(x12, l, x13);
        x23 = Vector256.MultiplyAddEstimate(x22, l, x23);
        l = Vector256.Create(t[6]);
        (x00 * l).Store(c0);
        (x10 * l).Store(c0 + 4);
        (x20 * l).Store(c0 + 8);
        l = Vector256.Create(t[7]);
        (x01 * l).Store(c1);
        (x11 * l).Store(c1 + 4);
        (x21 * l).Store(c1 + 8);
        l = Vector256.Create(t[8]);
        (x02 * l).Store(c2);
        (x12 * l).Store(c2 + 4);
        (x22 * l).Store(c2 + 8);
        l = Vector256.Create(t[9]);
        (x03 * l).Store(c3);
        (x13 * l).Store(c3 + 4);
        (x23 * l).Store(c3 + 8);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Column4(int depth, double* a, nint lda, double* b, double* c0, double* c1, double* c2, double* c3, double* t)
    {
        Lane x0 = Vector256.Load(c0), x1 = Vector256.Load(c1), x2 = Vector256.Load(c2), x3 = Vector256.Load(c3);
        for (; depth > 0; depth--, a += lda, b += 4)
        {
            var a0 = Vector256.Load(a);
            x0 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[0]), x0);
            x1 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[1]), x1);
            x2 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[2]), x2);
            x3 = Vector256.MultiplyAddEstimate(a0, Vector256.Create(b[3]), x3);
        }
        x1 = Vector256.MultiplyAddEstimate(x0, Vector256.Create(t[0]), x1);
        x2 = Vector256.MultiplyAddEstimate(x0, Vector256.Create(t[1]), x2);
        x2 = Vector256.MultiplyAddEstimate(x1, Vector256.Create(t[2]), x2);
        x3 = Vector256.MultiplyAddEstimate(x0, Vector256.Create(t[3]), x3);
        x3 = Vector256.MultiplyAddEstimate(x1, Vector256.Create(t[4]), x3);
        x3 = Vector256.MultiplyAddEstimate(x2, Vector256.Create(t[5]), x3);
        (x0 * Vector256.Create(t[6])).Store(c0);
        (x1 * Vector256.Create(t[7])).Store(c1);
        (x2 * Vector256.Create(t[8])).Store(c2);
        (x3 * Vector256.Create(t[9])).Store(c3);
    }
}
