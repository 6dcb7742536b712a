namespace Fieldwright.Series.Coils;

/// <summary>Couplings of evenly filled rectangular sections about one axis.</summary>
internal static class SectionCoupling
{
    /// <summary>Mean over both sections of the mutual inductance of one turn at each point, in H.</summary>
    public static double Mutual(in Section p, in Section q, int order = 9)
    {
        if (FarRule(p, q, out var nr, out var nz, out var mr, out var mz))
            return Far(p, q, nr, nz, mr, mz, gradient: false);
        return Near(p, q, order, gradient: false);
    }

    /// <summary>Change of <see cref="Mutual"/> as the second section rises, in H/m.</summary>
    public static double MutualGradient(in Section p, in Section q, int order = 9)
    {
        if (FarRule(p, q, out var nr, out var nz, out var mr, out var mz))
            return Far(p, q, nr, nz, mr, mz, gradient: true);
        return Near(p, q, order, gradient: true);
    }

    private static bool FarRule(in Section p, in Section q, out int nr, out int nz, out int mr, out int mz)
    {
        var d = Section.Distance(p, q);
        nr = GaussRule.NodesFor(Reach(d, p) / p.Build);
        nz = GaussRule.NodesFor(d / p.Height);
        mr = GaussRule.NodesFor(Reach(d, q) / q.Build);
        mz = GaussRule.NodesFor(d / q.Height);
        return d > 0 && (double)nr * nz * mr * mz < 10_000;
    }

    // The axis is the other place where the coupling of a ring stops being smooth.
    private static double Reach(double distance, in Section s) => Math.Min(distance, s.InnerRadius + 0.25 * s.Build);

    private static double Far(in Section p, in Section q, int nr, int nz, int mr, int mz, bool gradient)
    {
        GaussRule pr = GaussRule.WithNodes(nr), pz = GaussRule.WithNodes(nz), qr = GaussRule.WithNodes(mr), qz = GaussRule.WithNodes(mz);
        double total = 0;
        for (var i = 0; i < nr; i++)
            for (var k = 0; k < mr; k++)
            {
                var a = p.InnerRadius + p.Build * pr.Nodes[i];
                var b = q.InnerRadius + q.Build * qr.Nodes[k];
                double along = 0;
                for (var j = 0; j < nz; j++)
                    for (var l = 0; l < mz; l++)
                    {
                        var w = q.ZFrom + q.Height * qz.Nodes[l] - p.ZFrom - p.Height * pz.Nodes[j];
                        along += pz.Weights[j] * qz.Weights[l] * (gradient ? Filament.MutualGradient(a, b, w) : Filament.Mutual(a, b, w));
                    }
                total += pr.Weights[i] * qr.Weights[k] * along;
            }
        return total;
    }

    private static double Near(in Section p, in Section q, int order, bool gradient)
    {
        var rule = GaussRule.WithNodes(order + 4);
        double total = 0;
        foreach (var node in DifferencePlane.Rule(p, q, order))
        {
            var overlap = Math.Min(p.ZTo, q.ZTo - node.W) - Math.Max(p.ZFrom, q.ZFrom - node.W);
            // r = ρ² makes the inner integrand smooth even where the section reaches the axis.
            var from = Math.Sqrt(Math.Max(p.InnerRadius, q.InnerRadius - node.U));
            var to = Math.Sqrt(Math.Max(0, Math.Min(p.OuterRadius, q.OuterRadius - node.U)));
            if (overlap <= 0 || to <= from)
                continue;
            double inner = 0;
            for (var i = 0; i < rule.Nodes.Length; i++)
            {
                var root = from + (to - from) * rule.Nodes[i];
                var a = root * root;
                inner += 2 * root * rule.Weights[i]
                    * (gradient ? Filament.MutualGradient(a, a + node.U, node.W) : Filament.Mutual(a, a + node.U, node.W));
            }
            total += node.Weight * overlap * (to - from) * inner;
        }
        return total / (p.Area * q.Area);
    }
}
