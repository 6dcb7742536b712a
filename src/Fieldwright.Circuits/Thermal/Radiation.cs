using Fieldwright.Circuits.Elements;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Thermal;

/// <summary>Radiation of a small grey body to surroundings that close it in: q = ε σ A (T₁⁴ − T₂⁴). Temperatures are absolute, so the reference node stands at absolute zero.</summary>
/// <param name="name">Its name.</param>
/// <param name="from">Node of the surface.</param>
/// <param name="to">Node of the surroundings.</param>
/// <param name="area">Area that sees the surroundings, m²; positive.</param>
/// <param name="emissivity">ε, above 0, at most 1.</param>
/// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
/// <source key="Incropera2007" at="eq. 1.7"/>
public sealed class Radiation(string name, string from, string to, double area, double emissivity) : FlowFromTemperatures(name, from, to)
{
    private readonly double factor = PhysicalConstants.StefanBoltzmann * Guard.Positive(area) * Guard.InRange(Guard.Positive(emissivity), 0, 1);

    /// <inheritdoc/>
    public override double Flow(double first, double second, out double slopeFirst, out double slopeSecond)
    {
        slopeFirst = 4 * factor * first * first * first;
        slopeSecond = -4 * factor * second * second * second;
        return factor * (first * first * first * first - second * second * second * second);
    }
}
