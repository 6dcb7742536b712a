using System.Text.Json;
using Fieldwright.App.Reports;
using Json.Schema;
using Xunit;

namespace Fieldwright.Tests.App;

/// <summary>What --json prints fits the published schemas, and those follow from the code.</summary>
/// <remarks>After a change of the documents, run these with the variable FIELDWRIGHT_REWRITE_DOCS set to 1; they then write the schemas anew.</remarks>
public class JsonReportTests
{
    public static TheoryData<string> Forms => [.. JsonReport.Forms];

    [Theory]
    [MemberData(nameof(Forms))]
    public void Schema_InTheRepository_IsThatOfTheCode(string form)
    {
        string path = Path.Combine(Repository.Root, "docs", form + ".schema.json"), text = JsonReport.Schema(form) + "\n";
        if (Environment.GetEnvironmentVariable("FIELDWRIGHT_REWRITE_DOCS") == "1")
            File.WriteAllText(path, text);
        Assert.Equal(text, File.ReadAllText(path));
        Assert.Equal(text, Spoken.Call("schema", form).Out);
    }

    [Fact]
    public void ApparatusSchema_Printed_IsThatInTheRepository() =>
        Assert.Equal(File.ReadAllText(Path.Combine(Repository.Root, "docs/apparatus.schema.json")), Spoken.Call("schema").Out);

    [Theory]
    [InlineData("rehearsal", "rehearse")]
    [InlineData("answer", "ask")]
    [InlineData("measures", "measures")]
    [InlineData("folder", "rehearse folder")]
    public void Json_Printed_FitsItsSchema(string form, string command)
    {
        using var folder = new Folder();
        string file = folder.File("coil.yaml", Small.Coil("at least: 50 ohm"));
        var said = command switch
        {
            "ask" => Spoken.Call(command, file, "resistance of coil", "--json"),
            "rehearse folder" => Spoken.Call("rehearse", folder.Path, "--json"),
            _ => Spoken.Call(command, file, "--json"),
        };
        using var document = JsonDocument.Parse(said.Out);
        Assert.Equal($"fieldwright-{form}/1", document.RootElement.GetProperty("schema").GetString());
        var result = Schema(form).Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(result.IsValid, said.Out);
        Assert.DoesNotContain("\e", said.Out);
    }

    [Fact]
    public void Json_OfAnotherForm_FailsTheSchema()
    {
        using var document = JsonDocument.Parse("""{"schema": "fieldwright-rehearsal/1", "apparatus": "A"}""");
        Assert.False(Schema("rehearsal").Evaluate(document.RootElement).IsValid);
    }

    [Fact]
    public void Json_OfARehearsal_HoldsOutcomeMarginAndUnit()
    {
        using var folder = new Folder();
        using var document = JsonDocument.Parse(Spoken.Call("rehearse", folder.File("coil.yaml", Small.Coil("at least: 50 ohm")), "--json").Out);
        var claim = document.RootElement.GetProperty("claims")[0];
        Assert.False(document.RootElement.GetProperty("allHold").GetBoolean());
        Assert.Equal("fails", claim.GetProperty("outcome").GetString());
        double value = claim.GetProperty("answer").GetProperty("routes")[0].GetProperty("value").GetDouble();
        Assert.Equal(value - 50, claim.GetProperty("margin").GetDouble(), 1e-9);
        Assert.Equal("ohm", claim.GetProperty("answer").GetProperty("unit").GetString());
        Assert.Equal(50, claim.GetProperty("atLeast").GetDouble(), 1e-9);
        Assert.Equal(JsonValueKind.Null, claim.GetProperty("atMost").ValueKind);
    }

    /// <summary>An answer that could have bounds and has none says why: here the plane section does not see its ends.</summary>
    [Fact]
    public void Json_OfAnAnswerWithoutBounds_SaysWhy()
    {
        using var folder = new Folder();
        const string Coils = """
            apparatus: Coils
            symmetry: SYMMETRY
            windings:
              coil: {turns: 100, wire: 1 mm grade 1, PLACE}
            supplies:
              box: {current: 1 A, feeds: [coil]}
            claims:
              - {say: It holds something, measure: stored energy, at least: 0 J}
            """;
        JsonElement Field(string symmetry, string place)
        {
            string text = Coils.Replace("SYMMETRY", symmetry, StringComparison.Ordinal).Replace("PLACE", place, StringComparison.Ordinal);
            using var document = JsonDocument.Parse(Spoken.Call("rehearse", folder.File("coils.yaml", text), "--json").Out);
            return document.RootElement.GetProperty("claims")[0].GetProperty("answer").GetProperty("routes").EnumerateArray().Single(r => r.GetProperty("route").GetString() == "field").Clone();
        }

        var round = Field("round", "between radii: [20 mm, 30 mm], from z: 0 mm, to z: 20 mm");
        Assert.Equal("", round.GetProperty("unbounded").GetString());
        Assert.Equal(JsonValueKind.Object, round.GetProperty("bracket").ValueKind);
        var plane = Field("long\ndepth: 50 mm\nparts:\n  core: {shape: core, inner radius: 40 mm, outer radius: 60 mm, of: air}", "on: core, centred at: 90 deg, length: 60 mm, build: 6 mm, clearance: 1.5 mm");
        Assert.Equal("a plane section does not see its ends", plane.GetProperty("unbounded").GetString());
        Assert.Equal(JsonValueKind.Null, plane.GetProperty("bracket").ValueKind);
    }

    private static JsonSchema Schema(string form) => JsonSchema.FromText(JsonReport.Schema(form));
}
