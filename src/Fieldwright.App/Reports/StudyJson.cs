using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Reports;

/// <summary>What the studies print with <c>--json</c>.</summary>
internal static class StudyJson
{
    /// <summary>An apparatus at another size.</summary>
    public static string Of(ScaleReport report) => JsonReport.Write(new ScaleDocument(
        "fieldwright-scale/1", report.Scaled.Apparatus.Name, report.Law.Factor, report.Law.FrequencyPower, report.Law.CurrentPower,
        [.. report.Law.Groups.Select(g => new GroupEntry(g.Name, g.Meaning, g.Kept, g.Factor))],
        [.. report.Law.NotPossible, .. report.Notes],
        [.. report.Consequences.Select(Entry)],
        [.. report.Claims.Select(c => new ScaledClaimEntry(JsonReport.Entry(c.Before), JsonReport.Entry(c.After), c.Advice))],
        report.Text));

    /// <summary>Tolerances carried through.</summary>
    public static string Of(DoubtReport report) => JsonReport.Write(new DoubtDocument(
        "fieldwright-doubt/1", report.Apparatus.Name, report.Options.Samples, report.Options.Seed, Entry(report.AllHold),
        [.. report.Claims.Select(c => Entry(c, report))]));

    /// <summary>Dials turned.</summary>
    public static string Of(TuneReport report)
    {
        string Write(int input, double value) => Inputs.Write(report.Inputs[input].Input, value, report.Apparatus);
        return JsonReport.Write(new TuneDocument(
            "fieldwright-tune/1", report.Apparatus.Name, report.Rehearsal.AllHold, report.Trials, report.Settled, report.Start.Least, report.Best.Least,
            [.. report.Inputs.Select((t, i) => new TurnEntry(t.Input.Text, Write(i, report.Start.Values[i]), Write(i, report.Best.Values[i]), Write(i, t.From), Write(i, t.To)))],
            [.. report.Rehearsal.Verdicts.Select(JsonReport.Entry)]));
    }

    /// <summary>Readings beside predictions.</summary>
    public static string Of(ReconcileReport report) => JsonReport.Write(new ReconcileDocument(
        "fieldwright-reconcile/1", report.Apparatus.Name,
        report.Agreement switch { Agreement.Agrees => "agrees", Agreement.Strained => "strained", Agreement.Disagrees => "disagrees", _ => "nothing" },
        JsonReport.Finite(report.SumOfSquares), report.Count, JsonReport.Finite(report.ChanceOfWorse),
        [.. report.Readings.Select(Entry)],
        [.. report.Explanations.Select(e => new ExplanationEntry(
            e.Input.Text, Inputs.Write(e.Input, e.Standing, report.Apparatus), Inputs.Write(e.Input, e.Standing + e.Shift, report.Apparatus), e.InTolerances, e.Left))]));

    private static ConsequenceEntry Entry(Consequence c)
    {
        if (c.Unit.Length == 0)
            return new ConsequenceEntry(c.What, c.Unit, null, null, c.TextBefore, c.TextAfter);
        var shown = Shown.In(c.Unit);
        return new ConsequenceEntry(c.What, c.Unit, JsonReport.Finite(shown.Of(c.Before)), JsonReport.Finite(shown.Of(c.After)), "", "");
    }

    private static ShareEntry? Entry(SampledShare? share) => share is null ? null : new ShareEntry(share.Share, share.Low, share.High);

    private static DoubtedClaimEntry Entry(DoubtedClaim claim, DoubtReport report)
    {
        var shown = Shown.In(claim.Verdict.Answer.Unit);
        return new DoubtedClaimEntry(
            JsonReport.Entry(claim.Verdict), claim.Drawn, Entry(claim.Holds), JsonReport.Finite(claim.WithinBar),
            JsonReport.Finite(shown.Of(claim.Mean)), JsonReport.Finite(shown.Difference(claim.StandardDeviation)), JsonReport.Finite(shown.Of(claim.Low)), JsonReport.Finite(shown.Of(claim.High)),
            [.. claim.Shares.Select(s => new SwingEntry(
                s.Swing.Doubt.Input.Text, Inputs.Write(s.Swing.Doubt.Input, s.Swing.HalfWidth, report.Apparatus),
                shown.Difference(s.Swing.Down), shown.Difference(s.Swing.Up), s.Share, s.Correlation))]);
    }

    private static ReadingEntry Entry(SetBeside one)
    {
        var shown = Shown.In(one.Prediction.Unit);
        return new ReadingEntry(
            one.Reading.Line, one.Reading.State, shown.Of(one.Reading.Value), shown.Difference(one.Reading.Bar), one.Reading.BarStated, JsonReport.Entry(one.Prediction),
            one.Tolerances is { } t ? shown.Difference(t.Reach) : null, JsonReport.Finite(shown.Difference(one.Difference)), JsonReport.Finite(one.Deviations));
    }
}
