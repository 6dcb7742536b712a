using Fieldwright.Circuits.Conduction;
using Fieldwright.Series.Liquids;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class ChannelNetTests
{
    [Theory]
    [InlineData(0.2)]
    [InlineData(1)]
    [InlineData(2.5)]
    [InlineData(20)]
    public void Conductance_OfTheNet_CoversTheMappedChannel(double length)
    {
        var (value, bar) = ChannelNet.Conductance(length, 1);
        double exact = new ElectrodeSpread(length, 1).Conductance;
        Assert.True(Math.Abs(value - exact) <= bar, FormattableString.Invariant($"{value} ± {bar} beside {exact}"));
        Assert.True(bar < 0.1 * exact, FormattableString.Invariant($"{bar} of {exact}"));
    }

    [Fact]
    public void Conductance_InOtherUnits_IsTheSame() => Assert.Equal(ChannelNet.Conductance(0.04, 0.016).Value, ChannelNet.Conductance(40, 16).Value, 1e-12);
}
