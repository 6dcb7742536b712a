namespace Fieldwright.Series.Rings;

/// <summary>The way of a body that was let go.</summary>
/// <param name="Times">Times, s, from zero.</param>
/// <param name="Lifts">Lift at each, m.</param>
/// <param name="Speeds">Speed at each, m/s, upwards.</param>
/// <param name="Lift">Lift at the end with its error in time, m.</param>
/// <param name="Speed">Speed at the end with its error in time, m/s.</param>
public sealed record RingTrack(IReadOnlyList<double> Times, IReadOnlyList<double> Lifts, IReadOnlyList<double> Speeds, Estimate<double> Lift, Estimate<double> Speed);

/// <summary>A body that was thrown, at the moment it left or was given up. All errors are those of the steps in time.</summary>
/// <param name="Left">Whether it passed the mouth.</param>
/// <param name="Time">Time, s.</param>
/// <param name="Speed">Speed upwards, m/s.</param>
/// <param name="Top">Highest lift reached, m.</param>
/// <param name="BodyHeat">Heat made in the body, J.</param>
/// <param name="CircuitHeat">Heat made in the resistance of each circuit, J.</param>
/// <param name="CapacitorVoltages">Voltage of each circuit's capacitor, V; zero where there is none.</param>
/// <param name="FieldEnergy">Energy of the field, J.</param>
/// <param name="Force">Force of the field on the body then, N.</param>
public sealed record RingShot(bool Left, Estimate<double> Time, Estimate<double> Speed, Estimate<double> Top, Estimate<double> BodyHeat,
    IReadOnlyList<Estimate<double>> CircuitHeat, IReadOnlyList<Estimate<double>> CapacitorVoltages, Estimate<double> FieldEnergy, double Force);
