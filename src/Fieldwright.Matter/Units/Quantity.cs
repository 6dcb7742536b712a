namespace Fieldwright.Matter.Units;

/// <summary>A number in SI base units with its dimension.</summary>
/// <param name="Value">The value in coherent SI units; a temperature in K.</param>
/// <param name="Dimension">Its dimension.</param>
public readonly record struct Quantity(double Value, Dimension Dimension)
{
    /// <summary>The quantity to three digits with a fitting prefix: <c>3.29 mm</c>.</summary>
    public override string ToString() => SiFormat.Write(Value, Dimension);
}
