using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>
/// A round coil seen from outside the sphere about its middle that holds its winding: its multipole moments, and from them the regular coefficients about
/// another point. The third way of <see cref="CoilExpansion"/>, for balls beside or far from the coils.
/// </summary>
/// <remarks>
/// Per ampere and over a length of reference R (that sphere's radius): ψ = Σ D_k (R/r)^(k+1) P_k, D_k = −turns ⟨ρ² s^(k−1) P′_k⟩/(2(k+1) R^(k+1)), the mean over the section with s the
/// distance from the middle; even k vanish, for the winding is its own mirror image. The shift converges as (R/t)ᵏ, t the distance of the point from the middle.
/// </remarks>
/// <source key="EptonDembart1995" at="irregular to regular translation"/>
internal sealed class CoilMoments
{
    /// <summary>Highest moment known.</summary>
    public const int Most = 179;

    private readonly double[] moments; // of order 1, 3, 5 …

    /// <summary>Sums the moments of a coil.</summary>
    public CoilMoments(ThickCoil coil)
    {
        double half = 0.5 * coil.Section.Height, build = coil.Section.Build;
        Reach = double.Hypot(coil.OuterRadius, half);
        moments = new double[(Most + 1) / 2];
        // s^(k−1) P′_k is a polynomial of degree k − 1: enough nodes for the moments that weigh, fewer where the section is thin.
        var across = GaussRule.WithNodes(NodesFor(build / Reach));
        var along = GaussRule.WithNodes(NodesFor(half / Reach));
        for (var i = 0; i < across.Nodes.Length; i++)
            for (var j = 0; j < along.Nodes.Length; j++)
            {
                double rho = (coil.InnerRadius + build * across.Nodes[i]) / Reach, h = half * along.Nodes[j] / Reach, s2 = rho * rho + h * h;
                // G_n = sⁿ C_n^(3/2)(h/s): n G_n = (2n+1) h G_(n−1) − (n+1) s² G_(n−2); P′_k = C_(k−1)^(3/2).
                double weight = across.Weights[i] * along.Weights[j] * rho * rho, before = 0, value = weight;
                for (var n = 0; n < Most; n++)
                {
                    if (n % 2 == 0)
                        moments[n / 2] += value;
                    var next = ((2 * n + 3) * h * value - (n + 2) * s2 * before) / (n + 1);
                    (before, value) = (value, next);
                }
            }
        for (var i = 0; i < moments.Length; i++)
            moments[i] *= -coil.Turns / (4.0 * (i + 1)); // 2(k + 1), k = 2i + 1
    }

    /// <summary>Radius of the sphere about the middle that holds the winding, m.</summary>
    public double Reach { get; }

    /// <summary>Coefficients of orders m ≥ 0 about a point outside, in the half-plane through the axis and the point.</summary>
    /// <param name="rho">Distance of the point from the axis, m.</param>
    /// <param name="z">Its height above the middle along the coil's axis, m.</param>
    /// <param name="a">Length of reference of the coefficients, m.</param>
    /// <param name="degrees">Highest degree.</param>
    /// <param name="terms">Degree up to which irregular harmonics at the point are taken; above degrees, at most <see cref="Most"/>.</param>
    /// <param name="plane">Receives ĉ_lm at l(l+1)/2 + m.</param>
    public void Into(double rho, double z, double a, int degrees, int terms, Span<double> plane)
    {
        // c_lm = (−1)^l Σ_k (D_k/k!) S_(k+l)m(t) a^l/√((l+m)!(l−m)!), S_nm = (n−m)! P_n^m/t^(n+1). A unit of length t·e/terms keeps n!(unit/t)ⁿ in range.
        double t = double.Hypot(rho, z), unit = t * Math.E / terms, x = rho / unit, height = z / unit, r2 = x * x + height * height;
        Span<double> weights = stackalloc double[moments.Length];
        var factor = Reach / unit; // (R/unit)^(k+1)/k! on the way; the first carries another R/unit
        for (var i = 0; i < weights.Length; i++)
        {
            var k = 2 * i + 1;
            factor *= i == 0 ? Reach / unit : Reach / unit * (Reach / unit) / (k * (k - 1));
            weights[i] = moments[i] * factor;
        }
        Span<double> even = stackalloc double[terms / 2 + 1], odd = stackalloc double[terms / 2 + 1], powers = stackalloc double[degrees + 1];
        powers[0] = 1;
        for (var l = 1; l <= degrees; l++)
            powers[l] = -powers[l - 1] * (a / unit);
        var diagonal = 1 / Math.Sqrt(r2);
        for (var m = 0; m <= degrees; m++)
        {
            if (m > 0)
                diagonal *= -(2 * m - 1) * x / r2;
            // r² S_(n+1) = (2n+1) z S_n − (n² − m²) S_(n−1), upwards, where it is stable.
            double before = 0, value = diagonal;
            for (var n = m; n <= terms; n++)
            {
                (n % 2 == 0 ? even : odd)[n / 2] = value;
                var next = ((2 * n + 1) * height * value - ((double)n * n - m * m) * before) / r2;
                (before, value) = (value, next);
            }
            for (var l = Math.Max(m, 1); l <= degrees; l++)
            {
                // k = 1, 3, …: harmonics l + 1, l + 3, … of one parity.
                var first = (l + 1) / 2;
                var from = (l + 1) % 2 == 0 ? even : odd;
                var count = Math.Min(weights.Length, (terms - l - 1) / 2 + 1);
                var sum = terms > l ? CoilExpansion.Dot(weights[..count], from.Slice(first, count)) : 0;
                plane[l * (l + 1) / 2 + m] = sum * powers[l] / (CoilExpansion.RootFactorial(l - m) * CoilExpansion.RootFactorial(l + m));
            }
        }
        plane[0] = 0;
    }

    // A term of degree k runs over a share of the reach as the k-th power: a quarter of k·share nodes follow it, and some more.
    private static int NodesFor(double share) => Math.Min(8 + (int)(0.27 * Most * share), 56);
}
