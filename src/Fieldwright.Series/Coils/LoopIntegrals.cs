using System.Runtime.CompilerServices;

namespace Fieldwright.Series.Coils;

/// <summary>The complete elliptic integrals of one circular loop at one point, in the form that does not cancel far away.</summary>
/// <remarks>
/// Symbols: a loop radius, r and z the point, s² = (a+r)²+z², d² = (a−r)²+z², m = 4ar/s², k' = d/s.
/// With the arithmetic–geometric mean cₙ of (1, k'), E/K = 1 − m/2 − S where S = Σₙ≥₁ 2ⁿ⁻¹cₙ²; all combinations a loop needs are written
/// through K and σ = S/m², which stays near 1/16 far away, so nothing is lost by subtraction.
/// </remarks>
/// <source key="AbramowitzStegun1972" at="17.6"/>
internal readonly ref struct LoopIntegrals
{
    public readonly double S2, D2, M, Ratio, K, Sigma;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public LoopIntegrals(double a, double r, double z)
    {
        S2 = (a + r) * (a + r) + z * z;
        D2 = (a - r) * (a - r) + z * z;
        M = 4 * a * r / S2;
        // On the wire itself the logarithm is cut at rounding, so that quadratures that graze it stay finite.
        Ratio = Math.Max(Math.Sqrt(D2 / S2), 1e-17);
        var mean = 0.5 * (1 + Ratio);
        var geometric = Math.Sqrt(Ratio);
        var e = 0.25 / mean;             // c₁/m
        var sigma = e * e;
        var power = 1.0;
        while (M * e > 1e-8 * mean)
        {
            var next = 0.5 * (mean + geometric);
            geometric = Math.Sqrt(mean * geometric);
            mean = next;
            e = M * e * e / (4 * mean);
            power *= 2;
            sigma += power * e * e;
        }
        K = 0.5 * Math.PI / mean;
        Sigma = sigma;
    }

    /// <summary>E/K.</summary>
    public double EOverK => 1 - M * (0.5 + M * Sigma);
}
