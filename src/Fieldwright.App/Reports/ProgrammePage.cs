using System.Globalization;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Programmes;
using Fieldwright.Matter;

namespace Fieldwright.App.Reports;

/// <summary>An evening as a page: the clock, who does what, goes and pauses, the order of switching, energy and cautions.</summary>
internal static class ProgrammePage
{
    private const int Indent = 14;

    /// <summary>Sets the page.</summary>
    public static Page Of(ProgrammeReport report, int width)
    {
        var page = new Page(width);
        var programme = report.Programme;
        page.Prose("", 2, new Run(programme.Name, Tone.Strong), programme.Hall.Length > 0 ? "· " + programme.Hall : "", $"· {Clock(programme.Begins)} to {Clock(report.Ends)}");
        foreach (var (name, part) in programme.People)
            page.Prose("  ", 4, new Run(name + ":", Tone.Strong), part);
        foreach (var step in report.Steps)
        {
            page.Gap();
            if (step.Report is null)
                page.Prose(Clock(step.From).PadRight(Indent), Indent, new Run("pause", Tone.Quiet), $"{Time(step.Length)}.", step.Step.Note);
            else
                Write(page, step);
        }

        page.Gap();
        page.Prose("", 0, string.Create(CultureInfo.InvariantCulture, $"Ends at {Clock(report.Ends)} after {Time(report.Ends - programme.Begins)}; {Shown.Digits(report.Energy / 3600, 3)} Wh drawn while switched on."),
            report.Ready ? "" : new Run("Not everything is ready to be shown: see the crossed and hollow lamps.", Tone.Bad));
        var cautions = report.Steps.Where(s => s.Report is not null).SelectMany(s => s.Report!.Cautions.Select(c => (c.Name, s.Report.Apparatus.Name)))
            .GroupBy(c => c.Item1).Select(g => $"{g.Key} ({string.Join(", ", g.Select(c => c.Item2).Distinct())})").ToList();
        page.Gap();
        page.Line(new Run("Cautions of the evening", Tone.Strong));
        foreach (string caution in cautions)
            page.Prose("  ", 4, caution);
        page.Prose("", 0, "Their numbers, limits and standards: rehearse each apparatus.", Caution.Deferral);
        page.Prose("", 0, new Run("Goes are counted without cooling; pauses with one body cooling through its surface at 8 W/(m² K), which is common practice without a source: measure the winding's resistance before the next go.", Tone.Quiet));
        return page;
    }

    /// <summary>The same for machines.</summary>
    public static string Json(ProgrammeReport report) => JsonReport.Write(new ProgrammeDocument(
        "fieldwright-programme/1", report.Programme.Name, report.Programme.Hall, Clock(report.Programme.Begins), Clock(report.Ends), report.Ready, report.Energy / 3600,
        [.. report.Steps.Select(s => new ProgrammeStepEntry(
            Clock(s.From), s.Length, s.Report?.Apparatus.Name, s.Step.ShownBy, s.Step.SwitchedBy, s.Step.Goes, s.Step.On, s.Pause, JsonReport.Finite(s.Energy / 3600),
            s.Report?.Verdicts.Count(v => v.Outcome == Outcome.Holds) ?? 0, s.Report?.Verdicts.Count ?? 0,
            [.. s.Goes.Select(g => new GoesEntry(g.Winding, [.. g.Peaks.Select(Celsius)], Celsius(g.Limit), g.Longest, g.UntilTouch))],
            [.. s.Report?.Cautions.Select(c => c.Name) ?? []],
            s.Report is null ? [] : ProgrammeReport.SafeOrder(s)))],
        Caution.Deferral));

    private static void Write(Page page, PlannedStep step)
    {
        var report = step.Report!;
        bool holds = report.AllHold;
        string state = step.Step.State is { } name ? $" ({name})" : "";
        page.Prose(Clock(step.From).PadRight(Indent), Indent, new Run(report.Apparatus.Name + state, Tone.Strong), $"{Time(step.Length)}");
        string blank = new(' ', Indent);
        page.Prose(blank, Indent, $"shown by {step.Step.ShownBy ?? "nobody named"}, switched by {step.Step.SwitchedBy ?? "nobody named"}.", step.Step.Note);
        var lamp = holds ? Lamp.Of(Outcome.Holds) : Lamp.Of(report.Verdicts.Any(v => v.Outcome == Outcome.Fails) ? Outcome.Fails : Outcome.TooClose);
        page.Prose(blank, Indent, new Run($"{lamp.Shape} {report.Verdicts.Count(v => v.Outcome == Outcome.Holds)} of {report.Verdicts.Count} claims hold.", lamp.Tone),
            string.Create(CultureInfo.InvariantCulture, $"{step.Step.Goes} × {step.Step.On:0.#} s on{(step.Step.Goes <= 1 ? "" : step.Pause > 0 ? $", at least {Time(step.Pause)} between" : ", no pause needed between")};"),
            double.IsFinite(step.Energy) ? Shown.Digits(step.Energy / 3600, 3) + " Wh." : "the energy is not known.");
        foreach (var g in step.Goes)
            page.Prose(blank + "  ", Indent + 2, new Run($"{g.Winding}: {string.Join(", ", g.Peaks.Select(p => Shown.Digits(Celsius(p), 3)))} °C of {Celsius(g.Limit):0} °C"
                + (double.IsInfinity(g.Pause) ? $": a go of that length is too long, {Shown.Digits(g.Longest, 2)} s at most" : ""), double.IsInfinity(g.Pause) ? Tone.Bad : Tone.Quiet));
        int number = 1;
        foreach (string line in ProgrammeReport.SafeOrder(step))
            page.Prose(blank + (number++).ToString(CultureInfo.InvariantCulture) + ". ", Indent + 3, line);
    }

    private static double Celsius(double kelvin) => kelvin - PhysicalConstants.ZeroCelsius;

    private static string Clock(double seconds)
    {
        long minutes = (long)Math.Floor(seconds / 60) % 1440;
        return string.Create(CultureInfo.InvariantCulture, $"{minutes / 60:00}:{minutes % 60:00}");
    }

    private static string Time(double seconds) => seconds switch
    {
        < 120 => string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(seconds):0} s"),
        < 7200 => string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(seconds / 60):0} min"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600:0.0} h"),
    };
}
