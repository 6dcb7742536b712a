using Fieldwright.Bench;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Programmes;
using Fieldwright.Bench.Routes;
using Xunit;

namespace Fieldwright.Tests.Bench.Studies;

public class ProgrammeTests
{
    private const double Zero = 273.15;

    private static readonly Apparatus Coil = ApparatusFile.Read("""
        apparatus: Coil
        symmetry: round
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 10 mm, insulation: B}
        supplies:
          source: {current: 5 A, frequency: 0 Hz, feeds: coil}
        claims:
          - {say: The coil has the resistance we want, measure: resistance of coil, at least: 0.1 ohm}
        """, "coil.yaml").Apparatus!;

    private static WindingGoes Goes(double on, int goes, double start = Zero + 20) => WindingGoes.Of(Coil.Windings[0], Coil, 5, on, goes, start);

    [Fact]
    public void Go_FromTheHallsTemperature_EndsWhereTheWarmingOfTheWindingDoes() =>
        Assert.Equal(Warming.OfWinding(Coil.Windings[0], Coil, new Estimate(5, 0), 20).Value, Goes(20, 1).Peaks[0], 1e-9);

    [Fact]
    public void Pause_Needed_BringsEachGoToTheLimitAndNotBeyond()
    {
        var goes = Goes(20, 30);
        Assert.True(goes.Pause > 0);
        Assert.Equal(Zero + 130, goes.Limit, 1e-9);
        // In the long run each go ends at the limit: that is what the pause is made for.
        Assert.Equal(goes.Limit, goes.Peaks[^1], 0.01);
        Assert.All(goes.Peaks, p => Assert.True(p <= goes.Limit + 1e-6));
        double start = Coil.Ambient + (goes.Limit - Coil.Ambient) * Math.Exp(-goes.Pause / goes.TimeConstant);
        Assert.Equal(goes.Limit, WindingGoes.Of(Coil.Windings[0], Coil, 5, 20, 1, start).Peaks[0], 0.01);
    }

    [Fact]
    public void Go_ThatIsTooLong_HasNoPauseThatHelps()
    {
        double longest = Goes(1, 1).Longest;
        Assert.Equal(Zero + 130, Goes(longest * 0.9999, 1).Peaks[0], 0.1);
        Assert.Equal(double.PositiveInfinity, Goes(longest * 1.01, 1).Pause);
    }

    [Fact]
    public void Winding_LeftAlone_CoolsToTheTouchInTheTimeSaid()
    {
        var goes = Goes(20, 1);
        Assert.True(goes.UntilTouch > 0);
        Assert.Equal(Zero + 51, goes.After(goes.UntilTouch, Coil.Ambient), 1e-6);
    }

    [Fact]
    public void Evening_Planned_AddsUpTimesAndEnergyAndStartsWarmWhereItWasUsedBefore()
    {
        var mistakes = new List<Mistake>();
        var programme = ProgrammeFile.Read("""
            evening: Try-out
            begins: 23:30
            people: {Edda: speaks, Joss: at the switch}
            steps:
              - {apparatus: coil.yaml, shown by: Edda, switched by: Joss, set up: 1 min, talk: 5 min, on: 10 s, goes: 2}
              - {pause: 10 min}
              - {apparatus: coil.yaml, on: 10 s}
            """, mistakes)!;
        Assert.Empty(mistakes);
        var report = ProgrammePlan.Of(programme, _ => Coil, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.True(report.Ready);
        Assert.Equal(23.5 * 3600 + 360 + 600 + 10, report.Ends, 1e-9);
        double resistance = Warming.Resistance(Coil.Windings[0], Coil);
        if (report.Steps.All(s => double.IsFinite(s.Energy)))
            Assert.Equal(30 * 25 * resistance, report.Energy, 0.02 * 30 * 25 * resistance);
        Assert.True(report.Steps[2].Goes[0].Peaks[0] > report.Steps[0].Goes[0].Peaks[0]);
        var order = ProgrammeReport.SafeOrder(report.Steps[0]);
        Assert.Contains(order, l => l.StartsWith("Joss alone switches", StringComparison.Ordinal));
        Assert.Contains(order, l => l.Contains("On for 10 s", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("begins: 25:00\n", "25:00")]
    [InlineData("begins: 19:30\nsteps: [{apparatus: a.yaml, on: 5 s, shown by: Eda}]\n", "'Eda' is none of the people")]
    [InlineData("begins: 19:30\nsteps: [{apparatus: a.yaml, on: 5 s, goes: 1.5}]\n", "whole numbers")]
    [InlineData("begins: 19:30\nsteps: [{apparatus: a.yaml}]\n", "'on' is missing")]
    public void Programme_ThatIsWrong_SaysWhatIs(string rest, string finding)
    {
        var mistakes = new List<Mistake>();
        string steps = rest.Contains("steps", StringComparison.Ordinal) ? "" : "steps: [{pause: 5 min}]\n";
        Assert.Null(ProgrammeFile.Read("evening: A\npeople: {Edda: speaks}\n" + rest + steps, mistakes));
        Assert.Contains(mistakes, m => m.Finding.Contains(finding, StringComparison.Ordinal));
    }
}
