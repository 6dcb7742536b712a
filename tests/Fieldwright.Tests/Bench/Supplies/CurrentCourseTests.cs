using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Supplies;
using Xunit;

namespace Fieldwright.Tests.Bench.Supplies;

/// <summary>Currents moment by moment: their peaks, ends and areas are what the measures answer in closed form or without time.</summary>
public sealed class CurrentCourseTests
{
    private const string OnMains = """
        apparatus: Coil
        symmetry: round
        windings:
          coil: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 20 mm}
        supplies:
          source: {mains: 20 V, frequency: 50 Hz, feeds: coil}
        """;

    [Fact]
    public void Of_CapacitorBank_PeaksWhereTheSeriesCircuitDoes()
    {
        var apparatus = File.Bench.Example("capacitor-shot");
        var course = CurrentCourse.Of(apparatus, "shot coil", TestContext.Current.CancellationToken);
        var (peak, time) = (Asked(apparatus, "peak current from bank"), Asked(apparatus, "time to peak of bank"));
        Assert.InRange(course.Currents[course.Peak], peak.Value - peak.ErrorBar, peak.Value + peak.ErrorBar);
        // The top is flat: half a step to either side.
        Assert.InRange(course.Times[course.Peak], time.Value * 0.97, time.Value * 1.03);
        Assert.Equal(0, course.Currents[0]);
        Assert.True(course.Currents.Min() < -0.2 * peak.Value, "A bank that swings drives the current back.");
    }

    [Fact]
    public void Of_BatteryOnOneCoil_SettlesThereAndKicksNextDoor()
    {
        var apparatus = File.Bench.Example("battery-kick");
        CurrentCourse on = CurrentCourse.Of(apparatus, "primary", TestContext.Current.CancellationToken), next = CurrentCourse.Of(apparatus, "secondary", TestContext.Current.CancellationToken);
        var settled = Asked(apparatus, "current in primary");
        // Five time constants leave less than a hundredth.
        Assert.InRange(on.Currents[^1], settled.Value * 0.985, settled.Value);
        var (peak, charge) = (Asked(apparatus, "kick peak through galvanometer"), Asked(apparatus, "kick charge through galvanometer"));
        Assert.InRange(Math.Abs(next.Currents[next.Peak]), peak.Value - peak.ErrorBar, peak.Value + peak.ErrorBar);
        double area = Enumerable.Range(1, next.Times.Count - 1).Sum(i => 0.5 * (next.Currents[i] + next.Currents[i - 1]) * (next.Times[i] - next.Times[i - 1]));
        Assert.InRange(Math.Abs(area), 0.97 * charge.Value - charge.ErrorBar, charge.Value + charge.ErrorBar);
    }

    [Fact]
    public void Of_CoilOnTheMains_SwingsToItsSettledPeak()
    {
        var apparatus = File.Bench.Read(OnMains);
        var course = CurrentCourse.Of(apparatus, "coil", TestContext.Current.CancellationToken);
        double settled = Math.Sqrt(2) * Asked(apparatus, "current in coil").Value, worst = Asked(apparatus, "peak current from source").Value;
        Assert.InRange(Enumerable.Range(0, course.Times.Count).Where(i => course.Times[i] > 0.08).Max(i => Math.Abs(course.Currents[i])), 0.99 * settled, 1.01 * settled);
        // Never above the worst instant to switch on.
        Assert.InRange(Math.Abs(course.Currents[course.Peak]), 0.99 * settled, 1.01 * worst);
    }

    [Fact]
    public void Windings_FedByAGivenCurrent_HaveNoCourse() => Assert.Empty(CurrentCourse.Windings(File.Bench.Read(App.Small.Plate)));

    [Fact]
    public void Stage_OfACapacitorShot_CarriesItsPeakAndSaysSo()
    {
        var apparatus = File.Bench.Example("capacitor-shot");
        var stage = StageField.Quick(apparatus, null, 10_000, TestContext.Current.CancellationToken);
        double density = Asked(apparatus, "peak current from bank").Value * 90 / (18e-3 * 24e-3);
        Assert.InRange(stage.Grid.MostCurrentDensity, 0.97 * density, 1.03 * density);
        Assert.Contains("same peak", stage.Note, StringComparison.Ordinal);
        var scene = ApparatusPicture.Of(apparatus, new PictureOptions(RelativeTarget: 0.3), (text, size, _) => 0.5 * size * text.Length, TestContext.Current.CancellationToken);
        Assert.Contains("same peak", scene.About, StringComparison.Ordinal);
    }

    private static Answer Asked(Apparatus apparatus, string measure) => Rehearsal.Ask(apparatus, File.Bench.Measure(measure, apparatus), new RehearsalOptions()).Leading!;
}
