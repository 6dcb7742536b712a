using System.Globalization;
using System.Text;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Reports;

/// <summary>One apparatus of the gallery.</summary>
/// <param name="Link">Its file, relative to the page.</param>
/// <param name="Report">Its rehearsal.</param>
/// <param name="Picture">Its picture, relative to the page; null when there is none.</param>
internal sealed record GalleryEntry(string Link, RehearsalReport Report, string? Picture);

/// <summary>The gallery as Markdown.</summary>
internal static class GalleryPage
{
    /// <summary>Writes the page.</summary>
    public static string Of(IReadOnlyList<GalleryEntry> entries)
    {
        var text = new StringBuilder();
        text.Append("# Gallery\n\nEvery example, with its picture and the lamps of its claims. Made anew by `./fieldwright gallery examples -o docs/gallery.md`; do not write here by hand.\n\n");
        text.Append("● holds · ✕ fails · ○ too close to call · ◌ no answer\n\n| apparatus | claims that hold |\n|---|---|\n");
        foreach (var entry in entries)
            text.Append(CultureInfo.InvariantCulture, $"| [{entry.Report.Apparatus.Name}](#{Anchor(entry.Report.Apparatus.Name)}) | {entry.Report.Verdicts.Count(v => v.Outcome == Outcome.Holds)} of {entry.Report.Verdicts.Count} |\n");
        foreach (var entry in entries)
            Write(text, entry);
        return text.ToString();
    }

    private static void Write(StringBuilder text, GalleryEntry entry)
    {
        var apparatus = entry.Report.Apparatus;
        text.Append(CultureInfo.InvariantCulture, $"\n## {apparatus.Name}\n\n{apparatus.About}\n\n");
        text.Append(entry.Picture is { } picture ? $"![{apparatus.Name}]({picture})\n\n" : "Its field could not be found, so nothing is drawn.\n\n");
        text.Append("| | claim | measure and bound | answer |\n|---|---|---|---|\n");
        foreach (var verdict in entry.Report.Verdicts)
        {
            var answer = verdict.Answer.Leading;
            string value = answer is null ? "none" : $"{Shown.In(verdict.Answer.Unit).ValueAndBar(answer.Value, answer.ErrorBar)}, {Judge.Word(answer.Route)}";
            string state = verdict.Claim.State is { } name ? $"{name}: " : "";
            text.Append(CultureInfo.InvariantCulture, $"| {Lamp.Of(verdict.Outcome).Shape} | {Cell(verdict.Claim.Say)} | {Cell(state + verdict.Claim.Measure.Text)}, {verdict.Claim.Bound.Text} | {value} |\n");
        }

        text.Append(CultureInfo.InvariantCulture, $"\nCautions: {string.Join(", ", entry.Report.Cautions.Select(c => c.Name).DefaultIfEmpty("none found"))}. [The file]({entry.Link.Replace('\\', '/')}).\n");
    }

    private static string Cell(string text) => text.Replace("|", "\\|", StringComparison.Ordinal);

    private static string Anchor(string name) => string.Concat(name.ToLowerInvariant().Where(c => char.IsLetterOrDigit(c) || c is ' ' or '-')).Replace(' ', '-');
}
