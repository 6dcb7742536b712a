using Fieldwright.Matter;

namespace Fieldwright.Fields;

/// <summary>Something that takes heat from a surface.</summary>
public abstract record SurfaceCooling
{
    /// <summary>Heat leaving the surface, W/m².</summary>
    /// <param name="temperature">Temperature of the surface, K.</param>
    /// <param name="upward">Component along z or y of the unit normal that points out of the body: 1 faces up, −1 down, 0 sideways.</param>
    public abstract double Flux(double temperature, double upward);
}

/// <summary>Heat in proportion to the excess of temperature.</summary>
/// <param name="Coefficient">W/(m²·K); not negative.</param>
/// <param name="Ambient">Temperature of the air, K.</param>
public sealed record LinearCooling(double Coefficient, double Ambient) : SurfaceCooling
{
    /// <inheritdoc/>
    public override double Flux(double temperature, double upward) => Coefficient * (temperature - Ambient);
}

/// <summary>Radiation of a grey surface to surroundings that enclose it: ε·σ·(T⁴ − T₀⁴).</summary>
/// <param name="Emissivity">Between 0 and 1.</param>
/// <param name="Surroundings">Temperature of the surroundings, K.</param>
public sealed record Radiation(double Emissivity, double Surroundings) : SurfaceCooling
{
    /// <inheritdoc/>
    public override double Flux(double temperature, double upward)
    {
        double t2 = temperature * temperature, s2 = Surroundings * Surroundings;
        return Emissivity * PhysicalConstants.StefanBoltzmann * (t2 + s2) * (temperature + Surroundings) * (temperature - Surroundings);
    }
}

/// <summary>Air that rises from a warm surface by itself.</summary>
/// <remarks>
/// Upright surfaces by Churchill and Chu's formula for all Rayleigh numbers; level surfaces facing up 0.54·Ra^¼ (Ra below 1e7) or 0.15·Ra^⅓, facing down 0.27·Ra^¼, with the length area over
/// perimeter, never below a Nusselt number of 1; up and down change places when the surface is colder than the air. Slopes take the formula of the nearest direction (45° between). Such formulas are good to some
/// 20 % in still air (common practice, no source). Properties are those of <see cref="StillAir"/> at the mean of both temperatures.
/// </remarks>
/// <param name="Height">Height of upright surfaces, m.</param>
/// <param name="LevelLength">Area over perimeter of level surfaces, m: a quarter of the diameter of a disc.</param>
/// <param name="Ambient">Temperature of the air, K.</param>
/// <source key="ChurchillChu1975"/>
/// <source key="McAdams1954"/>
/// <source key="Incropera2007"/>
public sealed record NaturalConvection(double Height, double LevelLength, double Ambient) : SurfaceCooling
{
    /// <summary>Factor on the coefficient, for studies of what a formula leaves open.</summary>
    public double Factor { get; init; } = 1;

    /// <inheritdoc/>
    public override double Flux(double temperature, double upward) => Coefficient(temperature, upward) * (temperature - Ambient);

    /// <summary>Heat transfer coefficient, W/(m²·K).</summary>
    /// <param name="temperature">Temperature of the surface, K.</param>
    /// <param name="upward">As in <see cref="Flux"/>.</param>
    public double Coefficient(double temperature, double upward)
    {
        var level = Math.Abs(upward) > Math.Sqrt(0.5);
        var length = level ? LevelLength : Height;
        var (rayleigh, conductivity) = StillAir.Rayleigh(temperature, Ambient, length);
        double nusselt;
        if (!level)
        {
            var root = 0.825 + (0.387 * Math.Pow(rayleigh, 1.0 / 6) / StillAir.Spread(0.492, 8.0 / 27));
            nusselt = root * root;
        }
        else if (upward > 0 == temperature >= Ambient)
        {
            nusselt = Math.Max(1, rayleigh < 1e7 ? 0.54 * Math.Pow(rayleigh, 0.25) : 0.15 * Math.Pow(rayleigh, 1.0 / 3));
        }
        else
        {
            nusselt = Math.Max(1, 0.27 * Math.Pow(rayleigh, 0.25));
        }
        return Factor * nusselt * conductivity / length;
    }
}

/// <summary>Air that rises round a level cylinder by itself, mean over its circumference: Nu = (0.60 + 0.387·Ra^⅙/(1 + (0.559/Pr)^(9/16))^(8/27))², to Ra 1e12.</summary>
/// <param name="Diameter">Diameter, m.</param>
/// <param name="Ambient">Temperature of the air, K.</param>
/// <param name="Factor">Factor on the coefficient.</param>
/// <source key="ChurchillChu1975"/>
public sealed record CylinderConvection(double Diameter, double Ambient, double Factor = 1) : SurfaceCooling
{
    /// <inheritdoc/>
    public override double Flux(double temperature, double upward)
    {
        var (rayleigh, conductivity) = StillAir.Rayleigh(temperature, Ambient, Diameter);
        var root = 0.60 + (0.387 * Math.Pow(rayleigh, 1.0 / 6) / StillAir.Spread(0.559, 8.0 / 27));
        return Factor * root * root * conductivity / Diameter * (temperature - Ambient);
    }
}

/// <summary>Air that rises round a ball by itself, mean over its surface: Nu = 2 + 0.589·Ra^¼/(1 + (0.469/Pr)^(9/16))^(4/9), to Ra 1e11.</summary>
/// <param name="Diameter">Diameter, m.</param>
/// <param name="Ambient">Temperature of the air, K.</param>
/// <param name="Factor">Factor on the coefficient.</param>
/// <source key="Churchill1983"/>
public sealed record BallConvection(double Diameter, double Ambient, double Factor = 1) : SurfaceCooling
{
    /// <inheritdoc/>
    public override double Flux(double temperature, double upward)
    {
        var (rayleigh, conductivity) = StillAir.Rayleigh(temperature, Ambient, Diameter);
        var nusselt = 2 + (0.589 * Math.Pow(rayleigh, 0.25) / StillAir.Spread(0.469, 4.0 / 9));
        return Factor * nusselt * conductivity / Diameter * (temperature - Ambient);
    }
}

/// <summary>Dry air at one atmosphere, 250 to 600 K: conductivity 0.0263·(T/300)^0.85 W/(m·K), viscosity 1.59e-5·(T/300)^1.75 m²/s, Prandtl number 0.70 (fits from memory, 2 %).</summary>
internal static class StillAir
{
    private const double Prandtl = 0.70;

    /// <summary>Heat capacity of a volume at 300 K, J/(m³·K): 1.18 kg/m³ times 1006 J/(kg·K) (from memory).</summary>
    public const double HeatCapacity = 1187;

    /// <summary>Thermal conductivity, W/(m·K).</summary>
    public static double Conductivity(double temperature) => 0.0263 * Math.Pow(temperature / 300, 0.85);

    /// <summary>Rayleigh number of a length, m, and the conductivity, both with the air at the mean of surface and air.</summary>
    public static (double Rayleigh, double Conductivity) Rayleigh(double surface, double air, double length)
    {
        double film = 0.5 * (surface + air), viscosity = 1.59e-5 * Math.Pow(film / 300, 1.75);
        return (PhysicalConstants.StandardGravity * Math.Abs(surface - air) * length * length * length * Prandtl / (film * viscosity * viscosity), Conductivity(film));
    }

    /// <summary>(1 + (c/Pr)^(9/16))^power.</summary>
    public static double Spread(double c, double power) => Math.Pow(1 + Math.Pow(c / Prandtl, 9.0 / 16), power);
}
