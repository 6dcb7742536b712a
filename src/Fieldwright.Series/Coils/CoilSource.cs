using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Coils;

/// <summary>A round coil with its current.</summary>
/// <param name="Coil">The coil, in any place and attitude.</param>
/// <param name="PeakCurrent">Peak phasor of the current, exp(+jωt), A.</param>
public readonly record struct CoilSource(ThickCoil Coil, Complex PeakCurrent)
{
    /// <summary>A copy of a list that holds at least one coil and finite currents only.</summary>
    internal static CoilSource[] Checked(IReadOnlyList<CoilSource> sources)
    {
        ArgumentNullException.ThrowIfNull(sources);
        if (sources.Count == 0)
            throw new ArgumentException("At least one coil is needed.", nameof(sources));
        foreach (var source in sources)
        {
            ArgumentNullException.ThrowIfNull(source.Coil, nameof(sources));
            Guard.Finite(source.PeakCurrent.Real, nameof(sources));
            Guard.Finite(source.PeakCurrent.Imaginary, nameof(sources));
        }
        return [.. sources];
    }
}
