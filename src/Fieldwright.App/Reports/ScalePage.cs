using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Reports;

/// <summary>An apparatus at another size, as a page: what was kept, what follows, the claims at both sizes, what to change.</summary>
internal static class ScalePage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(ScaleReport report, string? written, int width)
    {
        var page = new Page(width);
        Heading.Write(page, report.Scaled.Summary);
        page.Gap();
        page.Line(new Run("Groups", Tone.Strong));
        foreach (var group in report.Law.Groups)
            page.Prose(
                new Run(("  " + (group.Kept ? "kept" : "× " + Shown.Digits(group.Factor, 3))).PadRight(Indent), group.Kept ? Tone.Good : Tone.Unsure), Indent,
                new Run(group.Name + ".", Tone.Strong), new Run(group.Meaning, Tone.Quiet));
        page.Prose(new Run("  kept".PadRight(Indent), Tone.Good), Indent, "Shape and matter: every ratio of lengths, every conductivity and permeability.");
        foreach (string sentence in report.Law.NotPossible.Concat(report.Notes))
            page.Prose("  ! ", 4, new Run(sentence, Tone.Unsure));
        page.Gap();
        page.Line(new Run("What follows", Tone.Strong));
        int column = report.Consequences.Select(c => c.What.Length).DefaultIfEmpty(0).Max() + 4;
        foreach (var c in report.Consequences)
        {
            var shown = c.Unit.Length > 0 ? Shown.In(c.Unit) : null;
            string Write(double value, string text) => shown is null ? text : shown.Rounded(value, 4);
            string ratio = shown is null || c.Before == 0 || c.Unit == "°C" ? "" : " (× " + Shown.Digits(c.After / c.Before, 4) + ")";
            page.Prose("  " + c.What.PadRight(column), column + 2, $"{Write(c.Before, c.TextBefore)} →", new Run(Write(c.After, c.TextAfter), Tone.Strong), new Run(ratio, Tone.Quiet));
        }

        foreach (var claim in report.Claims)
        {
            page.Gap();
            var (before, after) = (claim.Before, claim.After);
            var lamp = Lamp.Of(after.Outcome);
            page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(Indent), lamp.Tone), Indent, new Run(after.Claim.Say, Tone.Strong));
            string state = after.Claim.State is { } name ? $"with {name}: " : "";
            page.Line(Indent, $"{state}{after.Claim.Measure.Text}, {after.Claim.Bound.Text}", new Run(RehearsalPage.Margin(after), lamp.Tone));
            if (before.Answer.Leading is { } was && after.Answer.Leading is { } now)
            {
                var shown = Shown.In(after.Answer.Unit);
                page.Prose(new string(' ', Indent + 2), Indent + 2, $"{shown.ValueAndBar(was.Value, was.ErrorBar)} → {shown.ValueAndBar(now.Value, now.ErrorBar)}",
                    new Run(before.Outcome == after.Outcome ? "" : $"(it was: {Lamp.Of(before.Outcome).Word})", Tone.Quiet));
            }

            if (claim.Advice.Length > 0)
                page.Prose(new Run(new string(' ', Indent + 2) + "→ ", Tone.Unsure), Indent + 4, claim.Advice);
        }

        page.Gap();
        page.Prose("", 0, "Bounds on lengths, forces, stiffness, swings and fluxes are taken in proportion; what fingers, sockets, insulation and lamps set (temperatures, voltages, currents, powers) stays as it was said.");
        page.Prose("", 0, string.Create(CultureInfo.InvariantCulture, $"{report.Scaled.Cautions.Count} cautions go with the new size, {report.Original.Cautions.Count} with the old: rehearse the new file to read them."));
        page.Prose("", 0, written is null ? "Nothing was written; -o OUT writes the new apparatus file." : $"Written to {written}.");
        return page;
    }
}
