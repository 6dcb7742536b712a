using System.Text.Json;
using Fieldwright.App;
using Fieldwright.Bench.Studies;
using Json.Schema;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.App;

/// <summary>Liquids side by side in one channel.</summary>
public class LiquidsCommandTests
{
    private static readonly string Pump = Path.Combine(Repository.Root, "examples", "direct-current-pump.yaml");

    [Fact]
    public void Liquids_OfAPump_StandSideBySideWithHazardAndSource()
    {
        var said = Spoken.Call("liquids", Pump, "--state", "working");
        Assert.Equal(ExitCode.Good, said.Code);
        Assert.Equal("", said.Error);
        foreach (string piece in (string[])["galinstan, as the file", "mercury", "NaK", "flow", "fountain height", "Licensed handling only", "0.02 mg/m³", "local codes", "It is solid in the hall", "not known"])
            Assert.Contains(piece, said.Out, StringComparison.Ordinal);
        Assert.All(said.Out.Split('\n'), line => Assert.True(line.Length <= 92, line));
    }

    [Fact]
    public void Liquids_ForMachines_FitTheirSchemaAndSayWhatIsNotKnown()
    {
        var said = Spoken.Call("liquids", Pump, "--state", "working", "--json");
        Assert.Equal(ExitCode.Good, said.Code);
        using var document = JsonDocument.Parse(said.Out);
        Assert.True(JsonSchema.FromText(Fieldwright.App.Reports.JsonReport.Schema("liquids")).Evaluate(document.RootElement).IsValid, said.Out);
        JsonElement Liquid(string name) => document.RootElement.GetProperty("liquids").EnumerateArray().Single(l => l.GetProperty("liquid").GetString() == name);
        Assert.True(Liquid("galinstan").GetProperty("isThere").GetBoolean());
        Assert.Equal(13546, Liquid("mercury").GetProperty("density").GetDouble(), 1e-9);
        Assert.Contains("Licensed handling only", Liquid("mercury").GetProperty("hazard").GetProperty("remedy").GetString()!, StringComparison.Ordinal);
        Assert.Equal(JsonValueKind.Null, Liquid("gallium").GetProperty("viscosity").ValueKind);
        Assert.True(Liquid("gallium").GetProperty("isSolid").GetBoolean());
    }

    // At a given current the push does not ask what carries it; the height it stands at goes as one over the density.
    [Fact]
    public void Pressure_AtAGivenCurrent_IsTheSameForEveryLiquid_AndHeadGoesAsOneOverDensity()
    {
        var liquids = LiquidStudy.Of(Read.Example("direct-current-pump"), "working", 0.05, TestContext.Current.CancellationToken);
        double Value(LiquidInChannel l, string kind) => l.Answers.Single(a => a.Measure.Kind == kind).Leading!.Value;
        var mercury = liquids.Single(l => l.Liquid.Name == "mercury");
        var metal = liquids.Single(l => l.IsThere);
        Assert.Equal(Value(metal, "standstill pressure"), Value(mercury, "standstill pressure"), 1e-6 * Value(metal, "standstill pressure"));
        Assert.Equal(13546.0 / 6440, Value(metal, "head") / Value(mercury, "head"), 1e-6);
        // Gallium's viscosity is not in the tables, so neither its flow nor a jet without friction is made up.
        Assert.DoesNotContain(liquids.Single(l => l.Liquid.Name == "gallium").Answers, a => a.Measure.Kind is "flow" or "fountain height");
    }

    [Fact]
    public void Liquids_OfAnApparatusWithoutAChannel_IsAWrongCall()
    {
        var said = Spoken.Call("liquids", Path.Combine(Repository.Root, "examples", "floating-disc.yaml"));
        Assert.Equal(ExitCode.Wrong, said.Code);
        Assert.Contains("no part of it is a channel", said.Error, StringComparison.Ordinal);
    }
}
