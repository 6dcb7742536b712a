namespace Fieldwright.Series.Coils;

/// <summary>Field of an evenly filled rectangular section, inside and outside, per ampere-turn.</summary>
/// <remarks>
/// Near and inside, the height is integrated in closed form (thin solenoid) and the radius by panels graded towards the point; far away the
/// closed forms of the two ends would cancel, and filaments at Gauss points are both quicker and better.
/// </remarks>
internal static class SectionField
{
    private const int MostNodes = 1024;

    /// <summary>A_φ, B_r and B_z to about 1e-10 of the whole.</summary>
    public static AxialField At(in Section s, double r, double z)
    {
        var total = default(AxialField);
        if (IsFar(s, r, z, 15.5, 80, out var nr, out var nz))
        {
            GaussRule radial = GaussRule.WithNodes(nr), axial = GaussRule.WithNodes(nz);
            for (var i = 0; i < nr; i++)
                for (var j = 0; j < nz; j++)
                    total += radial.Weights[i] * axial.Weights[j]
                        * Filament.LoopField(s.InnerRadius + s.Build * radial.Nodes[i], r, z - s.ZFrom - s.Height * axial.Nodes[j]);
            return total;
        }
        Span<double> radii = stackalloc double[MostNodes], weights = stackalloc double[MostNodes];
        double lower = z - s.ZFrom, upper = z - s.ZTo;
        var count = Panels(s, r, Math.Min(Math.Abs(lower), Math.Abs(upper)), 11, radii, weights);
        for (var i = 0; i < count; i++)
            total += weights[i] * Solenoid.Difference(radii[i], r, lower, upper);
        return 1 / s.Area * total;
    }

    /// <summary>A_φ and B_r only, several times quicker: what couplings are integrated from.</summary>
    /// <param name="s">Section of the coil.</param>
    /// <param name="r">Distance of the point from the axis.</param>
    /// <param name="z">Height of the point.</param>
    /// <param name="order">Points a panel; 6 leaves about 1e-6 of the whole, 8 about 1e-8.</param>
    public static (double Potential, double Radial) PotentialAndRadial(in Section s, double r, double z, int order)
    {
        double potential = 0, field = 0;
        if (IsFar(s, r, z, 1.2 * order, 60, out var nr, out var nz))
        {
            GaussRule radial = GaussRule.WithNodes(nr), axial = GaussRule.WithNodes(nz);
            for (var i = 0; i < nr; i++)
                for (var j = 0; j < nz; j++)
                {
                    var (a, b) = Filament.LoopPotentialAndRadial(s.InnerRadius + s.Build * radial.Nodes[i], r, z - s.ZFrom - s.Height * axial.Nodes[j]);
                    var weight = radial.Weights[i] * axial.Weights[j];
                    potential += weight * a;
                    field += weight * b;
                }
            return (potential, field);
        }
        Span<double> radii = stackalloc double[MostNodes], weights = stackalloc double[MostNodes];
        double lower = z - s.ZFrom, upper = z - s.ZTo;
        var count = Panels(s, r, Math.Min(Math.Abs(lower), Math.Abs(upper)), order, radii, weights);
        for (var i = 0; i < count; i++)
        {
            var (a0, filament0) = Solenoid.Potential(radii[i], r, lower);
            var (a1, filament1) = Solenoid.Potential(radii[i], r, upper);
            potential += weights[i] * (a0 - a1);
            field += weights[i] * (filament1 - filament0);
        }
        return (potential / s.Area, field / s.Area);
    }

    private static bool IsFar(in Section s, double r, double z, double digits, int most, out int nr, out int nz)
    {
        var dr = Math.Max(0, Math.Max(s.InnerRadius - r, r - s.OuterRadius));
        var dz = Math.Max(0, Math.Max(s.ZFrom - z, z - s.ZTo));
        var distance = Math.Sqrt(dr * dr + dz * dz);
        nr = GaussRule.NodesFor(Math.Min(distance, s.InnerRadius + 0.25 * s.Build) / s.Build, digits);
        nz = GaussRule.NodesFor(distance / s.Height, digits);
        return distance > 0 && nr * nz <= most;
    }

    // Gauss points across the build, in panels that double in length away from the radius nearest the point.
    private static int Panels(in Section s, double r, double nearestEnd, int order, Span<double> radii, Span<double> weights)
    {
        var middle = Math.Clamp(r, s.InnerRadius, s.OuterRadius);
        var off = Math.Max(Math.Abs(r - middle), nearestEnd);
        var count = 0;
        foreach (var to in (ReadOnlySpan<double>)[s.InnerRadius, s.OuterRadius])
        {
            var length = Math.Abs(to - middle);
            var sign = Math.Sign(to - middle);
            var first = Math.Min(length, Math.Max(off, 2e-2 * length));
            double done = 0;
            var panel = first;
            while (length > 0 && done < length * (1 - 1e-12))
            {
                panel = Math.Min(panel, length - done);
                if (length - done - panel < 0.2 * panel)
                    panel = length - done;
                // Level with an end of the winding the integrand has a logarithm at the point's own radius: x = t⁴ tames it.
                var graded = done == 0 && off < first;
                var rule = GaussRule.WithNodes(graded ? order + 5 : order);
                for (var i = 0; i < rule.Nodes.Length; i++, count++)
                {
                    var t = rule.Nodes[i];
                    radii[count] = middle + sign * (done + panel * (graded ? t * t * t * t : t));
                    weights[count] = panel * rule.Weights[i] * (graded ? 4 * t * t * t : 1);
                }
                done += panel;
                panel = done;
            }
        }
        return count;
    }
}
