using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Substitution through the panels of a complex factor, on vectors in the order of elimination, real and imaginary parts apart.</summary>
internal static unsafe class ComplexSolve
{
    /// <summary>One right-hand side, in place. The rows of a front are gathered into (tr, ti), worked on by groups of four columns, and put back.</summary>
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
                int* rows = allRows + tree.RowStarts[f];
                Lanes.Prefetch(panel + 2 * plane, f + 1 < tree.Count ? 2 * (tree.PanelStarts[f + 2] - tree.PanelStarts[f + 1]) : 0);
                Gather(n, r, rows, xr, xi, yr, yi, tr, ti);
                for (var k = 0; k < n; k += 4)
                {
                    var width = Math.Min(4, n - k);
                    double* l = panel + k * ld;
                    for (var p = 0; p < width; p++)
                        for (var i = p + 1; i < width; i++)
                        {
                            double lr = l[p * ld + k + i], li = l[p * ld + k + i + plane];
                            tr[k + i] -= lr * tr[k + p] - li * ti[k + p];
                            ti[k + i] -= lr * ti[k + p] + li * tr[k + p];
                        }
                    if (width < 4)
                    {
                        // The group's rows below its pivots belong to the update.
                        for (var p = 0; p < width; p++)
                            for (var i = k + width; i < k + 4; i++)
                            {
                                double lr = l[p * ld + i], li = l[p * ld + i + plane];
                                tr[i] -= lr * tr[k + p] - li * ti[k + p];
                                ti[i] -= lr * ti[k + p] + li * tr[k + p];
                            }
                    }
                    Subtract(l, plane, ld, width, k, (int)ld, tr, ti);
                }
                for (var k = 0; k < n; k++)
                {
                    double* d = panel + k * ld + k;
                    var scale = 1 / (d[0] * d[0] + d[plane] * d[plane]);
                    double dr = d[0] * scale, di = -d[plane] * scale;
                    (xr[k], xi[k]) = (tr[k] * dr - ti[k] * di, tr[k] * di + ti[k] * dr);
                }
                for (var i = 0; i < r; i++)
                    (yr[rows[i]], yi[rows[i]]) = (tr[n + i], ti[n + i]);
            }
            for (var f = tree.Count - 1; f >= 0; f--)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f), plane = (nint)(tree.PanelStarts[f + 1] - tree.PanelStarts[f]);
                double* panel = panels + 2 * tree.PanelStarts[f];
                double* xr = yr + tree.FirstColumn[f];
                double* xi = yi + tree.FirstColumn[f];
                if (f > 0)
                    Lanes.Prefetch(panels + 2 * tree.PanelStarts[f - 1], 2 * (tree.PanelStarts[f] - tree.PanelStarts[f - 1]));
                Gather(n, r, allRows + tree.RowStarts[f], xr, xi, yr, yi, tr, ti);
                for (var k = (n - 1) & ~3; k >= 0; k -= 4)
                {
                    var width = Math.Min(4, n - k);
                    double* l = panel + k * ld;
                    SubtractDots(l, plane, ld, width, k, (int)ld, tr, ti);
                    for (var p = width - 1; p >= 0; p--)
                        for (var i = k + p + 1; i < k + 4; i++)
                        {
                            double lr = l[p * ld + i], li = l[p * ld + i + plane];
                            tr[k + p] -= lr * tr[i] - li * ti[i];
                            ti[k + p] -= lr * ti[i] + li * tr[i];
                        }
                }
                for (var k = 0; k < n; k++)
                    (xr[k], xi[k]) = (tr[k], ti[k]);
            }
        }
    }

    // The values of a front's rows, and zeros to fill the last four.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Gather(int n, int r, int* rows, double* xr, double* xi, double* yr, double* yi, double* tr, double* ti)
    {
        for (var k = 0; k < n; k++)
            (tr[k], ti[k]) = (xr[k], xi[k]);
        for (var i = 0; i < r; i++)
            (tr[n + i], ti[n + i]) = (yr[rows[i]], yi[rows[i]]);
        for (var i = n + r; (i & 3) != 0; i++)
            (tr[i], ti[i]) = (0, 0);
    }

    // t −= L x for the rows from k + 4 down, x being four entries of t from k on, or fewer.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Subtract(double* l, nint plane, nint ld, int width, int k, int rows, double* tr, double* ti)
    {
        double* l1 = width > 1 ? l + ld : l;
        double* l2 = width > 2 ? l + 2 * ld : l;
        double* l3 = width > 3 ? l + 3 * ld : l;
        Lane r0 = Vector256.Create(-tr[k]), i0 = Vector256.Create(-ti[k]);
        Lane r1 = Vector256.Create(width > 1 ? -tr[k + 1] : 0), i1 = Vector256.Create(width > 1 ? -ti[k + 1] : 0);
        Lane r2 = Vector256.Create(width > 2 ? -tr[k + 2] : 0), i2 = Vector256.Create(width > 2 ? -ti[k + 2] : 0);
        Lane r3 = Vector256.Create(width > 3 ? -tr[k + 3] : 0), i3 = Vector256.Create(width > 3 ? -ti[k + 3] : 0);
        for (var i = k + 4; i < rows; i += 4)
        {
            Lane re = Vector256.Load(tr + i), im = Vector256.Load(ti + i);
            Lane ar = Vector256.Load(l + i), ai = Vector256.Load(l + plane + i);
            re = Lanes.SubtractProduct(ai, i0, Vector256.MultiplyAddEstimate(ar, r0, re));
            im = Vector256.MultiplyAddEstimate(ai, r0, Vector256.MultiplyAddEstimate(ar, i0, im));
            (ar, ai) = (Vector256.Load(l1 + i), Vector256.Load(l1 + plane + i));
            re = Lanes.SubtractProduct(ai, i1, Vector256.MultiplyAddEstimate(ar, r1, re));
            im = Vector256.MultiplyAddEstimate(ai, r1, Vector256.MultiplyAddEstimate(ar, i1, im));
            (ar, ai) = (Vector256.Load(l2 + i), Vector256.Load(l2 + plane + i));
            re = Lanes.SubtractProduct(ai, i2, Vector256.MultiplyAddEstimate(ar, r2, re));
            im = Vector256.MultiplyAddEstimate(ai, r2, Vector256.MultiplyAddEstimate(ar, i2, im));
            (ar, ai) = (Vector256.Load(l3 + i), Vector256.Load(l3 + plane + i));
            re = Lanes.SubtractProduct(ai, i3, Vector256.MultiplyAddEstimate(ar, r3, re));
            im = Vector256.MultiplyAddEstimate(ai, r3, Vector256.MultiplyAddEstimate(ar, i3, im));
            re.Store(tr + i);
            im.Store(ti + i);
        }
    }

    // t[k … k + width − 1] −= Lᵀ t for the rows from k + 4 down.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void SubtractDots(double* l, nint plane, nint ld, int width, int k, int rows, double* tr, double* ti)
    {
        double* l1 = width > 1 ? l + ld : l;
        double* l2 = width > 2 ? l + 2 * ld : l;
        double* l3 = width > 3 ? l + 3 * ld : l;
        Lane r0 = Lane.Zero, r1 = Lane.Zero, r2 = Lane.Zero, r3 = Lane.Zero, i0 = Lane.Zero, i1 = Lane.Zero, i2 = Lane.Zero, i3 = Lane.Zero;
        for (var i = k + 4; i < rows; i += 4)
        {
            Lane re = Vector256.Load(tr + i), im = Vector256.Load(ti + i);
            Lane ar = Vector256.Load(l + i), ai = Vector256.Load(l + plane + i);
            r0 = Lanes.SubtractProduct(ai, im, Vector256.MultiplyAddEstimate(ar, re, r0));
            i0 = Vector256.MultiplyAddEstimate(ai, re, Vector256.MultiplyAddEstimate(ar, im, i0));
            (ar, ai) = (Vector256.Load(l1 + i), Vector256.Load(l1 + plane + i));
            r1 = Lanes.SubtractProduct(ai, im, Vector256.MultiplyAddEstimate(ar, re, r1));
            i1 = Vector256.MultiplyAddEstimate(ai, re, Vector256.MultiplyAddEstimate(ar, im, i1));
            (ar, ai) = (Vector256.Load(l2 + i), Vector256.Load(l2 + plane + i));
            r2 = Lanes.SubtractProduct(ai, im, Vector256.MultiplyAddEstimate(ar, re, r2));
            i2 = Vector256.MultiplyAddEstimate(ai, re, Vector256.MultiplyAddEstimate(ar, im, i2));
            (ar, ai) = (Vector256.Load(l3 + i), Vector256.Load(l3 + plane + i));
            r3 = Lanes.SubtractProduct(ai, im, Vector256.MultiplyAddEstimate(ar, re, r3));
            i3 = Vector256.MultiplyAddEstimate(ai, re, Vector256.MultiplyAddEstimate(ar, im, i3));
        }
        tr[k] -= Vector256.Sum(r0);
        ti[k] -= Vector256.Sum(i0);
        if (width > 1)
            (tr[k + 1], ti[k + 1]) = (tr[k + 1] - Vector256.Sum(r1), ti[k + 1] - Vector256.Sum(i1));
        if (width > 2)
            (tr[k + 2], ti[k + 2]) = (tr[k + 2] - Vector256.Sum(r2), ti[k + 2] - Vector256.Sum(i2));
        if (width > 3)
            (tr[k + 3], ti[k + 3]) = (tr[k + 3] - Vector256.Sum(r3), ti[k + 3] - Vector256.Sum(i3));
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
}
