using Fieldwright.Numerics;
using Fieldwright.Series.Liquids;
using Xunit;

namespace Fieldwright.Tests.Series.Liquids;

public class ElectrodeSpreadTests
{
    [Theory]
    [InlineData(0.2)]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(20)]
    public void Conductance_IsTheCurrentSummedAlongTheChannel(double length)
    {
        // The mean current density across is the voltage over the width at every station; beyond the ends it begins as a root, hence the square.
        var spread = new ElectrodeSpread(length, 1);
        double beyond = Quadrature.Integrate(u => 2 * u * spread.Share(0.5 * length + u * u), 0, 3, 80);
        Assert.Equal(length + 2 * beyond, spread.Conductance, 1e-9 * spread.Conductance);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(30)]
    public void Conductance_LongElectrodes_GainsTwoLnTwoOverPi(double length) =>
        Assert.Equal(length + 2 * Math.Log(2) / Math.PI, new ElectrodeSpread(length, 1).Conductance, 3 * Math.Exp(-2 * Math.PI * length) * length);

    [Fact]
    public void Conductance_ByDifferencesOnAGrid_IsTheSame()
    {
        // Laplace's equation on a quarter: 0 ≤ x ≤ 2.5 w, 0 ≤ y ≤ w/2, voltage 0 on the middle and ½ on the electrode, walls insulate. The rim of the electrode costs the grid some per cent.
        const int n = 24, across = n / 2, along = 5 * n / 2, half = n / 2;
        var v = new double[along + 1, across + 1];
        for (int sweep = 0; sweep < 1500; sweep++)
            for (int i = 0; i <= along; i++)
                for (int j = 1; j <= across; j++)
                {
                    bool onElectrode = j == across && i <= half;
                    double left = v[i == 0 ? 1 : i - 1, j], right = v[i == along ? along - 1 : i + 1, j], up = v[i, j == across ? across - 1 : j + 1], down = v[i, j - 1];
                    v[i, j] = onElectrode ? 0.5 : v[i, j] + 1.9 * (0.25 * (left + right + up + down) - v[i, j]);
                }
        double through = 0;
        for (int i = 0; i <= along; i++)
            through += (i == 0 || i == along ? 0.5 : 1) * v[i, 1];
        Assert.Equal(2 * through, new ElectrodeSpread(1, 1).Conductance, 0.04);
    }

    [Fact]
    public void MeanOf_EvenAndUneven_IsWeightedWithTheCurrent()
    {
        var spread = new ElectrodeSpread(0.04, 0.016);
        var (even, beyond) = spread.MeanOf(_ => 0.7);
        Assert.Equal(0.7, even, 1e-14);
        Assert.Equal(1 - 0.04 / 0.016 / spread.Conductance, beyond, 1e-6);
        Assert.Equal(0, spread.MeanOf(x => x).Mean, 1e-12);
        // A field that ends with the electrodes serves the straight part of the current only.
        Assert.Equal(1 - beyond, spread.MeanOf(x => Math.Abs(x) < 0.02 ? 1 : 0).Mean, 1e-12);
    }

    [Fact]
    public void Pump_ThatSpreads_HasLessResistanceAndBalancesItsEnergy()
    {
        var straight = new ConductionPump(0.016, 0.006, 0.04, 3.3e6, 0.4);
        var spread = straight with { Spreads = true };
        Assert.Equal(straight.Resistance * 2.5 / (2.5 + 2 * Math.Log(2) / Math.PI), spread.Resistance, 1e-5 * straight.Resistance);
        var (pressure, voltage, loss) = spread.At(60, 0.3);
        Assert.Equal(60 * voltage, loss + pressure * 0.3 * 0.016 * 0.006, 1e-12);
        Assert.Equal(0.4 * 60 / 0.006, pressure, 1e-9);
    }
}
