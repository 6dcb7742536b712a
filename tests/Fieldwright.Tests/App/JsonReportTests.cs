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

    private static JsonSchema Schema(string form) => JsonSchema.FromText(JsonReport.Schema(form));
}
