using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Cautions;

/// <summary>Numbers for cautions: the worst over all states, for people stand in front of each of them.</summary>
/// <remarks>A number that no route can give is null. A caution must not fall silent because of that where it can be found another way; the routes say elsewhere why they are silent.</remarks>
internal sealed class WorstOf(Apparatus apparatus, RoutePanel panel)
{
    /// <summary>The apparatus, dials where they stand.</summary>
    public Apparatus Apparatus => apparatus;

    /// <summary>The stray field in each state that has one, once it was asked for.</summary>
    public List<StrayField>? Strays { get; set; }

    /// <summary>Stops the work.</summary>
    public CancellationToken Cancellation => panel.Cancellation;

    /// <summary>The names of its states; one without a name when it has none.</summary>
    public IReadOnlyList<string?> States => panel.States;

    /// <summary>The largest answer to a measure over all states, at the far end of its error bar; null when no route can answer.</summary>
    /// <param name="kindName">The measure's name.</param>
    /// <param name="subjectKind">What it is asked of.</param>
    /// <param name="subject">Whose it is; null for a measure of the whole.</param>
    /// <param name="after">Time since switching on, s; null when it does not matter.</param>
    public double? Most(string kindName, SubjectKind subjectKind, string? subject, double? after = null) =>
        Leading(kindName, subjectKind, subject, after, panel.Answer).Select(a => (double?)(Math.Abs(a.Value) + a.ErrorBar)).Max();

    /// <summary>The largest answer by the quickest route, for tables that ask many times.</summary>
    /// <inheritdoc cref="Most"/>
    public double? MostQuickly(string kindName, SubjectKind subjectKind, string? subject, double? after = null) =>
        Leading(kindName, subjectKind, subject, after, panel.Cheapest).Select(a => (double?)(Math.Abs(a.Value) + a.ErrorBar)).Max();

    /// <summary>The smallest answer by the quickest route, at the near end of its error bar but not below zero; null when no route can answer.</summary>
    /// <inheritdoc cref="Most"/>
    public double? LeastQuickly(string kindName, SubjectKind subjectKind, string? subject, double? after = null) =>
        Leading(kindName, subjectKind, subject, after, panel.Cheapest).Select(a => (double?)Math.Max(0, a.Value - a.ErrorBar)).Min();

    /// <summary>The most lift on a part over all states, N, or, downwards, the most pull down, at the far end of its error bar; null when no route can answer.</summary>
    /// <param name="part">The part.</param>
    /// <param name="down">Whether what pulls it down counts.</param>
    public double? Lift(string part, bool down = false) =>
        Leading("lift", SubjectKind.Part, part, null, panel.Answer).Select(a => (double?)((down ? -a.Value : a.Value) + a.ErrorBar)).Max();

    private IEnumerable<Answer> Leading(string kindName, SubjectKind subjectKind, string? subject, double? after, Func<Measure, string?, RoutedAnswer> ask)
    {
        var kind = MeasureCatalogue.Kinds.FirstOrDefault(k => k.Name == kindName && k.Subject == subjectKind);
        if (kind is null || panel.RoutesFor(kind, subject).Count == 0)
            return [];
        var measure = new Measure(kind.Name, subject, null, [], after, false, kind.Write(subject));
        return States.Select(state => ask(measure, state).Leading).OfType<Answer>();
    }

    /// <summary>The apparatus in one of its states.</summary>
    public Apparatus In(string? state) => Circumstances.Of(apparatus, state, []).Apparatus;

    /// <summary>Currents of the windings in a state, A peak; null when no route knows them.</summary>
    public IReadOnlyDictionary<string, Complex>? CurrentsIn(string? state) => panel.CurrentsIn(state);
}
