using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Reports;

/// <summary>Readings beside predictions, as a page.</summary>
internal static class ReconcilePage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(ReconcileReport report, int width)
    {
        var page = new Page(width);
        Heading.Write(page, Summary.Of(report.Apparatus));
        foreach (var one in report.Readings)
        {
            page.Gap();
            Write(page, one);
        }

        page.Gap();
        if (report.Agreement == Agreement.Nothing)
        {
            page.Prose("", 0, new Run("No reading has a prediction, so nothing can be said.", Tone.Unsure));
            return page;
        }

        string sum = string.Create(CultureInfo.InvariantCulture, $"The squares of the deviations add up to {Shown.Digits(report.SumOfSquares, 3)} for {report.Count} {(report.Count == 1 ? "reading" : "readings")}; chance alone would bring more in {Shown.Share(report.ChanceOfWorse)} of cases.");
        page.Prose("", 0, report.Agreement switch
        {
            Agreement.Agrees => new Run("Readings and predictions agree.", Tone.Good),
            Agreement.Strained => new Run("Readings and predictions are strained.", Tone.Unsure),
            _ => new Run("Readings and predictions disagree.", Tone.Bad),
        }, sum);
        if (report.ChanceOfWorse > 0.999 && report.Count > 2)
            page.Prose("", 0, new Run("They agree better than bars and tolerances would have it: those may be stated too wide.", Tone.Unsure));
        if (report.Agreement == Agreement.Agrees || report.Explanations.Count == 0)
            return page;
        page.Gap();
        page.Line(new Run("What would explain it best", Tone.Strong));
        foreach (var e in report.Explanations.Take(5))
        {
            string by = e.Standing == 0 ? Inputs.Write(e.Input, e.Shift, report.Apparatus) : Inputs.Write(e.Input, e.Standing + e.Shift, report.Apparatus) + " instead of " + Inputs.Write(e.Input, e.Standing, report.Apparatus);
            string size = e.InTolerances is { } times ? $"{Shown.Digits(Math.Abs(times), 2)} times its tolerance" : "no tolerance is stated";
            page.Prose("  ", 4, new Run(e.Input.Text, Tone.Strong), $"at {by} ({size}) would leave {Shown.Digits(e.Left, 3)} of the {Shown.Digits(report.SumOfSquares, 3)}");
        }

        page.Prose("  ", 2, new Run("Straight-line estimates from one change of each input: read them as where to look first.", Tone.Quiet));
        return page;
    }

    private static void Write(Page page, SetBeside one)
    {
        var lamp = double.IsNaN(one.Deviations) ? Lamp.Of(Outcome.NoAnswer)
            : Math.Abs(one.Deviations) <= 2 ? new Lamp("●", "agrees", Tone.Good)
            : Math.Abs(one.Deviations) <= 3 ? new Lamp("○", "strained", Tone.Unsure) : new Lamp("✕", "misses", Tone.Bad);
        string state = one.Reading.State is { } name ? $"with {name}: " : "";
        var shown = Shown.In(one.Prediction.Unit);
        page.Prose(new Run($"{lamp.Shape} {lamp.Word}".PadRight(Indent), lamp.Tone), Indent, new Run(state + one.Reading.Measure.Text, Tone.Strong));
        string blank = new(' ', Indent + 2);
        page.Line(blank, "read".PadRight(11), shown.ValueAndBar(one.Reading.Value, one.Reading.Bar), new Run(one.Reading.BarStated ? "" : "   half of the last digit", Tone.Quiet));
        foreach (var answer in one.Prediction.Answers)
            page.Line(blank, Judge.Word(answer.Route).PadRight(11), shown.ValueAndBar(answer.Value, answer.ErrorBar));
        if (one.Tolerances is { Reach: > 0 } tolerances)
            page.Line(blank, "tolerances".PadRight(11), new Run("± " + shown.Gap(tolerances.Reach), Tone.Quiet));
        if (double.IsFinite(one.Difference))
            page.Line(blank, "difference".PadRight(11), $"{shown.Gap(one.Difference)} {(one.Difference < 0 ? "below" : "above")}", new Run($"   {Shown.Digits(Math.Abs(one.Deviations), 2)} standard deviations", Tone.Quiet));
        else
            page.Line(blank, new Run("no route can answer this for this apparatus", Tone.Unsure));
    }
}
