using Fieldwright.Numerics;

namespace Fieldwright.Series.Liquids;

/// <summary>A conduction pump: steady current across a channel between two electrodes, steady field through it, liquid driven along.</summary>
/// <param name="Width">Distance of the electrodes, along the current, m.</param>
/// <param name="Height">Height of the channel, along the field, m.</param>
/// <param name="Length">Length of the electrodes and of the field along the flow, m.</param>
/// <param name="Conductivity">Conductivity of the liquid, S/m.</param>
/// <param name="FluxDensity">Flux density through the channel, T; the current's own field is left out, which is fair while μ₀I/2·height is small against it.</param>
/// <param name="BypassResistance">Resistance of the ways beside the field (liquid before and behind the electrodes, channel walls), Ω; infinite for none.</param>
/// <source key="Barnes1953"/>
public sealed record ConductionPump(double Width, double Height, double Length, double Conductivity, double FluxDensity, double BypassResistance = double.PositiveInfinity)
{
    /// <summary>Resistance of the liquid between the electrodes, Ω.</summary>
    public double Resistance => Guard.Positive(Width) / (Guard.Positive(Conductivity) * Guard.Positive(Height) * Guard.Positive(Length));

    /// <summary>Pressure, voltage and heat at a current and speed.</summary>
    /// <param name="current">Current fed to the electrodes, A.</param>
    /// <param name="meanSpeed">Mean speed of the liquid, m/s, positive the way the pump drives for positive current.</param>
    /// <returns>Pressure gained, Pa; voltage of the electrodes, V; heat in liquid and bypass, W. Electrical power in = heat + pressure × flow.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public (double Pressure, double Voltage, double Loss) At(double current, double meanSpeed)
    {
        Guard.Finite(current);
        if (!double.IsPositiveInfinity(BypassResistance))
            Guard.Positive(BypassResistance);
        var back = Guard.Finite(FluxDensity) * Guard.Finite(meanSpeed) * Width;
        // U = I_l R + back = (I − I_l) R_b.
        var share = double.IsPositiveInfinity(BypassResistance) ? 0 : Resistance / BypassResistance;
        var through = (current - (share == 0 ? 0 : back / BypassResistance)) / (1 + share);
        var voltage = through * Resistance + back;
        return (FluxDensity * through / Height, voltage, through * through * Resistance + (current - through) * voltage);
    }
}
