using Fieldwright.Matter;

namespace Fieldwright.Circuits.Magnetic;

/// <summary>Leakage through air from the bore and the outside of a long ring whose magnetic potential varies round it.</summary>
/// <remarks>
/// The potential is taken straight between the nodes. Air inside a circle and air outside it answer a potential cos nθ with the same normal flux, μ₀ n per unit
/// depth and angle, whatever the radius; summed over n this is ∫∫U′(θ)U′(θ′) K(θ−θ′), K = −ln(2 sin ½|θ|), which is integrated exactly over each pair of intervals.
/// </remarks>
/// <source key="Jackson1998" at="2.11"/>
internal static class RoundLeakage
{
    private static readonly double[] Coefficients = Tail();

    /// <summary>Conductance matrix between n nodes at rising angles within one turn, H, by rows: flux out of node i = Σ Gᵢⱼ Uⱼ.</summary>
    /// <param name="angles">Angles of the nodes, rad, rising, less than 2π apart in all.</param>
    /// <param name="depth">Depth, m.</param>
    public static double[] Conductance(ReadOnlySpan<double> angles, double depth)
    {
        int n = angles.Length;
        var g = new double[n * n];
        double factor = 2 * PhysicalConstants.MagneticConstant * depth / Math.PI;
        for (int k = 0; k < n; k++)
        {
            double a = angles[k], b = k + 1 < n ? angles[k + 1] : angles[0] + 2 * Math.PI;
            for (int l = 0; l < n; l++)
            {
                double c = angles[l], d = l + 1 < n ? angles[l + 1] : angles[0] + 2 * Math.PI;
                double m = factor * (CosineCubes(b - d) + CosineCubes(a - c) - CosineCubes(b - c) - CosineCubes(a - d)) / ((b - a) * (d - c));
                int k1 = (k + 1) % n, l1 = (l + 1) % n;
                g[k * n + l] += m;
                g[k1 * n + l1] += m;
                g[k * n + l1] -= m;
                g[k1 * n + l] -= m;
            }
        }

        return g;
    }

    /// <summary>Σ cos(nθ)/n³, any real θ; absolute error below 1e-15.</summary>
    public static double CosineCubes(double theta)
    {
        const double Zeta3 = 1.2020569031595942;
        double t = Math.Abs(Math.IEEERemainder(theta, 2 * Math.PI));
        if (t == 0)
            return Zeta3;
        // −ln(2 sin ½t) = −ln t + Σ |B₂ₖ| t²ᵏ/(2k (2k)!), integrated twice; |B₂ₖ|/(2k)! = 2ζ(2k)/(2π)²ᵏ.
        double sum = 0, ratio = t * t / (4 * Math.PI * Math.PI);
        for (int k = Coefficients.Length - 1; k >= 0; k--)
            sum = (sum + Coefficients[k]) * ratio;
        return Zeta3 + t * t * (0.5 * Math.Log(t) - 0.75 - sum);
    }

    private static double[] Tail()
    {
        var c = new double[30];
        for (int k = 1; k <= c.Length; k++)
            c[k - 1] = 2 * (k == 1 ? Math.PI * Math.PI / 6 : k == 2 ? Math.Pow(Math.PI, 4) / 90 : Zeta(2 * k)) / (2.0 * k * (2 * k + 1) * (2 * k + 2));
        return c;
    }

    private static double Zeta(int s)
    {
        double sum = 1;
        for (int j = 2; j < 400; j++)
        {
            double term = Math.Pow(j, -s);
            sum += term;
            if (term < 1e-18)
                break;
        }

        return sum;
    }
}
