using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Coils;

/// <summary>A thin round current sheet: the coil of one close layer, in closed form.</summary>
public static class Solenoid
{
    /// <summary>Nagaoka's coefficient K of a round current sheet: the share of the long-coil inductance that is left at the ends.</summary>
    /// <param name="lengthOverDiameter">Length over diameter; zero or more.</param>
    /// <returns>K between 0 and 1, relative error below 1e-12 for ratios from 1e-3 upwards; shorter sheets lose digits in proportion.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is negative or not finite.</exception>
    /// <source key="Nagaoka1909" at="with Lorenz's elliptic form"/>
    public static double NagaokaCoefficient(double lengthOverDiameter)
    {
        var x = Guard.NotNegative(lengthOverDiameter);
        if (x == 0)
            return 0;
        // Lorenz: K = 4/(3πx)·(((1−m)K + (2m−1)E)/m^{3/2} − 1) with m = 1/(1+x²); through K and σ the bracket does not cancel for long coils.
        var m = 1 / (1 + x * x);
        var e = new LoopIntegrals(1, 1, 2 * x);
        var bracket = e.K * (1.5 - m + (1 - 2 * m) * m * e.Sigma) / Math.Sqrt(m);
        return 4 / (3 * Math.PI * x) * (bracket - 1);
    }

    /// <summary>Self-inductance of a round current sheet, in H.</summary>
    /// <param name="radius">Radius of the sheet, m.</param>
    /// <param name="length">Length along the axis, m.</param>
    /// <param name="turns">Turns spread evenly over the length.</param>
    /// <returns>μ₀πa²N²K/l, exact for the sheet; round wire and its spacing are not included.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not positive.</exception>
    /// <source key="Nagaoka1909"/>
    public static double SelfInductance(double radius, double length, double turns)
    {
        Guard.Positive(radius);
        Guard.Positive(length);
        Guard.Finite(turns);
        return PhysicalConstants.MagneticConstant * Math.PI * radius * radius * turns * turns / length * NagaokaCoefficient(length / (2 * radius));
    }

    /// <summary>Self-inductance by the handbook's short formula, in H.</summary>
    /// <param name="radius">Mean radius, m.</param>
    /// <param name="length">Length, m; the formula holds from 0.8 radii upwards, to about 1 %.</param>
    /// <param name="turns">Turns.</param>
    /// <returns>r²N²/(9r + 10l) μH with lengths in inches, turned into SI.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is not positive.</exception>
    /// <source key="Wheeler1928"/>
    public static double WheelerInductance(double radius, double length, double turns)
    {
        const double inch = 0.0254;
        var r = Guard.Positive(radius) / inch;
        var l = Guard.Positive(length) / inch;
        return 1e-6 * r * r * turns * turns / (9 * r + 10 * l);
    }

    /// <summary>Field of a unit sheet current (1 A per metre of length) between two ends, at a point.</summary>
    /// <param name="a">Radius of the sheet.</param>
    /// <param name="r">Distance of the point from the axis.</param>
    /// <param name="lower">Height of the point above the lower end.</param>
    /// <param name="upper">Height of the point above the upper end (negative below it).</param>
    internal static AxialField Difference(double a, double r, double lower, double upper)
    {
        var p = End(a, r, lower);
        var q = End(a, r, upper);
        return new AxialField(p.VectorPotential - q.VectorPotential, q.Radial - p.Radial, p.Axial - q.Axial);
    }

    // The half of the sheet below the point at depth 0…z: potential ∫A dζ, filament potential, and axial field.
    // With γ = (a−r)/(a+r), n = 1−γ² and Q = ∫sin²/((1−n sin²)√(1−m sin²)):
    //   B_z = μ₀/π · a/(a+r) · z/s · (K + γ(1−γ)Q)                        (Derby and Olbert, eq. 3, split by linearity)
    //   ∫A dζ = 4μ₀a²r/(π(a+r)²) · z/s · (K(½+mσ) − γ²Q)/n               (by parts from Neumann's integral)
    private static AxialField End(double a, double r, double z)
    {
        var e = new LoopIntegrals(a, r, z);
        var s = Math.Sqrt(e.S2);
        var sheet = Sheet(a, r, z, s, e, out var q);
        var gamma = (a - r) / (a + r);
        var axial = z == 0 ? 0 : PhysicalConstants.MagneticConstant / Math.PI * a / (a + r) * z / s * (e.K + gamma * (1 - gamma) * q);
        return new AxialField(sheet, 8 / Math.PI * PhysicalConstants.MagneticConstant * a * a * r * e.Sigma * e.K / (e.S2 * s), axial);
    }

    /// <summary>∫A dζ below the point and the potential of the end filament, as in the full form.</summary>
    internal static (double Sheet, double Filament) Potential(double a, double r, double z)
    {
        var e = new LoopIntegrals(a, r, z);
        var s = Math.Sqrt(e.S2);
        return (Sheet(a, r, z, s, e, out _), 8 / Math.PI * PhysicalConstants.MagneticConstant * a * a * r * e.Sigma * e.K / (e.S2 * s));
    }

    private static double Sheet(double a, double r, double z, double s, in LoopIntegrals e, out double q)
    {
        q = 0;
        if (z == 0)
            return 0;
        var gamma = (a - r) / (a + r);
        var n = 4 * a * r / ((a + r) * (a + r));
        q = SpecialFunctions.CompleteElliptic(e.Ratio, Math.Max(gamma * gamma, 1e-200), 0, 1);
        var j = n < 0.2 ? ShortIntegral(n, e.M) : (e.K * (0.5 + e.M * e.Sigma) - gamma * gamma * q) / n;
        return 4 / Math.PI * PhysicalConstants.MagneticConstant * a * a * r / ((a + r) * (a + r)) * z / s * j;
    }

    // ∫₀^{π/2} sin²cos²/((1−n sin²)√(1−m sin²)) dθ, m ≤ n < 0.2: the trapezoid converges like (n/4)^N.
    private static double ShortIntegral(double n, double m)
    {
        const int count = 13;
        double total = 0;
        for (var i = 1; i < count; i++)
        {
            var sin = Math.Sin(0.5 * Math.PI * i / count);
            var x = sin * sin;
            total += x * (1 - x) / ((1 - n * x) * Math.Sqrt(1 - m * x));
        }
        return 0.5 * Math.PI / count * total;
    }
}
