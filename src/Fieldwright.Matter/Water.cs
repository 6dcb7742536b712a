namespace Fieldwright.Matter;

/// <summary>Water at 20 °C, as it runs from the tap.</summary>
/// <source key="White2011"/>
public static class Water
{
    /// <summary>Density, kg/m³; from memory.</summary>
    public const double Density = 998;

    /// <summary>Dynamic viscosity, Pa s; from memory. It falls by 2 % for each kelvin.</summary>
    public const double Viscosity = 1.003e-3;

    /// <summary>Height of a column at rest that presses so much, m.</summary>
    /// <param name="pressure">Pressure over that of the air, Pa.</param>
    public static double Head(double pressure) => pressure / (Density * PhysicalConstants.StandardGravity);
}
