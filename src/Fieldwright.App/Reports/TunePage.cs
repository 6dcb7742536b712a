using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Reports;

/// <summary>What tuning found, as a page: where the dials should stand, and every claim there.</summary>
internal static class TunePage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(TuneReport report, string file, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(report.Apparatus));
        page.Gap();
        page.Line(new Run("Turn", Tone.Strong));
        int column = report.Inputs.Max(t => t.Input.Text.Length) + 4;
        for (int i = 0; i < report.Inputs.Count; i++)
        {
            var tuned = report.Inputs[i];
            double value = report.Best.Values[i];
            string end = value <= tuned.From || value >= tuned.To ? "   at the end of its range: beyond it might be better still" : "";
            page.Prose(
                "  " + tuned.Input.Text.PadRight(column), column + 2, $"{Write(report, i, report.Start.Values[i])} →", new Run(Write(report, i, value), Tone.Strong),
                new Run($"   between {Write(report, i, tuned.From)} and {Write(report, i, tuned.To)}{end}", Tone.Quiet));
        }

        foreach (var (verdict, margin) in report.Rehearsal.Verdicts.Zip(report.Best.Margins))
        {
            page.Gap();
            var lamp = Lamp.Of(verdict.Outcome);
            page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(Indent), lamp.Tone), Indent, new Run(verdict.Claim.Say, Tone.Strong));
            string state = verdict.Claim.State is { } name ? $"with {name}: " : "";
            page.Line(Indent, $"{state}{verdict.Claim.Measure.Text}, {verdict.Claim.Bound.Text}", new Run(RehearsalPage.Margin(verdict), lamp.Tone));
            if (verdict.Answer.Leading is { } answer)
                page.Prose(new string(' ', Indent + 2), Indent + 2, Shown.In(verdict.Answer.Unit).ValueAndBar(answer.Value, answer.ErrorBar),
                    new Run(margin == report.Best.Margins.MinBy(m => m.Margin) ? "   this one has the least room" : "", Tone.Quiet));
        }

        page.Gap();
        string search = string.Create(CultureInfo.InvariantCulture, $"{report.Trials} trials by the quickest route{(report.Settled ? "" : ", and the trials ran out before the search settled (--trials)")}; the claims above are answered by every route.");
        if (report.Rehearsal.AllHold)
            page.Prose("", 0, new Run($"All claims hold there; the least room is {Shown.Share(report.Best.Least)} of a limit ({Sign(report.Start.Least)} where it stood).", Tone.Strong), search,
                "It is the best of what was tried, not proved to be the best there is.");
        else if (report.Best.Least > 0)
            page.Prose("", 0, new Run("At the best setting found no claim is broken, and not all are sure.", Tone.Unsure), search);
        else
            page.Prose("", 0, new Run($"No setting was found at which all claims hold; the best misses by {Shown.Share(report.Best.Least)} of a limit ({Sign(report.Start.Least)} where it stood).", Tone.Bad), search,
                "That is no proof that there is none. Widen a range, turn another input, or change a claim.");
        page.Prose("", 0, new Run("fieldwright rehearse " + file + string.Concat(report.Settings.Select((s, i) => $" --set \"{s.Input.Text}={Write(report, i, s.Value)}\"")), Tone.Quiet));
        return page;
    }

    private static string Write(TuneReport report, int input, double value) => Inputs.Write(report.Inputs[input].Input, value, report.Apparatus);

    private static string Sign(double margin) => margin >= 0 ? Shown.Share(margin) + " to spare" : margin <= -1 ? "no answer, or missed by more than the whole limit," : "missed by " + Shown.Share(margin);
}
