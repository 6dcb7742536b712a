using Fieldwright.App.Pictures;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Sheets;
using Xunit;

namespace Fieldwright.Tests.Bench.Sheets;

public class WiringDiagramTests
{
    [Fact]
    public void Of_ReversedWinding_IsEnteredAtItsFinish()
    {
        // inner forward, outer reversed: along the rail S F, then F S.
        var ends = Texts(WiringDiagram.Of(File.Bench.Disc, TypeFace.Width)).Where(t => t.Text is "S" or "F").OrderBy(t => t.At.X).Select(t => t.Text);
        Assert.Equal(["S", "F", "F", "S"], ends);
    }

    [Fact]
    public void Of_SupplyWithBreakerAndTransformer_NamesThem()
    {
        var texts = Texts(WiringDiagram.Of(File.Bench.Disc, TypeFace.Width)).Select(t => t.Text).ToList();
        Assert.Contains("B16", texts);
        Assert.Contains("variable transformer", texts);
        Assert.Contains(texts, t => t.Contains("50 Hz, phase 0°", StringComparison.Ordinal));
    }

    [Fact]
    public void Of_LoadsOnWindings_HaveRowsOfTheirOwn()
    {
        var texts = Texts(WiringDiagram.Of(File.Bench.Ring, TypeFace.Width)).Select(t => t.Text).ToList();
        foreach (string text in new[] { "cell", "primary", "lamp coil", "lamp", "6 V, 3 W", "shunt", "10 Ω" })
            Assert.Contains(text, texts);
    }

    [Fact]
    public void Of_ManyWindingsInSeries_StaysOnThePage()
    {
        string coils = string.Join('\n', Enumerable.Range(1, 9).Select(i => $"  coil {(char)('a' + i)}: {{turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: {20 * i} mm, to z: {20 * i + 10} mm}}"));
        string names = string.Join(", ", Enumerable.Range(1, 9).Select(i => $"coil {(char)('a' + i)}"));
        var scene = WiringDiagram.Of(File.Bench.Read($"apparatus: Many\nsymmetry: round\nwindings:\n{coils}\nsupplies:\n  box: {{current: 5 A, feeds: [{names}]}}\n"), TypeFace.Width);
        Assert.All(scene.Marks.OfType<LineMark>().SelectMany(l => l.Points), p => Assert.InRange(p.X, 0, scene.Width));
        Assert.All(scene.Marks.OfType<LineMark>().SelectMany(l => l.Points), p => Assert.InRange(p.Y, 0, scene.Height));
    }

    private static IEnumerable<TextMark> Texts(Scene scene) => scene.Marks.OfType<TextMark>();
}
