using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Routes.Travel;
using Fieldwright.Fields;
using Fieldwright.Series.Cylinders;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Pictures;

/// <summary>The map of the way the field goes round, against the rotation tester's own answers.</summary>
public class TurningLayerTests
{
    private static readonly Apparatus Example = Read.Example("rotation-tester");

    private static TurningLayer Map(Apparatus apparatus)
    {
        var (field, sections) = FieldRoute.Picture(apparatus, 0.01, TestContext.Current.CancellationToken);
        var stage = new Stage(sections, false, 0, 0);
        return new TurningLayer(apparatus, (HarmonicField)field, Bodies.Of(apparatus, field, sections, stage), stage, Palette.Hall, 0);
    }

    [Fact]
    public void Map_OverATrack_TurnsOneWayAboveAndTheOtherBelow()
    {
        var map = Map(Example);
        var above = map.Points.Where(p => p.Place.Y > 0.02 && Math.Abs(p.Place.X) < 0.06).ToList();
        var below = map.Points.Where(p => p.Place.Y < -0.02 && Math.Abs(p.Place.X) < 0.06).ToList();
        Assert.True(above.Count > 10 && below.Count > 10);
        Assert.All(above, p => Assert.True(p.Ellipse.Sense() == SpinSense.CounterClockwise && p.Torque > 0));
        Assert.All(below, p => Assert.True(p.Ellipse.Sense() == SpinSense.Clockwise && p.Torque < 0));
    }

    // The map's field is by finite elements, the measure's by layers: the tester itself, which stands in the one and not in the other, and the ends of the row are what they may differ by.
    [Fact]
    public void Torque_OnTheMap_IsWhatTheTesterTellsThere()
    {
        var point = Map(Example).Points.Where(p => p.Place.Y > 0.03).MinBy(p => Math.Abs(p.Place.X + 0.03) + Math.Abs(p.Place.Y - 0.035));
        string text = FormattableString.Invariant($"spin torque on above at x {point.Place.X * 1e3:R} mm at y {point.Place.Y * 1e3:R} mm");
        var asked = Read.Measure(text, Example);
        var answer = MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, Example), asked, Circumstances.Of(Example, null, asked.Conditions), new RouteSession(new LayersRoute(), 0.01, TestContext.Current.CancellationToken));
        Assert.Equal(answer.Value, point.Torque, answer.ErrorBar + 0.03 * Math.Abs(answer.Value));
    }
}
