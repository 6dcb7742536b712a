using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Motion;

/// <summary>A ball let go beside its axis, against its own stiffness.</summary>
public class DriftMeasuresTests
{
    private static readonly Apparatus Example = Read.Example("floating-ball-two-coils");
    private static readonly RouteSession Session = new(new BallRoute(), 0.01, TestContext.Current.CancellationToken);

    private static Answer Ask(string measure, string state)
    {
        var asked = Read.Measure(measure, Example);
        return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, Example), asked, Circumstances.Of(Example, state, asked.Conditions), Session);
    }

    // x₀(cosh(t/τ) − 1) for a small push; what the stiffness changes over half a millimetre of fifty is below the 2 % allowed.
    [Fact]
    public void Drift_OfABallThatRunsAway_GrowsAsItsStiffnessSays()
    {
        double tau = Ask("run-away time of ball at rest", "inner ahead").Value, t = 1.5 * tau;
        double drift = Ask(FormattableString.Invariant($"sideways drift of ball after {t:R} s at x 0.2 mm at rest"), "inner ahead").Value;
        double expected = 0.2e-3 * (Math.Cosh(1.5) - 1);
        Assert.Equal(expected, drift, 0.02 * expected);
    }

    [Fact]
    public void Ball_WithTheInnerCoilBehind_IsStillThere()
    {
        Assert.True(Ask("sideways drift of ball after 0.5 s at x 1 mm at rest", "inner behind").Value <= 2.1e-3);
        Assert.True(Ask("staying time of ball at x 2 mm at rest", "inner ahead").Value < 3);
    }
}
