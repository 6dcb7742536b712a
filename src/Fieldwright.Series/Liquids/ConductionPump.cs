using Fieldwright.Numerics;

namespace Fieldwright.Series.Liquids;

/// <summary>A conduction pump: steady current across a channel between two electrodes, steady field through it, liquid driven along.</summary>
/// <param name="Width">Distance of the electrodes, along the current, m.</param>
/// <param name="Height">Height of the channel, along the field, m.</param>
/// <param name="Length">Length of the electrodes and of the field along the flow, m.</param>
/// <param name="Conductivity">Conductivity of the liquid, S/m.</param>
/// <param name="FluxDensity">Flux density along the height, T, the mean over where the current crosses (see <see cref="ElectrodeSpread.MeanOf"/>). The current's own field is left out: that of the
/// sheet itself is of opposite sense before and behind its middle and takes nothing from the mean.</param>
/// <param name="BypassResistance">Resistance of ways beside the liquid, such as channel walls, Ω; infinite for none.</param>
/// <param name="Spreads">Whether the current spreads into the liquid before and behind the electrodes; otherwise it crosses straight.</param>
/// <remarks>The liquid moves as one piece; currents that motion stirs where the field begins and ends are left out, which is fair while μ₀σ·speed·length is small.</remarks>
/// <source key="Barnes1953"/>
public sealed record ConductionPump(
    double Width, double Height, double Length, double Conductivity, double FluxDensity, double BypassResistance = double.PositiveInfinity, bool Spreads = false)
{
    /// <summary>Resistance of the liquid between the electrodes, Ω.</summary>
    public double Resistance =>
        1 / (Guard.Positive(Conductivity) * Guard.Positive(Height) * (Spreads ? new ElectrodeSpread(Length, Width).Conductance : Guard.Positive(Length) / Guard.Positive(Width)));

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
