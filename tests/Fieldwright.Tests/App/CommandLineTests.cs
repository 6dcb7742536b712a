using System.Text.RegularExpressions;
using Fieldwright.App;
using Xunit;

namespace Fieldwright.Tests.App;

public class CommandLineTests
{
    [Fact]
    public void Version_Asked_IsOneLine() => Assert.Matches(@"^fieldwright \d+\.\d+\.\d+\n$", Spoken.Call("--version").Out);

    [Theory]
    [InlineData("help")]
    [InlineData("--help")]
    public void Help_Asked_NamesEveryCommandAndExitCode(string word)
    {
        var said = Spoken.Call(word);
        Assert.Equal(ExitCode.Good, said.Code);
        foreach (string piece in (string[])["rehearse FILE", "ask FILE", "measures FILE", "picture FILE", "schema", "Exit codes", "Examples", "--set", "--json"])
            Assert.Contains(piece, said.Out);
        Assert.All(said.Out.Split('\n'), line => Assert.True(line.Length <= 92, line));
    }

    [Theory]
    [InlineData("rehearse")]
    [InlineData("picture")]
    public void HelpOfACommand_Asked_ListsItsOptions(string command)
    {
        var said = Spoken.Call("help", command);
        Assert.Equal(ExitCode.Good, said.Code);
        Assert.Contains("--set", said.Out);
        Assert.DoesNotContain("\e", said.Out);
    }

    [Theory]
    [InlineData]
    [InlineData("rehaerse")]
    [InlineData("rehearse")]
    [InlineData("ask", "examples/floating-disc.yaml")]
    [InlineData("rehearse", "examples/floating-disc.yaml", "--loud")]
    [InlineData("rehearse", "examples/floating-disc.yaml", "--set")]
    [InlineData("rehearse", "examples/floating-disc.yaml", "--target", "-1%")]
    [InlineData("rehearse", "examples/floating-disc.yaml", "--target", "NaN")]
    [InlineData("picture", "examples/floating-disc.yaml")]
    [InlineData("picture", "examples/floating-disc.yaml", "-o", "disc.gif")]
    [InlineData("picture", "examples/floating-disc.yaml", "-o", "disc.svg", "--phase", "nine")]
    [InlineData("picture", "examples/floating-disc.yaml", "-o", "disc.svg", "--phase", "1e308")]
    [InlineData("picture", "examples/floating-disc.yaml", "-o", "no-such-folder/disc.svg", "--state", "upside down")]
    [InlineData("schema", "everything")]
    public void Call_Wrong_SaysSoAndEndsWithTwo(params string[] words)
    {
        var said = Spoken.Call([.. words.Select(w => w.StartsWith("examples/", StringComparison.Ordinal) ? Path.Combine(Repository.Root, w) : w)]);
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Equal("", said.Out);
        Assert.NotEqual("", said.Error);
        Assert.DoesNotContain("   at ", said.Error);
    }

    [Theory]
    [InlineData("current in iner=18 A", "nearest: inner")]
    [InlineData("current in inner", "equals sign")]
    [InlineData("current in inner=18 V", "unit")]
    [InlineData("current in inner=NaN A", "")]
    [InlineData("thickness of disc=-3 mm", "")]
    [InlineData("radius of disc=1e308 m", "")]
    public void Set_Wrong_NamesTheSettingAndEndsWithTwo(string setting, string hint)
    {
        var said = Spoken.Call("measures", Path.Combine(Repository.Root, "examples/floating-disc.yaml"), "--set", setting);
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.StartsWith($"--set \"{setting}\"", said.Error);
        Assert.Contains(hint, said.Error);
    }

    [Fact]
    public void Breakdown_Inside_IsOneKindLine()
    {
        var said = Spoken.CallWith(new BrokenWriter(), TestContext.Current.CancellationToken, "schema");
        Assert.Equal(ExitCode.Broken, said.Code);
        Assert.Contains("Please report it", said.Error);
        Assert.Contains("FIELDWRIGHT_TRACE", said.Error);
        Assert.DoesNotContain("   at ", said.Error);
        Assert.Single(said.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void Stop_WhileAnswering_LeavesNothingBehind()
    {
        using var folder = new Folder();
        string file = folder.File("plate.yaml", Small.Plate);
        var said = Spoken.CallWith(new StringWriter(), new CancellationToken(canceled: true), "picture", file, "-o", Path.Combine(folder.Path, "plate.svg"));
        Assert.Equal(ExitCode.Stopped, said.Code);
        Assert.Contains("stopped", said.Error);
        Assert.Equal([file], Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void WholeFile_WriterFailsHalfway_LeavesTheOldFile()
    {
        using var folder = new Folder();
        string path = folder.File("out.svg", "old");
        Assert.Throws<WrongCallException>(() => WholeFile.Write(path, stream =>
        {
            stream.Write("half of the new"u8);
            throw new IOException("The disc is full.");
        }));
        Assert.Equal("old", File.ReadAllText(path));
        Assert.Single(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void Mistake_Printed_HasPlaceFindingExpectationAndNearestWord()
    {
        string line = WrongCallException.Line("disc.yaml", new Fieldwright.Bench.File.Mistake(3, 7, "there is no shape 'dsc'", "a shape", "disc"));
        Assert.Equal("disc.yaml:3:7: there is no shape 'dsc'. expected a shape; nearest: disc.", line);
        Assert.Matches(new Regex(@"^[^:]+:\d+:\d+: "), line);
    }

    private sealed class BrokenWriter : StringWriter
    {
        public override void Write(string? value) => throw new InvalidOperationException("The pen broke.\nIn two.");
    }
}
