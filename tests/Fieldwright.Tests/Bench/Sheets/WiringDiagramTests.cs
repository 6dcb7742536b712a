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

    [Theory]
    [InlineData("star", "star point,", "−120°"), InlineData("delta", "to L2", "−120°"), InlineData("star, phase order: reversed", "star point,", "120°")]
    public void Of_ThreePhases_DrawsALineEachInOrder(string connection, string far, string second)
    {
        var texts = Texts(WiringDiagram.Of(File.Bench.Read(
            $$"""
            apparatus: Stack
            symmetry: round
            windings:
              lower: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 0 mm, to z: 10 mm}
              middle: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 12 mm, to z: 22 mm}
              upper: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 24 mm, to z: 34 mm}
            supplies:
              line: {mains: 20 V, frequency: 50 Hz, feeds: [lower, middle, upper], connection: {{connection}}}
            """), TypeFace.Width)).ToList();
        foreach (string text in new[] { "L1", "L2", "L3", far })
            Assert.Contains(text, texts.Select(t => t.Text));
        var line = texts.Single(t => t.Text == "L2");
        Assert.Equal(second, texts.Where(t => t.At.Y == line.At.Y && t.At.X > line.At.X).MinBy(t => t.At.X)!.Text);
        // In delta the finish of each phase goes to the start of the next, the last one's to the first.
        if (connection == "delta")
            Assert.Equal(["to L2", "to L3", "to L1"], texts.Where(t => t.Text.StartsWith("to L", StringComparison.Ordinal)).OrderBy(t => t.At.Y).Select(t => t.Text));
    }

    [Fact]
    public void Of_BankWithBleeder_DrawsBothAndASwitch()
    {
        var texts = Texts(WiringDiagram.Of(File.Bench.Read(
            """
            apparatus: Shot
            symmetry: round
            windings:
              coil: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 0 mm, to z: 10 mm}
            supplies:
              bank: {capacitor bank: 160 V, capacitance: 4.7 mF, bleeder: 2.2 kohm, feeds: coil}
            """), TypeFace.Width)).Select(t => t.Text).ToList();
        Assert.Contains("2.2 kΩ", texts);
        Assert.Contains(texts, t => t.StartsWith("4.7 mF charged to 160 V", StringComparison.Ordinal));
    }

    // 60 A of a state is more than the 40 it stands at; the thick lines are the electrodes, and both leads end on them.
    [Fact]
    public void Of_ChannelOfLiquidMetal_DrawsItsElectrodesWithTheMostTheyCarry()
    {
        var scene = WiringDiagram.Of(File.Bench.Read(
            """
            apparatus: Channel
            symmetry: free
            parts:
              metal: {shape: pump channel, length: 40 mm, width: 16 mm, thickness: 6 mm, carries: 40 A, of: galinstan}
              lower magnet: {shape: block, length: 40 mm, width: 20 mm, thickness: 10 mm, at: {z: -14 mm}, of: NdFeB N42, magnetised: up}
            states:
              hard: {current in metal: -60 A}
            """), TypeFace.Width);
        Assert.Contains(Texts(scene), t => t.Text.StartsWith("up to 60 A", StringComparison.Ordinal));
        var electrodes = scene.Marks.OfType<LineMark>().Where(l => l.Pen.Width == 4).ToList();
        Assert.Equal(2, electrodes.Count);
        Assert.All(electrodes, e => Assert.Contains(scene.Marks.OfType<LineMark>().Where(l => l.Pen.Width < 4 && l.Points.Count > 2), l => e.Points.Contains(l.Points[^1])));
    }

    private static IEnumerable<TextMark> Texts(Scene scene) => scene.Marks.OfType<TextMark>();
}
