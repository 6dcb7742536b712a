using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Travelling;
using Xunit;

namespace Fieldwright.Tests.Bench.Travelling;

/// <summary>The greatest thrust and the run of a loose body, against curves with known answers.</summary>
public class RunTests
{
    [Theory]
    [InlineData(2, 6)]
    [InlineData(2, -6)]
    [InlineData(20, 6)]
    public void Greatest_OfAnInductionCurve_LiesAtSlipOneOverGoodness(double goodness, double field)
    {
        // F = F₀·2sG/(1 + s²G²), greatest at sG = 1.
        Estimate Thrust(double speed) => new(Math.Sign(field) * 10 * 2 * (1 - speed / field) * goodness / (1 + Math.Pow((1 - speed / field) * goodness, 2)), 1e-6);
        var (found, force, bar) = ThrustCurve.Greatest(Thrust, field);
        Assert.Equal(10, Math.Abs(force.Value), 1e-4);
        Assert.Equal(1 / goodness, 1 - found / field, bar / 6 + 1e-6);
        Assert.True(bar < 0.05);
    }

    [Fact]
    public void Run_UnderThrustThatFallsEvenly_IsAnExponential()
    {
        // F = F₀(1 − v/u) against a drag R: top u(1 − R/F₀), 95 % of it after 3 time constants (ln 20) of m u/F₀.
        const double f = 4, u = 6, r = 1, m = 0.5;
        var run = Run.FromRest(v => new Estimate(f * (1 - v / u), 0), u, m, r);
        Assert.Equal(u * (1 - r / f), run.TopSpeed.Value, 1e-6);
        double constant = m * u / f;
        // Straight pieces of force are summed exactly.
        Assert.Equal(Math.Log(20) * constant, run.TimeToTop.Value, 1e-6);
        Assert.Equal(run.TopSpeed.Value * (1 - Math.Exp(-0.5)), run.SpeedAfter(0.5 * constant).Value, 2e-3);
    }

    [Fact]
    public void Run_AgainstTooMuchDrag_SaysThatItDoesNotStart() =>
        Assert.Contains("does not start", Assert.Throws<RouteFailedException>(() => Run.FromRest(v => new Estimate(1 - v, 0), 1, 1, 2)).Message, StringComparison.Ordinal);
}
