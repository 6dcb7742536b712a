using Fieldwright.Series.Gases;
using Xunit;

namespace Fieldwright.Tests.Series;

/// <remarks>Reference values: ten-term sums and Henderson's form at the packings of the published table.</remarks>
/// <source key="ClisbyMcCoy2006"/>
public class HardDiscGasTests
{
    [Theory]
    [InlineData(0.05, 1.108388, 1.108380)]
    [InlineData(0.1, 1.236144, 1.236111)]
    [InlineData(0.2, 1.570365, 1.570312)]
    [InlineData(0.3, 2.063163, 2.063776)]
    [InlineData(0.4, 2.827265, 2.833333)]
    [InlineData(0.5, 4.082674, 4.125)]
    public void Compressibility_OfTheSeriesAndOfHenderson_AreThoseOfTheTable(double packing, double series, double henderson)
    {
        Assert.Equal(series, HardDiscGas.TenTerms(packing), 6e-7);
        Assert.Equal(henderson, HardDiscGas.Henderson(packing), 6e-7);
        var z = HardDiscGas.Compressibility(packing);
        Assert.True(Math.Abs(z.Value - henderson) <= z.Error);
    }

    [Fact]
    public void Compressibility_AtHalf_IsThatOfSimulations() =>
        // 4.11 ± 0.02 (reference data, computed there).
        Assert.Equal(4.11, HardDiscGas.Compressibility(0.5).Value, 0.02);

    [Fact]
    public void Halving_FromATenthToAFifth_RaisesThePressureByTheTable() =>
        Assert.Equal(2.5408, 2 * HardDiscGas.Compressibility(0.2).Value / HardDiscGas.Compressibility(0.1).Value, 5e-5);

    [Fact]
    public void Packing_BeyondFreezing_IsTurnedAway() => Assert.Throws<ArgumentOutOfRangeException>(() => HardDiscGas.Compressibility(0.75));

    /// <remarks>Enskog in two dimensions, D = (1/(2 n d g)) √(kT/(π m)), d the width of a disc and g = (1 − 7η/16)/(1 − η)² how much oftener they meet than in a thin gas; a run of discs is set
    /// beside the same formula among the tests of the particles.</remarks>
    [Theory]
    [InlineData(1e-9)]
    [InlineData(0.1)]
    [InlineData(0.5)]
    public void SelfDiffusion_IsThatOfEnskog(double packing)
    {
        const double radius = 2e-3, mass = 1e-4, thermal = 1e-6;
        double density = packing / (Math.PI * radius * radius), contact = (1 - 7 * packing / 16) / Math.Pow(1 - packing, 2);
        double expected = Math.Sqrt(thermal / (Math.PI * mass)) / (2 * density * 2 * radius * contact);
        Assert.Equal(expected, HardDiscGas.SelfDiffusion(packing, radius, mass, thermal), 1e-6 * expected);
    }
}
