using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class BhCurveTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;
    private static readonly BhCurve Steel = Materials.Find("mild steel")!.Curve!;

    // Table of TEAM problems 10 and 13, four public transcriptions that agree.
    [Fact]
    public void Team13_EveryPointOfTheTable_IsMet()
    {
        foreach (string line in File.ReadLines(Path.Combine(Repository.Root, "validation", "reference", "bh-team13.csv")).Where(l => !l.StartsWith('#')).Skip(1))
        {
            double[] row = [.. line.Split(',').Select(double.Parse)];
            Assert.Equal(row[0], Steel.FieldStrength(row[1]), 1e-9 * (1 + row[0]));
            Assert.Equal(row[1], Steel.FluxDensity(row[0]), 1e-9);
        }
    }

    // Relative permeabilities by division, as listed with the table: foot, peak and knee.
    [Theory]
    [InlineData(0.0025, 124), InlineData(0.2, 758), InlineData(0.5, 1611), InlineData(0.7, 2048), InlineData(1.0, 2327), InlineData(1.5, 1279), InlineData(1.8, 152)]
    public void Team13_RelativePermeability_IsThatOfTheTable(double b, double expected) => Assert.Equal(expected, 1 / (Steel.Reluctivity(b) * Mu0), 0.5);

    // Between 1.8 and 2.22 T the problem gives B = μ₀H + aH² + bH + c; our points lie on it 2 kA/m apart.
    [Theory]
    [InlineData(16000), InlineData(20000), InlineData(30000), InlineData(40000)]
    public void Team13_AboveTheTable_FollowsTheFormula(double h)
    {
        double expected = Mu0 * h - 2.381e-10 * h * h + 2.327e-5 * h + 1.590;
        // Straight chords of that parabola sag by 2·2.381e-10·(2 kA/m)²/8 = 0.24 mT; a cubic must not do worse than twice that.
        Assert.Equal(expected, Steel.FluxDensity(h), 4.8e-4);
    }

    [Fact]
    public void Team13_FarAbove_IsFreeSpacePlusItsSaturation()
    {
        Assert.Equal(Mu0 * 2e5 + 2.16, Steel.FluxDensity(2e5), 0.01);
        Assert.Equal(1 / Mu0, Steel.DifferentialReluctivity(3), 1e-3 / Mu0);
    }

    [Fact]
    public void Slope_IsPositiveEverywhereAndIsTheDerivative()
    {
        for (double b = 0.0007; b < 2.6; b += 0.00131)
        {
            double slope = Steel.DifferentialReluctivity(b), step = 1e-7;
            Assert.True(slope > 0);
            double numeric = (Steel.FieldStrength(b + step) - Steel.FieldStrength(b - step)) / (2 * step);
            Assert.Equal(numeric, slope, 2e-3 * slope);
        }
    }

    [Fact]
    public void Energies_AddUpAndAreTheIntegral()
    {
        double sum = 0;
        const int Steps = 20000;
        for (int k = 0; k < Steps; k++)
            sum += Steel.FieldStrength((k + 0.5) * 2.0 / Steps) * 2.0 / Steps;
        Assert.Equal(sum, Steel.EnergyDensity(2.0), 1e-4 * sum);
        double h = Steel.FieldStrength(1.4);
        Assert.Equal(1.4 * h, Steel.EnergyDensity(1.4) + Steel.CoenergyDensity(h), 1e-9 * h);
        Assert.Equal(Steel.EnergyDensity(1.2), Steel.EnergyDensity(-1.2));
        Assert.Equal(-Steel.FieldStrength(1.2), Steel.FieldStrength(-1.2));
    }

    [Fact]
    public void SinusoidalFlux_OfAStraightCurve_ChangesNothing()
    {
        var straight = BhCurve.Create("straight", [100, 200, 300], [100 * 500 * Mu0, 200 * 500 * Mu0, 300 * 500 * Mu0]);
        double nu = 1 / (500 * Mu0);
        Assert.Equal(nu, straight.FundamentalReluctivity(0.1), 1e-9 * nu);
        Assert.Equal(nu, straight.EnergyReluctivity(0.1), 1e-9 * nu);
        Assert.Equal(nu, straight.UnderSinusoidalFlux().Reluctivity(0.1), 1e-6 * nu);
    }

    // H = k B³ : fundamental 3/4 k b³, energy k b⁴/4 = ½ ν b².
    [Fact]
    public void SinusoidalFlux_OfACubicLaw_HasItsKnownFundamental()
    {
        const double k = 1000;
        double[] b = [.. Enumerable.Range(1, 400).Select(i => i * 0.005)];
        var cubic = BhCurve.Create("cubic", [.. b.Select(x => k * x * x * x)], b);
        Assert.Equal(0.75 * k * 1.5 * 1.5, cubic.FundamentalReluctivity(1.5), 1e-3 * k);
        Assert.Equal(0.5 * k * 1.5 * 1.5, cubic.EnergyReluctivity(1.5), 1e-3 * k);
        Assert.Equal(0.75 * k * 1.5 * 1.5, cubic.UnderSinusoidalFlux().Reluctivity(1.5), 2e-3 * k);
    }

    [Fact]
    public void Create_TableThatFalls_IsRefused() => Assert.Throws<ArgumentException>(() => BhCurve.Create("bad", [100, 90, 300], [0.1, 0.2, 0.3]));
}
