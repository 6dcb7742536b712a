using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Geometry;

namespace Fieldwright.Bench.Sheets;

/// <summary>A drawing to scale with its sizes: a section of what is round or long, a side view of what stands in space.</summary>
internal static class WorkshopDrawing
{
    // Widest and tallest the things themselves may be on A4, px, so that sizes and balloons fit round them.
    private const double Widest = 430, Tallest = 400, Between = 14, PxPerMetre = 96 / 0.0254, Measure = 688;

    // ISO 5455, reductions and enlargements, as paper over thing.
    private static readonly double[] Scales = [10, 5, 2, 1, 1 / 2.0, 1 / 5.0, 1 / 10.0, 1 / 20.0, 1 / 50.0, 1 / 100.0, 1 / 200.0];

    /// <summary>The drawing and its scale in words.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="textWidth">Widths of text.</param>
    /// <source key="ISO5455"/>
    public static (Scene Scene, string Scale) Of(Apparatus apparatus, TextWidth textWidth)
    {
        if (apparatus.Board is not null)
            return (Fitted(BoardPicture.OnSheet(apparatus, textWidth)), "none");
        List<(List<DrawnThing> Things, Seen Seen)> views = apparatus.Layout switch
        {
            Layout.Flat => [(BoxView.Of(apparatus.Box!), Seen.SquareOn)],
            Layout.Free when FreeViews.NeedsPlan(apparatus) => [(FreeViews.Of(apparatus, false), Seen.FromTheSide), (FreeViews.Of(apparatus, true), Seen.FromAbove)],
            Layout.Free => [(FreeViews.Of(apparatus, false), Seen.FromTheSide)],
            _ => [(DrawnThing.Of(apparatus), Seen.Cut)],
        };
        views.RemoveAll(v => v.Things.Count == 0);
        if (views.Count == 0)
            return (new Scene(Widest, 40, apparatus.Name, "", [new TextMark("Nothing of this apparatus can be drawn to scale.", new Point(0, 20), 12, Face.Italic, Palette.Paper.QuietText, Anchor.Start, Widest)]), "none");
        double wide = views.Max(v => v.Things.Max(t => t.Right) - v.Things.Min(t => t.Left)), high = views.Sum(v => v.Things.Max(t => t.Top) - v.Things.Min(t => t.Bottom));
        double paper = Scales.FirstOrDefault(s => wide * s * PxPerMetre <= Widest && high * s * PxPerMetre <= Tallest, Scales[^1]);
        string scale = paper >= 1 ? string.Create(CultureInfo.InvariantCulture, $"{paper:0} : 1") : string.Create(CultureInfo.InvariantCulture, $"1 : {1 / paper:0}");
        var scenes = views.Select(v => new Draughtsman(apparatus, v.Things, paper * PxPerMetre, textWidth, v.Seen).Scene(scale)).ToList();
        return (scenes.Count == 1 ? scenes[0].Scene : Stacked(scenes, scale), scale);
    }

    // No wider than the measure of a page.
    private static Scene Fitted(Scene scene)
    {
        double by = Math.Min(1, Measure / scene.Width);
        return scene with { Width = by * scene.Width, Height = by * scene.Height, Marks = Marks.Scaled(scene.Marks, by) };
    }

    // One under the other, the origins in line.
    private static Scene Stacked(List<(Scene Scene, double Origin)> scenes, string scale)
    {
        double origin = scenes.Max(s => s.Origin), top = 0;
        var marks = new List<Mark>();
        foreach (var (scene, own) in scenes)
        {
            marks.AddRange(Marks.Moved(scene.Marks, origin - own, top));
            top += scene.Height + Between;
        }

        return new Scene(scenes.Max(s => origin - s.Origin + s.Scene.Width), top - Between, scenes[0].Scene.Title, $"Side view above and plan below at {scale}, sizes in mm; x, y and z count from the cross.", marks);
    }
}
