using System.Text.RegularExpressions;
using Fieldwright.App;
using Xunit;

namespace Fieldwright.Tests.App;

/// <summary>Every way a file can be wrong ends with two, in words, with places, and with nothing written.</summary>
public class WrongFileCallTests
{
    private const string Disc = "parts: {disc: {shape: disc, radius: 65 mm, thickness: 3 mm, at: {z: 8 mm}, of: aluminium 1050, moves: up and down}}\n";
    private const string Coil = "windings: {coil: {turns: 100, wire: 1 mm grade 1, between radii: [25 mm, 53 mm], from z: -60 mm, to z: 0 mm}}\n";
    private const string Source = "supplies: {source: {current: 5 A, frequency: 50 Hz, feeds: coil}}\n";
    private const string Head = "apparatus: A\nsymmetry: round\n";

    public static TheoryData<string, string> Wrong => new()
    {
        { "empty", "" },
        { "only a remark", "# nothing here\n" },
        { "no mapping", "- a\n- b\n" },
        { "deep nesting", new string('[', 20_000) },
        { "unclosed", "apparatus: [a, b\n" },
        { "ten megabytes", "apparatus: " + new string('x', 10_000_000) },
        { "wrong unit", Head + Disc.Replace("65 mm", "65 kg") + Coil + Source },
        { "no unit", Head + Disc.Replace("65 mm", "65") + Coil + Source },
        { "negative size", Head + Disc.Replace("65 mm", "-65 mm") + Coil + Source },
        { "zero size", Head + Disc.Replace("3 mm", "0 mm") + Coil + Source },
        { "NaN", Head + Disc.Replace("65 mm", "NaN mm") + Coil + Source },
        { "1e308", Head + Disc.Replace("65 mm", "1e308 m") + Coil + Source },
        { "overlap", Head + Disc.Replace("z: 8 mm", "z: -8 mm") + Coil + Source },
        { "across the axis", Head + "parts: {ring: {shape: ring, inner radius: -5 mm, outer radius: 9 mm, height: 3 mm, of: copper}}\n" },
        { "unknown material", Head + Disc.Replace("aluminium 1050", "alumnium 1050") + Coil + Source },
        { "missing supply", Head + Disc + Coil + "claims: [{say: It floats, measure: rest height of disc, at least: 1 mm}]\n" },
        { "a claim on a part that is not there", Head + Disc + Coil + Source + "claims: [{say: It floats, measure: rest height of dsic, at least: 1 mm}]\n" },
        { "a claim without a bound", Head + Disc + Coil + Source + "claims: [{say: It floats, measure: rest height of disc}]\n" },
        { "a bound in another unit", Head + Disc + Coil + Source + "claims: [{say: It floats, measure: rest height of disc, at least: 1 N}]\n" },
        { "feeds nothing there", Head + Disc + Coil + Source.Replace("feeds: coil", "feeds: col") },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void File_Wrong_IsToldInPlaceAndEndsWithTwo(string name, string text)
    {
        using var folder = new Folder();
        string file = folder.File("wrong.yaml", text), picture = Path.Combine(folder.Path, "wrong.svg");
        foreach (string[] call in (string[][])[["rehearse", file], ["rehearse", file, "--json"], ["ask", file, "weight of disc"], ["picture", file, "-o", picture]])
        {
            var said = Spoken.Call(call);
            Assert.True(said.Code == ExitCode.Wrong, $"{name}: {call[0]} ended with {said.Code}: {said.Error}");
            Assert.Equal("", said.Out);
            Assert.All(said.Error.TrimEnd('\n').Split('\n'), line => Assert.Matches(new Regex("^" + Regex.Escape(file) + @":\d+:\d+: \S.*\.$"), line));
            Assert.DoesNotContain("Exception", said.Error);
        }

        Assert.False(File.Exists(picture));
    }

    [Fact]
    public void File_WithTwoMistakes_HasBothToldAtOnce()
    {
        using var folder = new Folder();
        string file = folder.File("two.yaml", Head + Disc.Replace("aluminium 1050", "alumnium 1050") + Coil.Replace("100", "none") + Source);
        string[] lines = Spoken.Call("rehearse", file).Error.TrimEnd('\n').Split('\n');
        Assert.Equal(2, lines.Length);
        Assert.Contains(lines, l => l.Contains("nearest: aluminium 1050", StringComparison.Ordinal));
    }

    [Fact]
    public void Path_ToNothingOrAFolder_IsToldAndEndsWithTwo()
    {
        using var folder = new Folder();
        folder.File("disc.yaml", "");
        var missing = Spoken.Call("rehearse", Path.Combine(folder.Path, "disk.yaml"));
        Assert.Equal(ExitCode.Wrong, missing.Code);
        Assert.Contains("nearest: " + Path.Combine(folder.Path, "disc.yaml"), missing.Error);
        Assert.Equal(ExitCode.Wrong, Spoken.Call("rehearse", folder.Path).Code);
        Assert.Equal(ExitCode.Wrong, Spoken.Call("rehearse", Path.Combine(folder.Path, "none", "disc.yaml")).Code);
    }
}
