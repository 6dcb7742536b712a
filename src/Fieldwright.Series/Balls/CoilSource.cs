using System.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>A round coil with its current.</summary>
/// <param name="Coil">The coil, in any place and attitude.</param>
/// <param name="PeakCurrent">Peak phasor of the current, exp(+jωt), A.</param>
public readonly record struct CoilSource(ThickCoil Coil, Complex PeakCurrent);
