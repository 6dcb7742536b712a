namespace Fieldwright.Series.Coils;

/// <summary>One node of a rule over the plane of differences between two sections.</summary>
internal readonly record struct DifferenceNode(double U, double W, double Weight);

/// <summary>
/// Rules for ∫dS∫dS′ f over two rectangular sections when f is singular only where the sections' points meet.
/// </summary>
/// <remarks>
/// With u = r′ − r and w = z′ − z the fourfold integral becomes an integral over the (u, w) plane of a smooth inner integral along r and z, and
/// the singularity is the single point (0, 0). Both inner integrals are smooth between the breakpoints where the ends of the sections pass
/// one another, so the plane is cut there and at zero, halved until every piece is no larger than its distance from the origin, and each
/// piece touching the origin is folded into two triangles graded towards it. The result converges exponentially for kernels up to 1/distance,
/// whether the sections are apart, touch, overlap or coincide.
/// </remarks>
/// <source key="Duffy1982" at="the map of a square onto a triangle"/>
internal sealed class DifferencePlane
{
    private readonly List<DifferenceNode> nodes = new(2000);
    private readonly int order;
    private readonly double perU, perW;

    private DifferencePlane(int order, double perU, double perW) => (this.order, this.perU, this.perW) = (order, perU, perW);

    /// <summary>A rule over all differences of points of two sections.</summary>
    /// <param name="p">First section.</param>
    /// <param name="q">Second section.</param>
    /// <param name="order">Points along each side of a piece for the kernel alone.</param>
    /// <param name="perU">Further points per metre along u, for an oscillating density.</param>
    /// <param name="perW">Further points per metre along w.</param>
    public static List<DifferenceNode> Rule(in Section p, in Section q, int order, double perU = 0, double perW = 0)
    {
        var u = Breakpoints(q.InnerRadius - p.OuterRadius, q.InnerRadius - p.InnerRadius, q.OuterRadius - p.OuterRadius, q.OuterRadius - p.InnerRadius);
        var w = Breakpoints(q.ZFrom - p.ZTo, q.ZFrom - p.ZFrom, q.ZTo - p.ZTo, q.ZTo - p.ZFrom);
        var plane = new DifferencePlane(order, perU, perW);
        for (var i = 0; i + 1 < u.Count; i++)
            for (var j = 0; j + 1 < w.Count; j++)
                plane.Add(u[i], u[i + 1], w[j], w[j + 1], 0);
        return plane.nodes;
    }

    /// <summary>The quarter u, w > 0 of the differences of a section's points among themselves.</summary>
    public static List<DifferenceNode> Quadrant(in Section s, int order, double perU, double perW)
    {
        var plane = new DifferencePlane(order, perU, perW);
        plane.Add(0, s.Build, 0, s.Height, 0);
        return plane.nodes;
    }

    /// <summary>A rule over one section for an integrand singular at one point: u, w are measured from the point.</summary>
    public static List<DifferenceNode> AroundPoint(in Section s, double r, double z, int order, double perU = 0, double perW = 0)
    {
        var u = Breakpoints(s.InnerRadius - r, s.OuterRadius - r);
        var w = Breakpoints(s.ZFrom - z, s.ZTo - z);
        var plane = new DifferencePlane(order, perU, perW);
        for (var i = 0; i + 1 < u.Count; i++)
            for (var j = 0; j + 1 < w.Count; j++)
                plane.Add(u[i], u[i + 1], w[j], w[j + 1], 0);
        return plane.nodes;
    }

    private static List<double> Breakpoints(params ReadOnlySpan<double> ends)
    {
        double least = double.MaxValue, most = double.MinValue;
        foreach (var e in ends)
            (least, most) = (Math.Min(least, e), Math.Max(most, e));
        var close = 1e-13 * (most - least);
        List<double> points = [least, most];
        foreach (var e in ends)
            points.Add(Math.Abs(e) < close ? 0 : e);
        if (least < 0 && most > 0)
            points.Add(0);
        points.Sort();
        List<double> kept = [points[0]];
        foreach (var x in points)
            if (x - kept[^1] > close)
                kept.Add(x);
            else if (x == 0)
                kept[^1] = 0;
        return kept;
    }

    private void Add(double u0, double u1, double w0, double w1, int depth)
    {
        double lu = u1 - u0, lw = w1 - w0;
        var du = Math.Max(0, Math.Max(u0, -u1));
        var dw = Math.Max(0, Math.Max(w0, -w1));
        var distance = Math.Sqrt(du * du + dw * dw);
        if (distance == 0 && lu <= 2 * lw && lw <= 2 * lu)
        {
            AddCorner(u0 == 0 ? u1 : u0, w0 == 0 ? w1 : w0);
            return;
        }
        if (distance > 0 && (Math.Max(lu, lw) <= 1.5 * distance || depth > 60))
        {
            AddPlain(u0, u1, w0, w1);
            return;
        }
        if (lu > lw)
        {
            var cut = distance == 0 && lu > 2 * lw ? (u0 == 0 ? u0 + lw : u1 - lw) : 0.5 * (u0 + u1);
            Add(u0, cut, w0, w1, depth + 1);
            Add(cut, u1, w0, w1, depth + 1);
        }
        else
        {
            var cut = distance == 0 && lw > 2 * lu ? (w0 == 0 ? w0 + lu : w1 - lu) : 0.5 * (w0 + w1);
            Add(u0, u1, w0, cut, depth + 1);
            Add(u0, u1, cut, w1, depth + 1);
        }
    }

    private void AddPlain(double u0, double u1, double w0, double w1)
    {
        GaussRule along = GaussRule.WithNodes(order + Extra(perU, u1 - u0)), across = GaussRule.WithNodes(order + Extra(perW, w1 - w0));
        for (var i = 0; i < along.Nodes.Length; i++)
            for (var j = 0; j < across.Nodes.Length; j++)
                nodes.Add(new(u0 + (u1 - u0) * along.Nodes[i], w0 + (w1 - w0) * across.Nodes[j],
                    (u1 - u0) * (w1 - w0) * along.Weights[i] * across.Weights[j]));
    }

    private void AddCorner(double u, double w)
    {
        // (u t, w t v) and (u t v, w t) with t = τ³: the logarithm of the distance is tamed by t dt = 3τ⁵ dτ.
        var extra = Math.Max(Extra(perU, Math.Abs(u)), Extra(perW, Math.Abs(w)));
        var graded = GaussRule.WithNodes(order + 4 + 2 * extra);
        var across = GaussRule.WithNodes(order + 2 + extra);
        for (var i = 0; i < graded.Nodes.Length; i++)
        {
            var tau = graded.Nodes[i];
            var t = tau * tau * tau;
            var radial = Math.Abs(u * w) * t * 3 * tau * tau * graded.Weights[i];
            for (var j = 0; j < across.Nodes.Length; j++)
            {
                var v = across.Nodes[j];
                nodes.Add(new(u * t, w * t * v, radial * across.Weights[j]));
                nodes.Add(new(u * t * v, w * t, radial * across.Weights[j]));
            }
        }
    }

    private static int Extra(double perLength, double length) => (int)Math.Ceiling(perLength * length);
}
