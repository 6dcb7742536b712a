using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>One layer of a ball, from the layer below it (or the centre) out to its own radius.</summary>
/// <param name="OuterRadius">Outer radius of the layer, m; larger than that of the layer below.</param>
/// <param name="Conductivity">Conductivity, S/m; zero for air or an insulator, positive infinity for a perfect conductor that keeps the field out.</param>
/// <param name="RelativePermeability">Permeability over that of empty space, linear; positive.</param>
public readonly record struct SphereLayer(double OuterRadius, double Conductivity, double RelativePermeability = 1);

/// <summary>A ball made of concentric layers, each conducting, permeable, both or neither. Immutable; threads may share it.</summary>
public sealed class SphereBody
{
    /// <summary>Describes a ball from the inside out.</summary>
    /// <param name="layers">Layers from the centre outwards, at least one; the first begins at the centre. Outside the last there is empty space.</param>
    /// <exception cref="ArgumentException">There is no layer, a radius does not grow, or a property is out of range.</exception>
    public SphereBody(params IReadOnlyList<SphereLayer> layers)
    {
        ArgumentNullException.ThrowIfNull(layers);
        if (layers.Count == 0)
            throw new ArgumentException("A ball has at least one layer.", nameof(layers));
        double below = 0;
        foreach (var layer in layers)
        {
            if (!(Guard.Positive(layer.OuterRadius) > below))
                throw new ArgumentException(FormattableString.Invariant($"Layers go outwards: radius {layer.OuterRadius} m does not lie above {below} m."), nameof(layers));
            if (!double.IsPositiveInfinity(layer.Conductivity))
                Guard.NotNegative(layer.Conductivity);
            Guard.Positive(layer.RelativePermeability);
            below = layer.OuterRadius;
        }
        Layers = [.. layers];
        Radius = below;
    }

    /// <summary>Layers from the centre outwards.</summary>
    public IReadOnlyList<SphereLayer> Layers { get; }

    /// <summary>Outer radius of the ball, m.</summary>
    public double Radius { get; }

    /// <summary>A solid ball of one metal.</summary>
    /// <param name="radius">Radius, m.</param>
    /// <param name="conductivity">Conductivity, S/m.</param>
    /// <param name="relativePermeability">Permeability over that of empty space.</param>
    /// <returns>The ball.</returns>
    /// <exception cref="ArgumentException">An argument is out of range.</exception>
    public static SphereBody Solid(double radius, double conductivity, double relativePermeability = 1) =>
        new(new SphereLayer(radius, conductivity, relativePermeability));

    /// <summary>A hollow ball with one wall and air inside.</summary>
    /// <param name="outerRadius">Outer radius, m.</param>
    /// <param name="wall">Thickness of the wall, m; less than the radius.</param>
    /// <param name="conductivity">Conductivity of the wall, S/m.</param>
    /// <param name="relativePermeability">Permeability of the wall over that of empty space.</param>
    /// <returns>The ball.</returns>
    /// <exception cref="ArgumentException">An argument is out of range.</exception>
    public static SphereBody Hollow(double outerRadius, double wall, double conductivity, double relativePermeability = 1) =>
        new(new SphereLayer(Guard.Positive(outerRadius) - Guard.Positive(wall), 0), new SphereLayer(outerRadius, conductivity, relativePermeability));

    /// <summary>A ball that keeps the field out entirely: the limit of a skin depth small against the radius.</summary>
    /// <param name="radius">Radius, m.</param>
    /// <returns>The ball.</returns>
    /// <exception cref="ArgumentException">The radius is out of range.</exception>
    public static SphereBody PerfectConductor(double radius) => new(new SphereLayer(radius, double.PositiveInfinity));
}
