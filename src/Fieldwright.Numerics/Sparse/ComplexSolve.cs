using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Substitution through the panels of a complex factor, on vectors in the order of elimination, real and imaginary parts apart.</summary>
internal static unsafe class ComplexSolve
{
    /// <summary>One right-hand side, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void One(FrontTree tree, double* panels, double* yr, double* yi, double* tr, double* ti)
    {
        fixed (int* allRows = tree.Rows)
        {
            for (var f = 0; f < tree.Count; f++)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f), plane = (nint)(tree.PanelStarts[f + 1] - tree.PanelStarts[f]);
                double* panel = panels + 2 * tree.PanelStarts[f];
                double* xr = yr + tree.FirstColumn[f];
                double* xi = yi + tree.FirstColumn[f];
                for (var k = 0; k < n; k++)
                {
                    double re = xr[k], im = xi[k];
                    double* lr = panel + k * ld;
                    double* li = lr + plane;
                    for (var i = k + 1; i < n; i++)
                    {
                        xr[i] -= lr[i] * re - li[i] * im;
                        xi[i] -= lr[i] * im + li[i] * re;
                    }
                }
                if (r > 0)
                {
                    Multiply(panel + n, plane, ld, n, r, xr, xi, tr, ti);
                    int* rows = allRows + tree.RowStarts[f];
                    for (var i = 0; i < r; i++)
                    {
                        yr[rows[i]] -= tr[i];
                        yi[rows[i]] -= ti[i];
                    }
                }
                for (var k = 0; k < n; k++)
                {
                    double* d = panel + k * ld + k;
                    var scale = 1 / (d[0] * d[0] + d[plane] * d[plane]);
                    double dr = d[0] * scale, di = -d[plane] * scale;
                    (xr[k], xi[k]) = (xr[k] * dr - xi[k] * di, xr[k] * di + xi[k] * dr);
                }
            }
            for (var f = tree.Count - 1; f >= 0; f--)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f), plane = (nint)(tree.PanelStarts[f + 1] - tree.PanelStarts[f]);
                double* panel = panels + 2 * tree.PanelStarts[f];
                double* xr = yr + tree.FirstColumn[f];
                double* xi = yi + tree.FirstColumn[f];
                if (r > 0)
                {
                    int* rows = allRows + tree.RowStarts[f];
                    for (var i = 0; i < r; i++)
                    {
                        tr[i] = yr[rows[i]];
                        ti[i] = yi[rows[i]];
                    }
                    MultiplyTransposed(panel + n, plane, ld, n, r, tr, ti, xr, xi);
                }
                for (var k = n - 1; k >= 0; k--)
                {
                    double* lr = panel + k * ld;
                    double* li = lr + plane;
                    double re = xr[k], im = xi[k];
                    for (var i = k + 1; i < n; i++)
                    {
                        re -= lr[i] * xr[i] - li[i] * xi[i];
                        im -= lr[i] * xi[i] + li[i] * xr[i];
                    }
                    xr[k] = re;
                    xi[k] = im;
                }
            }
        }
    }

    /// <summary>Four right-hand sides, entry by entry beside one another, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Four(FrontTree tree, double* panels, Lane* yr, Lane* yi, Lane* tr, Lane* ti)
    {
        fixed (int* allRows = tree.Rows)
        {
            for (var f = 0; f < tree.Count; f++)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f), plane = (nint)(tree.PanelStarts[f + 1] - tree.PanelStarts[f]);
                double* panel = panels + 2 * tree.PanelStarts[f];
                Lane* xr = yr + tree.FirstColumn[f];
                Lane* xi = yi + tree.FirstColumn[f];
                int* rows = allRows + tree.RowStarts[f];
                for (var i = 0; i < r; i++)
                {
                    tr[i] = yr[rows[i]];
                    ti[i] = yi[rows[i]];
                }
                for (var k = 0; k < n; k++)
                {
                    double* l = panel + k * ld;
                    Subtract(l + k + 1, plane, n - k - 1, xr[k], xi[k], xr + k + 1, xi + k + 1);
                    Subtract(l + n, plane, r, xr[k], xi[k], tr, ti);
                }
                for (var i = 0; i < r; i++)
                {
                    yr[rows[i]] = tr[i];
                    yi[rows[i]] = ti[i];
                }
                for (var k = 0; k < n; k++)
                {
                    double* d = panel + k * ld + k;
                    var scale = 1 / (d[0] * d[0] + d[plane] * d[plane]);
                    Lane dr = Vector256.Create(d[0] * scale), di = Vector256.Create(-d[plane] * scale);
                    (xr[k], xi[k]) = (xr[k] * dr - xi[k] * di, xr[k] * di + xi[k] * dr);
                }
            }
            for (var f = tree.Count - 1; f >= 0; f--)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f), plane = (nint)(tree.PanelStarts[f + 1] - tree.PanelStarts[f]);
                double* panel = panels + 2 * tree.PanelStarts[f];
                Lane* xr = yr + tree.FirstColumn[f];
                Lane* xi = yi + tree.FirstColumn[f];
                int* rows = allRows + tree.RowStarts[f];
                for (var i = 0; i < r; i++)
                {
                    tr[i] = yr[rows[i]];
                    ti[i] = yi[rows[i]];
                }
                for (var k = n - 1; k >= 0; k--)
                {
                    double* l = panel + k * ld;
                    SubtractDot(l + k + 1, plane, n - k - 1, xr + k + 1, xi + k + 1, ref xr[k], ref xi[k]);
                    SubtractDot(l + n, plane, r, tr, ti, ref xr[k], ref xi[k]);
                }
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Subtract(double* l, nint plane, int count, Lane re, Lane im, Lane* toRe, Lane* toIm)
    {
        Lane minusRe = -re, minusIm = -im;
        for (var i = 0; i < count; i++)
        {
            Lane lr = Vector256.Create(l[i]), li = Vector256.Create(l[i + plane]);
            toRe[i] = Vector256.MultiplyAddEstimate(lr, minusRe, Vector256.MultiplyAddEstimate(li, im, toRe[i]));
            toIm[i] = Vector256.MultiplyAddEstimate(lr, minusIm, Vector256.MultiplyAddEstimate(li, minusRe, toIm[i]));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void SubtractDot(double* l, nint plane, int count, Lane* re, Lane* im, ref Lane toRe, ref Lane toIm)
    {
        Lane a = Lane.Zero, b = Lane.Zero, c = Lane.Zero, d = Lane.Zero;
        for (var i = 0; i < count; i++)
        {
            Lane lr = Vector256.Create(l[i]), li = Vector256.Create(l[i + plane]);
            a = Vector256.MultiplyAddEstimate(lr, re[i], a);
            b = Vector256.MultiplyAddEstimate(li, im[i], b);
            c = Vector256.MultiplyAddEstimate(lr, im[i], c);
            d = Vector256.MultiplyAddEstimate(li, re[i], d);
        }
        toRe -= a - b;
        toIm -= c + d;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Multiply(double* a, nint plane, nint ld, int columns, int rows, double* xr, double* xi, double* tr, double* ti)
    {
        for (var i = 0; i < rows; i += 4)
        {
            Lane.Zero.Store(tr + i);
            Lane.Zero.Store(ti + i);
        }
        var k = 0;
        for (; k + 2 <= columns; k += 2, a += 2 * ld)
        {
            Lane r0 = Vector256.Create(xr[k]), i0 = Vector256.Create(xi[k]), r1 = Vector256.Create(xr[k + 1]), i1 = Vector256.Create(xi[k + 1]);
            Lane m0 = -i0, m1 = -i1;
            for (var i = 0; i < rows; i += 4)
            {
                Lane re = Vector256.Load(tr + i), im = Vector256.Load(ti + i);
                Lane ar = Vector256.Load(a + i), ai = Vector256.Load(a + plane + i);
                re = Vector256.MultiplyAddEstimate(ar, r0, re);
                im = Vector256.MultiplyAddEstimate(ar, i0, im);
                re = Vector256.MultiplyAddEstimate(ai, m0, re);
                im = Vector256.MultiplyAddEstimate(ai, r0, im);
                ar = Vector256.Load(a + ld + i);
                ai = Vector256.Load(a + ld + plane + i);
                re = Vector256.MultiplyAddEstimate(ar, r1, re);
                im = Vector256.MultiplyAddEstimate(ar, i1, im);
                re = Vector256.MultiplyAddEstimate(ai, m1, re);
                im = Vector256.MultiplyAddEstimate(ai, r1, im);
                re.Store(tr + i);
                im.Store(ti + i);
            }
        }
        if (k < columns)
        {
            Lane r0 = Vector256.Create(xr[k]), i0 = Vector256.Create(xi[k]), m0 = -i0;
            for (var i = 0; i < rows; i += 4)
            {
                Lane ar = Vector256.Load(a + i), ai = Vector256.Load(a + plane + i);
                Vector256.MultiplyAddEstimate(ai, m0, Vector256.MultiplyAddEstimate(ar, r0, Vector256.Load(tr + i))).Store(tr + i);
                Vector256.MultiplyAddEstimate(ai, r0, Vector256.MultiplyAddEstimate(ar, i0, Vector256.Load(ti + i))).Store(ti + i);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void MultiplyTransposed(double* a, nint plane, nint ld, int columns, int rows, double* tr, double* ti, double* xr, double* xi)
    {
        for (var k = 0; k < columns; k++, a += ld)
        {
            Lane rr = Lane.Zero, ii = Lane.Zero, ri = Lane.Zero, ir = Lane.Zero;
            var i = 0;
            for (; i + 4 <= rows; i += 4)
            {
                Lane ar = Vector256.Load(a + i), ai = Vector256.Load(a + plane + i), r = Vector256.Load(tr + i), m = Vector256.Load(ti + i);
                rr = Vector256.MultiplyAddEstimate(ar, r, rr);
                ii = Vector256.MultiplyAddEstimate(ai, m, ii);
                ri = Vector256.MultiplyAddEstimate(ar, m, ri);
                ir = Vector256.MultiplyAddEstimate(ai, r, ir);
            }
            double re = Vector256.Sum(rr - ii), im = Vector256.Sum(ri + ir);
            for (; i < rows; i++)
            {
                re += a[i] * tr[i] - a[plane + i] * ti[i];
                im += a[i] * ti[i] + a[plane + i] * tr[i];
            }
            xr[k] -= re;
            xi[k] -= im;
        }
    }
}
