using System.ComponentModel;
using System.Reflection;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization.Metadata;
using Fieldwright.App.Commands;
using Fieldwright.Bench;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.App.Reports;

/// <summary>What <c>--json</c> prints, and the schemas of it.</summary>
internal static class JsonReport
{
    private static readonly JsonSerializerOptions Options = new(JsonForms.Default.Options) { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The forms by name, for <c>schema</c>.</summary>
    public static IReadOnlyList<string> Forms => [.. Documents.Select(d => d.Form)];

    private static readonly (string Form, Type Document)[] Documents =
    [
        ("rehearsal", typeof(RehearsalDocument)),
        ("answer", typeof(AnswerDocument)),
        ("measures", typeof(MeasuresDocument)),
        ("folder", typeof(FolderDocument)),
        ("scale", typeof(ScaleDocument)),
        ("doubt", typeof(DoubtDocument)),
        ("tune", typeof(TuneDocument)),
        ("reconcile", typeof(ReconcileDocument)),
        ("programme", typeof(ProgrammeDocument)),
        ("analogue", typeof(AnalogueDocument)),
        ("liquids", typeof(LiquidsDocument)),
    ];

    /// <summary>A rehearsal.</summary>
    public static string Of(RehearsalReport report) => Write(Document(report));

    /// <summary>The rehearsals of a folder.</summary>
    public static string Of(IReadOnlyList<FolderEntry> entries) => Write(new FolderDocument(
        "fieldwright-folder/1",
        entries.All(e => e.Code == ExitCode.Good),
        [.. entries.Select(e => new FolderFile(e.File, e.Report is null ? null : Document(e.Report), e.Mistakes))]));

    private static RehearsalDocument Document(RehearsalReport report) => new(
        "fieldwright-rehearsal/1",
        report.Apparatus.Name,
        report.Summary,
        report.AllHold,
        [.. report.Verdicts.Select(Entry)],
        [.. report.Cautions.Select(Entry)],
        Caution.Deferral);

    /// <summary>One answer.</summary>
    public static string Of(Apparatus apparatus, string? state, RoutedAnswer answer) =>
        Write(new AnswerDocument("fieldwright-answer/1", apparatus.Name, Summary.Of(apparatus), state, Entry(answer)));

    /// <summary>What can be asked.</summary>
    public static string Of(Apparatus apparatus, IReadOnlyList<AskableMeasure> measures) => Write(new MeasuresDocument(
        "fieldwright-measures/1",
        apparatus.Name,
        Summary.Of(apparatus),
        [.. measures.Select(m => new MeasureEntry(m.Text, m.Kind.Unit, [.. m.Routes.Select(Judge.Word)], m.Kind.Meaning))]));

    /// <summary>JSON Schema of a form.</summary>
    /// <param name="form">One of <see cref="Forms"/>.</param>
    public static string Schema(string form)
    {
        var type = Documents.FirstOrDefault(d => d.Form == form).Document ?? throw new ArgumentException($"There is no form '{form}'.", nameof(form));
        var body = (JsonObject)Options.GetJsonSchemaAsNode(type, new JsonSchemaExporterOptions { TreatNullObliviousAsNonNullable = true, TransformSchemaNode = Describe });
        var schema = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["title"] = $"fieldwright-{form}/1",
        };
        foreach (var (key, value) in body.ToList())
        {
            body.Remove(key);
            schema[key] = value;
        }

        schema["properties"]!["schema"]!["const"] = $"fieldwright-{form}/1";
        return schema.ToJsonString(Options);
    }

    private static JsonNode Describe(JsonSchemaExporterContext context, JsonNode schema)
    {
        var about = context.PropertyInfo is { AttributeProvider: { } provider } ? provider : context.TypeInfo.Type;
        string? text = about.GetCustomAttributes(typeof(DescriptionAttribute), false).OfType<DescriptionAttribute>().FirstOrDefault()?.Description;
        if (text is null || schema is not JsonObject body)
            return schema;
        body.Insert(0, "description", text);
        return body;
    }

    internal static VerdictEntry Entry(Verdict verdict)
    {
        var shown = Shown.In(verdict.Answer.Unit);
        return new VerdictEntry(
            verdict.Claim.Say,
            verdict.Claim.State,
            verdict.Claim.Bound.Text,
            Finite(shown.Of(verdict.Claim.Bound.Lower)),
            Finite(shown.Of(verdict.Claim.Bound.Upper)),
            verdict.Outcome switch
            {
                Outcome.Holds => OutcomeWord.Holds,
                Outcome.Fails => OutcomeWord.Fails,
                Outcome.TooClose => OutcomeWord.TooClose,
                _ => OutcomeWord.NoAnswer,
            },
            Finite(shown.Difference(verdict.Margin)),
            verdict.Words,
            verdict.Tolerances is { } tolerances ? shown.Difference(tolerances.Reach) : null,
            Entry(verdict.Answer));
    }

    internal static CautionEntry Entry(Caution c) => new(c.Name, c.Finding, c.Limit, c.Standard, c.Grade.ToString(), c.Remedy, c.Acknowledged);

    internal static AnswerEntry Entry(RoutedAnswer answer)
    {
        var shown = Shown.In(answer.Unit);
        return new AnswerEntry(
            answer.Measure.Text,
            answer.Unit,
            [.. answer.Answers.Select(a => new RouteEntry(Judge.Word(a.Route), shown.Of(a.Value), shown.Difference(a.ErrorBar), a.Bracket is { } b ? new BoundsEntry(shown.Of(b.Lower), shown.Of(b.Upper)) : null, a.Unbounded, a.Remark))],
            answer.Difference is { } difference ? shown.Difference(difference) : null,
            [.. answer.Disagreeing.Select(a => Judge.Word(a.Route))],
            [.. answer.Silent.Select(s => new SilentEntry(Judge.Word(s.Route), s.Reason))]);
    }

    internal static double? Finite(double value) => double.IsFinite(value) ? value : null;

    internal static string Write<T>(T document) => JsonSerializer.Serialize(document, (JsonTypeInfo<T>)Options.GetTypeInfo(typeof(T)));
}
