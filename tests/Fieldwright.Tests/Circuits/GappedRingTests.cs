using System.Numerics;
using Fieldwright.Circuits.Magnetic;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class GappedRingTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    private static readonly LimbCoil Primary = new("primary", 240, Math.PI / 2, 60e-3, 6e-3, 1.5e-3), Secondary = new("secondary", 64, 1.5 * Math.PI, 40e-3, 4e-3, 1.5e-3);

    private static RingCore Core(double mu, double gap = 0, double at = 0) => new(40e-3, 65e-3, 30e-3, new PathMatter(null, mu), gap, at);

    [Theory]
    [InlineData(0.01), InlineData(1.0), InlineData(3.0), InlineData(-2.0), InlineData(7.5)]
    public void CosineCubes_AgreesWithItsSeries(double theta)
    {
        double sum = 0;
        for (int n = 200_000; n > 0; n--)
            sum += Math.Cos(n * theta) / ((double)n * n * n);
        // The tail of the sum is below 1/(2 N²).
        Assert.Equal(sum, RoundLeakage.CosineCubes(theta), 2e-11);
    }

    // Air answers cos 3θ on a circle with μ₀·3 per unit depth, inside and outside: U·G·U = 2 μ₀ d · 3π.
    [Fact]
    public void Leakage_OfAThirdHarmonic_IsThatOfLaplace()
    {
        double[] angles = [.. Enumerable.Range(0, 240).Select(k => 2 * Math.PI * k / 240)];
        var g = RoundLeakage.Conductance(angles, 0.03);
        double sum = 0, rows = 0;
        for (int i = 0; i < 240; i++)
        {
            double row = 0;
            for (int j = 0; j < 240; j++)
            {
                sum += Math.Cos(3 * angles[i]) * g[i * 240 + j] * Math.Cos(3 * angles[j]);
                row += g[i * 240 + j];
                // Second differences of a function of size one over steps of 0.026 rad keep twelve digits of the diagonal.
                Assert.Equal(g[i * 240 + j], g[j * 240 + i], 1e-11 * g[0]);
            }

            rows = Math.Max(rows, Math.Abs(row));
        }

        // Straight pieces hold sinc²(3Δ/2) of the harmonic; the energy goes with its square.
        double x = 1.5 * 2 * Math.PI / 240, held = Math.Pow(Math.Sin(x) / x, 4);
        Assert.Equal(2 * Mu0 * 0.03 * 3 * Math.PI * held, sum, 1e-5 * sum);
        Assert.InRange(rows, 0, 1e-11 * g[0]);
    }

    // With permeable steel all flux goes round: L = N² μ d ln(r₂/r₁)/2π plus the flux in the build.
    [Fact]
    public void ClosedRing_OfVeryPermeableSteel_HasTheInductanceOfItsSection()
    {
        var ring = GappedRing.Create(Core(1e7), [Primary, Secondary], LeakageFrom.BoreAndOutside);
        var s = ring.Steady(0.001, 0);
        double perTurn = 1e7 * Mu0 * 30e-3 * Math.Log(65.0 / 40) / (2 * Math.PI);
        Assert.Equal(240.0 * 240 * perTurn, s.Inductances[0, 0], 1e-5 * s.Inductances[0, 0]);
        Assert.Equal(240.0 * 64 * perTurn, s.Inductances[0, 1], 1e-5 * s.Inductances[0, 1]);
        Assert.InRange(s.Coupling(0, 1), 0.9999, 1);
        Assert.Equal(0.24, s.IronAmpereTurns, 1e-9);
    }

    [Fact]
    public void Linkages_EqualFrozenInductancesTimesCurrents()
    {
        var curve = Materials.Find("mild steel")!.Curve;
        var core = Core(1, 2e-3) with { Matter = new PathMatter(curve, 1, 0.95) };
        var ring = GappedRing.Create(core, [Primary, Secondary]);
        var steady = ring.Steady(2.0, -3.0);
        var alternating = ring.Alternating(2.0, new Complex(-1, 2));
        foreach (var s in new[] { steady, alternating })
            for (int i = 0; i < 2; i++)
            {
                var expected = s.Inductances[i, 0] * s.Currents[0] + s.Inductances[i, 1] * s.Currents[1];
                Assert.True(Complex.Abs(expected - s.FluxLinkages[i]) < 1e-8 * Complex.Abs(expected));
            }
    }

    // Every ampere-turn is spent in steel or gap: going once round.
    [Fact]
    public void AmpereTurns_AreAllSpentInSteelAndGap()
    {
        var ring = GappedRing.Create(Core(2000, 2e-3), [Primary]);
        var s = ring.Steady(1);
        Assert.Equal(240, s.IronAmpereTurns + s.GapAmpereTurns, 1e-6);
        Assert.InRange(s.GapAmpereTurns, 200, 240);
        Assert.InRange(s.LeakageShare, 0.05, 0.6);
    }

    [Fact]
    public void Sectors_Doubled_MoveNothingByMoreThanPromised()
    {
        var coarse = GappedRing.Create(Core(2000, 2e-3), [Primary, Secondary]).Steady(1, 0);
        var fine = GappedRing.Create(Core(2000, 2e-3), [Primary, Secondary], LeakageFrom.AllFaces, 160).Steady(1, 0);
        for (int i = 0; i < 2; i++)
            for (int j = 0; j < 2; j++)
                Assert.Equal(fine.Inductances[i, j], coarse.Inductances[i, j], 2e-3 * fine.Inductances[i, j]);
    }

    [Fact]
    public void Gap_OverTheCoil_IsRefused()
    {
        Assert.Throws<ArgumentException>(() => GappedRing.Create(Core(2000, 2e-3, Math.PI / 2), [Primary]));
        Assert.Throws<ArgumentException>(() => GappedRing.Create(Core(1), [Primary]));
        Assert.Throws<ArgumentException>(() => GappedRing.Create(Core(2000), []));
        Assert.Throws<ArgumentOutOfRangeException>(() => GappedRing.Create(Core(2000, -1e-3), [Primary]));
        Assert.Throws<ArgumentOutOfRangeException>(() => GappedRing.Create(Core(2000), [Primary]).Steady(double.NaN));
    }

    [Fact]
    public void Saturation_LowersTheInductance()
    {
        var core = Core(1) with { Matter = new PathMatter(Materials.Find("mild steel")!.Curve) };
        var ring = GappedRing.Create(core, [Primary]);
        double low = ring.Steady(0.5).Inductances[0, 0], high = ring.Steady(20).Inductances[0, 0];
        Assert.True(high < 0.2 * low);
        Assert.True(ring.Steady(20).LargestFluxDensity > 1.7);
    }
}
