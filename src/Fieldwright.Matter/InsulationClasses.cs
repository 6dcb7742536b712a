namespace Fieldwright.Matter;

/// <summary>Thermal classes of insulation.</summary>
/// <source key="IEC60085"/>
public static class InsulationClasses
{
    private static readonly Dictionary<string, double> Celsius = new(StringComparer.OrdinalIgnoreCase)
    {
        ["Y"] = 90, ["A"] = 105, ["E"] = 120, ["B"] = 130, ["F"] = 155, ["H"] = 180, ["N"] = 200, ["R"] = 220, ["250"] = 250,
    };

    /// <summary>The classes by letter or number, coolest first.</summary>
    public static IReadOnlyCollection<string> Names => Celsius.Keys;

    /// <summary>Highest temperature of a class, K.</summary>
    /// <exception cref="ArgumentException">There is no such class.</exception>
    public static double Limit(string name) => Celsius.TryGetValue(name, out double limit)
        ? limit + PhysicalConstants.ZeroCelsius
        : throw new ArgumentException($"IEC 60085 has no class '{name}'; the classes are {string.Join(", ", Names)}.", nameof(name));
}
