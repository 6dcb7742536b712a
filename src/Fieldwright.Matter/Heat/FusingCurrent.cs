using Fieldwright.Numerics;

namespace Fieldwright.Matter.Heat;

/// <summary>Current at which a wire melts.</summary>
public static class FusingCurrent
{
    // C of I = C d^1.5 with d in inches.
    private static readonly Dictionary<string, double> Constants = new(StringComparer.OrdinalIgnoreCase)
    {
        ["copper"] = 10244, ["aluminium"] = 7585, ["platinum"] = 5172, ["german silver"] = 5230, ["platinoid"] = 4750, ["iron"] = 3148, ["tin"] = 1642,
        ["tin-lead"] = 1318, ["lead"] = 1379,
    };

    /// <summary>Metals of Preece's table.</summary>
    public static IReadOnlyCollection<string> Metals => Constants.Keys;

    /// <summary>Current that melts a long thin wire in still air if it is held, A rms: C d^1.5.</summary>
    /// <param name="metal">A metal of <see cref="Metals"/>.</param>
    /// <param name="diameter">Diameter, m; the law serves from about 0.1 mm to 5 mm.</param>
    /// <exception cref="ArgumentException">The metal is not in the table.</exception>
    /// <source key="Preece1884" at="constants through a public table of fuse equations"/>
    public static double Preece(string metal, double diameter) => Constants.TryGetValue(metal, out double c)
        ? c * Math.Pow(Guard.Positive(diameter) / 0.0254, 1.5)
        : throw new ArgumentException($"Preece gives no constant for '{metal}'; he gives {string.Join(", ", Metals)}.", nameof(metal));

    /// <summary>Current that melts a copper wire in a short time without any cooling, A rms.</summary>
    /// <param name="area">Section, m².</param>
    /// <param name="time">Time, s; serves up to about 10 s.</param>
    /// <param name="ambient">Start, K.</param>
    /// <remarks>I = A √(log₁₀(1 + (T_m − T_a)/(234 + T_a)) / 33 t), A in circular mils, T_m = 1083 °C. A much-copied worked example takes 234 − T_a and comes out 5 % high.</remarks>
    /// <source key="Onderdonk" at="form read on a public page"/>
    public static double Onderdonk(double area, double time, double ambient)
    {
        double mils = Guard.Positive(area) / (0.25 * Math.PI * 25.4e-6 * 25.4e-6), celsius = ambient - PhysicalConstants.ZeroCelsius;
        return mils * Math.Sqrt(Math.Log10(1 + (1083 - celsius) / (234 + celsius)) / (33 * Guard.Positive(time)));
    }
}
