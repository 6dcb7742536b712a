namespace Fieldwright.Matter.Units;

/// <summary>Exponents of the base units metre, kilogram, second, ampere, kelvin.</summary>
/// <param name="Length">Exponent of the metre.</param>
/// <param name="Mass">Exponent of the kilogram.</param>
/// <param name="Time">Exponent of the second.</param>
/// <param name="Current">Exponent of the ampere.</param>
/// <param name="Temperature">Exponent of the kelvin.</param>
public readonly record struct Dimension(int Length = 0, int Mass = 0, int Time = 0, int Current = 0, int Temperature = 0)
{
    /// <summary>A pure number.</summary>
    public static Dimension None { get; }

    /// <summary>Product of two dimensions.</summary>
    public static Dimension operator *(Dimension a, Dimension b) => Multiply(a, b);

    /// <summary>Product of two dimensions.</summary>
    public static Dimension Multiply(Dimension a, Dimension b) =>
        new(a.Length + b.Length, a.Mass + b.Mass, a.Time + b.Time, a.Current + b.Current, a.Temperature + b.Temperature);

    /// <summary>A whole power of a dimension.</summary>
    public Dimension Power(int exponent) => new(exponent * Length, exponent * Mass, exponent * Time, exponent * Current, exponent * Temperature);
}

/// <summary>A value in SI with its dimension.</summary>
/// <param name="Value">Value in SI base units; temperatures in K.</param>
/// <param name="Dimension">Its dimension.</param>
public readonly record struct Quantity(double Value, Dimension Dimension);
