using System.Globalization;
using Fieldwright.App.Commands;
using Fieldwright.Bench.Claims;

namespace Fieldwright.App.Reports;

/// <summary>The rehearsal of a folder as a page: a line for each apparatus, then the claims that do not hold, then the count.</summary>
internal static class FolderPage
{
    private const int LampColumn = 14;

    /// <summary>The line of one file.</summary>
    public static Page Line(FolderEntry entry, int fileWidth, int width)
    {
        var page = new Page(width);
        var lamp = Of(entry);
        string name = entry.Report?.Apparatus.Name ?? "", count = Count(entry);
        int space = width - LampColumn - fileWidth - name.Length - count.Length - 4;
        page.Line(
            new Run($"{lamp.Shape} {lamp.Word}".PadRight(LampColumn), lamp.Tone), entry.File.PadRight(fileWidth) + "  ",
            new Run(name, Tone.Strong), new string(' ', Math.Max(2, space + 2)), new Run(count, Tone.Quiet));
        return page;
    }

    /// <summary>What follows when all are done.</summary>
    public static Page Closing(IReadOnlyList<FolderEntry> entries, int width)
    {
        var page = new Page(width);
        foreach (var entry in entries)
            foreach (var verdict in entry.Report?.Verdicts.Where(v => v.Outcome != Outcome.Holds) ?? [])
            {
                var lamp = Lamp.Of(verdict.Outcome);
                page.Gap();
                page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(LampColumn), lamp.Tone), LampColumn, $"{entry.File}: ", new Run(verdict.Claim.Say, Tone.Strong));
                string state = verdict.Claim.State is { } name ? $"with {name}: " : "";
                page.Line(LampColumn, $"{state}{verdict.Claim.Measure.Text}, {verdict.Claim.Bound.Text}", new Run(RehearsalPage.Margin(verdict), lamp.Tone));
                page.Prose(new string(' ', LampColumn), LampColumn, new Run(verdict.Words, Tone.Quiet));
            }

        page.Gap();
        int whole = entries.Count(e => e.Code == ExitCode.Good), wrong = entries.Count(e => e.Code == ExitCode.Wrong);
        int claims = entries.Sum(e => e.Report?.Verdicts.Count ?? 0), hold = entries.Sum(e => e.Report?.Verdicts.Count(v => v.Outcome == Outcome.Holds) ?? 0);
        page.Prose("", 0, string.Create(CultureInfo.InvariantCulture,
            $"Of {entries.Count} apparatus, {whole} {(whole == 1 ? "keeps" : "keep")} every claim; of {claims} claims, {hold} {(hold == 1 ? "holds" : "hold")}.{(wrong > 0 ? $" {wrong} {(wrong == 1 ? "file is" : "files are")} wrong." : "")}"));
        page.Prose("", 0, "Cautions are printed by 'rehearse' of one file.");
        return page;
    }

    // The worst lamp of a file stands for it.
    private static Lamp Of(FolderEntry entry)
    {
        if (entry.Report is not { } report)
            return new Lamp("!", "wrong file", Tone.Bad);
        Outcome[] order = [Outcome.Fails, Outcome.NoAnswer, Outcome.TooClose];
        var worst = order.Where(o => report.Verdicts.Any(v => v.Outcome == o)).Select(o => (Outcome?)o).FirstOrDefault();
        return Lamp.Of(worst ?? Outcome.Holds);
    }

    private static string Count(FolderEntry entry)
    {
        if (entry.Report is not { } report)
            return string.Create(CultureInfo.InvariantCulture, $"{entry.Mistakes.Count} {(entry.Mistakes.Count == 1 ? "mistake" : "mistakes")}");
        return string.Create(CultureInfo.InvariantCulture, $"{report.Verdicts.Count(v => v.Outcome == Outcome.Holds)} of {report.Verdicts.Count} hold");
    }
}
