using Fieldwright.Matter;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>
/// A round coil seen from a point off its axis: the Taylor series of its field along the line through the point parallel to the axis, and from them every
/// coefficient about the point. The second way of <see cref="CoilExpansion"/>, for balls over a rim, beside the coil or far from it.
/// </summary>
/// <remarks>
/// Along that line the potential and the field across it are Legendre functions Q±½ of the distances, whose series follow from their differential equations one
/// term after another; the height of the winding is integrated in closed form (an even winding changes along z by what its two ends differ), the build by Gauss
/// on panels no longer than their distance from the line allows. Axial symmetry, (x∂y − y∂x + ρ∂y)ψ = 0, gives the orders from two upwards out of nought and one.
/// That ladder is stable while the point is no nearer to the axis than some three quarters of the length of reference: nearer, the expansion about the axis converges.
/// </remarks>
/// <source key="AbramowitzStegun1972" at="8.5.4, derivative of Legendre functions"/>
internal static class CoilLine
{
    /// <summary>Coefficients of orders m ≥ 0 in the half-plane through axis and point, per ampere.</summary>
    /// <param name="section">Section of the winding, m.</param>
    /// <param name="turns">Turns about the axis.</param>
    /// <param name="rho">Distance of the point from the axis, m; not zero.</param>
    /// <param name="z">Height of the point in the frame of the section, m.</param>
    /// <param name="a">Length of reference, m.</param>
    /// <param name="degrees">Highest degree.</param>
    /// <param name="tolerance">Relative error allowed in the field on the sphere of radius a.</param>
    /// <param name="plane">Receives ĉ_lm in A/A at l(l+1)/2 + m.</param>
    public static void Into(in Section section, double turns, double rho, double z, double a, int degrees, double tolerance, Span<double> plane)
    {
        Span<double> along = stackalloc double[degrees], across = stackalloc double[degrees]; // H_z and H_ρ by powers of ζ/a
        along.Clear();
        across.Clear();
        var reach = a / CoilExpansion.Distance(section, rho, z);
        double lower = z - section.ZFrom, upper = z - section.ZTo;
        if (section.Height < 0.05 * a / reach)
        {
            // A flat winding: the two ends would cancel, and few filaments across the height serve.
            var rule = GaussRule.WithNodes(4);
            for (var j = 0; j < rule.Nodes.Length; j++)
                AddPlane(section, turns * rule.Weights[j] / a, rho / a, (lower - section.Height * rule.Nodes[j]) / a, a, reach, tolerance, true, along, across);
        }
        else
        {
            along[0] = turns / PhysicalConstants.MagneticConstant * SectionField.At(section, rho, z).Axial;
            AddPlane(section, turns / section.Height, rho / a, lower / a, a, reach, tolerance, false, along, across);
            AddPlane(section, -turns / section.Height, rho / a, upper / a, a, reach, tolerance, false, along, across);
        }
        // On the line C_l0 = (±1)^l and ∂xC_l1 = −½√(l(l+1)) (±1)^(l−1).
        plane[0] = 0;
        for (var l = 1; l <= degrees; l++)
        {
            plane[CoilExpansion.Index(l, 0)] = a * along[l - 1] / l;
            plane[CoilExpansion.Index(l, 1)] = -a * across[l - 1] / (SolidHarmonics.Root(l) * SolidHarmonics.Root(l + 1));
        }
        for (var m = 1; m < degrees; m++)
            for (var l = m; l < degrees; l++)
                plane[CoilExpansion.Index(l + 1, m + 1)] = (2 * m * a / rho * plane[CoilExpansion.Index(l, m)] - SolidHarmonics.Root(l - m + 2) * SolidHarmonics.Root(l - m + 1) * plane[CoilExpansion.Index(l + 1, m - 1)])
                    / (SolidHarmonics.Root(l + m + 2) * SolidHarmonics.Root(l + m + 1));
    }

    // The filaments of one plane, lengths in units of a: their own field, or as the end of a winding.
    private static void AddPlane(in Section section, double weight, double rho, double z, double a, double reach, double tolerance, bool isField, Span<double> along, Span<double> across)
    {
        Span<double> f = stackalloc double[along.Length + 1], g = stackalloc double[along.Length + 1], fu = stackalloc double[along.Length + 1], gu = stackalloc double[along.Length + 1];
        Span<(double From, double To)> waiting = stackalloc (double, double)[64];
        waiting[0] = (section.InnerRadius / a, section.OuterRadius / a);
        for (var count = 1; count > 0;)
        {
            var (from, to) = waiting[--count];
            double middle = 0.5 * (from + to), half = 0.5 * (to - from);
            // The nearest singularity of the integrand, as seen from [−1, 1]: its ellipse has half-axes of this sum.
            var pole = new System.Numerics.Complex((rho - middle) / half, z / half);
            var root = System.Numerics.Complex.Sqrt(pole * pole - 1);
            var ellipse = Math.Max((pole + root).Magnitude, (pole - root).Magnitude);
            if (ellipse < 3 && count < waiting.Length - 1 && half > 1e-9 * to)
            {
                waiting[count++] = (from, middle);
                waiting[count++] = (middle, to);
                continue;
            }
            // Farther panels weigh less at high degrees.
            var near = 1 / Math.Max(1 / reach, double.Hypot(Math.Max(0, Math.Max(from - rho, rho - to)), z));
            var rule = GaussRule.WithNodes(CoilExpansion.NodesFor(ellipse, near, along.Length, tolerance));
            for (var i = 0; i < rule.Nodes.Length; i++)
            {
                var radius = from + 2 * half * rule.Nodes[i];
                SeriesOf(radius, rho, z, f, g, fu, gu);
                Add(weight * rule.Weights[i] * 2 * half * a / section.Build * radius / (2 * Math.PI), rho, z, radius, isField, g, gu, along, across);
            }
        }
    }

    // A_φ/μ₀ = radius/2π·G, B_z/μ₀ = radius/2π·(G/2ρ + (2ρ² − u)G_u/ρ), u = radius² + ρ² + (z + ζ)².
    private static void Add(double weight, double rho, double z, double radius, bool isField, ReadOnlySpan<double> g, ReadOnlySpan<double> gu, Span<double> along, Span<double> across)
    {
        double c0 = rho * rho - radius * radius - z * z, c1 = -2 * z, over = weight / rho;
        double once = 0, twice = 0;
        for (var n = 0; n < along.Length; n++)
        {
            var axial = over * (0.5 * g[n] + c0 * gu[n] + c1 * once - twice);
            (once, twice) = (gu[n], once);
            if (isField)
            {
                along[n] += axial;
                across[n] -= weight * (n + 1) * g[n + 1];
            }
            else
            {
                if (n + 1 < along.Length)
                    along[n + 1] += axial / (n + 1);
                across[n] -= weight * g[n];
            }
        }
    }

    // F = ∫₀^π (u − w cos φ)^(−½) dφ and G = ∫₀^π cos φ (u − w cos φ)^(−½) dφ, w = 2·radius·ρ, with their slopes in u:
    // (u² − w²) F_u = ½(wG − uF), (u² − w²) G_u = ½(uG − wF), and F′ = 2(z + ζ) F_u; series in ζ.
    private static void SeriesOf(double radius, double rho, double z, Span<double> f, Span<double> g, Span<double> fu, Span<double> gu)
    {
        var e = new LoopIntegrals(radius, rho, z);
        var s = Math.Sqrt(e.S2);
        double w = 2 * radius * rho, u0 = radius * radius + rho * rho + z * z, u1 = 2 * z;
        double d1 = 2 * u0 * u1, d2 = u1 * u1 + 2 * u0, d3 = 2 * u1, over = 1 / (e.S2 * e.D2); // u² − w² = s²d² + d₁ζ + d₂ζ² + d₃ζ³ + ζ⁴
        f[0] = 2 * e.K / s;
        g[0] = 2 * e.K * e.M * 2 * e.Sigma / s;
        double f1 = 0, f2 = 0, g1 = 0, g2 = 0, p1 = 0, p2 = 0, p3 = 0, p4 = 0, q1 = 0, q2 = 0, q3 = 0, q4 = 0;
        for (var n = 0; ; n++)
        {
            double fn = f[n], gn = g[n];
            var p = over * (0.5 * (w * gn - u0 * fn - u1 * f1 - f2) - d1 * p1 - d2 * p2 - d3 * p3 - p4);
            var q = over * (0.5 * (u0 * gn + u1 * g1 + g2 - w * fn) - d1 * q1 - d2 * q2 - d3 * q3 - q4);
            fu[n] = p;
            gu[n] = q;
            if (n + 1 == f.Length)
                return;
            var twice = 2.0 / (n + 1);
            f[n + 1] = twice * (z * p + p1);
            g[n + 1] = twice * (z * q + q1);
            (f1, f2, g1, g2) = (fn, f1, gn, g1);
            (p1, p2, p3, p4) = (p, p1, p2, p3);
            (q1, q2, q3, q4) = (q, q1, q2, q3);
        }
    }
}
