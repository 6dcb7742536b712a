using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>A drawing to scale with its sizes: a section of what is round or long, a side view of what stands in space.</summary>
internal static class WorkshopDrawing
{
    // Widest and tallest the things themselves may be on A4, px, so that sizes and balloons fit round them.
    private const double Widest = 430, Tallest = 400, PxPerMetre = 96 / 0.0254;

    // ISO 5455, reductions and enlargements, as paper over thing.
    private static readonly double[] Scales = [10, 5, 2, 1, 1 / 2.0, 1 / 5.0, 1 / 10.0, 1 / 20.0, 1 / 50.0, 1 / 100.0, 1 / 200.0];

    /// <summary>The drawing and its scale in words.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="textWidth">Widths of text.</param>
    /// <source key="ISO5455"/>
    public static (Scene Scene, string Scale) Of(Apparatus apparatus, TextWidth textWidth)
    {
        var things = DrawnThing.Of(apparatus);
        if (things.Count == 0)
            return (new Scene(Widest, 40, apparatus.Name, "", [new TextMark("Nothing of this apparatus can be drawn to scale.", new Point(0, 20), 12, Face.Italic, Palette.Paper.QuietText, Anchor.Start, Widest)]), "none");
        double left = things.Min(t => t.Left), right = things.Max(t => t.Right), low = things.Min(t => t.Bottom), high = things.Max(t => t.Top);
        double paper = Scales.FirstOrDefault(s => (right - left) * s * PxPerMetre <= Widest && (high - low) * s * PxPerMetre <= Tallest, Scales[^1]);
        string scale = paper >= 1 ? string.Create(CultureInfo.InvariantCulture, $"{paper:0} : 1") : string.Create(CultureInfo.InvariantCulture, $"1 : {1 / paper:0}");
        return (new Draughtsman(apparatus, things, paper * PxPerMetre, textWidth).Scene(scale), scale);
    }
}
