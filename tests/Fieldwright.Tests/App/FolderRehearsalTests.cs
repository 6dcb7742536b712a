using System.Text.Json;
using Fieldwright.App;
using Xunit;

namespace Fieldwright.Tests.App;

public class FolderRehearsalTests
{
    [Fact]
    public void Folder_OfGoodFiles_CountsThemAndEndsWithNought()
    {
        using var folder = new Folder();
        folder.File("b.yaml", Small.Coil("at least: 0.5 ohm"));
        folder.File("a.yaml", Small.Coil("at most: 50 ohm"));
        folder.File("winter.programme.yaml", "no: apparatus");
        folder.File("notes.txt", "no apparatus");
        var said = Spoken.Call("rehearse", folder.Path);
        Assert.Equal(ExitCode.Good, said.Code);
        Assert.Equal("", said.Error);
        Assert.Matches(@"(?s)● holds +a\.yaml  Coil +1 of 1 hold.*● holds +b\.yaml", said.Out);
        Assert.Contains("Of 2 apparatus, 2 keep every claim; of 2 claims, 2 hold.", said.Out);
    }

    [Theory]
    [InlineData("at least: 50 ohm", "at least: 0.5 ohm", ExitCode.NotAll)]
    [InlineData("at least: 50 ohm", "at leest: 0.5 ohm", ExitCode.Wrong)]
    [InlineData("at most: 50 ohm", "at leest: 0.5 ohm", ExitCode.Wrong)]
    public void Folder_OfMixedFiles_EndsWithTheWorstOfTheirCodes(string first, string second, int code)
    {
        using var folder = new Folder();
        folder.File("first.yaml", Small.Coil(first));
        folder.File("second.yaml", Small.Coil(second));
        Assert.Equal(code, Spoken.Call("rehearse", folder.Path).Code);
    }

    [Fact]
    public void Folder_WithAClaimThatFails_SaysWhichAndByHowMuch()
    {
        using var folder = new Folder();
        folder.File("coil.yaml", Small.Coil("at least: 50 ohm"));
        var said = Spoken.Call("rehearse", folder.Path);
        Assert.Contains("✕ fails       coil.yaml: The coil has the resistance we want", said.Out);
        Assert.Contains("misses by", said.Out);
    }

    [Fact]
    public void Folder_WithAWrongFile_SaysWhatIsWrongAfterTheRest()
    {
        using var folder = new Folder();
        folder.File("coil.yaml", "apparatus: A\nsymmetry: square\n");
        folder.File("whole.yaml", Small.Coil("at least: 0.5 ohm"));
        var said = Spoken.Call("rehearse", folder.Path);
        Assert.Contains("coil.yaml:2:11:", said.Error);
        Assert.Contains("whole.yaml", said.Out);
        Assert.Contains("1 file is wrong", said.Out);
    }

    [Fact]
    public void Folder_AsJson_HoldsARehearsalOrMistakesForEachFile()
    {
        using var folder = new Folder();
        folder.File("a.yaml", Small.Coil("at least: 0.5 ohm"));
        folder.File("b.yaml", "apparatus: A\nsymmetry: square\n");
        using var document = JsonDocument.Parse(Spoken.Call("rehearse", folder.Path, "--json").Out);
        var files = document.RootElement.GetProperty("files");
        Assert.Equal("Coil", files[0].GetProperty("rehearsal").GetProperty("apparatus").GetString());
        Assert.Equal(JsonValueKind.Null, files[1].GetProperty("rehearsal").ValueKind);
        Assert.Equal(1, files[1].GetProperty("mistakes").GetArrayLength());
    }

    [Fact]
    public void Folder_WithoutApparatusOrWithSettings_IsAWrongCall()
    {
        using var folder = new Folder();
        Assert.Equal(ExitCode.Wrong, Spoken.Call("rehearse", folder.Path).Code);
        folder.File("a.yaml", Small.Coil("at least: 0.5 ohm"));
        Assert.Equal(ExitCode.Wrong, Spoken.Call("rehearse", folder.Path, "--set", "turns of coil=10").Code);
    }
}
