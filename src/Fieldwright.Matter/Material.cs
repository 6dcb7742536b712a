namespace Fieldwright.Matter;

/// <summary>A material, SI, at 20 °C unless said otherwise.</summary>
/// <param name="Name">Its name.</param>
public sealed record Material(string Name)
{
    private const double Reference = 293.15;

    /// <summary>Conductivity at 20 °C, S/m; 0 for an insulator.</summary>
    public double Conductivity { get; init; }

    /// <summary>Temperature coefficient of resistivity at 20 °C, 1/K; 0 when not known.</summary>
    public double TemperatureCoefficient { get; init; }

    /// <summary>Relative permeability of linear matter, or of a magnet's recoil line.</summary>
    public double RelativePermeability { get; init; } = 1;

    /// <summary>Magnetisation curve of soft steel; null for linear matter.</summary>
    public BhCurve? Curve { get; init; }

    /// <summary>Remanence of a magnet, T; 0 for matter that is none.</summary>
    public double Remanence { get; init; }

    /// <summary>Size of the demagnetising field strength at the knee of a magnet's curve, A/m, beyond which it loses strength for good; null when not known.</summary>
    public double? Knee { get; init; }

    /// <summary>Density, kg/m³; null when not known.</summary>
    public double? Density { get; init; }

    /// <summary>Specific heat, J/(kg K); null when not known.</summary>
    public double? SpecificHeat { get; init; }

    /// <summary>Thermal conductivity, W/(m K); null when not known.</summary>
    public double? ThermalConductivity { get; init; }

    /// <summary>Melting point, K; null when not known.</summary>
    public double? MeltingPoint { get; init; }

    /// <summary>Temperature at which work-hardened metal goes soft within minutes, K (common practice, no source); null when not known.</summary>
    public double? SofteningPoint { get; init; }

    /// <summary>Dynamic viscosity of a liquid at 20 °C, Pa s; null when not known or not a liquid.</summary>
    public double? DynamicViscosity { get; init; }

    /// <summary>Where the values come from, with the grade of each: a read, b computed, c from memory.</summary>
    public string Source { get; init; } = "given in the file";

    /// <summary>Resistivity at a temperature, Ω m: ρ₂₀ (1 + α (T − 20 °C)). Serves from about −50 °C to 200 °C.</summary>
    /// <param name="temperature">Temperature, K.</param>
    /// <exception cref="InvalidOperationException">The material is an insulator.</exception>
    public double ResistivityAt(double temperature) => Conductivity > 0
        ? (1 + TemperatureCoefficient * (temperature - Reference)) / Conductivity
        : throw new InvalidOperationException($"{Name} is an insulator and has no resistivity here.");

    /// <summary>Conductivity at a temperature, S/m; 0 for an insulator.</summary>
    /// <param name="temperature">Temperature, K.</param>
    public double ConductivityAt(double temperature) => Conductivity > 0 ? 1 / ResistivityAt(temperature) : 0;

    /// <summary>Temperature coefficient referred to a temperature, 1/K: α / (1 + α (T − 20 °C)).</summary>
    /// <param name="temperature">Temperature, K.</param>
    public double TemperatureCoefficientAt(double temperature) => TemperatureCoefficient / (1 + TemperatureCoefficient * (temperature - Reference));
}
