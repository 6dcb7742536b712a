using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Programmes;

/// <summary>One step of an evening with its times.</summary>
/// <param name="Step">The step.</param>
/// <param name="Report">The rehearsal of its apparatus; null for a pause.</param>
/// <param name="From">When it begins, s after midnight.</param>
/// <param name="Length">How long it takes, s.</param>
/// <param name="Goes">Its windings' temperatures and pauses.</param>
/// <param name="Pause">Least pause between goes, s: what the warmest winding needs.</param>
/// <param name="Energy">Energy drawn from its supplies, J; NaN when no route can tell.</param>
/// <param name="TooLong">Windings whose single go is too long.</param>
public sealed record PlannedStep(
    ProgrammeStep Step, RehearsalReport? Report, double From, double Length, IReadOnlyList<WindingGoes> Goes, double Pause, double Energy, IReadOnlyList<string> TooLong)
{
    /// <summary>Whether it may be shown: every claim holds and no go is too long.</summary>
    public bool Ready => Report is null || (Report.AllHold && TooLong.Count == 0);
}

/// <summary>An evening with its times, temperatures and energy.</summary>
/// <param name="Programme">The evening.</param>
/// <param name="Steps">Its steps.</param>
/// <param name="Ends">When it ends, s after midnight.</param>
/// <param name="Energy">Energy drawn from all supplies, J; what no route could tell is left out.</param>
public sealed record ProgrammeReport(Programme Programme, IReadOnlyList<PlannedStep> Steps, double Ends, double Energy)
{
    /// <summary>Whether every step may be shown.</summary>
    public bool Ready => Steps.All(s => s.Ready);

    /// <summary>The order in which one apparatus is switched on safely, its own numbers filled in. Common practice, no source; local codes and licensed practice decide.</summary>
    /// <param name="step">A step that shows an apparatus.</param>
    public static IReadOnlyList<string> SafeOrder(PlannedStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        string Text(FormattableString text) => text.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var apparatus = step.Report!.Apparatus;
        string at = step.Step.SwitchedBy ?? "one named person", by = step.Step.ShownBy ?? "the one who shows it";
        var lines = new List<string> { "Isolated: look over covers, joints and earth; clear loose iron, cards and watches from the bench." };
        if (apparatus.Supplies.Count > 0)
            lines.Add($"{Capital(at)} alone switches, and only when {by} has stepped back and said so.");
        foreach (var dial in apparatus.Dials.Where(d => d.Input.Quantity is "current" or "voltage"))
            lines.Add(Text($"First go of the day with '{dial.Input.Text}' at {Inputs.Write(dial.Input, dial.From, apparatus)}, then at {Inputs.Write(dial.Input, dial.Now, apparatus)}."));
        if (step.Step.Goes > 0 && apparatus.Supplies.Count > 0)
            lines.Add(Text($"On for {step.Step.On:0.#} s by the clock{(step.Step.Goes > 1 && step.Pause > 0 ? Text($", off for at least {Math.Ceiling(step.Pause):0} s before the next of {step.Step.Goes} goes") : "")}."));
        double touch = step.Goes.Select(g => g.UntilTouch).DefaultIfEmpty(0).Max();
        lines.Add(touch > 0 ? Text($"Off, isolated, and hands away for {Math.Ceiling(touch / 60):0} min: the warmest winding is still above 51 °C.") : "Off and isolated before anyone touches it.");
        return lines;
    }

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}

/// <summary>Plans an evening: rehearses every apparatus, then sets times, temperatures, pauses and energy.</summary>
public static class ProgrammePlan
{
    /// <summary>Plans an evening.</summary>
    /// <param name="programme">The evening.</param>
    /// <param name="apparatus">Gives the apparatus of a path.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <remarks>A winding that was used before starts as warm as it still is.</remarks>
    public static ProgrammeReport Of(
        Programme programme, Func<string, Apparatus> apparatus, RehearsalOptions options, IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(programme);
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        var steps = new List<PlannedStep>();
        var warm = new Dictionary<string, (WindingGoes Goes, double Ended)>(StringComparer.OrdinalIgnoreCase);
        var rehearsed = new Dictionary<string, RehearsalReport>(StringComparer.Ordinal);
        double now = programme.Begins;
        foreach (var step in programme.Steps)
        {
            if (step.Apparatus is not { } path)
            {
                steps.Add(new PlannedStep(step, null, now, step.Talk, [], 0, 0, []));
                now += step.Talk;
                continue;
            }

            var shown = apparatus(path);
            progress?.Report(new RehearsalStep(steps.Count, programme.Steps.Count, shown.Name));
            if (!rehearsed.TryGetValue(path, out var report))
                rehearsed[path] = report = Rehearsal.Run(shown, options, null, cancellation);
            var planned = Plan(step, path, shown, report, now, warm, options, cancellation);
            steps.Add(planned);
            now += planned.Length;
        }

        return new ProgrammeReport(programme, steps, now, steps.Sum(s => double.IsFinite(s.Energy) ? s.Energy : 0));
    }

    private static PlannedStep Plan(
        ProgrammeStep step, string path, Apparatus apparatus, RehearsalReport report, double now, Dictionary<string, (WindingGoes Goes, double Ended)> warm, RehearsalOptions options, CancellationToken cancellation)
    {
        var panel = new RoutePanel(apparatus, options.RelativeTarget, cancellation);
        double? Ask(string kind, string link, string subject) => panel.Cheapest(new Measure(kind, subject, null, [], null, false, $"{kind} {link} {subject}"), step.State).Leading?.Value;
        double begins = now + step.SetUp;
        var goes = new List<WindingGoes>();
        if (step.On > 0)
            foreach (var winding in apparatus.Windings)
                if (Ask("current", "in", winding.Name) is { } current && Math.Abs(current) > 0)
                {
                    double start = warm.TryGetValue(path + "\n" + winding.Name, out var before) ? before.Goes.After(begins - before.Ended, apparatus.Ambient) : apparatus.Ambient;
                    goes.Add(WindingGoes.Of(winding, apparatus, Math.Abs(current), step.On, step.Goes, start));
                }

        double pause = goes.Select(g => g.Pause).Where(double.IsFinite).DefaultIfEmpty(0).Max();
        double length = step.SetUp + Math.Max(step.Talk, step.Goes * step.On + (step.Goes - 1) * pause);
        double power = apparatus.Supplies.Count == 0 ? 0 : apparatus.Supplies.Sum(s => Ask("power", "from", s.Name) ?? double.NaN);
        foreach (var one in goes)
            warm[path + "\n" + one.Winding] = (one, now + length);
        return new PlannedStep(step, report, now, length, goes, pause, power * step.On * step.Goes, [.. goes.Where(g => double.IsInfinity(g.Pause)).Select(g => g.Winding)]);
    }
}
