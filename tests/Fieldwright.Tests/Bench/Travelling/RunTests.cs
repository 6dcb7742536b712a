using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Routes.Travel;
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

    /// <summary>The speed after a short time, from the run's integral, over that time.</summary>
    [Fact]
    public void Acceleration_FromRest_IsTheSpeedSoonGainedOverTheTime()
    {
        var track = File.Bench.Example("flat-track");
        double Ask(string text)
        {
            var asked = File.Bench.Measure(text, track);
            return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, track), asked, Circumstances.Of(track, null, asked.Conditions), new RouteSession(new LayersRoute(), 0.01, TestContext.Current.CancellationToken)).Value;
        }

        double acceleration = Ask("acceleration of sheet"), soon = Ask("running speed of sheet after 50 ms") / 0.05;
        // The run goes straight over a thirtieth of the top speed at a time; over the first of those the thrust falls by some 3 %, half of which the mean leaves.
        Assert.Equal(soon, acceleration, 0.02 * acceleration);
        Assert.Equal((Ask("standstill thrust on sheet") - 0.4) / 0.65, acceleration, 1e-9);
        // Against the field's way, drag helps to stop it.
        Assert.True(Ask("acceleration of sheet at speed -0.1 m/s") > acceleration);
        Assert.Equal(0, Ask("acceleration of sheet at current in track 1 A"));
    }
}
