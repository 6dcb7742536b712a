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
                PackFour(panel + j, panel, plane, ld, k0, depth, work.B);
                var group = new Group(panel + j * ld, plane, ld, width, work.Scratch);
                double* a = panel + k0 * ld;
                var failed = FactorFour(width, group, j, depth, a, plane, ld, work.B, tolerance + j, work.Small);
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
        public readonly double* C0, C1, C2, C3;
        public readonly nint P0, P1, P2, P3; // distance to the imaginary part

        public Group(double* first, nint plane, nint ld, int width, double* scratch)
        {
            C0 = first;
            C1 = width > 1 ? first + ld : scratch;
            C2 = width > 2 ? first + 2 * ld : scratch + 2 * ld;
            C3 = width > 3 ? first + 3 * ld : scratch + 4 * ld;
            P0 = plane;
            P1 = width > 1 ? plane : ld;
            P2 = width > 2 ? plane : ld;
            P3 = width > 3 ? plane : ld;
        }
    }

    // Four rows of four columns: C −= A Bᵀ, B as PackFour leaves it.
    private struct Square
    {
        public Lane R0, R1, R2, R3, I0, I1, I2, I3;

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Square(in Group c, int i)
        {
            (R0, R1, R2, R3) = (Vector256.Load(c.C0 + i), Vector256.Load(c.C1 + i), Vector256.Load(c.C2 + i), Vector256.Load(c.C3 + i));
            (I0, I1, I2, I3) = (Vector256.Load(c.C0 + c.P0 + i), Vector256.Load(c.C1 + c.P1 + i), Vector256.Load(c.C2 + c.P2 + i), Vector256.Load(c.C3 + c.P3 + i));
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public void Subtract(int depth, double* a, nint plane, nint ld, double* b)
        {
            Lane r0 = R0, r1 = R1, r2 = R2, r3 = R3, i0 = I0, i1 = I1, i2 = I2, i3 = I3;
            for (; depth > 0; depth--, a += ld, b += 8)
            {
                Lane re = Vector256.Load(a), im = Vector256.Load(a + plane);
                var s = Vector256.Create(b[0]);
                r0 = Vector256.MultiplyAddEstimate(re, s, r0);
                i0 = Vector256.MultiplyAddEstimate(im, s, i0);
                s = Vector256.Create(b[1]);
                r1 = Vector256.MultiplyAddEstimate(re, s, r1);
                i1 = Vector256.MultiplyAddEstimate(im, s, i1);
                s = Vector256.Create(b[2]);
                r2 = Vector256.MultiplyAddEstimate(re, s, r2);
                i2 = Vector256.MultiplyAddEstimate(im, s, i2);
                s = Vector256.Create(b[3]);
                r3 = Vector256.MultiplyAddEstimate(re, s, r3);
                i3 = Vector256.MultiplyAddEstimate(im, s, i3);
                s = Vector256.Create(b[4]);
                i0 = Vector256.MultiplyAddEstimate(re, s, i0);
                r0 = Lanes.SubtractProduct(im, s, r0);
                s = Vector256.Create(b[5]);
                i1 = Vector256.MultiplyAddEstimate(re, s, i1);
                r1 = Lanes.SubtractProduct(im, s, r1);
                s = Vector256.Create(b[6]);
                i2 = Vector256.MultiplyAddEstimate(re, s, i2);
                r2 = Lanes.SubtractProduct(im, s, r2);
                s = Vector256.Create(b[7]);
                i3 = Vector256.MultiplyAddEstimate(re, s, i3);
                r3 = Lanes.SubtractProduct(im, s, r3);
            }
            (R0, R1, R2, R3, I0, I1, I2, I3) = (r0, r1, r2, r3, i0, i1, i2, i3);
        }
    }

    // The 4×4 block on the diagonal. t receives −l10 −l20 −l21 −l30 −l31 −l32 1/d0 … 1/d3, each re, im.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int FactorFour(int width, Group group, int j, int depth, double* a, nint plane, nint ld, double* b, double* tolerance, double* t)
    {
        double* c = stackalloc double[32]; // column by column: four real parts, four imaginary parts
        var square = new Square(group, j);
        square.Subtract(depth, a + j, plane, ld, b);
        square.R0.Store(c);
        square.I0.Store(c + 4);
        square.R1.Store(c + 8);
        square.I1.Store(c + 12);
        square.R2.Store(c + 16);
        square.I2.Store(c + 20);
        square.R3.Store(c + 24);
        square.I3.Store(c + 28);
        for (var k = 0; k < 20; k++)
            t[k] = 0;
        var failed = -1;
        for (var q = 0; q < 4 && failed < 0; q++)
        {
            double* column = c + 8 * q;
            if (q >= width)
            {
                t[12 + 2 * q] = 1;
                continue;
            }
            double dr = column[q], di = column[4 + q];
            if (!(Math.Abs(dr) + Math.Abs(di) > tolerance[q]))
            {
                failed = q;
                continue;
            }
            var inverse = Complex.One / new Complex(dr, di);
            double ir = inverse.Real, ii = inverse.Imaginary;
            t[12 + 2 * q] = ir;
            t[13 + 2 * q] = ii;
            for (var p = q + 1; p < width; p++)
            {
                double xr = column[p], xi = column[4 + p], lr = xr * ir - xi * ii, li = xr * ii + xi * ir;
                var place = p * (p - 1) + 2 * q;
                t[place] = -lr;
                t[place + 1] = -li;
                for (var row = p; row < 4; row++)
                {
                    c[8 * p + row] -= column[row] * lr - column[row + 4] * li;
                    c[8 * p + row + 4] -= column[row] * li + column[row + 4] * lr;
                }
            }
            for (var row = q + 1; row < 4; row++)
                (column[row], column[row + 4]) = (column[row] * ir - column[row + 4] * ii, column[row] * ii + column[row + 4] * ir);
        }
        Put(group.C0 + j, group.P0, c);
        Put(group.C1 + j, group.P1, c + 8);
        Put(group.C2 + j, group.P2, c + 16);
        Put(group.C3 + j, group.P3, c + 24);
        return failed;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Put(double* to, nint plane, double* from)
    {
        Vector256.Load(from).Store(to);
        Vector256.Load(from + 4).Store(to + plane);
    }

    // X = C − A Bᵀ, L = X/D for the rows of four columns.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Columns(int depth, double* a, nint plane, nint ld, double* b, Group group, double* t, int from, int to)
    {
        for (var i = from; i < to; i += 4)
        {
            var x = new Square(group, i);
            x.Subtract(depth, a + i, plane, ld, b);
            Add(ref x.R1, ref x.I1, x.R0, x.I0, t);
            Add(ref x.R2, ref x.I2, x.R0, x.I0, t + 2);
            Add(ref x.R2, ref x.I2, x.R1, x.I1, t + 4);
            Add(ref x.R3, ref x.I3, x.R0, x.I0, t + 6);
            Add(ref x.R3, ref x.I3, x.R1, x.I1, t + 8);
            Add(ref x.R3, ref x.I3, x.R2, x.I2, t + 10);
            Scale(group.C0 + i, group.P0, x.R0, x.I0, t + 12);
            Scale(group.C1 + i, group.P1, x.R1, x.I1, t + 14);
            Scale(group.C2 + i, group.P2, x.R2, x.I2, t + 16);
            Scale(group.C3 + i, group.P3, x.R3, x.I3, t + 18);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Add(ref Lane re, ref Lane im, Lane xr, Lane xi, double* l)
    {
        Lane lr = Vector256.Create(l[0]), li = Vector256.Create(l[1]);
        re = Lanes.SubtractProduct(xi, li, Vector256.MultiplyAddEstimate(xr, lr, re));
        im = Vector256.MultiplyAddEstimate(xr, li, Vector256.MultiplyAddEstimate(xi, lr, im));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Scale(double* to, nint plane, Lane xr, Lane xi, double* d)
    {
        Lane dr = Vector256.Create(d[0]), di = Vector256.Create(d[1]);
        Lanes.SubtractProduct(xi, di, xr * dr).Store(to);
        Vector256.MultiplyAddEstimate(xr, di, xi * dr).Store(to + plane);
    }

    private static void SplitColumns(int depth, double* a, nint plane, nint ld, double* b, Group group, double* t, int from, int to, Splitter splitter)
    {
        const int piece = 128;
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
    }

    // As Pack, but for four rows: their real parts, then their imaginary parts.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void PackFour(double* first, double* panel, nint plane, nint ld, int k0, int depth, double* b)
    {
        double* l = first + k0 * ld;
        double* d = panel + k0 * ld + k0;
        for (var k = 0; k < depth; k++, l += ld, d += ld + 1, b += 8)
        {
            Lane lr = Vector256.Load(l), li = Vector256.Load(l + plane), dr = Vector256.Create(-d[0]), di = Vector256.Create(-d[plane]);
            Lane re = Lanes.SubtractProduct(li, di, lr * dr), im = Vector256.MultiplyAddEstimate(lr, di, li * dr);
            re.Store(b);
            im.Store(b + 4);
        }
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
                // Beyond the diagonal nothing is wanted: the last columns of a strip only need its lower half.
                double* bj = b + (nint)block * 2 * depth;
                double* cj = c + block * ldc + i;
                var whole = height == Strip ? Math.Min(end, i + 4) - block : 0;
                Tiles8(fresh, depth, strip, plane, stride, bj, cj, cPlane, ldc, whole, columns - block, scratch);
                var skip = height == Strip ? 4 : 0;
                Tiles4(fresh, depth, strip + skip, plane, stride, bj + (nint)whole * 2 * depth, cj + whole * ldc + skip, cPlane, ldc, end - block - whole, columns - block - whole, scratch);
            }
    }

    // Eight rows of so many columns, by pairs; a pair whose second column lies beyond the last has a stand-in for it.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tiles8(bool fresh, int depth, double* a, nint aPlane, nint lda, double* b, double* c, nint cPlane, nint ldc, int count, int columns, double* scratch)
    {
        for (var j = 0; j < count; j += 2, c += 2 * ldc)
        {
            double* d = j + 1 < columns ? c + ldc : scratch;
            var dPlane = j + 1 < columns ? cPlane : 8;
            Lane r00, r10, i00, i10, r01, r11, i01, i11;
            if (fresh)
            {
                r00 = r10 = i00 = i10 = r01 = r11 = i01 = i11 = Lane.Zero;
            }
            else
            {
                (r00, r10, i00, i10) = (Vector256.Load(c), Vector256.Load(c + 4), Vector256.Load(c + cPlane), Vector256.Load(c + cPlane + 4));
                (r01, r11, i01, i11) = (Vector256.Load(d), Vector256.Load(d + 4), Vector256.Load(d + dPlane), Vector256.Load(d + dPlane + 4));
            }
            double* re = a;
            double* im = a + aPlane;
            for (var k = 0; k < depth; k++, re += lda, im += lda, b += 4)
            {
                Lane ar0 = Vector256.Load(re), ar1 = Vector256.Load(re + 4), ai0 = Vector256.Load(im), ai1 = Vector256.Load(im + 4);
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
            r00.Store(c);
            r10.Store(c + 4);
            i00.Store(c + cPlane);
            i10.Store(c + cPlane + 4);
            r01.Store(d);
            r11.Store(d + 4);
            i01.Store(d + dPlane);
            i11.Store(d + dPlane + 4);
        }
    }

    // Four rows of so many columns, by fours.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Tiles4(bool fresh, int depth, double* a, nint aPlane, nint lda, double* b, double* c, nint cPlane, nint ldc, int count, int columns, double* scratch)
    {
        for (var j = 0; j < count; j += 4, c += 4 * ldc, b += 8 * depth)
        {
            double* c1 = j + 1 < columns ? c + ldc : scratch;
            double* c2 = j + 2 < columns ? c + 2 * ldc : scratch + 16;
            double* c3 = j + 3 < columns ? c + 3 * ldc : scratch + 32;
            nint p1 = j + 1 < columns ? cPlane : 8, p2 = j + 2 < columns ? cPlane : 8, p3 = j + 3 < columns ? cPlane : 8;
            Lane r0, r1, r2, r3, i0, i1, i2, i3;
            if (fresh)
            {
                r0 = r1 = r2 = r3 = i0 = i1 = i2 = i3 = Lane.Zero;
            }
            else
            {
                (r0, r1, r2, r3) = (Vector256.Load(c), Vector256.Load(c1), Vector256.Load(c2), Vector256.Load(c3));
                (i0, i1, i2, i3) = (Vector256.Load(c + cPlane), Vector256.Load(c1 + p1), Vector256.Load(c2 + p2), Vector256.Load(c3 + p3));
            }
            double* re = a;
            double* im = a + aPlane;
            double* one = b;
            double* two = b + 4 * depth;
            for (var k = 0; k < depth; k++, re += lda, im += lda, one += 4, two += 4)
            {
                Lane ar = Vector256.Load(re), ai = Vector256.Load(im);
                var s = Vector256.Create(one[0]);
                r0 = Vector256.MultiplyAddEstimate(ar, s, r0);
                i0 = Vector256.MultiplyAddEstimate(ai, s, i0);
                s = Vector256.Create(one[2]);
                r1 = Vector256.MultiplyAddEstimate(ar, s, r1);
                i1 = Vector256.MultiplyAddEstimate(ai, s, i1);
                s = Vector256.Create(two[0]);
                r2 = Vector256.MultiplyAddEstimate(ar, s, r2);
                i2 = Vector256.MultiplyAddEstimate(ai, s, i2);
                s = Vector256.Create(two[2]);
                r3 = Vector256.MultiplyAddEstimate(ar, s, r3);
                i3 = Vector256.MultiplyAddEstimate(ai, s, i3);
                s = Vector256.Create(one[1]);
                i0 = Vector256.MultiplyAddEstimate(ar, s, i0);
                r0 = Lanes.SubtractProduct(ai, s, r0);
                s = Vector256.Create(one[3]);
                i1 = Vector256.MultiplyAddEstimate(ar, s, i1);
                r1 = Lanes.SubtractProduct(ai, s, r1);
                s = Vector256.Create(two[1]);
                i2 = Vector256.MultiplyAddEstimate(ar, s, i2);
                r2 = Lanes.SubtractProduct(ai, s, r2);
                s = Vector256.Create(two[3]);
                i3 = Vector256.MultiplyAddEstimate(ar, s, i3);
                r3 = Lanes.SubtractProduct(ai, s, r3);
            }
            r0.Store(c);
            i0.Store(c + cPlane);
            r1.Store(c1);
            i1.Store(c1 + p1);
            r2.Store(c2);
            i2.Store(c2 + p2);
            r3.Store(c3);
            i3.Store(c3 + p3);
        }
    }
}
