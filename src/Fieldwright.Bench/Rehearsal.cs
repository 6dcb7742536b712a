using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench;

/// <summary>How hard a rehearsal tries.</summary>
/// <param name="RelativeTarget">Half-width of the error bars to aim for, as a share of each answer.</param>
/// <param name="CarryDoubts">Whether the stated tolerances are carried through to the verdicts.</param>
public sealed record RehearsalOptions(double RelativeTarget = 0.01, bool CarryDoubts = true)
{
    /// <summary>The only route to ask; null for every route that can answer.</summary>
    public RouteName? Only { get; init; }
}

/// <summary>A step of a rehearsal, for showing progress.</summary>
/// <param name="Done">Claims answered so far.</param>
/// <param name="Of">Claims in all.</param>
/// <param name="What">What is being answered.</param>
/// <param name="Latest">The verdict just reached; null at the start.</param>
public sealed record RehearsalStep(int Done, int Of, string What, Verdict? Latest = null);

/// <summary>What a rehearsal found.</summary>
/// <param name="Apparatus">The apparatus, dials where they stood.</param>
/// <param name="Summary">The apparatus in a line.</param>
/// <param name="Verdicts">One verdict a claim, in file order.</param>
/// <param name="Cautions">The hazards found.</param>
public sealed record RehearsalReport(Apparatus Apparatus, string Summary, IReadOnlyList<Verdict> Verdicts, IReadOnlyList<Caution> Cautions)
{
    /// <summary>Whether every claim holds.</summary>
    public bool AllHold => Verdicts.All(v => v.Outcome == Outcome.Holds);

    /// <summary>Names that the file acknowledges and no caution bears: misspelt, or no longer true.</summary>
    public IReadOnlyList<string> AcknowledgedInVain => [.. Apparatus.Acknowledged.Where(a => !Cautions.Any(c => Apparatus.Same(a, c.Name)))];
}

/// <summary>A measure that can be asked of an apparatus, with the routes that would answer it.</summary>
/// <param name="Kind">The kind of measure.</param>
/// <param name="Text">The measure as people write it.</param>
/// <param name="Routes">Routes that would answer.</param>
public sealed record AskableMeasure(MeasureKind Kind, string Text, IReadOnlyList<RouteName> Routes);

/// <summary>Rehearses an apparatus: plan the routes, solve, compare, judge.</summary>
public static class Rehearsal
{
    /// <summary>Answers every claim by every route that can, judges each, and lists the cautions.</summary>
    /// <param name="apparatus">The apparatus, read and checked.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="OperationCanceledException">The work was stopped.</exception>
    public static RehearsalReport Run(Apparatus apparatus, RehearsalOptions options, IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(options);
        return Run(apparatus, options, new RoutePanel(apparatus, options.RelativeTarget, cancellation, options.Only), progress);
    }

    /// <summary>The same over routes that others ask as well, so that nothing is solved twice.</summary>
    internal static RehearsalReport Run(Apparatus apparatus, RehearsalOptions options, RoutePanel panel, IProgress<RehearsalStep>? progress)
    {
        panel.ExpectAll(apparatus.Claims.Select(c => c.Measure));
        var verdicts = new List<Verdict>();
        foreach (var claim in apparatus.Claims)
        {
            progress?.Report(new RehearsalStep(verdicts.Count, apparatus.Claims.Count, claim.Measure.Text, verdicts.LastOrDefault()));
            var answer = panel.Answer(claim.Measure, claim.State);
            verdicts.Add(Judge.Verdict(claim, answer, options.CarryDoubts ? CarriedDoubts.Of(apparatus, claim.Measure, claim.State, panel) : null));
        }

        progress?.Report(new RehearsalStep(verdicts.Count, apparatus.Claims.Count, "cautions", verdicts.LastOrDefault()));
        return new RehearsalReport(apparatus, Summary.Of(apparatus), verdicts, CautionsOf.Apparatus(apparatus, panel));
    }

    /// <summary>Answers one measure by every route that can.</summary>
    /// <param name="apparatus">The apparatus, read and checked.</param>
    /// <param name="measure">What is asked.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="state">The state it is asked in; null for the apparatus as it stands.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static RoutedAnswer Ask(Apparatus apparatus, Measure measure, RehearsalOptions options, string? state = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(measure);
        ArgumentNullException.ThrowIfNull(options);
        return new RoutePanel(apparatus, options.RelativeTarget, cancellation, options.Only).Answer(measure, state);
    }

    /// <summary>Answers several measures one after another over routes that solve everything once, each as it is found.</summary>
    /// <param name="apparatus">The apparatus, read and checked.</param>
    /// <param name="measures">What is asked.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static IEnumerable<RoutedAnswer> Answers(Apparatus apparatus, IReadOnlyList<Measure> measures, RehearsalOptions options, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(measures);
        ArgumentNullException.ThrowIfNull(options);
        var panel = new RoutePanel(apparatus, options.RelativeTarget, cancellation, options.Only);
        panel.ExpectAll(measures);
        return measures.Select(m => panel.Answer(m, null));
    }

    /// <summary>Every measure that can be asked of an apparatus.</summary>
    /// <param name="apparatus">The apparatus.</param>
    public static IReadOnlyList<AskableMeasure> Measures(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        var panel = new RoutePanel(apparatus, 0.01, CancellationToken.None);
        return [.. MeasureCatalogue.Kinds
            .SelectMany(kind => Writings(kind, apparatus).Select(text => new AskableMeasure(kind, text.Text, panel.RoutesFor(kind, text.Subject))))
            .Where(m => m.Routes.Count > 0)];
    }

    private static IEnumerable<(string Text, string? Subject)> Writings(MeasureKind kind, Apparatus apparatus)
    {
        if (kind.Subject == SubjectKind.Nothing)
            return [(kind.Write(null), null)];
        var subjects = MeasureCatalogue.Subjects(kind.Subject, apparatus).ToList();
        return kind.Subject == SubjectKind.TwoWindings
            ? subjects.SelectMany((a, i) => subjects.Skip(i + 1).Select(b => (kind.Write(a, b), (string?)a)))
            : subjects.Select(s => (kind.Write(s), (string?)s));
    }
}
