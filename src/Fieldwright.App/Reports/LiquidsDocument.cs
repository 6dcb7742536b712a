using System.ComponentModel;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Fieldwright.Matter;

namespace Fieldwright.App.Reports;

[Description("The liquid metals side by side in the channels of an apparatus.")]
internal sealed record LiquidsDocument(
    [property: Description("Name and version of this form: fieldwright-liquids/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("The state it was asked in; null for the apparatus as the file stands.")] string? State,
    [property: Description("One entry a channel and liquid.")] IReadOnlyList<LiquidEntry> Liquids,
    [property: Description("The sentence that belongs under every list of cautions.")] string Deferral);

[Description("One liquid in one channel.")]
internal sealed record LiquidEntry(
    [property: Description("The channel.")] string Channel,
    [property: Description("The liquid.")] string Liquid,
    [property: Description("Whether the file has it there.")] bool IsThere,
    [property: Description("What it would do; a measure for which its properties do not suffice is left out.")] IReadOnlyList<AnswerEntry> Answers,
    [property: Description("Conductivity at the temperature of the hall, S/m.")] double Conductivity,
    [property: Description("Density, kg/m³; null when not known.")] double? Density,
    [property: Description("Viscosity, Pa s; null when not known.")] double? Viscosity,
    [property: Description("Melting point, K; null when not known.")] double? MeltingPoint,
    [property: Description("Whether it is solid in the hall; every answer is for the melt.")] bool IsSolid,
    [property: Description("Where the properties come from.")] string From,
    [property: Description("Its hazard; null when it is not known.")] CautionEntry? Hazard);

/// <summary>Liquids side by side for machines.</summary>
internal static class LiquidsJson
{
    /// <summary>The document.</summary>
    public static string Of(Apparatus apparatus, string? state, IReadOnlyList<LiquidInChannel> liquids) => JsonReport.Write(new LiquidsDocument(
        "fieldwright-liquids/1", apparatus.Name, state, [.. liquids.Select(l => Entry(l, apparatus.Ambient))], Caution.Deferral));

    private static LiquidEntry Entry(LiquidInChannel l, double ambient)
    {
        Material m = l.Liquid;
        return new LiquidEntry(l.Channel, m.Name, l.IsThere, [.. l.Answers.Select(JsonReport.Entry)], m.ConductivityAt(ambient), m.Density, m.DynamicViscosity, m.MeltingPoint, m.MeltingPoint > ambient,
            m.Source.Length > 0 ? m.Source : "as the file states", l.Hazard is { } hazard ? JsonReport.Entry(hazard) : null);
    }
}
