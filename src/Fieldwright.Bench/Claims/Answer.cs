using Fieldwright.Bench.Model;
using Fieldwright.Numerics;

namespace Fieldwright.Bench.Claims;

/// <summary>What one route says: a value with its error bar.</summary>
/// <param name="Value">Value, SI.</param>
/// <param name="ErrorBar">Half-width within which the route believes the true value of its own model to lie, SI; positive, and NaN never.</param>
/// <param name="Route">The route that gave it.</param>
/// <param name="Remark">What a reader must know about it (a model's stated limits); empty when nothing.</param>
public sealed record Answer(double Value, double ErrorBar, RouteName Route, string Remark = "")
{
    /// <summary>Bounds from two complementary solutions, SI, between which the truth of the route's model must lie; null where there are none.</summary>
    public Bracket? Bracket { get; init; }

    /// <summary>Why there are no bounds, for an answer that could have some: a short phrase; empty where bounds are never to be had, or where there are some.</summary>
    public string Unbounded { get; init; } = "";

    /// <summary>The answer between bounds, if there are any: where they are closer than the bar, their middle with half their distance as the bar.</summary>
    /// <param name="bounds">The bounds, SI.</param>
    /// <param name="why">Why there are none.</param>
    public Answer Within(Bracket? bounds, string why) => bounds is not { } b ? this with { Unbounded = why }
        : b.HalfWidth < ErrorBar ? this with { Value = b.Middle, ErrorBar = b.HalfWidth, Bracket = b }
        : this with { Bracket = b };

    /// <summary>A value that a simpler and one-sided model gives beside it (no cooling at all), SI; null without one.</summary>
    public double? Bound { get; init; }

    /// <summary>Whether the bound lies below the truth, as that of a time; above it otherwise, as that of a temperature.</summary>
    public bool BoundBelow { get; init; }

    /// <summary>What the bound is; empty without one.</summary>
    public string BoundRemark { get; init; } = "";
}

/// <summary>The independent ways of computing an answer.</summary>
public enum RouteName
{
    /// <summary>Lumped reluctances, resistances and sources.</summary>
    Circuit,

    /// <summary>Closed forms, elliptic integrals and expansions.</summary>
    Series,

    /// <summary>Finite elements.</summary>
    Field,

    /// <summary>Arithmetic on what the file states (weights, wire tables); no field enters.</summary>
    Given,

    /// <summary>Bodies followed in time from meeting to meeting.</summary>
    Motion,
    /// <summary>A one-sided bound beside the other answers, from a simpler model; its bar reaches from it to the leading answer.</summary>
    Bound,
}

/// <summary>One measure as all routes that can answer it did, the most certain first.</summary>
/// <param name="Measure">What was asked.</param>
/// <param name="Unit">The unit people read it in.</param>
/// <param name="Answers">One answer a route; the first leads.</param>
/// <param name="Silent">Routes that should have answered and could not, with the reason.</param>
public sealed record RoutedAnswer(Measure Measure, string Unit, IReadOnlyList<Answer> Answers, IReadOnlyList<SilentRoute> Silent)
{
    /// <summary>The answer that decides: the one with the smallest error bar.</summary>
    public Answer? Leading => Answers.Count == 0 ? null : Answers[0];

    /// <summary>Largest distance between the leading answer and another route's, SI; null when one route only answered.</summary>
    public double? Difference => Answers.Count < 2 ? null : Answers.Skip(1).Max(a => Math.Abs(a.Value - Answers[0].Value));

    /// <summary>Routes whose answer lies further from the leading one than both error bars together allow.</summary>
    public IEnumerable<Answer> Disagreeing =>
        Answers.Skip(1).Where(a => Math.Abs(a.Value - Answers[0].Value) > a.ErrorBar + Answers[0].ErrorBar);
}

/// <summary>A route that should have answered and could not.</summary>
/// <param name="Route">The route.</param>
/// <param name="Reason">Why, for a person to read.</param>
public sealed record SilentRoute(RouteName Route, string Reason);

/// <summary>Whether a claim holds.</summary>
public enum Outcome
{
    /// <summary>The bound is kept with the whole error bar to spare.</summary>
    Holds,

    /// <summary>The bound is broken by more than the error bar.</summary>
    Fails,

    /// <summary>The bound lies inside the error bar, the routes fall on both sides of it, or the stated tolerances could turn it.</summary>
    TooClose,

    /// <summary>No route could answer.</summary>
    NoAnswer,
}

/// <summary>A claim and what became of it.</summary>
/// <param name="Claim">The claim.</param>
/// <param name="Answer">The answer it rests on.</param>
/// <param name="Outcome">Whether it holds.</param>
/// <param name="Margin">Distance of the leading value from the nearest limit, SI, positive inside the bound; NaN without an answer.</param>
/// <param name="Words">One sentence for people.</param>
/// <param name="Tolerances">What the stated tolerances do to the answer; null when there are none or they were not carried through.</param>
public sealed record Verdict(Claim Claim, RoutedAnswer Answer, Outcome Outcome, double Margin, string Words, CarriedDoubts? Tolerances = null);
