using Fieldwright.Circuits.Elements;

namespace Fieldwright.Circuits.Loads;

/// <summary>A filament lamp between two nodes.</summary>
/// <remarks>Its law holds between rms values once the filament has settled; it serves for steady and alternating work. A transient takes it as if the filament followed at once, which it does not within a cycle.</remarks>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="lamp">The lamp.</param>
public sealed class LampFilament(string name, string from, string to, FilamentLamp lamp) : FlowFromAmplitude(name, from, to)
{
    private static readonly double RootTwo = Math.Sqrt(2);

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope) => Math.CopySign(lamp.CurrentAtVoltage(Math.Abs(drop), out slope), drop);

    /// <inheritdoc/>
    public override double PeakFlow(double peakDrop, out double slope) => RootTwo * lamp.CurrentAtVoltage(peakDrop / RootTwo, out slope);
}
