namespace Fieldwright.Bench.File;

/// <summary>The kinds of quantity that apparatus files hold, with the limits of good sense.</summary>
internal static class Quantities
{
    /// <summary>Longest length taken for a piece of bench apparatus, m.</summary>
    public const double MostLength = 100;

    /// <summary>A size: above zero.</summary>
    public static QuantityKind Size { get; } = new("a length", "m", "65 mm", Range.Positive(MostLength));

    /// <summary>A coordinate: of either sign.</summary>
    public static QuantityKind Coordinate { get; } = new("a length", "m", "10 mm", Range.EitherSign(MostLength));

    /// <summary>A width that may be zero.</summary>
    public static QuantityKind Width { get; } = new("a length", "m", "2 mm", Range.NotNegative(MostLength));

    /// <summary>An angle.</summary>
    public static QuantityKind Angle { get; } = new("an angle", "deg", "90 deg", Range.EitherSign(3600));

    /// <summary>A current.</summary>
    public static QuantityKind Current { get; } = new("a current", "A", "20 A", Range.EitherSign(1e6), Alternating: true);

    /// <summary>A voltage.</summary>
    public static QuantityKind Voltage { get; } = new("a voltage", "V", "12 V", Range.Positive(1e6), Alternating: true);

    /// <summary>A frequency; zero is direct current.</summary>
    public static QuantityKind Frequency { get; } = new("a frequency", "Hz", "50 Hz", Range.NotNegative(1e6));

    /// <summary>A resistance that may be zero.</summary>
    public static QuantityKind Resistance { get; } = new("a resistance", "ohm", "50 mohm", Range.NotNegative(1e9));

    /// <summary>A resistance above zero.</summary>
    public static QuantityKind Burden { get; } = new("a resistance", "ohm", "10 ohm", Range.Positive(1e12));

    /// <summary>A capacitance.</summary>
    public static QuantityKind Capacitance { get; } = new("a capacitance", "F", "20 uF", Range.Positive(1e4));

    /// <summary>A conductivity.</summary>
    public static QuantityKind Conductivity { get; } = new("a conductivity", "S/m", "34 MS/m", Range.NotNegative(1e9));

    /// <summary>A resistivity.</summary>
    public static QuantityKind Resistivity { get; } = new("a resistivity", "ohm m", "2.8e-8 ohm m", Range.Positive(1e20));

    /// <summary>A temperature.</summary>
    public static QuantityKind Temperature { get; } = new("a temperature", "K", "20 °C", Range.NotNegative(1e4));

    /// <summary>Flux density against field strength.</summary>
    public static MappingKind MagnetisationCurve { get; } = new("magnetisation curve", "Flux density against field strength, rising throughout.",
    [
        new("field strength", new TextKind("the unit of the first column, such as A/m"), "Unit of the first number of each point.", Required: true),
        new("flux density", new TextKind("the unit of the second column, such as T"), "Unit of the second number of each point.", Required: true),
        new("points", new ListKind("a list of points, such as [[0, 0], [100, 0.5], [1000, 1.4]]",
            new ListKind("two numbers, such as [100, 0.5]", new NumberKind("a number", "0.5", Range.NotNegative(1e9)), 2, 2), 2, 1000), "Pairs of field strength and flux density.", Required: true),
    ]);
}
