using Fieldwright.App.Reports;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Sheets;

namespace Fieldwright.App.Sheets;

/// <summary>A build sheet as pages of A4.</summary>
internal static class SheetOnPaper
{
    /// <summary>The pages: what to build first, then how long it may stay on and what can hurt, then what is claimed and what it was made from.</summary>
    public static IReadOnlyList<Scene> Of(BuildSheet sheet)
    {
        var pages = new A4Pages();
        var report = sheet.Report;
        pages.Title(report.Apparatus.Name, report.Apparatus.About.Length > 0 ? report.Apparatus.About : report.Summary);
        pages.Space(8);
        pages.Drawing(sheet.Drawing);
        pages.Prose(UnderDrawing(sheet), 9.8, Face.Regular, Palette.Paper.QuietText);
        string? wiringAfter = sheet.WiringAfter;
        foreach (var table in sheet.Build)
        {
            pages.Heading(table.Title);
            pages.Table(table);
            if (table.Title == wiringAfter && sheet.Wiring.Height > 0)
            {
                pages.Heading("How to connect it", sheet.Wiring.Height);
                pages.Drawing(sheet.Wiring);
                pages.Prose(sheet.UnderWiring, 9.8, Face.Regular, Palette.Paper.QuietText);
            }
        }

        if (sheet.Duty.Rows.Count > 0)
        {
            pages.Heading(sheet.Duty.Title);
            pages.Table(sheet.Duty);
        }

        // A caution is kept together, and its heading with the first.
        pages.Heading("Cautions", report.Cautions.Count > 0 ? 84 : 44);
        foreach (var caution in report.Cautions)
        {
            pages.Space(5);
            pages.Keep(78);
            pages.Prose(caution.Name + (caution.Acknowledged ? " (acknowledged in the file)" : ""), 11.2, Face.Bold);
            pages.Prose(caution.Finding, indent: 14);
            pages.Prose(caution.Remedy, face: Face.Italic, indent: 14);
            pages.Prose($"Limit: {caution.Limit}. From: {caution.Standard} [{RehearsalPage.Grade(caution.Grade)}].", 9.8, Face.Regular, Palette.Paper.QuietText, 14);
        }

        pages.Space(6);
        if (report.AcknowledgedInVain is { Count: > 0 } inVain)
            pages.Prose(RehearsalPage.InVain(inVain));
        pages.Prose(Caution.Deferral, 11.2, Face.Bold);
        pages.Heading("What is claimed of it");
        foreach (var verdict in report.Verdicts)
        {
            string state = verdict.Claim.State is { } name ? $"with {name}: " : "";
            string value = verdict.Answer.Leading is { } leading
                ? $" · {Shown.In(verdict.Answer.Unit).ValueAndBar(leading.Value, leading.ErrorBar)} by {Judge.Word(leading.Route)}" : "";
            pages.Claim(Lamp.Of(verdict.Outcome).Shape, verdict.Claim.Say, $"{state}{verdict.Claim.Measure.Text}, {verdict.Claim.Bound.Text}{value}", RehearsalPage.Margin(verdict));
        }

        pages.Heading("What it was made from");
        pages.Verbatim(sheet.Inputs);
        return pages.Finish(report.Apparatus.Name, $"{report.Apparatus.Name} · {CommandLine.Version} · file {sheet.Fingerprint}");
    }

    /// <summary>What stands under the drawing.</summary>
    internal static string UnderDrawing(BuildSheet sheet) => sheet.Scale == "none" ? sheet.Drawing.About : $"{sheet.Drawing.About} Numbers in circles are those of the tables.";
}
