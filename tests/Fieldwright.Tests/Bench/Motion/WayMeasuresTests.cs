using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Motion;

/// <summary>Where a free magnet goes that is let go slowly.</summary>
public class WayMeasuresTests
{
    private static string Over(string place, string poles, string moves = "freely", string more = "") => $$$"""
        apparatus: Over
        symmetry: free
        materials: {magnet: {remanence: 1 T, recoil permeability: 1, density: 7500 kg/m3}}
        parts:
          fixed one: {shape: disc, radius: 10 mm, thickness: 10 mm, at: {z: 0 mm}, of: magnet, magnetised: up}
          free one: {shape: disc, radius: 10 mm, thickness: 10 mm, at: {{{place}}}, of: magnet, magnetised: {{{poles}}}, moves: {{{moves}}}}
        {{{more}}}
        """;

    private static Answer Ask(string text, string measure)
    {
        var apparatus = Read.Read(text);
        var answers = Rehearsal.Ask(apparatus, Read.Measure(measure, apparatus), new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken);
        return answers.Leading ?? throw new Xunit.Sdk.XunitException(string.Join(' ', answers.Silent.Select(s => s.Reason)));
    }

    [Fact]
    public void UnlikePoles_OnOneAxis_EndFaceToFace()
    {
        var end = Ask(Over("{z: 25 mm}", "up"), "end height of free one");
        Assert.Equal(10e-3, end.Value, end.ErrorBar);
        Assert.Contains("It goes down until it meets 'fixed one'.", end.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void LikePoles_UpAndDown_RestWhereTheForceIsTheWeight()
    {
        string text = Over("{z: 12 mm}", "down", "up and down");
        var end = Ask(text, "end height of free one");
        Assert.Contains("It goes up and comes to rest.", end.Remark, StringComparison.Ordinal);
        string there = FormattableString.Invariant($" on free one at height {end.Value * 1e3:R} mm");
        double lift = Ask(text, "lift" + there).Value, above = Ask(text, FormattableString.Invariant($"lift on free one at height {end.Value * 1e3 + 0.1:R} mm")).Value;
        double weight = Ask(text, "weight of free one").Value;
        Assert.True(Math.Abs(lift - weight) <= (lift - above) / 0.1e-3 * end.ErrorBar);
        Assert.True(above < weight);
    }

    // A start on the other side must turn the way round, by symmetry.
    [Fact]
    public void FreeOne_BesideAnother_GoesTowardsItWhicheverSideItIsOn()
    {
        var right = Ask(Over("{x: 30 mm, z: 0 mm}", "down"), "end shift of free one");
        var left = Ask(Over("{x: -30 mm, z: 0 mm}", "down"), "end shift of free one");
        Assert.Equal(right.Value, left.Value, 1e-6);
        Assert.Contains("sideways, 180° from x", right.Remark, StringComparison.Ordinal);
        Assert.Contains("sideways, 0° from x", left.Remark, StringComparison.Ordinal);
        Assert.Contains("meets 'fixed one'", right.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void FreeOne_ThatNothingHolds_GoesAwayWithoutANumber()
    {
        var apparatus = Read.Read(Over("{x: 80 mm, z: 0 mm}", "up"));
        var answers = Rehearsal.Ask(apparatus, Read.Measure("end height of free one", apparatus), new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken);
        Assert.Empty(answers.Answers);
        Assert.Contains("goes away", Assert.Single(answers.Silent).Reason, StringComparison.Ordinal);
    }
}
