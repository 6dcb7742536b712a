namespace Fieldwright.Series.Coils;

/// <summary>Field of an evenly filled rectangular section, inside and outside, per ampere-turn.</summary>
/// <remarks>
/// Near and inside, the height is integrated in closed form (thin solenoid) and the radius by panels graded towards the point; far away the
/// closed forms of the two ends would cancel, and filaments at Gauss points are both quicker and better.
/// </remarks>
internal static class SectionField
{
    public static AxialField At(in Section s, double r, double z)
    {
        var dr = Math.Max(0, Math.Max(s.InnerRadius - r, r - s.OuterRadius));
        var dz = Math.Max(0, Math.Max(s.ZFrom - z, z - s.ZTo));
        var distance = Math.Sqrt(dr * dr + dz * dz);
        if (distance > 0)
        {
            var nr = GaussRule.NodesFor(Math.Min(distance, s.InnerRadius + 0.25 * s.Build) / s.Build);
            var nz = GaussRule.NodesFor(distance / s.Height);
            if (nr * nz <= 80)
                return Filaments(s, r, z, nr, nz);
        }
        return Ends(s, r, z);
    }

    private static AxialField Filaments(in Section s, double r, double z, int nr, int nz)
    {
        GaussRule radial = GaussRule.WithNodes(nr), axial = GaussRule.WithNodes(nz);
        var total = default(AxialField);
        for (var i = 0; i < nr; i++)
        {
            var a = s.InnerRadius + s.Build * radial.Nodes[i];
            for (var j = 0; j < nz; j++)
                total += radial.Weights[i] * axial.Weights[j] * Filament.LoopField(a, r, z - s.ZFrom - s.Height * axial.Nodes[j]);
        }
        return total;
    }

    private static AxialField Ends(in Section s, double r, double z)
    {
        double lower = z - s.ZFrom, upper = z - s.ZTo;
        var nearest = Math.Min(Math.Abs(lower), Math.Abs(upper));
        var middle = Math.Clamp(r, s.InnerRadius, s.OuterRadius);
        var total = default(AxialField);
        var off = Math.Max(Math.Abs(r - middle), nearest);
        total += Side(middle, s.InnerRadius, off, r, lower, upper);
        total += Side(middle, s.OuterRadius, off, r, lower, upper);
        return 1 / s.Area * total;
    }

    // From the singular radius outwards, panels doubling in length.
    private static AxialField Side(double from, double to, double off, double r, double lower, double upper)
    {
        var length = Math.Abs(to - from);
        var total = default(AxialField);
        if (length == 0)
            return total;
        var sign = Math.Sign(to - from);
        var first = Math.Min(length, Math.Max(off, 2e-2 * length));
        double done = 0;
        var panel = first;
        while (done < length * (1 - 1e-12))
        {
            panel = Math.Min(panel, length - done);
            if (length - done - panel < 0.2 * panel)
                panel = length - done;
            var graded = done == 0 && off < first;
            var rule = GaussRule.WithNodes(graded ? 16 : 11);
            for (var i = 0; i < rule.Nodes.Length; i++)
            {
                var t = rule.Nodes[i];
                var (x, slope) = graded ? (t * t * t * t, 4 * t * t * t) : (t, 1);
                total += panel * slope * rule.Weights[i] * Solenoid.Difference(from + sign * (done + panel * x), r, lower, upper);
            }
            done += panel;
            panel = done;
        }
        return total;
    }
}
