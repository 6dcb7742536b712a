using Fieldwright.Bench.Model;
using Fieldwright.Series.Layers;

namespace Fieldwright.Bench.Routes.Travel;

/// <summary>One side of a winding as the layered series sees it: a stretch along the travel in a band of heights or radii.</summary>
/// <param name="Winding">Place of its winding in the apparatus.</param>
/// <param name="Position">Middle along the travel, m (rad round a centre).</param>
/// <param name="Width">Extent along the travel, m (rad).</param>
/// <param name="From">Lower or inner end of its band, m.</param>
/// <param name="To">Upper or outer end, m.</param>
/// <param name="Turns">Turns, positive out of the page (round: along +φ).</param>
internal readonly record struct StackSide(int Winding, double Position, double Width, double From, double To, double Turns);

/// <summary>A part as a layer.</summary>
/// <param name="Part">The part.</param>
/// <param name="From">Lower or inner end, m.</param>
/// <param name="To">Upper or outer end, m.</param>
/// <param name="Share">Share of the row's length that it covers; 1 when it covers all of it.</param>
internal readonly record struct StackPart(Part Part, double From, double To, double Share);

/// <summary>An apparatus laid out in layers along a direction of travel: sheets and tracks, tubes and rows of coils, a rotor in its stator.</summary>
internal sealed class LayerStack
{
    private LayerStack(StackShape shape, IReadOnlyList<StackPart> parts, IReadOnlyList<StackSide> sides, IReadOnlyList<Part> probes, double from, double to, double pitch)
    {
        (Shape, Parts, Sides, Probes, From, To, PolePitch, Step) = (shape, parts, sides, probes, from, to, pitch, sides.Min(s => s.Width));
        IsEndless = shape == StackShape.Rotating || parts.Any(p => p.Share < 1);
    }

    /// <summary>The teeth between the slots; null for coils in air or on a smooth core.</summary>
    public Teeth? Teeth { get; private init; }

    /// <summary>How the layers lie.</summary>
    public StackShape Shape { get; }

    /// <summary>Parts, from the bottom up or from the axis outwards.</summary>
    public IReadOnlyList<StackPart> Parts { get; }

    /// <summary>Winding sides.</summary>
    public IReadOnlyList<StackSide> Sides { get; }

    /// <summary>Small cylinders that show which way the field turns and are too small to change it.</summary>
    public IReadOnlyList<Part> Probes { get; }

    /// <summary>Where the row of windings begins along the travel, m.</summary>
    public double From { get; }

    /// <summary>Where it ends, m.</summary>
    public double To { get; }

    /// <summary>Pole pitch, m (rad).</summary>
    public double PolePitch { get; }

    /// <summary>Least width of a side, m (rad): what the spectrum must resolve.</summary>
    public double Step { get; }

    /// <summary>Whether the winding is taken to run on without ends: round a centre, or because a part is shorter than its row.</summary>
    public bool IsEndless { get; }

    /// <summary>The layers of an apparatus, or null when it is not laid out in layers.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="lengthened">Whether the gap before teeth is lengthened by Carter's factor.</param>
    public static LayerStack? Of(Apparatus apparatus, bool lengthened = true)
    {
        if (apparatus.Windings.Count == 0 || apparatus.Parts.Any(p => p.Magnetised is not null || (p.Material.Curve is not null && !IsProbe(p))))
            return null;
        StackShape shape;
        if (apparatus.Layout == Layout.Round && apparatus.Polyphases().Count > 0)
            shape = StackShape.Tubular;
        else if (apparatus.Layout == Layout.Long)
            shape = apparatus.Polyphases().Any(p => p.Row is RingRow) ? StackShape.Rotating : StackShape.Flat;
        else
            return null;
        var teeth = shape == StackShape.Flat ? Teeth.Of(apparatus) : null;
        if (SidesOf(apparatus, shape) is not { Count: > 0 } sides)
            return null;
        if (teeth is not null)
        {
            if (apparatus.Polyphases().Count > 1 || apparatus.Windings.Any(w => w.Space is not PhaseSpace))
                return null;
            sides = [.. sides.Select(s => s with { From = teeth.SmoothFace(lengthened), To = teeth.SmoothFace(lengthened) })];
        }

        double from = sides.Min(s => s.Position - 0.5 * s.Width), to = sides.Max(s => s.Position + 0.5 * s.Width);
        var parts = new List<StackPart>();
        foreach (var part in apparatus.Parts.Where(p => !IsProbe(p) || (shape == StackShape.Rotating && IsConcentric(apparatus, p))))
        {
            if (PartOf(apparatus, part, shape, from, to) is not { } layer)
                return null;
            if (teeth is not null && ReferenceEquals(teeth.Core, part))
                layer = teeth.OpensUp ? layer with { To = teeth.SmoothFace(lengthened) } : layer with { From = teeth.SmoothFace(lengthened) };
            parts.Add(layer);
        }

        var probes = apparatus.Parts.Where(p => parts.All(q => !ReferenceEquals(q.Part, p))).ToList();
        var bands = sides.Select(s => (s.From, s.To)).Distinct().Concat(parts.Select(p => (p.From, p.To))).OrderBy(b => b.From).ToList();
        for (int i = 1; i < bands.Count; i++)
            if (bands[i].From < bands[i - 1].To - 1e-9)
                return null;
        double pitch = apparatus.Polyphases() is [var first, ..] ? first.PolePitch : 0.5 * (to - from);
        var stack = new LayerStack(shape, [.. parts.OrderBy(p => p.From)], sides, probes, from, to, pitch) { Teeth = teeth };
        // A winding without ends needs one period that all rows share.
        bool fits = !stack.IsEndless || shape == StackShape.Rotating || (apparatus.Polyphases().Count > 0 && apparatus.Windings.All(w => w.Space is PhaseSpace)
            && apparatus.Polyphases().All(p => p.ReversedCoils.Count == 0 && Math.Abs(p.PolePitch - pitch) < 1e-12));
        return fits ? stack : null;
    }

    /// <summary>The sides of one pole pair, for a winding taken to run on; the sides as they are round a centre.</summary>
    public IReadOnlyList<StackSide> EndlessSides(Apparatus apparatus)
    {
        if (Shape == StackShape.Rotating)
            return Sides;
        var endless = new List<StackSide>();
        foreach (var winding in apparatus.Polyphases())
            for (int slot = 0; slot < 2 * winding.PerPole; slot++)
            {
                var (phase, sign) = winding.Belt(slot);
                int index = apparatus.IndexOf(apparatus.Winding(winding.NameOf(phase))!);
                var own = Sides.Where(s => s.Winding == index).OrderBy(s => s.From).ToList();
                double x = From + 0.5 * own[0].Width + slot * winding.SlotPitch, turns = sign * apparatus.Windings[index].Turns;
                endless.Add(own[0] with { Position = x, Turns = turns });
                if (winding.DoubleLayer)
                    endless.Add(own[^1] with { Position = x + winding.CoilSpan * winding.SlotPitch, Turns = -turns });
            }

        return endless;
    }

    private static bool IsProbe(Part part) => part.Shape is CylinderShape && part.Freedom == Freedom.Turning;

    private static bool IsConcentric(Apparatus apparatus, Part part) =>
        apparatus.Polyphases().Select(p => p.Row).OfType<RingRow>().All(r => double.Hypot(part.Place.X - r.X, part.Place.Y - r.Y) < 1e-9);

    private static StackPart? PartOf(Apparatus apparatus, Part part, StackShape shape, double from, double to)
    {
        const double tolerance = 1e-9;
        return part.Shape switch
        {
            RectangleShape r when shape == StackShape.Flat => Layer(part.Place.Y - 0.5 * r.Height, part.Place.Y + 0.5 * r.Height, part.Place.X - 0.5 * r.Width, part.Place.X + 0.5 * r.Width),
            CylinderShape c when shape == StackShape.Rotating && IsConcentric(apparatus, part) => new StackPart(part, c.Bore, c.Radius, 1),
            CoreShape { Gap: 0 } c when shape == StackShape.Rotating && IsConcentric(apparatus, part) => new StackPart(part, c.InnerRadius, c.OuterRadius, 1),
            DiscShape d when shape == StackShape.Tubular => Layer(0, d.Radius, part.Place.Z, part.Place.Z + d.Thickness),
            RingShape t when shape == StackShape.Tubular => Layer(t.InnerRadius, t.OuterRadius, part.Place.Z, part.Place.Z + t.Height),
            _ => null,
        };

        StackPart? Layer(double low, double high, double begins, double ends)
        {
            if (begins <= from + tolerance && ends >= to - tolerance)
                return new StackPart(part, low, high, 1);
            // Shorter than the row, it must lie within it.
            return begins >= from - tolerance && ends <= to + tolerance ? new StackPart(part, low, high, (ends - begins) / (to - from)) : null;
        }
    }

    private static List<StackSide>? SidesOf(Apparatus apparatus, StackShape shape)
    {
        var sides = new List<StackSide>();
        for (int i = 0; i < apparatus.Windings.Count; i++)
        {
            var winding = apparatus.Windings[i];
            switch (winding.Space)
            {
                case PhaseSpace phase:
                    foreach (var side in phase.Of.Sides.Where(s => s.Phase == phase.Phase))
                    {
                        if (InSlot(i, phase.Of, side, winding.Turns, shape) is not { } placed)
                            return null;
                        sides.Add(placed);
                    }

                    break;
                case TwoSides straight when shape == StackShape.Flat:
                    sides.Add(Straight(i, straight.Out, winding.Turns));
                    sides.Add(Straight(i, straight.Into, -winding.Turns));
                    break;
                default:
                    return null;
            }
        }

        return sides;
    }

    private static StackSide Straight(int winding, Box box, double turns) => new(winding, box.X, box.Width, box.Y - 0.5 * box.Height, box.Y + 0.5 * box.Height, turns);

    private static StackSide? InSlot(int index, Polyphase winding, SlotSide side, double turns, StackShape shape)
    {
        double low = side.Part == SlotPart.Upper ? 0.5 : 0, high = side.Part == SlotPart.Lower ? 0.5 : 1;
        StackSide Make(double position, double width, double from, double build) => new(index, position, width, from + low * build, from + high * build, side.Sign * turns);
        return (winding.Row, shape) switch
        {
            (FlatRow r, StackShape.Flat) => Make(r.X + (side.Slot - 0.5 * (winding.Slots - 1)) * r.SlotPitch, r.SlotWidth, r.Y - 0.5 * r.SlotHeight, r.SlotHeight),
            (RingRow r, StackShape.Rotating) => Make((r.FirstAt + 360.0 * side.Slot / winding.Slots) * Math.PI / 180, r.SectorAngle * Math.PI / 180, r.InnerRadius, r.OuterRadius - r.InnerRadius),
            (TubeRow r, StackShape.Tubular) => Make(r.FromZ + side.Slot * r.CoilPitch + 0.5 * r.CoilLength, r.CoilLength, r.InnerRadius, r.Build),
            _ => null,
        };
    }
}
