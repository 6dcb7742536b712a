using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Reports;

/// <summary>A rehearsal as a page: the apparatus in a line, claims with lamps and routes, the count, notes, cautions.</summary>
internal static class RehearsalPage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(RehearsalReport report, int width)
    {
        var page = new Page(width);
        Heading.Write(page, report.Summary);
        var answers = new AnswerLines(page);
        foreach (var verdict in report.Verdicts)
        {
            page.Gap();
            Write(page, answers, verdict);
        }

        page.Gap();
        page.Line(Count(report.Verdicts));
        answers.WriteNotes();
        Write(page, report.Cautions, report.AcknowledgedInVain);
        return page;
    }

    private static void Write(Page page, AnswerLines answers, Verdict verdict)
    {
        var lamp = Lamp.Of(verdict.Outcome);
        page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(Indent), lamp.Tone), Indent, new Run(verdict.Claim.Say, Tone.Strong));
        string state = verdict.Claim.State is { } name ? $"with {name}: " : "";
        page.Line(Indent, $"{state}{verdict.Claim.Measure.Text}, {verdict.Claim.Bound.Text}", new Run(Margin(verdict), lamp.Tone));
        answers.Write(verdict.Answer, Indent + 2);
        if (verdict.Tolerances is { Reach: > 0 } tolerances)
            page.Line(new string(' ', Indent + 2), new Run(Shown.In(verdict.Answer.Unit).Reach(tolerances.Reach, verdict.Answer.Leading?.Value ?? 0) is { Length: > 0 } reach ? $"± {reach} by the stated tolerances" : "not moved by the stated tolerances", Tone.Quiet));
        if (verdict.Outcome == Outcome.TooClose)
            page.Prose(new string(' ', Indent), Indent, new Run(verdict.Words, Tone.Unsure));
    }

    /// <summary>How much a claim has to spare, or misses by; empty without an answer.</summary>
    public static string Margin(Verdict verdict)
    {
        if (!double.IsFinite(verdict.Margin))
            return "";
        string by = Shown.In(verdict.Answer.Unit).Gap(verdict.Margin);
        return verdict.Margin >= 0 ? by + " to spare" : "misses by " + by;
    }

    private static string Count(IReadOnlyList<Verdict> verdicts)
    {
        if (verdicts.Count == 0)
            return "The file makes no claims.";
        int Of(Outcome outcome) => verdicts.Count(v => v.Outcome == outcome);
        var pieces = new List<string>();
        void Add(int count, string one, string many)
        {
            if (count > 0)
                pieces.Add(string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}"));
        }

        Add(Of(Outcome.Holds), "holds", "hold");
        Add(Of(Outcome.Fails), "fails", "fail");
        Add(Of(Outcome.TooClose), "is too close to call", "are too close to call");
        Add(Of(Outcome.NoAnswer), "has no answer", "have no answer");
        string claims = verdicts.Count == 1 ? "Of 1 claim" : string.Create(CultureInfo.InvariantCulture, $"Of {verdicts.Count} claims");
        return verdicts.All(v => v.Outcome == Outcome.Holds)
            ? verdicts.Count == 1 ? "The one claim holds." : string.Create(CultureInfo.InvariantCulture, $"All {verdicts.Count} claims hold.")
            : $"{claims}, {string.Join(", ", pieces)}.";
    }

    private static void Write(Page page, IReadOnlyList<Caution> cautions, IReadOnlyList<string> inVain)
    {
        page.Gap();
        page.Line(new Run("Cautions", Tone.Strong));
        for (int i = 0; i < cautions.Count; i++)
        {
            var caution = cautions[i];
            page.Gap();
            string number = (i + 1).ToString(CultureInfo.InvariantCulture).PadLeft(2) + "  ";
            page.Prose(new Run(number, Tone.Strong), 4, new Run(caution.Name, Tone.Strong), new Run(caution.Acknowledged ? "(acknowledged in the file)" : "", Tone.Quiet));
            page.Prose("    ", 4, caution.Finding);
            page.Prose(new Run("    limit     ", Tone.Quiet), 14, caution.Limit);
            page.Prose(new Run("    from      ", Tone.Quiet), 14, caution.Standard, new Run($"[{Grade(caution.Grade)}]", Tone.Quiet));
            page.Prose(new Run("    do        ", Tone.Quiet), 14, caution.Remedy);
        }

        page.Gap();
        if (cautions.Count == 0)
            page.Line("None was found among the hazards that are looked for.");
        if (inVain.Count > 0)
            page.Prose("", 0, InVain(inVain));
        page.Prose("", 0, Caution.Deferral);
    }

    /// <summary>What to say of acknowledgements that meet no caution.</summary>
    public static string InVain(IReadOnlyList<string> names) => $"Acknowledged in the file but not found: {string.Join(", ", names)}. Acknowledge a caution by its name as it stands here.";

    /// <summary>A grade in words.</summary>
    public static string Grade(char grade) => grade switch
    {
        'a' => "grade a: read in an opened source",
        'b' => "grade b: computed",
        _ => "grade c: from memory",
    };
}
