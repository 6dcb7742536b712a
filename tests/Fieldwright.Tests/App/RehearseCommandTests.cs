using Fieldwright.App;
using Xunit;

namespace Fieldwright.Tests.App;

public class RehearseCommandTests
{
    [Theory]
    [InlineData("at least: 0.5 ohm", ExitCode.Good, "● holds", "to spare")]
    [InlineData("at least: 50 ohm", ExitCode.NotAll, "✕ fails", "misses by")]
    public void Claim_Judged_LightsItsLampAndSetsTheExitCode(string bound, int code, string lamp, string margin)
    {
        using var folder = new Folder();
        var said = Spoken.Call("rehearse", folder.File("coil.yaml", Small.Coil(bound)));
        Assert.Equal(code, said.Code);
        Assert.Contains(lamp, said.Out);
        Assert.Contains(margin, said.Out);
        Assert.Contains("resistance of coil", said.Out);
        Assert.Contains("Ω", said.Out);
        Assert.Equal("", said.Error);
    }

    [Fact]
    public void Page_Printed_FitsItsWidthAndEndsWithTheDeferral()
    {
        using var folder = new Folder();
        var said = Spoken.Call("rehearse", folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm")));
        Assert.All(said.Out.Split('\n'), line => Assert.True(line.Length <= 92, line));
        Assert.DoesNotContain("\e", said.Out);
        Assert.EndsWith("in front of people.\n", said.Out);
        Assert.StartsWith("Coil: round", said.Out);
    }

    [Fact]
    public void Set_Given_TurnsTheInput()
    {
        using var folder = new Folder();
        string file = folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm"));
        Assert.Equal(ExitCode.NotAll, Spoken.Call("rehearse", file, "--set", "turns of coil=10").Code);
    }

    [Fact]
    public void FloatingDisc_Rehearsed_AnswersEveryClaimWithNumberBarAndUnit()
    {
        var said = Spoken.Call("rehearse", Path.Combine(Repository.Root, "examples/floating-disc.yaml"), "--target", "5%");
        Assert.InRange(said.Code, ExitCode.Good, ExitCode.NotAll);
        Assert.Matches(@"rest height of disc, at least 6 mm", said.Out);
        Assert.Matches(@"field +\d+\.\d+ ± \d+\.?\d* mm", said.Out);
        Assert.Contains("Cautions", said.Out);
        Assert.DoesNotContain("◌", said.Out);
    }
}
