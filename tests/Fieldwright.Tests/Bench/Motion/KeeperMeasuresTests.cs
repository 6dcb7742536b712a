using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Motion;

/// <summary>Who keeps a ball between two magnets, and the spacer that changes it, where symmetry says what must come out.</summary>
public class KeeperMeasuresTests
{
    // Two like magnets, a ball that weighs next to nothing: with equal gaps neither wins, so the spacer that changes the winner is the gap on the other side.
    private static string Pair(string mass = "1 mg", double over = 3) => FormattableString.Invariant($$$"""
        apparatus: Pair
        symmetry: round
        materials: {iron: {relative permeability: 500, density: 7850 kg/m3}, magnet: {remanence: 1 T, recoil permeability: 1, density: 7500 kg/m3}}
        parts:
          below: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: -9 mm}, of: magnet, magnetised: up}
          ball: {shape: ball, radius: 6 mm, at: {z: 0 mm}, of: iron, mass: {{{mass}}}, moves: up and down}
          above: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: {{{12 + over}}} mm}, of: magnet, magnetised: up}
        """);

    // One route only: a field of which next to nothing is left over would be refined for long.
    private static Answer Ask(string text, string measure, RouteName route)
    {
        var apparatus = Read.Read(text);
        var asked = Read.Measure(measure, apparatus);
        IRoute one = route == RouteName.Series ? new FreeBodiesRoute() : new FieldRoute();
        return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, apparatus), asked, Circumstances.Of(apparatus, null, asked.Conditions), new RouteSession(one, 0.02, TestContext.Current.CancellationToken));
    }

    [Fact]
    public void Spacer_BetweenLikeMagnets_IsTheGapOnTheOtherSide()
    {
        var spacer = Ask(Pair(), "changeover spacer of ball", RouteName.Series);
        // The milligram counts 1e-5 N of some newtons a millimetre.
        Assert.Equal(3e-3, spacer.Value, spacer.ErrorBar + 2e-8);
        Assert.True(spacer.ErrorBar < 0.05e-3);
        Assert.Contains("'below' keeps it now, at 1 mm; beyond this 'above' does.", spacer.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Spacer_OfAHeavyBall_IsTheSameByFieldAndBySeries()
    {
        Answer field = Ask(Pair("100 g"), "changeover spacer of ball", RouteName.Field), series = Ask(Pair("100 g"), "changeover spacer of ball", RouteName.Series);
        Assert.Equal(series.Value, field.Value, series.ErrorBar + field.ErrorBar);
        // A newton of weight helps the lower one.
        Assert.True(field.Value > 3.05e-3);
        Assert.True(field.ErrorBar < 0.3e-3);
    }

    [Fact]
    public void Pull_NamesTheNearerOfTwoLikeMagnets()
    {
        var down = Ask(Pair(), "keeping pull on ball", RouteName.Series);
        Assert.True(down.Value < -down.ErrorBar);
        Assert.Contains("'below' keeps it.", down.Remark, StringComparison.Ordinal);
        var up = Ask(Pair(over: 0.4), "keeping pull on ball", RouteName.Series);
        Assert.Equal(0, Ask(Pair(over: 0.4), "lift on ball", RouteName.Series).Value - 1e-6 * 9.80665 - up.Value, 1e-12);
        Assert.Contains("'above' keeps it.", up.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Pull_OfAWeightThatNoMagnetLifts_GoesWithTheLowerOne() =>
        Assert.Contains("'below' keeps it.", Ask(Pair("20 kg", 0.4), "keeping pull on ball", RouteName.Series).Remark, StringComparison.Ordinal);

    [Fact]
    public void Pull_WithNothingAbove_IsAMistake()
    {
        var apparatus = Read.Read(Pair().Split("  above", StringSplitOptions.None)[0]);
        Assert.False(MeasureReader.TryRead("keeping pull on ball", apparatus, out _, out var mistake));
        Assert.Contains("one under it", mistake.Expectation, StringComparison.Ordinal);
    }
}
