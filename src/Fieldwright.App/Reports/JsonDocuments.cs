using System.ComponentModel;
using System.Text.Json.Serialization;

namespace Fieldwright.App.Reports;

// What --json prints. A change that could break a reader gets a new number in the name of the schema.

[Description("A rehearsal: every claim of an apparatus answered by every route that can, judged, and the cautions.")]
internal sealed record RehearsalDocument(
    [property: Description("Name and version of this form: fieldwright-rehearsal/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("The apparatus in a line.")] string Summary,
    [property: Description("Whether every claim holds.")] bool AllHold,
    [property: Description("One verdict a claim, in the order of the file.")] IReadOnlyList<VerdictEntry> Claims,
    [property: Description("Hazards found, each with its number and the limit it is set beside.")] IReadOnlyList<CautionEntry> Cautions,
    [property: Description("The sentence that belongs under every list of cautions.")] string Deferral);

[Description("One measure, answered.")]
internal sealed record AnswerDocument(
    [property: Description("Name and version of this form: fieldwright-answer/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("The apparatus in a line.")] string Summary,
    [property: Description("The state it was asked in; null for the apparatus as the file stands.")] string? State,
    [property: Description("What the routes answered.")] AnswerEntry Answer);

[Description("Everything that can be asked of an apparatus.")]
internal sealed record MeasuresDocument(
    [property: Description("Name and version of this form: fieldwright-measures/1.")] string Schema,
    [property: Description("What the apparatus is called.")] string Apparatus,
    [property: Description("The apparatus in a line.")] string Summary,
    [property: Description("The measures.")] IReadOnlyList<MeasureEntry> Measures);

internal sealed record VerdictEntry(
    [property: Description("What is said to the audience.")] string Say,
    [property: Description("The state it is said in; null when it does not matter.")] string? State,
    [property: Description("The bound in words.")] string Bound,
    [property: Description("Lower limit in the unit of the answer; null when there is none.")] double? AtLeast,
    [property: Description("Upper limit in the unit of the answer; null when there is none.")] double? AtMost,
    [property: Description("What became of it.")] OutcomeWord Outcome,
    [property: Description("Distance of the leading value from the nearest limit, in the unit of the answer, positive inside the bound; null without an answer.")] double? Margin,
    [property: Description("Why, in one sentence.")] string Words,
    [property: Description("How far the stated tolerances may move the answer, in its unit; null when none is stated.")] double? Tolerances,
    [property: Description("The answer it rests on.")] AnswerEntry Answer);

internal sealed record AnswerEntry(
    [property: Description("What was asked.")] string Measure,
    [property: Description("Unit of every number here.")] string Unit,
    [property: Description("One answer a route, the most certain first; it leads.")] IReadOnlyList<RouteEntry> Routes,
    [property: Description("Largest distance of another route from the leading one; null when one route only answered.")] double? Difference,
    [property: Description("Routes that lie further from the leading one than both error bars together allow.")] IReadOnlyList<string> Disagreeing,
    [property: Description("Routes that should have answered and could not.")] IReadOnlyList<SilentEntry> Silent);

internal sealed record RouteEntry(
    [property: Description("circuit, series, field, given, or bound: a one-sided answer of a simpler model.")] string Route,
    [property: Description("The value.")] double Value,
    [property: Description("Half-width within which the route believes the true value of its own model to lie; not negative.")] double ErrorBar,
    [property: Description("Bounds from two complementary solutions, between which the truth of the route's model must lie; null where there are none.")] BoundsEntry? Bracket,
    [property: Description("Why there are no bounds, for an answer that could have some; empty where bounds are never to be had, or where there are some.")] string Unbounded,
    [property: Description("What a reader must know about it; empty when nothing.")] string Remark);

internal sealed record BoundsEntry(
    [property: Description("The lower bound, in the unit of the answer.")] double Lower,
    [property: Description("The upper bound, in the unit of the answer.")] double Upper);

internal sealed record SilentEntry(
    [property: Description("circuit, series or field.")] string Route,
    [property: Description("Why it gave no answer.")] string Reason);

internal sealed record CautionEntry(
    [property: Description("Short name, by which the file may acknowledge it.")] string Name,
    [property: Description("The number found and what it means.")] string Finding,
    [property: Description("The limit it is set beside.")] string Limit,
    [property: Description("Standard and year, or 'common practice, no source'.")] string Standard,
    [property: Description("a: read in an opened source; b: computed; c: from memory.")] string Grade,
    [property: Description("What to do about it.")] string Remedy,
    [property: Description("Whether the file acknowledges it.")] bool Acknowledged);

internal sealed record MeasureEntry(
    [property: Description("The measure as it is written.")] string Measure,
    [property: Description("The unit it is answered in.")] string Unit,
    [property: Description("Routes that would answer.")] IReadOnlyList<string> Routes,
    [property: Description("What it is, in one sentence.")] string Meaning);

[JsonConverter(typeof(JsonStringEnumConverter<OutcomeWord>))]
internal enum OutcomeWord
{
    [JsonStringEnumMemberName("holds")]
    Holds,
    [JsonStringEnumMemberName("fails")]
    Fails,
    [JsonStringEnumMemberName("too close to call")]
    TooClose,
    [JsonStringEnumMemberName("no answer")]
    NoAnswer,
}

/// <summary>How the documents are written; generated at build, so that nothing is looked up at start.</summary>
[JsonSourceGenerationOptions(WriteIndented = true, PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, RespectNullableAnnotations = true, RespectRequiredConstructorParameters = true)]
[JsonSerializable(typeof(RehearsalDocument))]
[JsonSerializable(typeof(AnswerDocument))]
[JsonSerializable(typeof(MeasuresDocument))]
[JsonSerializable(typeof(FolderDocument))]
[JsonSerializable(typeof(ScaleDocument))]
[JsonSerializable(typeof(DoubtDocument))]
[JsonSerializable(typeof(TuneDocument))]
[JsonSerializable(typeof(ReconcileDocument))]
[JsonSerializable(typeof(ProgrammeDocument))]
[JsonSerializable(typeof(AnalogueDocument))]
[JsonSerializable(typeof(LiquidsDocument))]
internal sealed partial class JsonForms : JsonSerializerContext;
