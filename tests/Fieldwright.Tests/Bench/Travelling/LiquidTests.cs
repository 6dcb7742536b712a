using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Matter;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Travelling;

/// <summary>Liquids beside mercury.</summary>
public class LiquidTests
{
    /// <summary>Common practice, no source: aluminium conducts roughly forty times better than mercury.</summary>
    [Fact]
    public void Aluminium_ConductsRoughlyFortyTimesBetterThanMercury() =>
        Assert.InRange(Materials.Find("aluminium 1050")!.Conductivity / Materials.Find("mercury")!.Conductivity, 30, 50);

    // The channel is thin against its skin depth, so that thrust goes nearly with conductivity; its own field takes a little off.
    [Fact]
    public void Galinstan_InTheChannelOfMercury_IsPushedAlmostAsItConducts()
    {
        var apparatus = Read.Example("liquid-pump");
        double Ask(string measure)
        {
            var asked = Read.Measure(measure, apparatus);
            var answer = Rehearsal.Ask(apparatus, asked, new RehearsalOptions { Only = RouteName.Series }, "without the bar");
            if (answer.Leading is null)
                answer = Rehearsal.Ask(apparatus, asked, new RehearsalOptions(), "without the bar");
            return answer.Leading!.Value;
        }

        double conducts = Ask("conductivity against mercury of metal"), pushed = Ask("pressure against mercury of metal");
        Assert.Equal(3.46 / 1.04, conducts, 1e-9);
        Assert.InRange(pushed / conducts, 0.9, 1.0);
    }
}
