using System.Text.Json.Nodes;
using Fieldwright.Bench.File;
using Json.Schema;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

/// <summary>The published schema and the reference page follow from the reader's vocabulary, and fit the examples.</summary>
/// <remarks>After a change of the vocabulary, run these with the variable FIELDWRIGHT_REWRITE_DOCS set to 1; they then write both files anew.</remarks>
public class PublishedFormTests
{
    private static readonly bool Rewrite = Environment.GetEnvironmentVariable("FIELDWRIGHT_REWRITE_DOCS") == "1";

    private static readonly JsonSchema Schema = JsonSchema.FromText(ApparatusSchema.Write());

    public static TheoryData<string> Files => ApparatusFileTests.Files;

    [Fact]
    public void Schema_InTheRepository_IsThatOfTheCode() => AssertUpToDate("docs/apparatus.schema.json", ApparatusSchema.Write());

    [Fact]
    public void ReferencePage_InTheRepository_IsThatOfTheCode() => AssertUpToDate("docs/file.md", ReferencePage.Write());

    [Theory]
    [MemberData(nameof(Files))]
    public void File_OfTheRepository_FitsTheSchema(string path)
    {
        var result = Evaluate(System.IO.File.ReadAllText(Path.Combine(Repository.Root, path)));
        Assert.True(result.IsValid, path + " does not fit the schema: " + string.Join("; ", Errors(result)));
    }

    [Theory]
    [InlineData("apparatus: A\nsymmetry: square\n")]
    [InlineData("apparatus: A\nsymmetry: long\n")]
    [InlineData("apparatus: A\nsymmetry: round\ndepth: 30 mm\n")]
    [InlineData("apparatus: A\nsymmetry: round\nsurprise: 1\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {disc: {shape: disc, radius: 65, thickness: 3 mm, of: copper}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {disc: {shape: disc, thickness: 3 mm, of: copper}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {disc: {shape: core, inner radius: 3 mm, outer radius: 5 mm, of: copper}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nparts: {7 disc: {shape: disc, radius: 65 mm, thickness: 3 mm, of: copper}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nsupplies: {line: {current: 20 A, battery: 12 V, feeds: [a]}}\n")]
    [InlineData("apparatus: A\nsymmetry: round\nclaims: [{say: It hums, measure: lift on disc}]\n")]
    public void File_OfTheWrongForm_FailsTheSchemaAndTheReader(string text)
    {
        Assert.False(Evaluate(text).IsValid);
        Assert.NotEmpty(ApparatusFile.Read(text, "wrong.yaml").Mistakes);
    }

    private static EvaluationResults Evaluate(string yaml)
    {
        var mistakes = new List<Mistake>();
        var root = YamlTree.Read(yaml, mistakes);
        Assert.Empty(mistakes);
        using var document = System.Text.Json.JsonDocument.Parse(Json(root!)!.ToJsonString());
        return Schema.Evaluate(document.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
    }

    // As any other reader of YAML 1.2 would take it: unquoted numbers are numbers.
    private static JsonNode? Json(Node node) => node switch
    {
        Mapping mapping => new JsonObject(mapping.Entries.Select(e => KeyValuePair.Create(e.Key.Text, Json(e.Value)))),
        Sequence sequence => new JsonArray([.. sequence.Items.Select(Json)]),
        Scalar { IsEmpty: true } => null,
        Scalar { Quoted: false } scalar when double.TryParse(scalar.Text, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out double number) => JsonValue.Create(number),
        Scalar scalar => JsonValue.Create(scalar.Text),
        _ => null,
    };

    private static IEnumerable<string> Errors(EvaluationResults result) =>
        (result.Details ?? []).Where(d => d.Errors is not null).SelectMany(d => d.Errors!.Select(e => $"{d.InstanceLocation}: {e.Value}")).Take(10);

    private static void AssertUpToDate(string path, string fresh)
    {
        string full = Path.Combine(Repository.Root, path);
        if (Rewrite)
            System.IO.File.WriteAllText(full, fresh);
        Assert.True(System.IO.File.Exists(full) && System.IO.File.ReadAllText(full) == fresh, $"{path} is out of date: run this test with FIELDWRIGHT_REWRITE_DOCS=1.");
    }
}
