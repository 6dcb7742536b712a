using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Motion;

/// <summary>The measures of thrown parts, by coupled rings; the field is held to them by the example.</summary>
public class ShotMeasuresTests
{
    private static readonly Apparatus Example = Read.Example("ring-shot");
    private static readonly RouteSession Session = new(new RingsRoute(), 0.01, TestContext.Current.CancellationToken);

    private static Answer Ask(string measure)
    {
        var asked = Read.Measure(measure, Example);
        return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, Example), asked, Circumstances.Of(Example, null, asked.Conditions), Session);
    }

    [Fact]
    public void Measures_OfOneShot_FitTogether()
    {
        double speed = Ask("mouth speed of ring").Value, energy = Ask("energy of motion of ring").Value, mass = 2 * energy / (speed * speed);
        Assert.Equal(2700 * Math.PI * (0.03 * 0.03 - 0.012 * 0.012) * 0.004, mass, 2e-3 * mass);
        double climb = speed * speed / (2 * PhysicalConstants.StandardGravity);
        Assert.Equal(climb, Ask("climb of ring").Value, 1e-9);
        Assert.Equal(climb + 0.1185, Ask("jump height of ring").Value, 1e-9);
        Assert.Equal(energy / (8 + mass * PhysicalConstants.StandardGravity), Ask("stopping distance of ring").Value, 1e-9);
        double left = Ask("energy left in bank").Value;
        Assert.Equal(energy / (12.8 - left), Ask("shot efficiency of ring").Value, 1e-9);
        Assert.True(Ask("heat per shot in flat coil").Value + Ask("heat per shot in ring").Value + energy + left < 12.8);
    }

    [Fact]
    public void StartSensitivity_IsTheSlopeOfTheMouthSpeed()
    {
        var slope = Ask("start sensitivity of ring");
        double rise = Ask("mouth speed of ring at height 2 mm").Value - Ask("mouth speed of ring").Value;
        Assert.Equal(rise / 0.5e-3, slope.Value, slope.ErrorBar + 0.1 * Math.Abs(slope.Value));
        Assert.True(slope.Value < 0);
    }

    [Fact]
    public void Shot_ThatDoesNotLeave_SaysHowHighItGot() =>
        Assert.Contains("gets no higher than", Assert.Throws<RouteFailedException>(() => Ask("mouth speed of ring at voltage of bank 20 V")).Message, StringComparison.Ordinal);
}
