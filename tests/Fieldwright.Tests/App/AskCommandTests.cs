using Fieldwright.App;
using Xunit;

namespace Fieldwright.Tests.App;

public class AskCommandTests
{
    [Fact]
    public void Measure_Asked_IsAnsweredByNameValueAndUnit()
    {
        using var folder = new Folder();
        var said = Spoken.Call("ask", folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm")), "resistance of coil");
        Assert.Equal(ExitCode.Good, said.Code);
        Assert.Matches(@"given +\d+\.\d+ ± \d+\.\d+ Ω", said.Out);
    }

    [Theory]
    [InlineData("resistence of coil", "nearest: resistance")]
    [InlineData("resistance of col", "nearest: coil")]
    [InlineData("", "no measure")]
    public void Measure_Unknown_NamesTheNearestAndEndsWithTwo(string measure, string hint)
    {
        using var folder = new Folder();
        var said = Spoken.Call("ask", folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm")), measure);
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Contains(hint, said.Error);
    }

    [Fact]
    public void Measures_Listed_AreAllUnderstoodWhenAsked()
    {
        using var folder = new Folder();
        string file = folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm"));
        var listed = Spoken.Call("measures", file);
        Assert.Equal(ExitCode.Good, listed.Code);
        var measures = listed.Out.Split('\n').Where(l => l.StartsWith("  ", StringComparison.Ordinal) && l.Contains("given", StringComparison.Ordinal))
            .Select(l => l.Trim().Split("  ")[0]).ToList();
        Assert.Contains("resistance of coil", measures);
        Assert.All(measures, m => Assert.Equal(ExitCode.Good, Spoken.Call("ask", file, m).Code));
    }
}
