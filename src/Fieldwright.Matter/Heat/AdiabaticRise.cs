using Fieldwright.Numerics;

namespace Fieldwright.Matter.Heat;

/// <summary>Warming of a conductor that keeps all its heat, its resistivity rising with temperature: R ∝ β + θ with θ in °C.</summary>
/// <remarks>
/// Exact for a resistivity that is linear and a volumetric heat that is constant in temperature. It is an upper bound of the real temperature. β is the reciprocal of
/// the temperature coefficient at 0 °C: 234.5 °C for copper.
/// </remarks>
/// <source key="IEC60949"/>
public static class AdiabaticRise
{
    /// <summary>β, K, of a material from its temperature coefficient at 20 °C: 1/α₂₀ − 20.</summary>
    /// <param name="material">A conductor with a temperature coefficient.</param>
    /// <exception cref="ArgumentException">The material has no temperature coefficient.</exception>
    public static double Beta(Material material)
    {
        ArgumentNullException.ThrowIfNull(material);
        return material.TemperatureCoefficient > 0
            ? 1 / material.TemperatureCoefficient - 20
            : throw new ArgumentException($"No temperature coefficient of {material.Name} is known.", nameof(material));
    }

    /// <summary>Resistance at a temperature by the rule R₂/R₁ = (β + θ₂)/(β + θ₁).</summary>
    /// <param name="resistance">R₁, Ω.</param>
    /// <param name="beta">β, K.</param>
    /// <param name="from">Temperature of R₁, K.</param>
    /// <param name="to">Temperature of R₂, K.</param>
    public static double Resistance(double resistance, double beta, double from, double to) =>
        resistance * (Above(beta, to) / Above(beta, from));

    /// <summary>Temperature of a winding from its resistance, K.</summary>
    /// <param name="resistanceRatio">R₂/R₁.</param>
    /// <param name="beta">β, K.</param>
    /// <param name="cold">Temperature of R₁, K.</param>
    public static double TemperatureFromResistance(double resistanceRatio, double beta, double cold) =>
        Guard.Positive(resistanceRatio) * Above(beta, cold) - beta + PhysicalConstants.ZeroCelsius;

    /// <summary>∫J² dt, A² s/m⁴, that warms a material from one temperature to another: (c d (β + 20)/ρ₂₀) ln((β + θ₂)/(β + θ₁)).</summary>
    /// <param name="material">A conductor with known density, heat and coefficient.</param>
    /// <param name="from">Start, K.</param>
    /// <param name="to">End, K; above the start.</param>
    /// <exception cref="ArgumentException">A value of the material is not known, or the end is not above the start.</exception>
    public static double Action(Material material, double from, double to)
    {
        double beta = Beta(material);
        Guard.Positive(to - from, nameof(to));
        return Volumetric(material) * material.Conductivity * (beta + 20) * Math.Log(Above(beta, to) / Above(beta, from));
    }

    /// <summary>Temperature after a time at a constant rms current density, K.</summary>
    /// <param name="material">A conductor with known density, heat and coefficient.</param>
    /// <param name="currentDensity">rms, A/m².</param>
    /// <param name="time">Time, s; not negative.</param>
    /// <param name="start">Start, K.</param>
    public static double TemperatureAfter(Material material, double currentDensity, double time, double start)
    {
        double beta = Beta(material);
        double exponent = currentDensity * currentDensity * Guard.NotNegative(time) / (Volumetric(material) * material.Conductivity * (beta + 20));
        return Above(beta, start) * Math.Exp(exponent) - beta + PhysicalConstants.ZeroCelsius;
    }

    /// <summary>Longest time at a constant rms current density until a temperature is reached, s.</summary>
    /// <param name="material">A conductor with known density, heat and coefficient.</param>
    /// <param name="currentDensity">rms, A/m²; not zero.</param>
    /// <param name="start">Start, K.</param>
    /// <param name="limit">Limit, K; above the start.</param>
    public static double TimeTo(Material material, double currentDensity, double start, double limit) =>
        Action(material, start, limit) / Guard.Positive(currentDensity * currentDensity, nameof(currentDensity));

    private static double Volumetric(Material material) =>
        (material.Density ?? throw new ArgumentException($"The density of {material.Name} is not known.", nameof(material)))
        * (material.SpecificHeat ?? throw new ArgumentException($"The specific heat of {material.Name} is not known.", nameof(material)));

    private static double Above(double beta, double temperature) => Guard.Positive(beta + temperature - PhysicalConstants.ZeroCelsius, nameof(temperature));
}
