using Fieldwright.Numerics;

namespace Fieldwright.Series.Liquids;

/// <summary>Flow of a conducting liquid between wide insulating walls with a steady field across them (Hartmann flow), no net current.</summary>
/// <remarks>Laminar; walls at ±a, the field B along the gap, side walls far away and insulating. Above Ha ≈ 5 the flow is flat but for layers of thickness a/Ha at the walls.</remarks>
/// <source key="Hartmann1937"/>
public static class HartmannFlow
{
    /// <summary>Hartmann number B a √(σ/μ).</summary>
    /// <param name="fluxDensity">Steady (or root-mean-square alternating) flux density across the gap, T; zero or more.</param>
    /// <param name="halfGap">Half the distance of the walls the field crosses, m.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="viscosity">Dynamic viscosity, Pa·s.</param>
    /// <returns>Ha, a pure number.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double Number(double fluxDensity, double halfGap, double conductivity, double viscosity) =>
        Guard.NotNegative(fluxDensity) * Guard.Positive(halfGap) * Math.Sqrt(Guard.Positive(conductivity) / Guard.Positive(viscosity));

    /// <summary>Speed at a height over Ga²/μ, G the fall of pressure a metre.</summary>
    /// <param name="hartmann">Hartmann number, zero or more.</param>
    /// <param name="height">Height from the middle over half the gap, −1 to 1.</param>
    /// <returns>(1/Ha) coth Ha (1 − cosh(Ha y)/cosh Ha); (1 − y²)/2 without field.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double Profile(double hartmann, double height)
    {
        var y = Math.Abs(Guard.InRange(height, -1, 1));
        var ha = Guard.NotNegative(hartmann);
        if (ha < 1e-3)
            return 0.5 * (1 - y * y) * (1 - ha * ha * (1 - y * y) / 12);
        // 1 − cosh(Ha y)/cosh Ha by falling exponentials: (1 − e^(−Ha(1−y)))(1 − e^(−Ha(1+y)))/(1 + e^(−2Ha)).
        var numerator = -Expm1(-ha * (1 - y)) * -Expm1(-ha * (1 + y));
        return numerator / (1 + Math.Exp(-2 * ha)) / (ha * Math.Tanh(ha));
    }

    /// <summary>Mean speed over Ga²/μ.</summary>
    /// <param name="hartmann">Hartmann number, zero or more.</param>
    /// <returns>(Ha coth Ha − 1)/Ha²; one third without field.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number is negative or not finite.</exception>
    public static double Mean(double hartmann)
    {
        var ha = Guard.NotNegative(hartmann);
        // Ha coth Ha − 1 = Ha²/3 − Ha⁴/45 + 2Ha⁶/945 …
        return ha < 0.05 ? 1.0 / 3 - ha * ha / 45 + 2 * ha * ha * ha * ha / 945 : (ha / Math.Tanh(ha) - 1) / (ha * ha);
    }

    /// <summary>Loss of pressure along a wide duct in which the liquid flows at a mean speed, with no net current.</summary>
    /// <param name="meanSpeed">Mean speed, m/s.</param>
    /// <param name="length">Length of the duct in the field, m.</param>
    /// <param name="halfGap">Half the gap, m.</param>
    /// <param name="viscosity">Dynamic viscosity, Pa·s.</param>
    /// <param name="hartmann">Hartmann number.</param>
    /// <returns>Pa, of the sign of the speed.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    public static double PressureLoss(double meanSpeed, double length, double halfGap, double viscosity, double hartmann) =>
        Guard.Finite(meanSpeed) * Guard.Positive(viscosity) * Guard.Positive(length) / (Guard.Positive(halfGap) * halfGap * Mean(hartmann));

    private static double Expm1(double x) => Math.Abs(x) < 1e-5 ? x * (1 + x / 2 * (1 + x / 3)) : Math.Exp(x) - 1;
}
