using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>Field of coils and disc together at any point. Peak phasors, exp(+jωt). Threads may share it.</summary>
/// <remarks>The currents of the disc stand at points of its middle plane, by Biot and Savart's law. Within about their spacing (a thirtieth of the width) or the thickness of the disc its own field is smoothed; beyond that it is
/// good to a hundredth: for drawings, not for probes.</remarks>
/// <source key="Smythe1950" at="Biot and Savart's law"/>
public sealed class DiscField
{
    private readonly IReadOnlyList<CoilSource> sources;
    private readonly Vector[] places;
    private readonly ComplexVector[] elements;
    private readonly double softness;

    /// <summary>Keeps the currents of a disc.</summary>
    /// <param name="sources">The coils.</param>
    /// <param name="places">Points of the disc, m.</param>
    /// <param name="elements">Current times length at each, A·m.</param>
    /// <param name="softness">Distance within which the field is smoothed, m.</param>
    internal DiscField(IReadOnlyList<CoilSource> sources, Vector[] places, ComplexVector[] elements, double softness) =>
        (this.sources, this.places, this.elements, this.softness) = (sources, places, elements, softness);

    /// <summary>Flux density at a point.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>B as peak phasors in the axes of space, T.</returns>
    public ComplexVector FluxDensity(Vector point)
    {
        var total = OfTheDisc(point);
        foreach (var source in sources)
            total += source.Coil.FluxDensity(point, source.PeakCurrent);
        return total;
    }

    /// <summary>What the currents of the disc add at a point.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>B as peak phasors in the axes of space, T.</returns>
    public ComplexVector OfTheDisc(Vector point)
    {
        Complex x = 0, y = 0, z = 0;
        for (var i = 0; i < places.Length; i++)
        {
            var way = point - places[i];
            var square = Vector.Dot(way, way) + softness * softness;
            var factor = 1 / (square * Math.Sqrt(square));
            var element = elements[i];
            x += factor * (element.Y * way.Z - element.Z * way.Y);
            y += factor * (element.Z * way.X - element.X * way.Z);
            z += factor * (element.X * way.Y - element.Y * way.X);
        }
        const double biot = PhysicalConstants.MagneticConstant / (4 * Math.PI);
        return new ComplexVector(biot * x, biot * y, biot * z);
    }
}
