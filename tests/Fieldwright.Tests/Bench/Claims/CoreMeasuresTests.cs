using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Claims;

/// <summary>Where the ampere-turns of a cut ring go.</summary>
public class CoreMeasuresTests
{
    private static readonly string Ring = Read.CutRing.Replace("SUPPLY", "current: 1 A", StringComparison.Ordinal);

    private static IReadOnlyList<Answer> Ask(string measure)
    {
        var apparatus = Read.Read(Ring);
        return Rehearsal.Ask(apparatus, Read.Measure(measure, apparatus), new RehearsalOptions(0.02), cancellation: TestContext.Current.CancellationToken).Answers;
    }

    // Ampère's law: what gap and steel take together is turns times current; at 1 A of direct current that is the number of turns. Both routes' bars are to cover it.
    [Fact]
    public void GapAndSteel_Together_TakeTurnsTimesCurrent()
    {
        double turns = Read.Read(Ring).Windings[0].Turns;
        var (gap, steel) = (Ask("ampere-turns across gap of core"), Ask("ampere-turns along steel of core"));
        Assert.Equal(2, gap.Count);
        foreach (var across in gap)
        {
            var along = steel.Single(s => s.Route == across.Route);
            Assert.Equal(turns, across.Value + along.Value, 0.01 * turns);
            Assert.True(across.Value > along.Value, $"{across} {along}");
        }

        Assert.InRange(Math.Abs(gap[0].Value - gap[1].Value), 0, gap[0].ErrorBar + gap[1].ErrorBar);
    }

    [Fact]
    public void LeakageShare_OfACutRing_IsThatOfBothRoutesWithinTheirBars()
    {
        var share = Ask("leakage share of core");
        Assert.All(share, s => Assert.InRange(s.Value, 0.02, 0.9));
        Assert.InRange(Math.Abs(share[0].Value - share[1].Value), 0, share[0].ErrorBar + share[1].ErrorBar);
    }
}
