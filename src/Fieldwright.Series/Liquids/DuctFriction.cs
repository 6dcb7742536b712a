using Fieldwright.Numerics;

namespace Fieldwright.Series.Liquids;

/// <summary>How a liquid flows in a duct.</summary>
public enum FlowRegime
{
    /// <summary>In smooth layers: Reynolds number below 2300.</summary>
    Laminar,

    /// <summary>Neither surely one nor the other, Reynolds number 2300 to 4000: the turbulent loss is given, the larger.</summary>
    Unsettled,

    /// <summary>Turbulent: Reynolds number above 4000.</summary>
    Turbulent,
}

/// <summary>Friction of a full duct without field: Darcy's factor and the loss of pressure.</summary>
/// <remarks>
/// Δp = f (L/D)(ρv²/2) with D four times the area over the wetted edge. Laminar rectangles exactly by Boussinesq's series, circles 64/Re, turbulent by
/// Colebrook's formula (±5 % is usual against measurements), rectangles by the same formula with D (another ±10 %, common practice, no source).
/// A strong steady field across the duct calms turbulence and thickens nothing: use <see cref="HartmannFlow"/> for Hartmann numbers above Re/300
/// (common practice, no source).
/// </remarks>
public static class DuctFriction
{
    private const double LaminarBelow = 2300, TurbulentAbove = 4000;

    /// <summary>Darcy's friction factor of a round pipe.</summary>
    /// <param name="reynolds">Reynolds number ρvD/μ; positive.</param>
    /// <param name="relativeRoughness">Roughness over diameter, 0 to 0.05.</param>
    /// <returns>f and the regime it belongs to.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    /// <source key="Colebrook1939"/>
    public static (double Factor, FlowRegime Regime) Pipe(double reynolds, double relativeRoughness = 0) => Factor(reynolds, relativeRoughness, 64);

    /// <summary>Darcy's friction factor of a rectangular duct, on its hydraulic diameter 2wh/(w + h).</summary>
    /// <param name="reynolds">Reynolds number on the hydraulic diameter; positive.</param>
    /// <param name="aspect">Height over width or width over height; positive.</param>
    /// <param name="relativeRoughness">Roughness over hydraulic diameter, 0 to 0.05.</param>
    /// <returns>f and the regime it belongs to.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    /// <source key="Colebrook1939"/>
    public static (double Factor, FlowRegime Regime) Rectangle(double reynolds, double aspect, double relativeRoughness = 0) =>
        Factor(reynolds, relativeRoughness, LaminarConstant(aspect));

    /// <summary>f·Re of laminar flow in a rectangle: 56.91 for a square, 96 for a wide slot.</summary>
    /// <param name="aspect">Either side over the other; positive.</param>
    /// <returns>f·Re, error below 1e-12.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The aspect is not positive.</exception>
    /// <source key="ShahLondon1978" at="rectangular ducts"/>
    public static double LaminarConstant(double aspect)
    {
        var x = Guard.Positive(aspect);
        if (x > 1)
            x = 1 / x; // short half side 1, long half side 1/x
        // Mean speed (G/3μ)(1 − 192x/π⁵ Σ tanh(nπ/2x)/n⁵), n odd.
        double sum = 0;
        for (var n = 1; n < 600; n += 2)
            sum += Math.Tanh(n * Math.PI / (2 * x)) / Math.Pow(n, 5);
        var mean = (1 - 192 * x / Math.Pow(Math.PI, 5) * sum) / 3;
        var diameter = 4 / (1 + x);
        return 2 * diameter * diameter / mean;
    }

    /// <summary>Loss of pressure along a rectangular duct with its bends and ends.</summary>
    /// <param name="meanSpeed">Mean speed, m/s, either sign.</param>
    /// <param name="width">Width, m.</param>
    /// <param name="height">Height, m.</param>
    /// <param name="length">Length, m.</param>
    /// <param name="density">Density of the liquid, kg/m³.</param>
    /// <param name="viscosity">Dynamic viscosity, Pa·s.</param>
    /// <param name="roughness">Roughness of the walls, m.</param>
    /// <param name="fittings">Sum of the loss coefficients of bends, inlet and outlet, in heads ρv²/2.</param>
    /// <returns>Pa, of the sign of the speed.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is out of range.</exception>
    /// <source key="White2011" at="losses of ducts and fittings"/>
    public static double PressureLoss(
        double meanSpeed, double width, double height, double length, double density, double viscosity, double roughness = 0, double fittings = 0)
    {
        var v = Math.Abs(Guard.Finite(meanSpeed));
        var diameter = 2 * Guard.Positive(width) * Guard.Positive(height) / (width + height);
        Guard.Positive(length);
        Guard.Positive(density);
        Guard.Positive(viscosity);
        Guard.NotNegative(fittings);
        if (v == 0)
            return 0;
        var factor = Rectangle(density * v * diameter / viscosity, height / width, Guard.NotNegative(roughness) / diameter).Factor;
        return Math.Sign(meanSpeed) * (factor * length / diameter + fittings) * density * v * v / 2;
    }

    private static (double, FlowRegime) Factor(double reynolds, double roughness, double laminarConstant)
    {
        Guard.Positive(reynolds);
        Guard.InRange(roughness, 0, 0.05);
        if (reynolds < LaminarBelow)
            return (laminarConstant / reynolds, FlowRegime.Laminar);
        // Colebrook: x = 1/√f = −2 log₁₀(ε/3.7D + 2.51 x/Re), by Newton from Haaland's start.
        var x = -1.8 * Math.Log10(Math.Pow(roughness / 3.7, 1.11) + 6.9 / reynolds);
        for (var i = 0; i < 20; i++)
        {
            var inside = roughness / 3.7 + 2.51 * x / reynolds;
            var change = (x + 2 * Math.Log10(inside)) / (1 + 2 / Math.Log(10) * 2.51 / reynolds / inside);
            x -= change;
            if (Math.Abs(change) < 1e-14 * x)
                break;
        }
        return (1 / (x * x), reynolds <= TurbulentAbove ? FlowRegime.Unsettled : FlowRegime.Turbulent);
    }
}
