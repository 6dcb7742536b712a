using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures.Live;
using Xunit;

namespace Fieldwright.Tests.Bench.Pictures;

/// <summary>A box that runs while it is looked at.</summary>
public sealed class BoxPlayTests
{
    private static readonly ParticleBox Gas = new(0.4, 0.4, 0, false, 1, new BoxDiscs(36, 0.008, 0.005, 0.3, 1), null, null, null);

    [Fact]
    public void Advance_ClosedGas_KeepsItsEnergyAndItsDiscs()
    {
        var play = new BoxPlay(Gas);
        for (int i = 0; i < 40; i++)
            play.Advance(0.05);
        Assert.Equal(2, play.Now, 9);
        Assert.Equal(36, play.Discs.Count);
        // Nothing is lost: the mean square of the speeds stays what they were set going with, to rounding.
        Assert.Equal(0.09, play.Discs.Average(d => d.Vx * d.Vx + d.Vy * d.Vy), 9);
        Assert.All(play.Discs, d => Assert.InRange(d.X, 0.008 - 1e-9, 0.392 + 1e-9));
    }

    [Fact]
    public void Become_LidPressedHarder_GoesOnFromWhereTheDiscsAre()
    {
        var light = Gas with { Tilt = 0.3, Lid = new BoxLid(0.1, 0, 0.3) };
        var play = new BoxPlay(light);
        play.Advance(0.5);
        var before = play.Discs;
        double lid = play.Lid;
        play.Become(light with { Lid = light.Lid! with { Load = 0.5 } });
        Assert.Equal(before.Select(d => (d.X, d.Y)), play.Discs.Select(d => (d.X, d.Y)));
        Assert.Equal(lid, play.Lid, 9);
        Assert.Equal(0.5, play.Now, 9);
        play.Become(Gas with { Discs = Gas.Discs with { Count = 9 } });
        Assert.Equal(9, play.Discs.Count);
    }

    /// <summary>The dial of the moment turned while they fly: they go on from where they are, and drift apart.</summary>
    [Fact]
    public void Become_DiscsMadeMagnets_GoOnAndKeepFurtherApart()
    {
        var play = new BoxPlay(Gas);
        play.Advance(0.5);
        var before = play.Discs;
        play.Become(Gas with { Discs = Gas.Discs with { Moment = 0.3 } });
        Assert.Equal(before.Select(d => (d.X, d.Y)), play.Discs.Select(d => (d.X, d.Y)));
        play.Advance(1);
        var discs = play.Discs;
        Assert.True(Enumerable.Range(0, discs.Count).SelectMany(i => Enumerable.Range(0, i).Select(j => Math.Pow(discs[i].X - discs[j].X, 2) + Math.Pow(discs[i].Y - discs[j].Y, 2))).Min() > 0.02 * 0.02);
    }
}
