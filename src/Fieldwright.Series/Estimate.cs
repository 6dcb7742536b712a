namespace Fieldwright.Series;

/// <summary>A number with the error it is believed to have.</summary>
/// <param name="Value">The number, in the unit the asker names.</param>
/// <param name="Error">Estimated absolute error, same unit, from two refinements or truncations.</param>
/// <typeparam name="T">Real number or vector.</typeparam>
public readonly record struct Estimate<T>(T Value, double Error);
