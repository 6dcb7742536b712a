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
        OutlineShape o => Text($"outline of {o.Corners.Count} corners, see the file"),
        _ => shape.Word,
    };

    /// <summary>A length in mm, to the hundredth.</summary>
    public static string Mm(double metres) => Text($"{Math.Round(1e3 * metres, 2):0.##}");
}
