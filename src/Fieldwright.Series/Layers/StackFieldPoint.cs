using System.Numerics;

namespace Fieldwright.Series.Layers;

/// <summary>Field at one point of a stack, peak phasors, exp(+jωt).</summary>
/// <param name="Potential">Vector potential across the travel, Wb/m: A_z (flat, rotating) or A_φ (tubular).</param>
/// <param name="Along">Flux density along the travel, T: B_x, B_z or B_θ.</param>
/// <param name="Outwards">Flux density upwards or outwards, T: B_y or B_r.</param>
public readonly record struct StackFieldPoint(Complex Potential, Complex Along, Complex Outwards);
