using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Bench.Travelling;

namespace Fieldwright.Bench.Routes;

/// <summary>All routes side by side on one apparatus: asks each that can answer, and sets the answers beside one another.</summary>
internal sealed class RoutePanel
{
    private readonly Apparatus apparatus;
    private readonly List<RouteSession> sessions;

    /// <summary>Makes the panel.</summary>
    public RoutePanel(Apparatus apparatus, double relativeTarget, CancellationToken cancellation, RouteName? only = null)
    {
        this.apparatus = apparatus;
        Cancellation = cancellation;
        sessions = [.. KnownRoutes.All().Where(r => only is null || r.Name == only).Select(r => new RouteSession(r, relativeTarget, cancellation))];
    }

    private RoutePanel(Apparatus apparatus, List<RouteSession> sessions, CancellationToken cancellation)
    {
        this.apparatus = apparatus;
        this.sessions = sessions;
        Cancellation = cancellation;
    }

    /// <summary>Stops the work.</summary>
    public CancellationToken Cancellation { get; }

    /// <summary>Currents of the windings in a state, A peak, from the first route that knows them; null when none does.</summary>
    public IReadOnlyDictionary<string, Complex>? CurrentsIn(string? state)
    {
        var circumstances = Circumstances.Of(apparatus, state, []);
        if (SupplyNetwork.IsImposed(circumstances.Apparatus))
            return SupplyNetwork.ImposedCurrents(circumstances.Apparatus);
        foreach (var session in sessions.Where(s => s.Route.Serves(circumstances.Apparatus).HasFlag(Wanted.Impedance)))
        {
            try
            {
                return session.At(circumstances, Wanted.Impedance).Currents;
            }
            catch (RouteFailedException)
            {
                // The next route may know; that this one does not is said where it was asked.
            }
        }

        return null;
    }

    /// <summary>The states of the apparatus; one without a name when it has none.</summary>
    public IReadOnlyList<string?> States => apparatus.States.Count == 0 ? [null] : [.. apparatus.States.Select(s => (string?)s.Name)];

    /// <summary>Says beforehand what will be asked, so that each operating point is solved once for all of it.</summary>
    public void ExpectAll(IEnumerable<Measure> measures)
    {
        var (all, about) = (Wanted.None, new HashSet<string>(StringComparer.OrdinalIgnoreCase));
        foreach (var measure in measures)
        {
            var kind = MeasureCatalogue.KindOf(measure, apparatus);
            all |= MeasureOnRoute.NeedsOf(kind, apparatus);
            if (kind.Subject == SubjectKind.Part)
                about.Add(measure.Subject!);
        }

        foreach (var session in sessions)
            (session.Also, session.AlsoAbout) = (all, about);
    }

    /// <summary>The same routes, each question answered by itself and no closer than a target, unless it is known better: for what only has to be set beside a limit.</summary>
    public RoutePanel Loosely(double relativeTarget) => new(apparatus, [.. sessions.Select(s => s.Loosely(relativeTarget))], Cancellation);

    /// <summary>The unit people read a measure in.</summary>
    public string UnitOf(Measure measure) => MeasureCatalogue.KindOf(measure, apparatus).Unit;

    /// <summary>The routes that would answer a kind of measure of a subject.</summary>
    public IReadOnlyList<RouteName> RoutesFor(MeasureKind kind, string? subject)
    {
        if (!MakesSense(kind, subject))
            return [];
        var needs = MeasureOnRoute.NeedsOf(kind, apparatus);
        if (needs == Wanted.None)
            return [RouteName.Given, .. sessions.Where(s => FindsBeside(s, kind, apparatus)).Select(s => s.Route.Name)];
        List<RouteName> names = [.. sessions.Where(s => (s.Route.Finds(apparatus) & needs) == needs).Select(s => s.Route.Name)];
        return names is [RouteName.Field] && MeasureFamily.Of(kind)?.HasQuick(kind) == true ? [RouteName.Field, RouteName.Circuit] : names;
    }

    /// <summary>A measure as every route that can answer it does, in the circumstances of a state.</summary>
    public RoutedAnswer Answer(Measure measure, string? state) => Answer(measure, state, false, able => Parallel.For(0, able.Count, i => able[i].Attempt()));

    /// <summary>A measure as the quickest route does that can answer it: for studies that ask many times.</summary>
    public RoutedAnswer Cheapest(Measure measure, string? state) => Answer(measure, state, true, able =>
    {
        foreach (var attempt in able.OrderBy(a => a.Session.Route.Name))
        {
            attempt.Session.ValuesOnly = true;
            bool answered = attempt.Attempt();
            attempt.Session.ValuesOnly = false;
            if (answered)
                break;
        }
    });

    private RoutedAnswer Answer(Measure measure, string? state, bool quick, Action<List<Asked>> ask)
    {
        var kind = MeasureCatalogue.KindOf(measure, apparatus);
        var circumstances = Circumstances.Of(apparatus, state, measure.Conditions);
        var needs = MeasureOnRoute.NeedsOf(kind, circumstances.Apparatus);
        var answers = new List<Answer>();
        var silent = new List<SilentRoute>();
        if (needs == Wanted.None && !measure.AtRest)
        {
            try
            {
                answers.Add(Given.Answer(kind, measure, circumstances));
            }
            catch (RouteFailedException e)
            {
                silent.Add(new SilentRoute(RouteName.Given, e.Message));
            }

            if (!quick)
                Gather([.. sessions.Where(s => FindsBeside(s, kind, circumstances.Apparatus)).Select(s => new Asked(s, kind, measure, circumstances))]);
            AddBound(answers);
            return new RoutedAnswer(measure, kind.Unit, answers, silent);
        }

        var able = sessions.Where(s => (s.Route.Finds(circumstances.Apparatus) & needs) == needs && needs != Wanted.None)
            .Select(s => new Asked(s, kind, measure, circumstances, quick)).ToList();
        Gather(able);
        // Where the field route alone knows the operating point, the quick way from there stands beside it.
        if (!quick && able is [{ Session: { Route.Name: RouteName.Field } alone }] && MeasureFamily.Of(kind)?.HasQuick(kind) == true)
            Gather([new Asked(alone, kind, measure, circumstances, true, RouteName.Circuit)]);
        AddBound(answers);
        return new RoutedAnswer(measure, kind.Unit, answers, silent);

        void Gather(List<Asked> asked)
        {
            ask(asked);
            answers = [.. answers.Concat(asked.Where(f => f.Answer is not null).Select(f => f.Answer!)).OrderBy(a => a.ErrorBar)];
            silent.AddRange(asked.Where(f => f.Silent is not null).Select(f => f.Silent!));
        }
    }

    private static bool FindsBeside(RouteSession session, MeasureKind kind, Apparatus apparatus) =>
        MeasureFamily.Of(kind)?.Beside(kind) is { } beside and not Wanted.None && (session.Route.Finds(apparatus) & beside) == beside;

    // What a one-sided model says stands last, its bar reaching to the leading answer: it tells how much is at stake, not where the truth lies. Of several the widest bounds all.
    private static void AddBound(List<Answer> answers)
    {
        if (answers is [var leading, ..] && answers.Where(a => a.Bound is not null).MaxBy(a => a.BoundBelow ? -a.Bound : a.Bound) is { Bound: { } bound } widest)
            answers.Add(new Answer(bound, Math.Abs(bound - leading.Value) + leading.ErrorBar, RouteName.Bound, widest.BoundRemark));
    }

    // One route asked one thing: an answer, or the reason why there is none; neither while it has not been tried.
    private sealed class Asked(RouteSession session, MeasureKind kind, Measure measure, Circumstances circumstances, bool quick = false, RouteName? called = null)
    {
        public RouteSession Session => session;

        public Answer? Answer { get; private set; }

        public SilentRoute? Silent { get; private set; }

        public bool Attempt()
        {
            try
            {
                var answer = MeasureOnRoute.Of(kind, measure, circumstances, session, quick);
                if (called is { } name)
                    answer = answer with { Route = name };
                if (double.IsFinite(answer.Value) && double.IsFinite(answer.ErrorBar))
                    Answer = answer;
                else
                    Silent = new SilentRoute(session.Route.Name, "The answer is not a finite number.");
            }
            catch (RouteFailedException e)
            {
                Silent = new SilentRoute(session.Route.Name, e.Message);
            }

            return Answer is not null;
        }
    }

    // A measure is listed only where it means something: nothing rests that may not move, and only a cut core has a gap.
    private bool MakesSense(MeasureKind kind, string? subject)
    {
        if (kind.Subject == SubjectKind.TwoWindings && apparatus.Windings.Count < 2)
            return false;
        if (MeasureFamily.Of(kind) is { } family)
            return family.Missing(kind, subject, apparatus) is null;
        if (kind.Subject != SubjectKind.Part)
            return kind.Subject != SubjectKind.Nothing || (GasMeasures.Kinds.Contains(kind) ? BoxRun.Has(kind.Name, apparatus.Box) : apparatus.Windings.Count > 0 || (kind.Name == "stored energy" && apparatus.Layout != Layout.Free && apparatus.Parts.Any(p => p.Magnetised is not null)));
        var part = apparatus.Part(subject!)!;
        return FreeMeasures.Suits(kind, part, apparatus) ?? kind.Name switch
        {
            _ when TravelMeasures.MakesSense(kind, part, apparatus) is { } sense => sense,
            "rest height" or "vertical stiffness" or "swing period" or "height" or "speed" => part.Freedom is Freedom.UpAndDown or Freedom.Freely && apparatus.Layout != Layout.Long,
            "weight" => Floats.MassIsKnown(part),
            "sideways stiffness" => part.Shape is BallShape || Strays(part),
            "tilting stiffness" => Strays(part),
            "lift" => apparatus.Layout != Layout.Long,
            "force along x" or "force along y" => apparatus.Layout == Layout.Long,
            "flux" or "flux density" or "pull across gap" => part.Shape is CoreShape core && (kind.Name != "pull across gap" || core.Gap > 0),
            "heat" => apparatus.Frequency > 0 && Conducts(part),
            _ => true,
        };
    }

    private bool Strays(Part part) => part.Shape is DiscShape or RingShape && part.Freedom != Freedom.Fixed && apparatus.Layout is Layout.Round or Layout.Free && apparatus.Frequency > 0 && Conducts(part);

    private static bool Conducts(Part part) => !part.Laminated && part.Material.Conductivity > 0;
}
