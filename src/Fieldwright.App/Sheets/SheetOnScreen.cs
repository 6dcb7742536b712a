using System.Net;
using System.Text;
using Fieldwright.App.Pictures;
using Fieldwright.App.Reports;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Sheets;

namespace Fieldwright.App.Sheets;

/// <summary>A build sheet as one self-contained HTML page, readable on a screen and printable.</summary>
internal static class SheetOnScreen
{
    private const string Style = """
        :root { --ink: #14171a; --quiet: #565d64; --rule: #b9bcbd; --paper: #fff; }
        body { font: 16px/1.5 Lato, "Segoe UI", system-ui, sans-serif; color: var(--ink); background: #ecece8; margin: 0; }
        main { max-width: 50rem; margin: 2rem auto; padding: 3rem 3.4rem; background: var(--paper); box-shadow: 0 1px 8px #0002; }
        h1 { font-size: 2rem; margin: 0 0 .3rem; border-bottom: 2px solid var(--ink); padding-bottom: .5rem; }
        h2 { font-size: 1.25rem; margin: 2.2rem 0 .5rem; }
        .quiet, caption, figcaption { color: var(--quiet); font-size: .9rem; }
        figure { margin: 1rem 0; text-align: center; } figure svg { max-width: 100%; height: auto; }
        table { border-collapse: collapse; width: 100%; font-size: .95rem; } .wide { overflow-x: auto; }
        th { text-align: left; font-weight: 400; color: var(--quiet); border-bottom: 1px solid var(--ink); padding: .25rem .6rem .25rem 0; }
        td { border-bottom: 1px solid var(--rule); padding: .3rem .6rem .3rem 0; vertical-align: top; }
        ol.claims { list-style: none; padding: 0; } ol.claims li { display: grid; grid-template-columns: 1.6rem 1fr auto; gap: .1rem .5rem; margin: .6rem 0; }
        ol.claims .lamp { font-size: 1.2rem; line-height: 1.2; } ol.claims .decided { grid-column: 2 / -1; }
        dl.caution dt { font-weight: 700; margin-top: 1rem; } dl.caution dd { margin: 0 0 0 1.2rem; } .do { font-style: italic; }
        pre { white-space: pre-wrap; font-size: .8rem; background: #f6f6f3; padding: 1rem; }
        footer { margin-top: 2rem; border-top: 1px solid var(--rule); padding-top: .5rem; }
        @media print { body { background: none; font-size: 10.5pt; } main { margin: 0; padding: 0; box-shadow: none; max-width: none; } h2 { break-after: avoid; } tr, li, figure, dd { break-inside: avoid; } @page { size: A4; margin: 15mm; } }
        """;

    /// <summary>The page.</summary>
    public static string Of(BuildSheet sheet)
    {
        var report = sheet.Report;
        var html = new StringBuilder();
        html.Append("<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        html.Append($"<title>{Safe(report.Apparatus.Name)}: build sheet</title>\n<style>\n{Style}\n</style>\n</head>\n<body>\n<main>\n");
        html.Append($"<h1>{Safe(report.Apparatus.Name)}</h1>\n<p class=\"quiet\">{Safe(report.Apparatus.About.Length > 0 ? report.Apparatus.About : report.Summary)}</p>\n");
        Figure(html, SvgPicture.WithinPage(sheet.Drawing, "drawing-"), SheetOnPaper.UnderDrawing(sheet));
        foreach (var table in sheet.Build)
        {
            Table(html, table);
            if (table.Title == sheet.WiringAfter && sheet.Wiring.Height > 0)
            {
                html.Append("<h2>How to connect it</h2>\n");
                Figure(html, SvgPicture.WithinPage(sheet.Wiring, "wiring-"), sheet.UnderWiring);
            }
        }

        if (sheet.Duty.Rows.Count > 0)
            Table(html, sheet.Duty);
        html.Append("<h2>Cautions</h2>\n<dl class=\"caution\">\n");
        foreach (var c in report.Cautions)
            html.Append($"<dt>{Safe(c.Name)}{(c.Acknowledged ? " (acknowledged in the file)" : "")}</dt>\n<dd>{Safe(c.Finding)}</dd>\n<dd class=\"do\">{Safe(c.Remedy)}</dd>\n<dd class=\"quiet\">Limit: {Safe(c.Limit)}. From: {Safe(c.Standard)} [{RehearsalPage.Grade(c.Grade)}].</dd>\n");
        html.Append("</dl>\n");
        if (report.AcknowledgedInVain is { Count: > 0 } inVain)
            html.Append($"<p>{Safe(RehearsalPage.InVain(inVain))}</p>\n");
        html.Append($"<p><strong>{Safe(Caution.Deferral)}</strong></p>\n<h2>What is claimed of it</h2>\n<ol class=\"claims\">\n");
        foreach (var v in report.Verdicts)
            Claim(html, v);
        html.Append("</ol>\n<h2>What it was made from</h2>\n<pre>").Append(Safe(string.Join('\n', sheet.Inputs))).Append("</pre>\n");
        html.Append($"<footer class=\"quiet\">{Safe(CommandLine.Version)} · file {sheet.Fingerprint}</footer>\n</main>\n</body>\n</html>\n");
        return html.ToString();
    }

    private static void Claim(StringBuilder html, Verdict v)
    {
        var lamp = Lamp.Of(v.Outcome);
        string state = v.Claim.State is { } name ? $"with {name}: " : "";
        string value = v.Answer.Leading is { } leading ? $" · {Shown.In(v.Answer.Unit).ValueAndBar(leading.Value, leading.ErrorBar)} by {Judge.Word(leading.Route)}" : "";
        html.Append($"<li><span class=\"lamp\" role=\"img\" aria-label=\"{lamp.Word}\">{lamp.Shape}</span><strong>{Safe(v.Claim.Say)}</strong><span>{Safe(RehearsalPage.Margin(v))}</span>");
        html.Append($"<span class=\"decided quiet\">{Safe($"{state}{v.Claim.Measure.Text}, {v.Claim.Bound.Text}{value}")}</span></li>\n");
    }

    private static void Table(StringBuilder html, SheetTable table)
    {
        html.Append($"<h2>{Safe(table.Title)}</h2>\n<div class=\"wide\"><table>\n<thead><tr>{string.Concat(table.Columns.Select(c => $"<th scope=\"col\">{Safe(c)}</th>"))}</tr></thead>\n<tbody>\n");
        foreach (var row in table.Rows)
            html.Append($"<tr>{string.Concat(row.Select(c => $"<td>{Safe(c)}</td>"))}</tr>\n");
        html.Append("</tbody></table></div>\n");
        if (table.Note.Length > 0)
            html.Append($"<p class=\"quiet\">{Safe(table.Note)}</p>\n");
    }

    private static void Figure(StringBuilder html, string svg, string caption) =>
        html.Append($"<figure>{svg}<figcaption>{Safe(caption)}</figcaption></figure>\n");

    private static string Safe(string text) => WebUtility.HtmlEncode(text);
}
