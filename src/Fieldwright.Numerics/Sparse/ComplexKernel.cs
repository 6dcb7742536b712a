using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Dense LDLᵀ of one complex symmetric front, real and imaginary parts in separate planes; layout and letters as in <see cref="RealKernel"/>.
/// B is packed by pairs of rows of −L·D: (re, im) of the one, then of the other.
/// </summary>
internal unsafe struct ComplexKernel : IFrontKernel
{
    private const int Strip = 8;
    private const int Block = 96;
    private const int ColumnBlock = 96; // columns of C at a time, so that their part of B stays in the second-level cache

    public static int Planes => 2;

    public static int Factor(Front front, double* tolerance, Workspace work, Splitter splitter)
    {
        double* panel = front.Panel;
        var plane = front.PanelPlane;
        nint ld = front.LeadingDimension;
        var n = front.Pivots;
        var rows = (int)ld;
        for (var k0 = 0; k0 < n; k0 += Block)
        {
            var k1 = Math.Min(k0 + Block, n);
            for (var j = k0; j < k1; j += 4)
            {
                var width = Math.Min(4, k1 - j);
                var depth = j - k0;
                Pack(panel + j, panel, plane, ld, k0, depth, width, work.B);
                var group = new Group(panel + j * ld, plane, ld, width, work.Scratch);
                double* a = panel + k0 * ld;
                group.Subtract(depth, a, plane, ld, work.B, j, j + 4);
                var failed = FactorFour(width, group, j, tolerance + j, work.Small);
                if (failed >= 0)
                    return j + failed;
                if (splitter.IsWorthSplitting((long)(rows - j) * (depth + 4) * 16))
                    SplitColumns(depth, a, plane, ld, work.B, group, work.Small, j + 4, rows, splitter);
                else
                    Columns(depth, a, plane, ld, work.B, group, work.Small, j + 4, rows);
            }
            if (k1 < n)
            {
                Pack(panel + k1, panel, plane, ld, k0, k1 - k0, n - k1, work.B);
                Subtract(false, panel + k1 * ld + k1, plane, ld, rows - k1, n - k1, panel + k0 * ld + k1, plane, ld, k1 - k0, work, splitter);
            }
        }
        return -1;
    }

    public static void Update(Front front, Workspace work, Splitter splitter)
    {
        nint ld = front.LeadingDimension;
        var r = front.UpdateRows;
        var padded = (r + 3) & ~3;
        for (var k0 = 0; k0 < front.Pivots; k0 += Block)
        {
            var depth = Math.Min(Block, front.Pivots - k0);
            Pack(front.Panel + front.Pivots, front.Panel, front.PanelPlane, ld, k0, depth, r, work.B);
            Subtract(k0 == 0, front.Update, front.UpdatePlane, padded, padded, padded, front.Panel + k0 * ld + front.Pivots, front.PanelPlane, ld, depth, work, splitter);
        }
    }

    // Four columns of the panel, or fewer with stand-ins for the rest.
    private readonly struct Group
    {
        private readonly double* _c0, _c1, _c2, _c3;
        private readonly nint _p0, _p1, _p2, _p3; // distance to the imaginary part

        public Group(double* first, nint plane, nint ld, int width, double* scratch)
        {
            _c0 = first;
            _c1 = width > 1 ? first + ld : scratch;
            _c2 = width > 2 ? first + 2 * ld : scratch + 2 * ld;
            _c3 = width > 3 ? first + 3 * ld : scratch + 4 * ld;
            _p0 = plane;
            _p1 = width > 1 ? plane : ld;
            _p2 = width > 2 ? plane : ld;
            _p3 = width > 3 ? plane : ld;
        }

        // The 4×4 block on the diagonal, column by column, re and im beside one another.
        public void Fetch(int row, double* to)
        {
            for (var i = 0; i < 4; i++, to += 2, row++)
            {
                (to[0], to[1]) = (_c0[row], _c0[row + _p0]);
                (to[8], to[9]) = (_c1[row], _c1[row + _p1]);
                (to[16], to[17]) = (_c2[row], _c2[row + _p2]);
                (to[24], to[25]) = (_c3[row], _c3[row + _p3]);
            }
        }

        public void Put(int row, double* from)
        {
            for (var i = 0; i < 4; i++, from += 2, row++)
            {
                (_c0[row], _c0[row + _p0]) = (from[0], from[1]);
                (_c1[row], _c1[row + _p1]) = (from[8], from[9]);
                (_c2[row], _c2[row + _p2]) = (from[16], from[17]);
                (_c3[row], _c3[row + _p3]) = (from[24], from[25]);
            }
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public void Subtract(int depth, double* a, nint aPlane, nint lda, double* b, int from, int to)
        {
            if (depth == 0)
                return;
            double* b2 = b + 4 * depth;
            var i = from;
            for (; i + 8 <= to; i += 8)
            {
                Tile8(false, depth, a + i, aPlane, lda, b, _c0 + i, _p0, _c1 + i, _p1);
                Tile8(false, depth, a + i, aPlane, lda, b2, _c2 + i, _p2, _c3 + i, _p3);
            }
            for (; i < to; i += 4)
            {
                Tile4(false, depth, a + i, aPlane, lda, b, _c0 + i, _p0, _c1 + i, _p1);
                Tile4(false, depth, a + i, aPlane, lda, b2, _c2 + i, _p2, _c3 + i, _p3);
            }
        }

        // X = C − …, L = X/D for four rows; t: −l10 −l20 −l21 −l30 −l31 −l32 1/d0 … 1/d3, each re, im.
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public void Substitute(int i, double* t)
        {
            Lane r0 = Vector256.Load(_c0 + i), i0 = Vector256.Load(_c0 + _p0 + i);
            Lane r1 = Vector256.Load(_c1 + i), i1 = Vector256.Load(_c1 + _p1 + i);
            Lane r2 = Vector256.Load(_c2 + i), i2 = Vector256.Load(_c2 + _p2 + i);
            Lane r3 = Vector256.Load(_c3 + i), i3 = Vector256.Load(_c3 + _p3 + i);
            Add(ref r1, ref i1, r0, i0, t);
            Add(ref r2, ref i2, r0, i0, t + 2);
            Add(ref r2, ref i2, r1, i1, t + 4);
            Add(ref r3, ref i3, r0, i0, t + 6);
            Add(ref r3, ref i3, r1, i1, t + 8);
            Add(ref r3, ref i3, r2, i2, t + 10);
            Scale(_c0 + i, _p0, r0, i0, t + 12);
            Scale(_c1 + i, _p1, r1, i1, t + 14);
            Scale(_c2 + i, _p2, r2, i2, t + 16);
            Scale(_c3 + i, _p3, r3, i3, t + 18);
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        private static void Add(ref Lane re, ref Lane im, Lane xr, Lane xi, double* l)
        {
            Lane lr = Vector256.Create(l[0]), li = Vector256.Create(l[1]);
            re = Vector256.MultiplyAddEstimate(xr, lr, re) - xi * li;
            im = Vector256.MultiplyAddEstimate(xr, li, Vector256.MultiplyAddEstimate(xi, lr, im));
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        private static void Scale(double* to, nint plane, Lane xr, Lane xi, double* d)
        {
            Lane dr = Vector256.Create(d[0]), di = Vector256.Create(d[1]);
            (xr * dr - xi * di).Store(to);
            (xr * di + xi * dr).Store(to + plane);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int FactorFour(int width, Group group, int j, double* tolerance, double* t)
    {
        double* c = stackalloc double[32];
        group.Fetch(j, c);
        for (var k = 0; k < 20; k++)
            t[k] = 0;
        for (var q = 0; q < 4; q++)
        {
            double* column = c + 8 * q;
            if (q >= width)
            {
                t[12 + 2 * q] = 1;
                continue;
            }
            double dr = column[2 * q], di = column[2 * q + 1];
            if (!(Math.Abs(dr) + Math.Abs(di) > tolerance[q]))
            {
                group.Put(j, c);
                return q;
            }
            var inverse = Complex.One / new Complex(dr, di);
            double ir = inverse.Real, ii = inverse.Imaginary;
            t[12 + 2 * q] = ir;
            t[13 + 2 * q] = ii;
            for (var p = q + 1; p < width; p++)
            {
                double xr = column[2 * p], xi = column[2 * p + 1], lr = xr * ir - xi * ii, li = xr * ii + xi * ir;
                var place = p * (p - 1) + 2 * q;
                t[place] = -lr;
                t[place + 1] = -li;
                for (var row = 2 * p; row < 8; row += 2)
                {
                    c[8 * p + row] -= column[row] * lr - column[row + 1] * li;
                    c[8 * p + row + 1] -= column[row] * li + column[row + 1] * lr;
                }
            }
            for (var row = 2 * q + 2; row < 8; row += 2)
                (column[row], column[row + 1]) = (column[row] * ir - column[row + 1] * ii, column[row] * ii + column[row + 1] * ir);
        }
        group.Put(j, c);
        return -1;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Columns(int depth, double* a, nint plane, nint ld, double* b, Group group, double* t, int from, int to)
    {
        for (var i = from; i < to;)
        {
            var end = Math.Min(i + 8, to);
            group.Subtract(depth, a, plane, ld, b, i, end);
            for (; i < end; i += 4)
                group.Substitute(i, t);
        }
    }

    private static void SplitColumns(int depth, double* a, nint plane, nint ld, double* b, Group group, double* t, int from, int to, Splitter splitter)
    {
        const int piece = 16 * Strip;
        splitter.Run((to - from + piece - 1) / piece, part =>
        {
            var begin = from + part * piece;
            Columns(depth, a, plane, ld, b, group, t, begin, Math.Min(begin + piece, to));
        });
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Pack(double* first, double* panel, nint plane, nint ld, int k0, int depth, int count, double* b)
    {
        for (var j = 0; j < count; j += 2)
        {
            var pair = j + 1 < count;
            double* l = first + k0 * ld + j;
            double* d = panel + k0 * ld + k0;
            for (var k = 0; k < depth; k++, l += ld, d += ld + 1, b += 4)
            {
                double dr = -d[0], di = -d[plane];
                double re = l[0] * dr - l[plane] * di, im = l[0] * di + l[plane] * dr;
                b[0] = re;
                b[1] = im;
                if (pair)
                {
                    re = l[1] * dr - l[plane + 1] * di;
                    im = l[1] * di + l[plane + 1] * dr;
                }
                b[2] = pair ? re : 0;
                b[3] = pair ? im : 0;
            }
        }
        if (count < 4) // a narrow group of the panel takes two pairs
            new Span<double>(b, 4 * depth).Clear();
    }

    // C −= A Bᵀ on and below the diagonal; fresh: C = −A Bᵀ, whatever stood there.
    private static void Subtract(bool fresh, double* c, nint cPlane, nint ldc, int rows, int columns, double* a, nint aPlane, nint lda, int depth, Workspace work, Splitter splitter)
    {
        if (splitter.IsWorthSplitting(4L * rows * columns * depth))
            SplitRows(fresh, c, cPlane, ldc, rows, columns, a, aPlane, lda, depth, work.B, splitter);
        else
            SubtractRows(fresh, c, cPlane, ldc, 0, rows, columns, a, aPlane, lda, depth, work.B, work.A, work.Small + 32);
    }

    private static void SplitRows(bool fresh, double* c, nint cPlane, nint ldc, int rows, int columns, double* a, nint aPlane, nint lda, int depth, double* b, Splitter splitter)
    {
        var strips = (rows + Strip - 1) / Strip;
        var parts = Math.Min(strips, 24);
        splitter.Run(parts, part =>
        {
            var index = parts - 1 - part;
            var begin = (int)((long)strips * index / parts) * Strip;
            var end = Math.Min(rows, (int)((long)strips * (index + 1) / parts) * Strip);
            var own = Workspace.OfThread();
            SubtractRows(fresh, c, cPlane, ldc, begin, end, columns, a, aPlane, lda, depth, b, own.A, own.Small + 32);
        });
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void SubtractRows(bool fresh, double* c, nint cPlane, nint ldc, int from, int to, int columns, double* a, nint aPlane, nint lda, int depth, double* b, double* packedA, double* scratch)
    {
        for (var block = 0; block < Math.Min(columns, to); block += ColumnBlock)
            for (var i = Math.Max(from, block / Strip * Strip); i < to; i += Strip)
            {
                var height = Math.Min(Strip, to - i);
                var end = Math.Min(Math.Min(columns, block + ColumnBlock), i + height);
                double* strip = a + i;
                nint stride = lda, plane = aPlane;
                if (height == Strip && end - block > 16)
                {
                    double* write = packedA;
                    for (var k = 0; k < depth; k++, strip += lda, write += 16)
                    {
                        Vector256.Load(strip).Store(write);
                        Vector256.Load(strip + 4).Store(write + 4);
                        Vector256.Load(strip + aPlane).Store(write + 8);
                        Vector256.Load(strip + aPlane + 4).Store(write + 12);
                    }
                    strip = packedA;
                    stride = 16;
                    plane = 8;
                }
                for (var j = block; j < end; j += 2)
                {
                    double* bj = b + (nint)j * 2 * depth;
                    double* c0 = c + j * ldc + i;
                    double* c1 = j + 1 < columns ? c0 + ldc : scratch;
                    var plane1 = j + 1 < columns ? cPlane : 8;
                    if (height == Strip)
                        Tile8(fresh, depth, strip, plane, stride, bj, c0, cPlane, c1, plane1);
                    else
                        Tile4(fresh, depth, strip, plane, stride, bj, c0, cPlane, c1, plane1);
                }
            }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tile8(bool fresh, int depth, double* a, nint aPlane, nint lda, double* b, double* c0, nint p0, double* c1, nint p1)
    {
        Lane r00, r10, i00, i10, r01, r11, i01, i11;
        if (fresh)
        {
            r00 = r10 = i00 = i10 = r01 = r11 = i01 = i11 = Lane.Zero;
        }
        else
        {
            (r00, r10, i00, i10) = (Vector256.Load(c0), Vector256.Load(c0 + 4), Vector256.Load(c0 + p0), Vector256.Load(c0 + p0 + 4));
            (r01, r11, i01, i11) = (Vector256.Load(c1), Vector256.Load(c1 + 4), Vector256.Load(c1 + p1), Vector256.Load(c1 + p1 + 4));
        }
        double* ai = a + aPlane;
        for (; depth > 0; depth--, a += lda, ai += lda, b += 4)
        {
            Lane ar0 = Vector256.Load(a), ar1 = Vector256.Load(a + 4), ai0 = Vector256.Load(ai), ai1 = Vector256.Load(ai + 4);
            var s = Vector256.Create(b[0]);
            r00 = Vector256.MultiplyAddEstimate(ar0, s, r00);
            r10 = Vector256.MultiplyAddEstimate(ar1, s, r10);
            i00 = Vector256.MultiplyAddEstimate(ai0, s, i00);
            i10 = Vector256.MultiplyAddEstimate(ai1, s, i10);
            s = Vector256.Create(b[2]);
            r01 = Vector256.MultiplyAddEstimate(ar0, s, r01);
            r11 = Vector256.MultiplyAddEstimate(ar1, s, r11);
            i01 = Vector256.MultiplyAddEstimate(ai0, s, i01);
            i11 = Vector256.MultiplyAddEstimate(ai1, s, i11);
            s = Vector256.Create(b[1]);
            i00 = Vector256.MultiplyAddEstimate(ar0, s, i00);
            i10 = Vector256.MultiplyAddEstimate(ar1, s, i10);
            r00 = Lanes.SubtractProduct(ai0, s, r00);
            r10 = Lanes.SubtractProduct(ai1, s, r10);
            s = Vector256.Create(b[3]);
            i01 = Vector256.MultiplyAddEstimate(ar0, s, i01);
            i11 = Vector256.MultiplyAddEstimate(ar1, s, i11);
            r01 = Lanes.SubtractProduct(ai0, s, r01);
            r11 = Lanes.SubtractProduct(ai1, s, r11);
        }
        r00.Store(c0);
        r10.Store(c0 + 4);
        i00.Store(c0 + p0);
        i10.Store(c0 + p0 + 4);
        r01.Store(c1);
        r11.Store(c1 + 4);
        i01.Store(c1 + p1);
        i11.Store(c1 + p1 + 4);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tile4(bool fresh, int depth, double* a, nint aPlane, nint lda, double* b, double* c0, nint p0, double* c1, nint p1)
    {
        Lane r0, i0, r1, i1;
        if (fresh)
        {
            r0 = i0 = r1 = i1 = Lane.Zero;
        }
        else
        {
            (r0, i0, r1, i1) = (Vector256.Load(c0), Vector256.Load(c0 + p0), Vector256.Load(c1), Vector256.Load(c1 + p1));
        }
        Lane r0b = Lane.Zero, i0b = Lane.Zero, r1b = Lane.Zero, i1b = Lane.Zero; // shorter chains of additions
        double* ai = a + aPlane;
        for (; depth > 0; depth--, a += lda, ai += lda, b += 4)
        {
            Lane ar = Vector256.Load(a), im = Vector256.Load(ai);
            r0 = Vector256.MultiplyAddEstimate(ar, Vector256.Create(b[0]), r0);
            i0 = Vector256.MultiplyAddEstimate(im, Vector256.Create(b[0]), i0);
            r1 = Vector256.MultiplyAddEstimate(ar, Vector256.Create(b[2]), r1);
            i1 = Vector256.MultiplyAddEstimate(im, Vector256.Create(b[2]), i1);
            i0b = Vector256.MultiplyAddEstimate(ar, Vector256.Create(b[1]), i0b);
            r0b = Lanes.SubtractProduct(im, Vector256.Create(b[1]), r0b);
            i1b = Vector256.MultiplyAddEstimate(ar, Vector256.Create(b[3]), i1b);
            r1b = Lanes.SubtractProduct(im, Vector256.Create(b[3]), r1b);
        }
        (r0 + r0b).Store(c0);
        (i0 + i0b).Store(c0 + p0);
        (r1 + r1b).Store(c1);
        (i1 + i1b).Store(c1 + p1);
    }
}
