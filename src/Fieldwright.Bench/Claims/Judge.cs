using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Claims;

/// <summary>Sets an answer beside a bound.</summary>
public static class Judge
{
    /// <summary>Whether a claim holds, with its margin.</summary>
    /// <param name="claim">The claim.</param>
    /// <param name="answer">Its answer by every route.</param>
    /// <param name="tolerances">What the stated tolerances do to the answer; null when there are none.</param>
    public static Verdict Verdict(Claim claim, RoutedAnswer answer, CarriedDoubts? tolerances = null)
    {
        var verdict = Bare(claim, answer);
        if (tolerances is not { Swings.Count: > 0 })
            return verdict;
        verdict = verdict with { Tolerances = tolerances };
        if (verdict.Outcome is not (Outcome.Holds or Outcome.Fails) || Of(claim.Bound, answer.Leading! with { ErrorBar = answer.Leading!.ErrorBar + tolerances.Reach }) == verdict.Outcome)
            return verdict;
        var most = tolerances.Swings.MaxBy(s => s.Reach)!;
        return verdict with { Outcome = Outcome.TooClose, Words = $"The stated tolerances could turn it; most of that comes from the {most.Doubt.Input.Text}." };
    }

    private static Verdict Bare(Claim claim, RoutedAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(claim);
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.Leading is not { } leading)
            return new Verdict(claim, answer, Outcome.NoAnswer, double.NaN, "No route could answer.");
        double margin = Math.Min(leading.Value - claim.Bound.Lower, claim.Bound.Upper - leading.Value);
        var outcome = Of(claim.Bound, leading);
        var opposed = answer.Answers.Skip(1).Select(a => (Answer: a, Outcome: Of(claim.Bound, a)))
            .FirstOrDefault(a => outcome != Outcome.TooClose && a.Outcome != Outcome.TooClose && a.Outcome != outcome);
        if (opposed.Answer is not null)
            return new Verdict(claim, answer, Outcome.TooClose, margin, $"The {Word(leading.Route)} and {Word(opposed.Answer.Route)} routes fall on opposite sides of the bound.");
        return new Verdict(claim, answer, outcome, margin, outcome switch
        {
            Outcome.Holds => "The bound is kept with the whole error bar to spare.",
            Outcome.Fails => "The bound is broken by more than the error bar.",
            _ => "The bound lies inside the error bar.",
        });
    }

    /// <summary>A route's name as people read it.</summary>
    public static string Word(RouteName route) => route switch
    {
        RouteName.Circuit => "circuit",
        RouteName.Series => "series",
        RouteName.Field => "field",
        RouteName.Motion => "motion",
        RouteName.Bound => "bound",
        _ => "given",
    };

    private static Outcome Of(Bound bound, Answer answer)
    {
        double low = answer.Value - answer.ErrorBar, high = answer.Value + answer.ErrorBar;
        if (low >= bound.Lower && high <= bound.Upper)
            return Outcome.Holds;
        return high < bound.Lower || low > bound.Upper ? Outcome.Fails : Outcome.TooClose;
    }
}
