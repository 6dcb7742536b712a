using Fieldwright.Matter;

namespace Fieldwright.Fields;

/// <summary>Heat conducted through some regions of a meshed model, made inside them and lost at their surfaces.</summary>
/// <remarks>Temperatures are absolute, K. Regions of <see cref="Matter"/> that touch conduct into one another; every other edge of theirs is surface, the axis of a round model excepted.</remarks>
public sealed record HeatModel
{
    /// <summary>The mesh; that of the magnetic field, so that its losses are taken where they are made.</summary>
    public required MeshedModel Mesh { get; init; }

    /// <summary>How each region that takes part conducts and stores heat.</summary>
    public required IReadOnlyDictionary<int, HeatMatter> Matter { get; init; }

    /// <summary>Heat made, W/m³, in a region at a place (r or x, z or y; m) at a time, s; null for none.</summary>
    public Func<int, double, double, double, double>? Source { get; init; }

    /// <summary>What takes heat from the surfaces; their fluxes add.</summary>
    public IReadOnlyList<SurfaceCooling> Cooling { get; init; } = [];
}

/// <summary>Matter as far as heat is concerned.</summary>
/// <param name="Name">Name used in messages.</param>
/// <param name="Conductivity">Thermal conductivity, W/(m·K), against temperature, K; positive.</param>
/// <param name="HeatCapacity">Heat capacity of a volume, J/(m³·K): density times specific heat. Taken as constant.</param>
public sealed record HeatMatter(string Name, Func<double, double> Conductivity, double HeatCapacity)
{
    /// <summary>Matter of constant conductivity.</summary>
    /// <param name="name">Name used in messages.</param>
    /// <param name="conductivity">Thermal conductivity, W/(m·K).</param>
    /// <param name="heatCapacity">Heat capacity of a volume, J/(m³·K).</param>
    public static HeatMatter Constant(string name, double conductivity, double heatCapacity) => new(name, _ => conductivity, heatCapacity);
}

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
/// perimeter; up and down change places when the surface is colder than the air. Slopes take the formula of the nearest direction (45° between). Such formulas are good to some
/// 20 % in still air (common practice, no source). Air at the mean of both temperatures, 250 to 600 K: conductivity 0.0263·(T/300)^0.85 W/(m·K),
/// viscosity 1.59e-5·(T/300)^1.75 m²/s, Prandtl number 0.70 (fits from memory, 2 %).
/// </remarks>
/// <param name="Height">Height of upright surfaces, m.</param>
/// <param name="LevelLength">Area over perimeter of level surfaces, m: a quarter of the diameter of a disc.</param>
/// <param name="Ambient">Temperature of the air, K.</param>
/// <source key="ChurchillChu1975"/>
/// <source key="Incropera2007"/>
public sealed record NaturalConvection(double Height, double LevelLength, double Ambient) : SurfaceCooling
{
    private const double Prandtl = 0.70;

    /// <inheritdoc/>
    public override double Flux(double temperature, double upward) => Coefficient(temperature, upward) * (temperature - Ambient);

    /// <summary>Heat transfer coefficient, W/(m²·K).</summary>
    /// <param name="temperature">Temperature of the surface, K.</param>
    /// <param name="upward">As in <see cref="Flux"/>.</param>
    public double Coefficient(double temperature, double upward)
    {
        var film = 0.5 * (temperature + Ambient);
        double conductivity = 0.0263 * Math.Pow(film / 300, 0.85), viscosity = 1.59e-5 * Math.Pow(film / 300, 1.75);
        var level = Math.Abs(upward) > Math.Sqrt(0.5);
        var length = level ? LevelLength : Height;
        var rayleigh = PhysicalConstants.StandardGravity * Math.Abs(temperature - Ambient) * length * length * length * Prandtl / (film * viscosity * viscosity);
        double nusselt;
        if (!level)
        {
            var root = 0.825 + (0.387 * Math.Pow(rayleigh, 1.0 / 6) / Math.Pow(1 + Math.Pow(0.492 / Prandtl, 9.0 / 16), 8.0 / 27));
            nusselt = root * root;
        }
        else if (upward > 0 == temperature >= Ambient)
        {
            nusselt = rayleigh < 1e7 ? 0.54 * Math.Pow(rayleigh, 0.25) : 0.15 * Math.Pow(rayleigh, 1.0 / 3);
        }
        else
        {
            nusselt = 0.27 * Math.Pow(rayleigh, 0.25);
        }
        return nusselt * conductivity / length;
    }
}
