using Fieldwright.Bench.Model;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>Shapes with their sizes in mm, as a workshop reads them.</summary>
internal static class ShapeWords
{
    /// <summary>A shape in words: <c>disc Ø 130 × 3</c>.</summary>
    public static string Of(Shape shape) => shape switch
    {
        DiscShape d => Text($"{d.Called} Ø {Mm(2 * d.Radius)} × {Mm(d.Thickness)}"),
        RingShape r => Text($"{r.Word} Ø {Mm(2 * r.OuterRadius)} / Ø {Mm(2 * r.InnerRadius)} × {Mm(r.Height)}"),
        BallShape { Wall: { } wall } b => Text($"hollow ball Ø {Mm(2 * b.Radius)}, wall {Mm(wall)}"),
        BallShape b => Text($"ball Ø {Mm(2 * b.Radius)}"),
        RectangleShape r => Text($"{r.Called} {Mm(r.Width)} × {Mm(r.Height)}"),
        CoreShape c => Text($"ring Ø {Mm(2 * c.OuterRadius)} / Ø {Mm(2 * c.InnerRadius)}{(c.Gap > 0 ? Text($", cut {Mm(c.Gap)}") : "")}"),
        CylinderShape c => Text($"cylinder Ø {Mm(2 * c.Radius)}{(c.Bore > 0 ? Text($" / Ø {Mm(2 * c.Bore)}") : "")}"),
        BlockShape b => Text($"block {Mm(b.Length)} × {Mm(b.Width)} × {Mm(b.Thickness)}"),
        PumpChannelShape c => Text($"channel {Mm(c.Length)} × {Mm(c.Width)} × {Mm(c.Thickness)}"),
        FoilLoopShape f => Text($"foil {Mm(f.Length)} × {Mm(f.Width)} × {1e6 * f.Thickness:0.#} µm, clips {Mm(f.Span)} apart"),
        OutlineShape o => Text($"outline of {o.Corners.Count} corners, see the file"),
        _ => shape.Word,
    };

    /// <summary>Where a part stands: what the drawing's sizes do not say, in mm.</summary>
    public static string Where(Apparatus apparatus, Part part) => apparatus.Layout switch
    {
        Layout.Round => part.Place.Z == 0 ? "" : Text($"z {Mm(part.Place.Z)}"),
        Layout.Free => Text($"{Mm(part.Place.X)}, {Mm(part.Place.Y)}, {Mm(part.Place.Z)}{Leant(part.Attitude)}"),
        _ => part.Shape is OutlineShape ? "" : Text($"{Mm(part.Place.X)}, {Mm(part.Place.Y)}"),
    } + (part.Magnetised is { } way ? Text($", north at {way:0.#}°") : "");

    /// <summary>The space of a winding, in mm.</summary>
    public static string Space(WindingSpace space) => space switch
    {
        RoundSpace r => Text($"Ø {Mm(2 * r.InnerRadius)}–{Mm(2 * r.OuterRadius)} × {Mm(r.ToZ - r.FromZ)}{(r is { X: 0, Y: 0 } && r.Attitude == default ? "" : Text($" at {Mm(r.X)}, {Mm(r.Y)}{Leant(r.Attitude)}"))}"),
        FrameSpace f => Text($"{Mm(f.Length)} × {Mm(f.Width)} inside, corners R {Mm(f.CornerRadius)}, build {Mm(f.Build)} × {Mm(f.ToZ - f.FromZ)} at {Mm(f.X)}, {Mm(f.Y)}{Leant(f.Attitude)}"),
        LimbSpace l => Text($"{Mm(l.Length)} long, {Mm(l.Build)} thick, {Mm(l.Clearance)} off '{l.Core}' at {l.CentredAt:0.#}°"),
        TwoSides t => Text($"sides {Mm(t.Out.Width)} × {Mm(t.Out.Height)}"),
        PhaseSpace { Of.Row: TubeRow t } => Text($"Ø {Mm(2 * t.InnerRadius)}–{Mm(2 * (t.InnerRadius + t.Build))} × {Mm(t.CoilLength)} each, every {Mm(t.CoilPitch)}"),
        PhaseSpace { Of: var of } => Text($"sides {Mm(of.CoilSide.Along)} × {Mm(of.CoilSide.Across)}, {of.CoilSpan} slots apart"),
        _ => "",
    };

    private static string Leant(Attitude a) => (a.Tilt != 0 ? Text($", leans {a.Tilt:0.#}° to {a.Towards:0.#}°") : "") + (a.Turned != 0 ? Text($", turned {a.Turned:0.#}°") : "");

    /// <summary>A length in mm, to the hundredth.</summary>
    public static string Mm(double metres) => Text($"{Math.Round(1e3 * metres, 2):0.##}");
}
