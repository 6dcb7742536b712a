using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Elements;

/// <summary>A resistance: electric (Ω), magnetic (reluctance, 1/H), hydraulic (Pa s/m³) or thermal (K/W).</summary>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="resistance">Drop over flow; positive.</param>
/// <exception cref="ArgumentOutOfRangeException">The resistance is not positive.</exception>
public sealed class Resistor(string name, string from, string to, double resistance) : FlowFromDrop(name, from, to)
{
    /// <summary>Drop over flow.</summary>
    public double Resistance { get; } = Guard.Positive(resistance);

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope)
    {
        slope = 1 / Resistance;
        return drop * slope;
    }
}

/// <summary>A resistance that rises with temperature, held at one: R = R₂₀ (1 + α (T − 20 °C)).</summary>
public static class WarmResistor
{
    /// <summary>The resistor at a temperature.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First node.</param>
    /// <param name="to">Second node.</param>
    /// <param name="resistance20">Resistance at 20 °C, Ω; positive.</param>
    /// <param name="coefficient">Temperature coefficient at 20 °C, 1/K.</param>
    /// <param name="temperature">Temperature, K.</param>
    /// <exception cref="ArgumentOutOfRangeException">The resistance is not positive at that temperature.</exception>
    public static Resistor At(string name, string from, string to, double resistance20, double coefficient, double temperature) =>
        new(name, from, to, Guard.Positive(resistance20) * (1 + Guard.Finite(coefficient) * (Guard.NotNegative(temperature) - 293.15)));
}

/// <summary>A resistance that depends on its own flow: drop = R(|flow|) · flow.</summary>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="drop">Drop at a flow that is not negative, rising from zero, with its slope.</param>
public sealed class CurrentDependentResistor(string name, string from, string to, Func<double, (double Drop, double Slope)> drop) : DropFromFlow(name, from, to)
{
    /// <inheritdoc/>
    public override double DropAt(double flow, out double slope)
    {
        (double value, slope) = drop(Math.Abs(flow));
        return Math.CopySign(value, flow);
    }
}
