using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.Claims;

public class JudgeTests
{
    private static readonly Measure Lift = new("lift", "disc", null, [], null, false, "lift on disc");

    private static Verdict Judged(Bound bound, params Answer[] answers) =>
        Judge.Verdict(new Claim("It lifts", Lift, bound, null), new RoutedAnswer(Lift, "N", answers, []));

    private static Bound AtLeast(double value) => new(BoundKind.AtLeast, value, double.PositiveInfinity, "at least");

    [Theory]
    [InlineData(1.10, 0.05, Outcome.Holds)]
    [InlineData(1.04, 0.05, Outcome.TooClose)]
    [InlineData(0.96, 0.05, Outcome.TooClose)]
    [InlineData(0.90, 0.05, Outcome.Fails)]
    public void Verdict_AtLeastOne_FollowsValueAndBar(double value, double bar, Outcome expected) =>
        Assert.Equal(expected, Judged(AtLeast(1), new Answer(value, bar, RouteName.Field)).Outcome);

    [Fact]
    public void Verdict_SecondRouteOnTheOtherSide_IsTooClose() =>
        Assert.Equal(Outcome.TooClose, Judged(AtLeast(1), new Answer(1.2, 0.05, RouteName.Field), new Answer(0.8, 0.1, RouteName.Series)).Outcome);

    [Fact]
    public void Verdict_SecondRouteUndecided_LeavesTheFirstInCharge() =>
        Assert.Equal(Outcome.Holds, Judged(AtLeast(1), new Answer(1.2, 0.05, RouteName.Field), new Answer(0.95, 0.1, RouteName.Series)).Outcome);

    [Fact]
    public void Verdict_NoRoute_SaysSo() => Assert.Equal(Outcome.NoAnswer, Judged(AtLeast(1)).Outcome);

    [Fact]
    public void Verdict_Between_MarginIsToTheNearerLimit()
    {
        var verdict = Judged(new Bound(BoundKind.Between, 1, 2, "between"), new Answer(1.3, 0.01, RouteName.Field));
        Assert.Equal(Outcome.Holds, verdict.Outcome);
        Assert.Equal(0.3, verdict.Margin, 1e-12);
    }

    [Fact]
    public void Disagreeing_RoutesFurtherApartThanTheirBars_AreNamed()
    {
        var answer = new RoutedAnswer(Lift, "N", [new Answer(1.2, 0.05, RouteName.Field), new Answer(1.3, 0.02, RouteName.Series)], []);
        Assert.Equal(RouteName.Series, Assert.Single(answer.Disagreeing).Route);
        Assert.Equal(0.1, answer.Difference!.Value, 1e-12);
    }
}
