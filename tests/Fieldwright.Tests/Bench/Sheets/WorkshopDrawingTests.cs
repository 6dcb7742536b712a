using Fieldwright.App.Pictures;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Sheets;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Bench.Sheets;

public class WorkshopDrawingTests
{
    [Fact]
    public void Of_RoundApparatus_GivesTheDiametersAndHeightsOfItsFile()
    {
        var texts = Texts(Of(File.Bench.Disc).Scene);
        // Disc of radius 65 mm and thickness 3 mm; coils 20 to 40 mm and 55 to 70 mm, 55 mm tall.
        foreach (string size in new[] { "Ø 130", "3", "Ø 40", "Ø 80", "Ø 110", "Ø 140", "55" })
            Assert.Contains(size, texts);
    }

    [Fact]
    public void Of_ScaleOneToTwo_IsHalfSizeOnPaper()
    {
        var (scene, scale) = Of(File.Bench.Disc);
        Assert.Equal("1 : 2", scale);
        // The disc's outline is the widest closed line of four corners that is no winding: 130 mm, half of it at 96 px an inch.
        double width = scene.Marks.OfType<LineMark>().Where(l => l.IsClosed && l.Points.Count == 4).Max(l => l.Points.Max(p => p.X) - l.Points.Min(p => p.X));
        Assert.Equal(0.130 / 2 * 96 / 0.0254, width, 1e-6);
    }

    [Fact]
    public void Of_EverySize_SpansItsLengthOnPaper()
    {
        var (scene, _) = Of(File.Bench.Disc);
        // Size lines that lie flat, each with its text above its middle.
        foreach (var text in scene.Marks.OfType<TextMark>().Where(t => t.Text.StartsWith("Ø ", StringComparison.Ordinal)))
        {
            double size = double.Parse(text.Text[2..], System.Globalization.CultureInfo.InvariantCulture) * 1e-3;
            Assert.Contains(scene.Marks.OfType<LineMark>(), l => l.Points.Count == 2 && l.Points[0].Y == l.Points[1].Y && Math.Abs(l.Points[0].Y - text.At.Y) < 8
                && Math.Abs(Math.Abs(l.Points[1].X - l.Points[0].X) - size / 2 * 96 / 0.0254) < 0.01);
        }
    }

    [Fact]
    public void Of_LongApparatus_DrawsCoreAndLimbCoilsWithTheirBalloons()
    {
        var texts = Texts(Of(File.Bench.Ring).Scene);
        foreach (string text in new[] { "Ø 130", "Ø 80", "10", "5", "1", "2", "3", "4" })
            Assert.Contains(text, texts);
    }

    [Fact]
    public void Of_Anything_StaysOnItsSheet()
    {
        foreach (var apparatus in new[] { File.Bench.Disc, File.Bench.Ring })
        {
            var (scene, _) = Of(apparatus);
            foreach (var p in scene.Marks.OfType<LineMark>().SelectMany(l => l.Points))
                Assert.True(p.X >= 0 && p.X <= scene.Width && p.Y >= 0 && p.Y <= scene.Height, $"{p} of {scene.Width} × {scene.Height}");
            Assert.True(scene.Width < 690, $"{scene.Width}");
        }
    }

    private static (Scene Scene, string Scale) Of(Apparatus apparatus) => WorkshopDrawing.Of(apparatus, TypeFace.Width);

    private static List<string> Texts(Scene scene) => [.. scene.Marks.OfType<TextMark>().Select(t => t.Text)];
}
