using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Reports;

/// <summary>Claims under the stated tolerances, as a page: how often each holds, how far its answer spreads, and which tolerance matters.</summary>
internal static class DoubtPage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(DoubtReport report, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(report.Apparatus));
        foreach (var claim in report.Claims)
        {
            page.Gap();
            Write(page, claim, report);
        }

        page.Gap();
        if (report.AllHold is { } all)
            page.Prose("", 0, new Run($"All claims hold together in {Share(all)} of the apparatus drawn.", Tone.Strong));
        page.Prose("", 0, string.Create(CultureInfo.InvariantCulture,
            $"{report.Options.Samples} apparatus were drawn from the tolerances, seed {report.Options.Seed}: every value within a tolerance as likely as any other, and one tolerance independent of the next. The interval behind a share is what the number of samples leaves open, 95 of 100 times."));
        if (report.Claims.Any(c => c.Samples.Count > 0 && !c.Drawn))
            page.Prose("", 0, "* The field route alone can answer this; its answers were not computed for each apparatus drawn but follow in straight lines from one change of each input.");
        return page;
    }

    private static void Write(Page page, DoubtedClaim claim, DoubtReport report)
    {
        var verdict = claim.Verdict;
        var lamp = Lamp.Of(verdict.Outcome);
        page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(Indent), lamp.Tone), Indent, new Run(verdict.Claim.Say, Tone.Strong));
        string state = verdict.Claim.State is { } name ? $"with {name}: " : "", blank = new(' ', Indent + 2);
        page.Line(Indent, $"{state}{verdict.Claim.Measure.Text}, {verdict.Claim.Bound.Text}", new Run(RehearsalPage.Margin(verdict), lamp.Tone));
        if (claim.Holds is null || verdict.Answer.Leading is not { } leading)
        {
            page.Prose(blank, Indent + 2, new Run("no route can answer this for this apparatus", Tone.Unsure));
            return;
        }

        var shown = Shown.In(verdict.Answer.Unit);
        string within = claim.WithinBar > 0 ? $", {Shown.Share(claim.WithinBar)} so near the bound that the error bar covers it" : "";
        page.Prose(blank, Indent + 2, $"holds in {Share(claim.Holds)}{within}{(claim.Drawn ? "" : " *")}");
        page.Prose(blank, Indent + 2, $"{shown.ValueAndBar(leading.Value, leading.ErrorBar)};", new Run($"9 of 10 lie between {shown.ValueAndBar(claim.Low, 0)} and {shown.ValueAndBar(claim.High, 0)}", Tone.Quiet));
        foreach (var share in claim.Shares.Where(s => s.Share >= 0.01))
        {
            var swing = share.Swing;
            string half = Inputs.Write(swing.Doubt.Input, swing.HalfWidth, report.Apparatus);
            string tolerance = swing.Doubt.Relative is { } relative ? Shown.Share(relative) : report.Apparatus.Ambient > 0 && half.EndsWith("°C", StringComparison.Ordinal) ? Shown.Digits(swing.HalfWidth, 3) + " K" : half;
            page.Line(
                blank, new Run(Shown.Share(share.Share).PadLeft(8) + "  ", Tone.Strong), $"{swing.Doubt.Input.Text} ± {tolerance}",
                new Run($": {Signed(shown, swing.Down)} to {Signed(shown, swing.Up)}", Tone.Quiet));
        }
    }

    private static string Signed(Shown shown, double difference) => (difference < 0 ? "−" : "+") + shown.Gap(difference);

    private static string Share(SampledShare share)
    {
        static string Percent(double value) => Shown.Digits(100 * value, 3) + " %";
        return $"{Percent(share.Share)} ({Percent(share.Low)} to {Percent(share.High)})";
    }
}
