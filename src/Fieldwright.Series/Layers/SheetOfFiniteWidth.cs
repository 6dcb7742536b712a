using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>A thin sheet of finite width in a narrow gap with iron on both sides, its own field counted: how far <see cref="LinearMotorFactors.TransverseEdge"/> may be trusted.</summary>
/// <remarks>
/// Over the active width the field across the gap obeys H″ = k²(1 + jsG)H − jkJ/g along the width, beyond it (no iron) the sheet's currents close without a
/// field of their own. For sG → 0 the thrust falls by exactly the factor of Russell and Norsworthy; otherwise the two part company, by what this type tells.
/// </remarks>
/// <source key="RussellNorsworthy1958" at="the same currents, with the sheet's own field; derived here"/>
public static class SheetOfFiniteWidth
{
    /// <summary>Thrust (or heat) over that of a sheet without ends, at the same current and slip.</summary>
    /// <param name="slipTimesGoodness">Slip times goodness factor of the sheet at full conductivity; either sign.</param>
    /// <param name="activeWidth">Width of the winding's active part across the travel, m.</param>
    /// <param name="overhang">What the sheet overhangs it on each side, m; zero or more.</param>
    /// <param name="polePitch">Pole pitch, m.</param>
    /// <returns>A pure number; it may exceed 1 beyond the slip of greatest thrust, where less conductivity is better.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double ThrustRatio(double slipTimesGoodness, double activeWidth, double overhang, double polePitch)
    {
        double g = Math.Abs(Guard.Finite(slipTimesGoodness)), k = Math.PI / Guard.Positive(polePitch), p = 0.5 * k * Guard.Positive(activeWidth);
        double q = Math.Tanh(k * Guard.NotNegative(overhang));
        var root = Complex.Sqrt(new Complex(1, g)); // γ/k
        var t = Complex.Tanh(root * p);
        // Mean field over the width in units of J/(gk), over G: endless 1/(1 + G²), less what the sides take.
        var rest = 1 / new Complex(1, g) * t / (root * p * (1 + root * t * q));
        return 1 - rest.Real * (1 + g * g);
    }

    /// <summary>The same by <see cref="LinearMotorFactors.TransverseEdge"/>: conductivity times K, so that sG becomes K·sG.</summary>
    /// <param name="slipTimesGoodness">Slip times goodness factor of the sheet at full conductivity.</param>
    /// <param name="factor">K, 0 to 1.</param>
    /// <returns>K(1 + s²G²)/(1 + K²s²G²).</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double ThrustRatioByFactor(double slipTimesGoodness, double factor)
    {
        double g = Guard.Finite(slipTimesGoodness);
        Guard.InRange(factor, 0, 1);
        return factor * (1 + g * g) / (1 + factor * factor * g * g);
    }
}
