using Fieldwright.Bench;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench;

/// <summary>What the chart draws moment by moment, against what the measures say of its ends.</summary>
public class CourseTests
{
    // Let go two millimetres beside the middle with the phases exchanged: it begins where it stands, cold and still, and ends aside by its own radius.
    [Fact]
    public void Course_OfABallThatLeaves_RunsFromItsPlaceToItsEnd()
    {
        var apparatus = Circumstances.Of(Read.Example("floating-ball-two-coils"), "inner ahead", Read.Measure("exit speed of ball at x 2 mm", Read.Example("floating-ball-two-coils")).Conditions).Apparatus;
        Assert.Equal(["height of ball", "sideways drift of ball", "spin of ball", "temperature of ball"], Course.Of(apparatus));
        var cancellation = TestContext.Current.CancellationToken;
        var aside = Course.Follow(apparatus, "sideways drift of ball", cancellation);
        Assert.Equal((0, 0.05), (aside.Values[0], Math.Round(aside.Values[^1], 6)));
        Assert.Equal(Flights.Of(apparatus, Flights.Longest, cancellation).Course.Time, aside.Times[^1], 1e-12);
        Assert.Contains("It runs away", aside.Says, StringComparison.Ordinal);
        Assert.Equal(apparatus.Parts[0].Place.Z, Course.Follow(apparatus, "height of ball", cancellation).Values[0], 1e-12);
        Assert.Throws<ArgumentException>(() => Course.Follow(apparatus, "colour of ball", cancellation));
    }

    [Fact]
    public void Courses_OfABattery_AreItsCurrents() => Assert.Equal(["current in primary", "current in secondary"], Course.Of(Read.Example("battery-kick")));
}
