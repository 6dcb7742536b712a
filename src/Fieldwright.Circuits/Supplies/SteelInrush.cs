using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Supplies;

/// <summary>Switching a coil on saturating steel on to an alternating line as its voltage passes zero: the flux then swings to nearly twice its settled peak, and the current with it.</summary>
/// <remarks>The flux linkage follows dΨ/dt = V̂ sin ωt − R i(Ψ); the current follows the linkage without loss. Other windings are open.</remarks>
/// <source key="Fitzgerald2003"/>
public static class SteelInrush
{
    private const int StepsACycle = 2000;

    /// <summary>Highest current of the first cycle, A.</summary>
    /// <param name="current">Current at a flux linkage, A at Wb; odd and rising.</param>
    /// <param name="peakVoltage">V̂, V; positive.</param>
    /// <param name="frequency">Hz; positive.</param>
    /// <param name="resistance">R, Ω; not negative.</param>
    /// <param name="kept">Flux linkage that the steel has kept, Wb, in the sense of the first swing.</param>
    public static double FirstPeak(Func<double, double> current, double peakVoltage, double frequency, double resistance, double kept = 0) =>
        Course(current, peakVoltage, frequency, resistance, 1, kept).Max(p => Math.Abs(p.Current));

    /// <summary>The current cycle by cycle: times, s, and currents, A, two thousand a cycle.</summary>
    /// <param name="current">Current at a flux linkage, A at Wb; odd and rising.</param>
    /// <param name="peakVoltage">V̂, V; positive.</param>
    /// <param name="frequency">Hz; positive.</param>
    /// <param name="resistance">R, Ω; not negative.</param>
    /// <param name="cycles">How many.</param>
    /// <param name="kept">Flux linkage that the steel has kept, Wb, in the sense of the first swing.</param>
    public static IEnumerable<(double Time, double Current)> Course(Func<double, double> current, double peakVoltage, double frequency, double resistance, int cycles, double kept = 0)
    {
        ArgumentNullException.ThrowIfNull(current);
        Guard.Positive(peakVoltage);
        Guard.NotNegative(resistance);
        double omega = 2 * Math.PI * Guard.Positive(frequency), step = 1 / (frequency * StepsACycle);
        return Steps();

        IEnumerable<(double Time, double Current)> Steps()
        {
            double linkage = kept;
            double Rate(double time, double psi) => peakVoltage * Math.Sin(omega * time) - resistance * current(psi);
            for (int i = 0; i < cycles * StepsACycle; i++)
            {
                double t = i * step;
                // The classical rule of four slopes.
                double a = Rate(t, linkage), b = Rate(t + 0.5 * step, linkage + 0.5 * step * a), c = Rate(t + 0.5 * step, linkage + 0.5 * step * b), d = Rate(t + step, linkage + step * c);
                linkage += step / 6 * (a + 2 * b + 2 * c + d);
                yield return (t + step, current(linkage));
            }
        }
    }
}
