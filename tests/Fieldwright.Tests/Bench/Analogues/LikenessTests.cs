using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Analogues;

/// <summary>Circuits redrawn: the counterparts do what the scales say as long as the likeness holds, and no longer.</summary>
public class LikenessTests
{
    private static Likeness Of(string name, string? state, string of, string to) =>
        LikenessStudy.Of(Read.Example(name), state, DomainWords.Find(of)!, DomainWords.Find(to)!, TestContext.Current.CancellationToken);

    [Theory]
    [InlineData("water")]
    [InlineData("electric")]
    [InlineData("heat")]
    public void RingWithAGap_Redrawn_DoesWhatTheScalesSay(string to)
    {
        var likeness = Of("ring-and-lamp", "ring with a gap", "magnetic", to);
        Assert.Equal(4, likeness.Counterparts.Count);
        foreach (var pair in likeness.Counterparts)
        {
            // Thin tubes at some hundred Re keep Poiseuille to a part in a thousand.
            Assert.Equal(pair.Flow * likeness.FlowScale, pair.RedrawnFlow, 2e-3 * Math.Abs(pair.RedrawnFlow));
            Assert.Equal(pair.Drop * likeness.PotentialScale, pair.RedrawnDrop, 2e-3 * Math.Abs(pair.RedrawnDrop));
        }

        var (steel, gap, leak) = (likeness.Counterparts[1], likeness.Counterparts[2], likeness.Counterparts[3]);
        Assert.Equal(steel.Flow, gap.Flow + leak.Flow, 1e-6 * steel.Flow);
    }

    // The flux of the ring is that of its circuit route: N i over the sum of reluctances.
    [Fact]
    public void RingWithAGap_SpendsItsAmpereTurns_InSteelAndGap()
    {
        var pairs = Of("ring-and-lamp", "ring with a gap", "magnetic", "electric").Counterparts;
        Assert.Equal(-pairs[0].Drop, pairs[1].Drop + pairs[2].Drop, 1e-6 * pairs[2].Drop);
        Assert.True(pairs[2].Drop > 5 * pairs[1].Drop, "An open gap of 2 mm takes most of the ampere-turns.");
        // Three lumps carry what the chain of sectors carries.
        var apparatus = Circumstances.Of(Read.Example("ring-and-lamp"), "ring with a gap", []).Apparatus;
        var ring = CircuitRoute.StateOf(apparatus, new RoutePanel(apparatus, 0.01, TestContext.Current.CancellationToken, Fieldwright.Bench.Claims.RouteName.Circuit).CurrentsIn(null)!);
        Assert.Equal(ring.GapAmpereTurns, pairs[2].Drop, 0.02 * ring.GapAmpereTurns);
        Assert.Equal(ring.Fluxes.Min(f => f.Magnitude), pairs[2].Flow, 0.02 * pairs[2].Flow);
        Assert.Equal(ring.Fluxes.Max(f => f.Magnitude), pairs[1].Flow, 0.02 * pairs[1].Flow);
    }

    [Fact]
    public void WaterBoard_IsTold_WhereItsHoseTurnsTurbulent()
    {
        var likeness = Of("water-board", "riding", "water", "electric");
        var turbulent = Assert.Single(likeness.Breaks, b => b.What == "turbulent pipe");
        // Re 2000 in 10 mm: q = 2000 π d μ / 4 ρ.
        Assert.Equal(1e6 * 2000 * Math.PI * 0.01 * Fieldwright.Matter.Water.Viscosity / (4 * Fieldwright.Matter.Water.Density), turbulent.At, 1e-9);
        Assert.False(turbulent.Holds);
    }

    [Fact]
    public void FluxBoard_IsTold_WhatNoWireWouldDo()
    {
        string[] breaks = [.. Of("flux-board", null, "magnetic", "electric").Breaks.Select(b => b.What)];
        Assert.Contains("no magnetic insulator", breaks);
        Assert.Contains("steel fills up", breaks);
        Assert.Contains("reluctance stores and does not heat", breaks);
        Assert.Contains("permanent magnets", breaks);
        Assert.All(Of("flux-board", null, "magnetic", "water").Breaks, b => Assert.True(double.IsFinite(b.At) && double.IsFinite(b.Now)));
    }

    [Fact]
    public void BoardPicture_OfALikeness_NamesEveryElementTwice()
    {
        var scene = BoardPicture.Of("Ring", Of("flux-board", null, "magnetic", "water"), new PictureOptions(null), (text, size, _) => 0.5 * size * text.Length);
        foreach (string name in (string[])["magnet", "steel", "gap", "leak"])
            Assert.Equal(2, scene.Marks.OfType<TextMark>().Count(t => t.Text == name));
        Assert.All(scene.Marks.OfType<TextMark>(), t => Assert.InRange(t.At.X, 0, scene.Width));
    }
}
