using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Windings;
using Fieldwright.Circuits.Thermal;
using Fieldwright.Matter.Windings;

namespace Fieldwright.Bench.Duty;

/// <summary>A free surface as still air and the room see it.</summary>
/// <param name="Area">Area, m².</param>
/// <param name="Facing">Which way it faces.</param>
/// <param name="Length">Its length in the sense of the facing, m.</param>
internal readonly record struct Surface(double Area, Facing Facing, double Length);

/// <summary>Which surfaces of a winding or a part are free, how well heat reaches them, and how they radiate.</summary>
internal static class HeatBodies
{
    /// <summary>Thermal conductivity of former and slot paper, W/(m K) (from memory, 0.15 to 0.3).</summary>
    public const double Former = 0.2;

    // What lies between the wires of a dry winding, enamel with some air, W/(m K) (from memory, 0.05 of loose to 0.2 of varnished).
    private const double BetweenWires = 0.1;

    // Taped or varnished winding (from memory, 0.85 to 0.95).
    private const double WindingEmissivity = 0.9;

    /// <summary>Emissivity of a winding's outside.</summary>
    public static double Emissivity(Winding winding) => winding is null ? 0 : WindingEmissivity;

    /// <summary>Emissivity of a part: as stated, or bare metal's (from memory): 0.1 for good conductors, 0.3 for steel; 0.8 for varnished sheets, 0.9 for the rest.</summary>
    public static double Emissivity(Part part) => part.Emissivity ?? (part.Laminated ? 0.8 : part.Material.Curve is not null ? 0.3 : part.Material.Conductivity > 1e6 ? 0.1 : 0.9);

    /// <summary>Free surfaces of a winding: its outside and its upper end. The inside sits on a former, the lower end on the bench.</summary>
    public static IReadOnlyList<Surface> Of(Winding winding, Apparatus apparatus)
    {
        switch (winding.Space)
        {
            case RoundSpace r:
                double height = r.ToZ - r.FromZ;
                return [new(2 * Math.PI * r.OuterRadius * height, Facing.Upright, height), Level(Math.PI * (r.OuterRadius * r.OuterRadius - r.InnerRadius * r.InnerRadius), 2 * Math.PI * (r.InnerRadius + r.OuterRadius), Facing.Up)];
            case FrameSpace f:
                double tall = f.ToZ - f.FromZ, way = 2 * (f.Length + f.Width) - 8 * f.CornerRadius + 2 * Math.PI * (f.CornerRadius + f.Build), ring = Warming.MeanTurn(winding, apparatus) * f.Build;
                return [new(way * tall, Facing.Upright, tall), Level(ring, 2 * Warming.MeanTurn(winding, apparatus), Facing.Up)];
            case LimbSpace l:
                return [new(Outside(l, apparatus) * l.Length, Facing.Upright, l.Length)];
            case TwoSides s:
                // Half a turn a side: the ends are cooled like the rest.
                double half = 0.5 * Warming.MeanTurn(winding, apparatus);
                return [.. new[] { s.Out, s.Into }.SelectMany(b => new[]
                {
                    new Surface(2 * b.Height * half, Facing.Upright, b.Height), Level(b.Width * half, 2 * (b.Width + half), Facing.Up),
                })];
            case PhaseSpace { Of: { Row: TubeRow tube } of } row:
                double outside = tube.InnerRadius + tube.Build;
                return [new(of.CoilsOf(row.Phase) * 2 * Math.PI * outside * tube.CoilLength, Facing.Upright, tube.CoilLength)];
            case PhaseSpace { Of: var of } row:
                // One broad face of each coil side is free; the rest lies against its neighbours.
                double along = 0.5 * Warming.MeanTurn(winding, apparatus), wide = of.CoilSide.Along;
                return [Level(2 * of.CoilsOf(row.Phase) * wide * along, 4 * of.CoilsOf(row.Phase) * (wide + along), Facing.Up)];
            default:
                throw new RouteFailedException($"The space of winding '{winding.Name}' is not known.");
        }
    }

    /// <summary>Thermal conductivity of a winding across its wires, W/(m K): Hashin and Shtrikman's lower bound for wires in a filling.</summary>
    /// <source key="HashinShtrikman1962"/>
    public static double AcrossWires(Winding winding, Apparatus apparatus)
    {
        double fill = Math.Min(0.85, WindingMeasures.Analysis(winding, apparatus, out _, out _).Fill), metal = winding.Wire.Metal.ThermalConductivity ?? 100;
        return BetweenWires * ((1 + fill) * metal + (1 - fill) * BetweenWires) / ((1 - fill) * metal + (1 + fill) * BetweenWires);
    }

    /// <summary>Resistance from the mean of a winding to its free surface, K/W: even heat in slabs cooled on one side, 1/(3k Σ A/b), each free face with the depth of packing behind it.</summary>
    public static double Inner(Winding winding, Apparatus apparatus)
    {
        var faces = Of(winding, apparatus);
        // Depth behind upright faces and behind level ones.
        var (upright, level) = winding.Space switch
        {
            RoundSpace r => (r.OuterRadius - r.InnerRadius, r.ToZ - r.FromZ),
            FrameSpace f => (f.Build, f.ToZ - f.FromZ),
            LimbSpace l => (l.Build, l.Build),
            TwoSides s => (0.25 * (s.Out.Width + s.Into.Width), 0.5 * (s.Out.Height + s.Into.Height)),
            PhaseSpace p => (p.Of.CoilSide.Across, p.Of.CoilSide.Across),
            _ => throw new RouteFailedException($"The space of winding '{winding.Name}' is not known."),
        };
        return 1 / (3 * AcrossWires(winding, apparatus) * faces.Sum(f => f.Area / (f.Facing == Facing.Upright ? upright : level)));
    }

    /// <summary>Resistance from the mean of a coil to the limb it is wound on, K/W: through the packing, as of a slab cooled on one side (on both it is up to half of that, which its doubt covers), and the former.</summary>
    public static double ToLimb(Winding winding, LimbSpace limb, Apparatus apparatus) =>
        (limb.Build / (3 * AcrossWires(winding, apparatus)) + Math.Max(limb.Clearance, 1e-4) / Former) / (Inside(limb, apparatus) * limb.Length);

    /// <summary>Way round the limb inside a coil, m.</summary>
    public static double Inside(LimbSpace limb, Apparatus apparatus)
    {
        var core = (CoreShape)apparatus.Part(limb.Core)!.Shape;
        return 2 * (core.OuterRadius - core.InnerRadius + apparatus.Depth!.Value);
    }

    /// <summary>Way round a coil on a limb on its outside, m.</summary>
    public static double Outside(LimbSpace limb, Apparatus apparatus) => Inside(limb, apparatus) + 2 * Math.PI * (limb.Clearance + limb.Build);

    /// <summary>Free surfaces of a part: all of it that no coil covers.</summary>
    /// <exception cref="RouteFailedException">Its shape has no surfaces that are known.</exception>
    public static IReadOnlyList<Surface> Of(Part part, Apparatus apparatus)
    {
        double depth = apparatus.Depth ?? 0;
        return part.Shape switch
        {
            DiscShape d => [.. BothFaces(Math.PI * d.Radius * d.Radius, 2 * Math.PI * d.Radius), new(2 * Math.PI * d.Radius * d.Thickness, Facing.Upright, d.Thickness)],
            RingShape r =>
            [
                .. BothFaces(Math.PI * (r.OuterRadius * r.OuterRadius - r.InnerRadius * r.InnerRadius), 2 * Math.PI * (r.OuterRadius + r.InnerRadius)),
                new(2 * Math.PI * (r.OuterRadius + r.InnerRadius) * r.Height, Facing.Upright, r.Height),
            ],
            BallShape b => [new(4 * Math.PI * b.Radius * b.Radius, Facing.Ball, 2 * b.Radius)],
            BlockShape b => [.. BothFaces(b.Length * b.Width, 2 * (b.Length + b.Width)), new(2 * (b.Length + b.Width) * b.Thickness, Facing.Upright, b.Thickness)],
            CylinderShape c => [new(2 * Math.PI * c.Radius * (part.Across ?? depth), Facing.LevelCylinder, 2 * c.Radius), new(2 * Math.PI * (c.Radius * c.Radius - c.Bore * c.Bore), Facing.Upright, 2 * c.Radius)],
            RectangleShape p => [.. BothFaces(p.Width * depth, 2 * (p.Width + depth)), new(2 * (p.Width + depth) * p.Height, Facing.Upright, p.Height)],
            CoreShape c => [new(2 * Math.PI * (c.OuterRadius * c.OuterRadius - c.InnerRadius * c.InnerRadius) + 2 * Math.PI * (c.OuterRadius + c.InnerRadius) * depth - UnderCoils(part, apparatus), Facing.Upright, 2 * c.OuterRadius)],
            _ => throw new RouteFailedException($"The surface of '{part.Name}', given by its outline, is not known."),
        };
    }

    private static double UnderCoils(Part core, Apparatus apparatus) =>
        apparatus.Windings.Sum(w => w.Space is LimbSpace l && Apparatus.Same(l.Core, core.Name) ? l.Length * 2 * (((CoreShape)core.Shape).OuterRadius - ((CoreShape)core.Shape).InnerRadius + apparatus.Depth!.Value) : 0);

    /// <summary>Heat to warm a part by a kelvin, J/K.</summary>
    public static double Capacity(Part part, Apparatus apparatus)
    {
        if (!Floats.MassIsKnown(part) || part.Material.SpecificHeat is not { } heat)
            throw new RouteFailedException($"Mass or specific heat of '{part.Name}' is not known.");
        return Floats.Mass(part, apparatus.Depth) * heat;
    }

    /// <summary>Heat to warm the metal of a winding by a kelvin, J/K; its insulation takes some more, which is left out.</summary>
    public static double Capacity(Winding winding, Apparatus apparatus)
    {
        var metal = winding.Wire.Metal;
        if (metal.Density is not { } density || metal.SpecificHeat is not { } heat)
            throw new RouteFailedException($"Density or specific heat of {metal.Name} is not known.");
        return Warming.WireLength(winding, apparatus) * winding.Wire.Twist * winding.Wire.Section * density * heat;
    }

    private static Surface[] BothFaces(double area, double perimeter) => [Level(area, perimeter, Facing.Up), Level(area, perimeter, Facing.Down)];

    private static Surface Level(double area, double perimeter, Facing facing) => new(area, facing, area / perimeter);
}
