using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Lane = System.Runtime.Intrinsics.Vector256<double>;

namespace Fieldwright.Numerics.Sparse;

/// <summary>Substitution through the panels of a real factor, on vectors in the order of elimination.</summary>
internal static unsafe class RealSolve
{
    /// <summary>One right-hand side, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void One(FrontTree tree, double* panels, double* y, double* tmp)
    {
        fixed (int* allRows = tree.Rows)
        {
            for (var f = 0; f < tree.Count; f++)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f);
                double* panel = panels + tree.PanelStarts[f];
                double* x = y + tree.FirstColumn[f];
                for (var k = 0; k < n; k++)
                {
                    var xk = x[k];
                    double* l = panel + k * ld;
                    for (var i = k + 1; i < n; i++)
                        x[i] -= l[i] * xk;
                }
                if (r > 0)
                {
                    Multiply(panel + n, ld, n, r, x, tmp);
                    int* rows = allRows + tree.RowStarts[f];
                    for (var i = 0; i < r; i++)
                        y[rows[i]] -= tmp[i];
                }
                for (var k = 0; k < n; k++)
                    x[k] /= panel[k * ld + k];
            }
            for (var f = tree.Count - 1; f >= 0; f--)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f);
                double* panel = panels + tree.PanelStarts[f];
                double* x = y + tree.FirstColumn[f];
                if (r > 0)
                {
                    int* rows = allRows + tree.RowStarts[f];
                    for (var i = 0; i < r; i++)
                        tmp[i] = y[rows[i]];
                    MultiplyTransposed(panel + n, ld, n, r, tmp, x);
                }
                for (var k = n - 1; k >= 0; k--)
                {
                    double* l = panel + k * ld;
                    var xk = x[k];
                    for (var i = k + 1; i < n; i++)
                        xk -= l[i] * x[i];
                    x[k] = xk;
                }
            }
        }
    }

    /// <summary>Four right-hand sides, entry by entry beside one another, in place.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Four(FrontTree tree, double* panels, Lane* y, Lane* tmp)
    {
        fixed (int* allRows = tree.Rows)
        {
            for (var f = 0; f < tree.Count; f++)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f);
                double* panel = panels + tree.PanelStarts[f];
                Lane* x = y + tree.FirstColumn[f];
                int* rows = allRows + tree.RowStarts[f];
                for (var i = 0; i < r; i++)
                    tmp[i] = y[rows[i]];
                for (var k = 0; k < n; k++)
                {
                    var xk = -x[k];
                    double* l = panel + k * ld;
                    for (var i = k + 1; i < n; i++)
                        x[i] = Vector256.MultiplyAddEstimate(Vector256.Create(l[i]), xk, x[i]);
                    l += n;
                    for (var i = 0; i < r; i++)
                        tmp[i] = Vector256.MultiplyAddEstimate(Vector256.Create(l[i]), xk, tmp[i]);
                }
                for (var i = 0; i < r; i++)
                    y[rows[i]] = tmp[i];
                for (var k = 0; k < n; k++)
                    x[k] /= Vector256.Create(panel[k * ld + k]);
            }
            for (var f = tree.Count - 1; f >= 0; f--)
            {
                int n = tree.PivotCount(f), r = tree.UpdateCount(f);
                nint ld = tree.LeadingDimension(f);
                double* panel = panels + tree.PanelStarts[f];
                Lane* x = y + tree.FirstColumn[f];
                int* rows = allRows + tree.RowStarts[f];
                for (var i = 0; i < r; i++)
                    tmp[i] = y[rows[i]];
                for (var k = n - 1; k >= 0; k--)
                {
                    double* l = panel + k * ld;
                    Lane s0 = x[k], s1 = Lane.Zero;
                    for (var i = k + 1; i < n; i++)
                        s0 -= Vector256.Create(l[i]) * x[i];
                    l += n;
                    var p = 0;
                    for (; p + 2 <= r; p += 2)
                    {
                        s0 -= Vector256.Create(l[p]) * tmp[p];
                        s1 -= Vector256.Create(l[p + 1]) * tmp[p + 1];
                    }
                    if (p < r)
                        s0 -= Vector256.Create(l[p]) * tmp[p];
                    x[k] = s0 + s1;
                }
            }
        }
    }

    /// <summary>to = A x for a block of columns; rows past the last are written too, up to a multiple of 4.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal static void Multiply(double* a, nint ld, int columns, int rows, double* x, double* to)
    {
        for (var i = 0; i < rows; i += 4)
            Lane.Zero.Store(to + i);
        var k = 0;
        for (; k + 4 <= columns; k += 4, a += 4 * ld)
        {
            Lane x0 = Vector256.Create(x[k]), x1 = Vector256.Create(x[k + 1]), x2 = Vector256.Create(x[k + 2]), x3 = Vector256.Create(x[k + 3]);
            for (var i = 0; i < rows; i += 4)
            {
                var s = Vector256.Load(to + i);
                s = Vector256.MultiplyAddEstimate(Vector256.Load(a + i), x0, s);
                s = Vector256.MultiplyAddEstimate(Vector256.Load(a + ld + i), x1, s);
                s = Vector256.MultiplyAddEstimate(Vector256.Load(a + 2 * ld + i), x2, s);
                s = Vector256.MultiplyAddEstimate(Vector256.Load(a + 3 * ld + i), x3, s);
                s.Store(to + i);
            }
        }
        for (; k < columns; k++, a += ld)
        {
            var x0 = Vector256.Create(x[k]);
            for (var i = 0; i < rows; i += 4)
                Vector256.MultiplyAddEstimate(Vector256.Load(a + i), x0, Vector256.Load(to + i)).Store(to + i);
        }
    }

    /// <summary>x −= Aᵀ from.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal static void MultiplyTransposed(double* a, nint ld, int columns, int rows, double* from, double* x)
    {
        var k = 0;
        for (; k + 4 <= columns; k += 4, a += 4 * ld)
        {
            Lane s0 = Lane.Zero, s1 = Lane.Zero, s2 = Lane.Zero, s3 = Lane.Zero;
            var i = 0;
            for (; i + 4 <= rows; i += 4)
            {
                var v = Vector256.Load(from + i);
                s0 = Vector256.MultiplyAddEstimate(Vector256.Load(a + i), v, s0);
                s1 = Vector256.MultiplyAddEstimate(Vector256.Load(a + ld + i), v, s1);
                s2 = Vector256.MultiplyAddEstimate(Vector256.Load(a + 2 * ld + i), v, s2);
                s3 = Vector256.MultiplyAddEstimate(Vector256.Load(a + 3 * ld + i), v, s3);
            }
            double t0 = Vector256.Sum(s0), t1 = Vector256.Sum(s1), t2 = Vector256.Sum(s2), t3 = Vector256.Sum(s3);
            for (; i < rows; i++)
            {
                t0 += a[i] * from[i];
                t1 += a[ld + i] * from[i];
                t2 += a[2 * ld + i] * from[i];
                t3 += a[3 * ld + i] * from[i];
            }
            x[k] -= t0;
            x[k + 1] -= t1;
            x[k + 2] -= t2;
            x[k + 3] -= t3;
        }
        for (; k < columns; k++, a += ld)
        {
            var sum = 0.0;
            var s = Lane.Zero;
            var i = 0;
            for (; i + 4 <= rows; i += 4)
                s = Vector256.MultiplyAddEstimate(Vector256.Load(a + i), Vector256.Load(from + i), s);
            for (; i < rows; i++)
                sum += a[i] * from[i];
            x[k] -= Vector256.Sum(s) + sum;
        }
    }
}
