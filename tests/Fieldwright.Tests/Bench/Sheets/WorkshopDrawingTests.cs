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

    // A block leaning by 30°: 30 mm long and 8 mm thick, its shadow is 30 cos 30° + 8 sin 30° wide.
    [Fact]
    public void Of_BlockThatLeans_IsDrawnLeaning()
    {
        var (scene, scale) = Of(File.Bench.Read(
            """
            apparatus: Block
            symmetry: free
            parts:
              block: {shape: block, length: 30 mm, width: 12 mm, thickness: 8 mm, at: {x: 0 mm, y: 0 mm, z: 5 mm}, of: {remanence: 1.2 T, density: 7500 kg/m3}, magnetised: up, tilted: 30 deg}
            """));
        double factor = double.Parse(scale.Split(" : ")[0], System.Globalization.CultureInfo.InvariantCulture) / double.Parse(scale.Split(" : ")[1], System.Globalization.CultureInfo.InvariantCulture);
        double width = scene.Marks.OfType<LineMark>().Where(l => l.IsClosed && l.Points.Count == 4).Max(l => l.Points.Max(p => p.X) - l.Points.Min(p => p.X));
        Assert.Equal((30 * Math.Cos(Math.PI / 6) + 8 * Math.Sin(Math.PI / 6)) * factor * 96 / 25.4, width, 1e-6);
        Assert.Contains("plan below", scene.About);
    }

    // A core cut by 10 mm has parallel faces 10 mm apart.
    [Fact]
    public void Of_CutCore_HasParallelFaces()
    {
        var loop = DrawnThing.Of(File.Bench.Ring).Single(t => t.Position == 0).Loops.Single();
        var faces = loop.Zip([.. loop.Skip(1), loop[0]]).Where(e => Math.Abs(e.First.Y - e.Second.Y) < 1e-9 && Math.Abs(e.First.X - e.Second.X) > 0.01).Select(e => e.First.Y).Order().ToList();
        var core = (CoreShape)File.Bench.Ring.Parts[0].Shape;
        Assert.Equal(2, faces.Count);
        Assert.Equal(core.Gap, faces[1] - faces[0], 1e-9);
    }

    // 300 mm wide and 1500 mm tall with its lid at 250 mm: the empty part is torn off, and the inside is to scale.
    [Fact]
    public void Of_Box_ShowsWallsDiscsLidAndFloorToScale()
    {
        var box = File.Bench.Read(
            """
            apparatus: Box
            symmetry: flat
            box: {width: 300 mm, height: 1500 mm, tilt: 20 deg}
            discs: {count: 40, radius: 6 mm, mass: 2 g, rms speed: 600 mm/s}
            floor: {amplitude: 3 mm, frequency: 40 Hz}
            lid: {mass: 40 g, load: 0.3 N, starts at: 250 mm}
            """);
        var (scene, scale) = Of(box);
        var texts = Texts(scene);
        Assert.Equal("1 : 5", scale);
        foreach (string text in new[] { "300", "Ø 12", "250", "1", "2", "3", "4" })
            Assert.Contains(text, texts);
        Assert.DoesNotContain("1500", texts);
        Assert.Contains("torn off", scene.About);
        var things = BoxView.Of(box.Box!);
        // Forty discs at rest, none over another and none outside: 25 fit side by side.
        var middles = things[1].Loops.Select(l => (X: l.Average(p => p.X), Y: l.Average(p => p.Y))).ToList();
        Assert.Equal(40, middles.Count);
        Assert.Equal(25, middles.Count(m => Math.Abs(m.Y - 0.006) < 1e-9));
        Assert.All(middles, m => Assert.InRange(m.X, 0.006 - 1e-9, 0.294 + 1e-9));
        Assert.All(middles.SelectMany((m, i) => middles.Skip(i + 1).Select(n => Math.Sqrt((m.X - n.X) * (m.X - n.X) + (m.Y - n.Y) * (m.Y - n.Y)))), d => Assert.True(d > 0.012 - 1e-9));
        // The lid on paper: 300 mm at 1 : 5.
        double width = scene.Marks.OfType<LineMark>().Where(l => l.IsClosed && l.Points.Count == 4).Max(l => l.Points.Max(p => p.X) - l.Points.Min(p => p.X));
        Assert.Equal(0.3 / 5 * 96 / 0.0254, width, 1e-6);
    }

    [Fact]
    public void Of_Board_IsItsCircuitNoWiderThanThePage()
    {
        // A third tube makes it wider than a page.
        var (scene, scale) = Of(File.Bench.Read(File.Bench.TwoTubes + "\n    third: {pipe: 3 mm, length: 0.9 m, from: fork, to: basin}"));
        Assert.Equal("none", scale);
        Assert.Equal(688, scene.Width, 1e-9);
        foreach (string text in new[] { "pump", "narrow", "third", "fork", "basin" })
            Assert.Contains(text, Texts(scene));
        Assert.All(scene.Marks.OfType<LineMark>().SelectMany(l => l.Points), p => Assert.InRange(p.X, 0, scene.Width));
    }

    private static (Scene Scene, string Scale) Of(Apparatus apparatus) => WorkshopDrawing.Of(apparatus, TypeFace.Width);

    private static List<string> Texts(Scene scene) => [.. scene.Marks.OfType<TextMark>().Select(t => t.Text)];
}
