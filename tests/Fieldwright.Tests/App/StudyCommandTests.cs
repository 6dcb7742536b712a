using System.Text.Json;
using Fieldwright.App;
using Fieldwright.App.Reports;
using Json.Schema;
using Xunit;

namespace Fieldwright.Tests.App;

/// <summary>The commands that study an apparatus, from the words typed to page, document and exit code.</summary>
public class StudyCommandTests
{
    private const string Log = "measure,reading,bar\nresistance of coil,1.6 ohm,1 %\n";
    private const string Evening = "evening: Try-out\nbegins: 19:30\nsteps:\n  - {apparatus: coil.yaml, on: 10 s, goes: 2, talk: 1 min}\n  - {pause: 5 min}\n";

    private static string Coil(string bound) => Small.Coil(bound) + "\ndials:\n  turns of coil: {from: 20, to: 110}\ndoubts:\n  turns of coil: ± 2 %\n";

    private static string[] Call(string command, Folder folder, string bound)
    {
        string file = folder.File("coil.yaml", Coil(bound));
        return command switch
        {
            "scale" => ["scale", file, "--by", "2", "-o", Path.Combine(folder.Path, "large.yaml")],
            "doubt" => ["doubt", file, "--samples", "20"],
            "tune" => ["tune", file, "--turn", "turns of coil"],
            "reconcile" => ["reconcile", file, folder.File("log.csv", Log)],
            _ => ["programme", folder.File("try-out.programme.yaml", Evening)],
        };
    }

    [Theory]
    [InlineData("scale", "at least: 0.2 ohm", ExitCode.Good, "What follows")]
    [InlineData("scale", "at least: 0.8 ohm", ExitCode.NotAll, "✕ fails")]
    [InlineData("doubt", "at least: 0.5 ohm", ExitCode.Good, "holds in 100 %")]
    [InlineData("doubt", "at least: 50 ohm", ExitCode.NotAll, "holds in 0 %")]
    [InlineData("tune", "at least: 1.0 ohm", ExitCode.Good, "--set \"turns of coil=")]
    [InlineData("tune", "between: [0.4 ohm, 0.8 ohm]", ExitCode.Good, "All claims hold there")]
    [InlineData("tune", "at least: 50 ohm", ExitCode.NotAll, "No setting was found")]
    [InlineData("reconcile", "at least: 0.5 ohm", ExitCode.NotAll, "turns of coil at")]
    [InlineData("programme", "at least: 0.5 ohm", ExitCode.Good, "19:31")]
    [InlineData("programme", "at least: 50 ohm", ExitCode.NotAll, "Not everything is ready")]
    public void Study_Called_PrintsItsPageWithinTheWidthAndFitsItsSchema(string command, string bound, int code, string piece)
    {
        using var folder = new Folder();
        string[] call = Call(command, folder, bound);
        var said = Spoken.Call(call);
        Assert.Equal("", said.Error);
        Assert.Equal(code, said.Code);
        Assert.Contains(piece, said.Out);
        Assert.All(said.Out.Split('\n').Where(l => !l.Contains(folder.Path, StringComparison.Ordinal)), line => Assert.True(line.Length <= 92, line));
        var json = Spoken.Call([.. call, "--json"]);
        Assert.Equal(code, json.Code);
        using var document = JsonDocument.Parse(json.Out);
        Assert.Equal($"fieldwright-{command}/1", document.RootElement.GetProperty("schema").GetString());
        Assert.True(JsonSchema.FromText(JsonReport.Schema(command)).Evaluate(document.RootElement).IsValid, json.Out);
    }

    [Theory]
    [InlineData("scale", "FILE")]
    [InlineData("scale", "FILE", "--by", "0")]
    [InlineData("scale", "FILE", "--by", "big")]
    [InlineData("scale", "FILE", "--by", "2", "--keep", "everything")]
    [InlineData("scale", "FILE", "--by", "2", "--set", "turns of coil=50")]
    [InlineData("doubt", "FILE", "--samples", "3")]
    [InlineData("tune", "FILE", "--turn", "turns of wheel")]
    [InlineData("tune", "FILE", "--turn", "current in coil")]
    [InlineData("tune", "FILE", "--turn", "turns of coil from 300 to 20")]
    [InlineData("tune", "FILE", "--turn", "turns of coil from 20")]
    [InlineData("tune", "FILE", "--trials", "0")]
    [InlineData("reconcile", "FILE", "FILE")]
    [InlineData("reconcile", "FILE", "LOG", "--suspect", "luck of coil")]
    [InlineData("programme", "FILE")]
    [InlineData("gallery", "FILE", "-o", "page.md")]
    public void Study_CalledWrongly_SaysSoAndEndsWithTwo(params string[] words)
    {
        using var folder = new Folder();
        string file = folder.File("coil.yaml", Coil("at least: 0.5 ohm")), log = folder.File("log.csv", Log);
        var said = Spoken.Call([.. words.Select(w => w switch { "FILE" => file, "LOG" => log, _ => w })]);
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Equal("", said.Out);
        Assert.NotEqual("", said.Error);
        Assert.DoesNotContain("   at ", said.Error);
    }

    [Fact]
    public void Doubt_WithoutTolerances_IsAWrongCall()
    {
        using var folder = new Folder();
        Assert.Equal(ExitCode.Wrong, Spoken.Call("doubt", folder.File("coil.yaml", Small.Coil("at least: 0.5 ohm"))).Code);
    }

    [Fact]
    public void Doubt_KeptAndCalledAgain_SaysTheSame()
    {
        using var folder = new Folder();
        string[] call = [.. Call("doubt", folder, "at least: 0.5 ohm"), "--resume", Path.Combine(folder.Path, "kept")];
        string first = Spoken.Call(call).Out;
        Assert.Equal(21, File.ReadAllLines(Path.Combine(folder.Path, "kept")).Length);
        Assert.Equal(first, Spoken.Call(call).Out);
        Assert.Equal(ExitCode.Wrong, Spoken.Call([.. call, "--seed", "2"]).Code);
    }

    [Fact]
    public void Doubt_Stopped_SaysWhatIsKept()
    {
        using var folder = new Folder();
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        var said = Spoken.CallWith(new StringWriter(), stop.Token, [.. Call("doubt", folder, "at least: 0.5 ohm"), "--resume", Path.Combine(folder.Path, "kept")]);
        Assert.Equal(ExitCode.Stopped, said.Code);
        Assert.Contains("kept in", said.Error);
    }

    [Fact]
    public void Scale_WithAPlace_WritesAFileThatIsRight()
    {
        using var folder = new Folder();
        Spoken.Call(Call("scale", folder, "at least: 0.2 ohm"));
        string large = Path.Combine(folder.Path, "large.yaml");
        Assert.StartsWith("# coil.yaml made 2 times the size", File.ReadAllText(large));
        Assert.InRange(Spoken.Call("rehearse", large).Code, ExitCode.Good, ExitCode.NotAll);
    }

    [Fact]
    public void Gallery_Made_ShowsEveryApparatusWithPictureAndLamp()
    {
        using var folder = new Folder();
        folder.File("coil.yaml", Small.Coil("at least: 50 ohm"));
        string page = Path.Combine(folder.Path, "all.md");
        Assert.Equal(ExitCode.NotAll, Spoken.Call("gallery", folder.Path, "-o", page, "--target", "5%").Code);
        string text = File.ReadAllText(page);
        Assert.Contains("## Coil", text);
        Assert.Contains("| ✕ |", text);
        Assert.Contains("![Coil](all/coil.svg)", text);
        Assert.Contains("<svg", File.ReadAllText(Path.Combine(folder.Path, "all/coil.svg")));
    }

    [Fact]
    public void Programme_OfTheExamples_CanBeRead()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "examples/first-evening.programme.yaml"));
        var mistakes = new List<Fieldwright.Bench.File.Mistake>();
        var programme = Fieldwright.Bench.Programmes.ProgrammeFile.Read(text, mistakes);
        Assert.Empty(mistakes);
        Assert.All(programme!.Steps.Where(s => s.Apparatus is not null), s => Assert.True(File.Exists(Path.Combine(Repository.Root, "examples", s.Apparatus!)), s.Apparatus));
    }

    [Fact]
    public void Analogue_OfABoard_PrintsDrawsAndFitsItsSchema()
    {
        using var folder = new Folder();
        string file = Path.Combine(Repository.Root, "examples/flux-board.yaml"), picture = Path.Combine(folder.Path, "water.svg");
        var said = Spoken.Call("analogue", file, "--as", "water", "-o", picture);
        Assert.Equal(ExitCode.Good, said.Code);
        Assert.Contains("Where the likeness breaks", said.Out);
        Assert.Contains(">gap<", File.ReadAllText(picture));
        using var document = System.Text.Json.JsonDocument.Parse(Spoken.Call("analogue", file, "--as", "water", "--json").Out);
        Assert.Equal("fieldwright-analogue/1", document.RootElement.GetProperty("schema").GetString());
        Assert.Equal(4, document.RootElement.GetProperty("circuit").GetProperty("elements").GetArrayLength());
    }

    [Theory]
    [InlineData("--as", "watr", "nearest: water")]
    [InlineData("--of", "heat", "there is no circuit 'heat' here")]
    [InlineData("--board", "1", "2 to 60")]
    [InlineData("-o", "x.txt", "no picture")]
    public void Analogue_AskedWrongly_SaysWhatWasMeant(string option, string value, string words)
    {
        var said = Spoken.Call("analogue", Path.Combine(Repository.Root, "examples/flux-board.yaml"), option, value);
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Contains(words, said.Error);
    }
}
