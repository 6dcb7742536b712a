using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Motion;

/// <summary>What a floating part weighs, how low it can go, and over what length its lift changes.</summary>
public static class Floats
{
    /// <summary>Lowest place of the underside, m, the length over which the lift changes much, m, and whether something lies under it; if nothing does, the lowest place is only as far down as
    /// is searched.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="part">The part that floats.</param>
    public static (double Lowest, double Span, bool Stands) Of(Apparatus apparatus, Part part)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(part);
        double radius = OuterRadius(part.Shape);
        var coils = apparatus.Windings.Select(w => w.Space).OfType<RoundSpace>().ToList();
        // It rests on whatever reaches under it; coils wholly outside its rim do not stop it.
        var under = coils.Where(c => c.InnerRadius < radius && c.ToZ <= part.Place.Z + 1e-9).Select(c => c.ToZ)
            .Concat(apparatus.Parts.Where(p => p != part && p.Place.Z < part.Place.Z).Select(p => p.Top))
            .ToList();
        double span = coils.Count > 0 ? 0.5 * coils.Average(c => 0.5 * (c.InnerRadius + c.OuterRadius)) : radius;
        return under.Count > 0 ? (under.Max(), span, true) : (part.Place.Z - 10 * span, span, false);
    }

    /// <summary>Mass, kg: as stated, or volume times density.</summary>
    /// <exception cref="ArgumentException">Neither a mass nor a density is known.</exception>
    public static double Mass(Part part, double? depth = null)
    {
        ArgumentNullException.ThrowIfNull(part);
        if (part.Mass is { } stated)
            return stated;
        double density = part.Material.Density ?? throw new ArgumentException($"The density of {part.Material.Name} is not known; state the mass of '{part.Name}'.", nameof(part));
        return density * part.StackingFactor * Volume(part.Shape, part.Across ?? depth);
    }

    /// <summary>Whether the mass is stated or follows from volume and density.</summary>
    public static bool MassIsKnown(Part part)
    {
        ArgumentNullException.ThrowIfNull(part);
        return part.Mass is not null || (part.Material.Density is not null && part.Shape is not (OutlineShape or IronPlaneShape or ProbeShape));
    }

    /// <summary>Weight at standard gravity, N.</summary>
    public static double Weight(Part part, double? depth = null) => Mass(part, depth) * PhysicalConstants.StandardGravity;

    /// <summary>Volume, m³; a long shape needs the depth.</summary>
    public static double Volume(Shape shape, double? depth = null) => shape switch
    {
        DiscShape d => Math.PI * d.Radius * d.Radius * d.Thickness,
        RingShape r => Math.PI * (r.OuterRadius * r.OuterRadius - r.InnerRadius * r.InnerRadius) * r.Height,
        BallShape { Wall: null } b => 4.0 / 3 * Math.PI * Math.Pow(b.Radius, 3),
        BallShape b => 4.0 / 3 * Math.PI * (Math.Pow(b.Radius, 3) - Math.Pow(b.Radius - b.Wall!.Value, 3)),
        RectangleShape r => r.Width * r.Height * Needed(depth),
        BlockShape b => b.Length * b.Width * b.Thickness,
        PumpChannelShape c => c.Length * c.Width * c.Thickness,
        FoilLoopShape f => f.Length * f.Width * f.Thickness,
        CylinderShape c => Math.PI * (c.Radius * c.Radius - c.Bore * c.Bore) * Needed(depth),
        CoreShape c => CoreArea(c) * Needed(depth),
        OutlineShape o => throw new ArgumentException("State the mass of a part given by its outline.", nameof(shape)),
        _ => throw new ArgumentException($"The volume of a {shape?.Word} is not known.", nameof(shape)),
    };

    private static double CoreArea(CoreShape core) =>
        Math.PI * (core.OuterRadius * core.OuterRadius - core.InnerRadius * core.InnerRadius) - core.Gap * (core.OuterRadius - core.InnerRadius);

    private static double Needed(double? depth) => depth ?? throw new ArgumentException("A long part needs the depth.", nameof(depth));

    private static double OuterRadius(Shape shape) => shape switch
    {
        DiscShape d => d.Radius,
        RingShape r => r.OuterRadius,
        BallShape b => b.Radius,
        OutlineShape o => o.Corners.Max(c => c.X),
        _ => double.PositiveInfinity,
    };
}
