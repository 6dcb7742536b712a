using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Loads;

/// <summary>A filament lamp by the usual power laws of rerating: current as the 0.55th power of the voltage, light as the 3.4th.</summary>
/// <remarks>
/// The laws serve from about 80 % to 120 % of rated voltage (from memory). Below, the current law still gives a fair resistance down to the cold
/// filament, which is taken as one thirteenth of the hot one (from memory, 12 to 15), while the light falls faster than the law says.
/// Values are rms; a filament does not follow the cycle at mains frequency.
/// </remarks>
/// <source key="LampRerating"/>
public sealed class FilamentLamp
{
    private const double CurrentExponent = 0.55, LightExponent = 3.4, HotOverCold = 13;
    private readonly double ratedVoltage, ratedCurrent;

    /// <summary>A lamp by its rating.</summary>
    /// <param name="ratedVoltage">Rated voltage, V rms; positive.</param>
    /// <param name="ratedPower">Rated power, W; positive.</param>
    /// <exception cref="ArgumentOutOfRangeException">A rating is not positive.</exception>
    public FilamentLamp(double ratedVoltage, double ratedPower)
    {
        this.ratedVoltage = Guard.Positive(ratedVoltage);
        ratedCurrent = Guard.Positive(ratedPower) / ratedVoltage;
    }

    /// <summary>Least share of rated voltage for which the law of light is trusted.</summary>
    public static double TrustedFrom => 0.8;

    /// <summary>Resistance at rated voltage, Ω.</summary>
    public double HotResistance => ratedVoltage / ratedCurrent;

    /// <summary>Resistance of the cold filament, Ω.</summary>
    public double ColdResistance => HotResistance / HotOverCold;

    /// <summary>Resistance at an rms current, Ω: never below that of the cold filament.</summary>
    /// <param name="current">Current, A rms; not negative.</param>
    public double ResistanceAtCurrent(double current) =>
        Math.Max(ColdResistance, HotResistance * Math.Pow(Guard.NotNegative(current) / ratedCurrent, 1 / CurrentExponent - 1));

    /// <summary>Current at an rms voltage, A rms.</summary>
    /// <param name="voltage">Voltage, V rms; not negative.</param>
    public double CurrentAtVoltage(double voltage) => CurrentAtVoltage(voltage, out _);

    /// <summary>Current at an rms voltage, A rms, with its slope against the voltage.</summary>
    /// <param name="voltage">Voltage, V rms; not negative.</param>
    /// <param name="slope">Slope, S; positive.</param>
    public double CurrentAtVoltage(double voltage, out double slope)
    {
        double cold = Guard.NotNegative(voltage) / ColdResistance, warm = ratedCurrent * Math.Pow(voltage / ratedVoltage, CurrentExponent);
        slope = cold <= warm ? 1 / ColdResistance : CurrentExponent * warm / voltage;
        return Math.Min(cold, warm);
    }

    /// <summary>Light over light at rated voltage.</summary>
    /// <param name="voltage">Voltage, V rms; not negative.</param>
    public double LightAt(double voltage) => Math.Pow(Guard.NotNegative(voltage) / ratedVoltage, LightExponent);
}
