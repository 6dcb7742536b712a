namespace Fieldwright.Geometry;

/// <summary>Signs of the orientation and in-circle determinants, exact for all finite arguments that neither overflow nor underflow.</summary>
/// <remarks>A determinant in plain arithmetic is trusted when it exceeds a bound on its rounding error; otherwise it is summed exactly as a
/// nonoverlapping expansion. Names of the expansion operations follow the source.</remarks>
/// <source key="Shewchuk1997" at="sections 2 and 4; error bounds of figures 21 and 46"/>
internal static class Predicates
{
    private const double Epsilon = 1.1102230246251565e-16; // 2⁻⁵³
    private const double OrientBound = (3 + (16 * Epsilon)) * Epsilon;
    private const double CircleBound = (10 + (96 * Epsilon)) * Epsilon;

    /// <summary>Positive if a, b, c turn left, negative if right, zero if they are in line; twice the area of the triangle, but for rounding.</summary>
    public static double Orient(double ax, double ay, double bx, double by, double cx, double cy)
    {
        var left = (ax - cx) * (by - cy);
        var right = (ay - cy) * (bx - cx);
        var det = left - right;
        var bound = OrientBound * (Math.Abs(left) + Math.Abs(right));
        return det > bound || -det > bound ? det : OrientExact(ax, ay, bx, by, cx, cy);
    }

    /// <summary>Positive if d lies inside the circle through a, b, c (which turn left), negative outside, zero on it.</summary>
    public static double InCircle(double ax, double ay, double bx, double by, double cx, double cy, double dx, double dy)
    {
        double adx = ax - dx, ady = ay - dy, bdx = bx - dx, bdy = by - dy, cdx = cx - dx, cdy = cy - dy;
        double bc1 = bdx * cdy, bc2 = cdx * bdy, ca1 = cdx * ady, ca2 = adx * cdy, ab1 = adx * bdy, ab2 = bdx * ady;
        double alift = (adx * adx) + (ady * ady), blift = (bdx * bdx) + (bdy * bdy), clift = (cdx * cdx) + (cdy * cdy);
        var det = (alift * (bc1 - bc2)) + (blift * (ca1 - ca2)) + (clift * (ab1 - ab2));
        var permanent = ((Math.Abs(bc1) + Math.Abs(bc2)) * alift) + ((Math.Abs(ca1) + Math.Abs(ca2)) * blift) + ((Math.Abs(ab1) + Math.Abs(ab2)) * clift);
        var bound = CircleBound * permanent;
        return det > bound || -det > bound ? det : InCircleExact(ax, ay, bx, by, cx, cy, dx, dy);
    }

    internal static double OrientExact(double ax, double ay, double bx, double by, double cx, double cy)
    {
        Span<double> ab = stackalloc double[4], bc = stackalloc double[4], ca = stackalloc double[4], two = stackalloc double[8], three = stackalloc double[12];
        var nab = CrossInto(ax, ay, bx, by, ab);
        var nbc = CrossInto(bx, by, cx, cy, bc);
        var nca = CrossInto(cx, cy, ax, ay, ca);
        var n = Sum(ab[..nab], bc[..nbc], two);
        n = Sum(two[..n], ca[..nca], three);
        return three[n - 1];
    }

    internal static double InCircleExact(double ax, double ay, double bx, double by, double cx, double cy, double dx, double dy)
    {
        // On a common grid the differences are exact and the 3×3 determinant suffices.
        if (IsExact(ax, dx) && IsExact(ay, dy) && IsExact(bx, dx) && IsExact(by, dy) && IsExact(cx, dx) && IsExact(cy, dy))
            return InCircleAboutOrigin(ax - dx, ay - dy, bx - dx, by - dy, cx - dx, cy - dy);
        Span<double> ab = stackalloc double[4], bc = stackalloc double[4], cd = stackalloc double[4], da = stackalloc double[4], ac = stackalloc double[4], bd = stackalloc double[4];
        var nab = CrossInto(ax, ay, bx, by, ab);
        var nbc = CrossInto(bx, by, cx, cy, bc);
        var ncd = CrossInto(cx, cy, dx, dy, cd);
        var nda = CrossInto(dx, dy, ax, ay, da);
        var nac = CrossInto(ax, ay, cx, cy, ac);
        var nbd = CrossInto(bx, by, dx, dy, bd);
        Span<double> minusAc = stackalloc double[4], minusBd = stackalloc double[4];
        Negate(ac[..nac], minusAc);
        Negate(bd[..nbd], minusBd);
        Span<double> minor = stackalloc double[12], term = stackalloc double[96], one = stackalloc double[192], total = stackalloc double[384], spare = stackalloc double[384];
        // det = |bcd| a² − |cda| b² + |dab| c² − |abc| d², where |pqr| = pq + qr + rp.
        var n = Sum3(bc[..nbc], cd[..ncd], minusBd[..nbd], minor);
        var m = Lift(minor[..n], ax, ay, 1, one);
        one[..m].CopyTo(total);
        n = Sum3(cd[..ncd], da[..nda], ac[..nac], minor);
        var k = Lift(minor[..n], bx, by, -1, term);
        m = Sum(total[..m], term[..k], spare);
        n = Sum3(da[..nda], ab[..nab], bd[..nbd], minor);
        k = Lift(minor[..n], cx, cy, 1, term);
        m = Sum(spare[..m], term[..k], total);
        n = Sum3(ab[..nab], bc[..nbc], minusAc[..nac], minor);
        k = Lift(minor[..n], dx, dy, -1, term);
        m = Sum(total[..m], term[..k], spare);
        return spare[m - 1];
    }

    private static double InCircleAboutOrigin(double ax, double ay, double bx, double by, double cx, double cy)
    {
        Span<double> minor = stackalloc double[4], term = stackalloc double[32], first = stackalloc double[64], total = stackalloc double[96], a = stackalloc double[32];
        var n = CrossInto(bx, by, cx, cy, minor);
        var m = Lift(minor[..n], ax, ay, 1, a);
        n = CrossInto(cx, cy, ax, ay, minor);
        var k = Lift(minor[..n], bx, by, 1, term);
        m = Sum(a[..m], term[..k], first);
        n = CrossInto(ax, ay, bx, by, minor);
        k = Lift(minor[..n], cx, cy, 1, term);
        m = Sum(first[..m], term[..k], total);
        return total[m - 1];
    }

    /// <summary>s·(x² + y²)·e for an expansion e of at most 12 terms.</summary>
    private static int Lift(ReadOnlySpan<double> e, double x, double y, double s, Span<double> h)
    {
        Span<double> once = stackalloc double[24], xx = stackalloc double[48], yy = stackalloc double[48];
        var n = Scale(e, x, once);
        var nx = Scale(once[..n], s * x, xx);
        n = Scale(e, y, once);
        var ny = Scale(once[..n], s * y, yy);
        return Sum(xx[..nx], yy[..ny], h);
    }

    /// <summary>px·qy − py·qx exactly, smallest term first.</summary>
    private static int CrossInto(double px, double py, double qx, double qy, Span<double> h)
    {
        Span<double> p = stackalloc double[2], q = stackalloc double[2];
        (p[1], p[0]) = TwoProduct(px, qy);
        (q[1], q[0]) = TwoProduct(-py, qx);
        return Sum(p, q, h);
    }

    private static int Sum3(ReadOnlySpan<double> a, ReadOnlySpan<double> b, ReadOnlySpan<double> c, Span<double> h)
    {
        Span<double> two = stackalloc double[8];
        var n = Sum(a, b, two);
        return Sum(two[..n], c, h);
    }

    private static void Negate(ReadOnlySpan<double> e, Span<double> h)
    {
        for (var i = 0; i < e.Length; i++)
            h[i] = -e[i];
    }

    private static bool IsExact(double a, double b)
    {
        var (_, tail) = TwoSum(a, -b);
        return tail == 0;
    }

    private static (double Head, double Tail) TwoSum(double a, double b)
    {
        var x = a + b;
        var bv = x - a;
        var av = x - bv;
        return (x, (a - av) + (b - bv));
    }

    private static (double Head, double Tail) TwoProduct(double a, double b)
    {
        var x = a * b;
        return (x, Math.FusedMultiplyAdd(a, b, -x));
    }

    /// <summary>Fast-Expansion-Sum with elimination of zeros; at least one term is always written.</summary>
    private static int Sum(ReadOnlySpan<double> e, ReadOnlySpan<double> f, Span<double> h)
    {
        int i = 0, j = 0, n = 0;
        double q = 0;
        for (var k = 0; k < e.Length + f.Length; k++)
        {
            var next = j >= f.Length || (i < e.Length && Math.Abs(e[i]) <= Math.Abs(f[j])) ? e[i++] : f[j++];
            (q, var tail) = TwoSum(q, next);
            if (tail != 0)
                h[n++] = tail;
        }
        if (q != 0 || n == 0)
            h[n++] = q;
        return n;
    }

    /// <summary>Scale-Expansion with elimination of zeros.</summary>
    private static int Scale(ReadOnlySpan<double> e, double b, Span<double> h)
    {
        var n = 0;
        var (q, tail) = TwoProduct(e[0], b);
        if (tail != 0)
            h[n++] = tail;
        for (var i = 1; i < e.Length; i++)
        {
            var (head, low) = TwoProduct(e[i], b);
            (q, tail) = TwoSum(q, low);
            if (tail != 0)
                h[n++] = tail;
            (q, tail) = TwoSum(head, q);
            if (tail != 0)
                h[n++] = tail;
        }
        if (q != 0 || n == 0)
            h[n++] = q;
        return n;
    }
}
