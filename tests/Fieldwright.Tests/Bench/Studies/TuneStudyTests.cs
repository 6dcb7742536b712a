using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Xunit;

namespace Fieldwright.Tests.Bench.Studies;

public class TuneStudyTests
{
    private static Apparatus Coil(string least, string most) => ApparatusFile.Read($$"""
        apparatus: Coil
        symmetry: round
        windings:
          coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 32 mm], from z: 0 mm, to z: 12 mm}
        supplies:
          source: {current: 1 A, frequency: 0 Hz, feeds: coil}
        claims:
          - {say: Not too little, measure: resistance of coil, at least: {{least}}}
          - {say: Not too much, measure: resistance of coil, at most: {{most}}}
        """, "coil.yaml").Apparatus!;

    private static TunedInput Turns(double from, double to) => new(new InputName("turns", "coil", "turns of coil"), from, to);

    [Fact]
    public void TwoClaims_ThatPullApart_AreMetWithEqualRoom()
    {
        // With the answer's own bar of 2 %: (0.98 R − 1)/1 = (2 − 1.02 R)/2 at R = 2/1.49 Ω.
        var report = TuneStudy.Run(Coil("1 ohm", "2 ohm"), [Turns(20, 300)], 100, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.True(report.Settled);
        Assert.True(report.Rehearsal.AllHold);
        // Turns are whole: one turn is 1.4 % of the resistance.
        Assert.Equal(2 / 1.49, report.Best.Margins[0].Value, 0.02);
        Assert.Equal(report.Best.Values[0], Math.Round(report.Best.Values[0]));
        Assert.True(report.Best.Least > report.Start.Least);
    }

    [Fact]
    public void Claims_ThatExcludeOneAnother_AreSaidNotToBeMet()
    {
        var report = TuneStudy.Run(Coil("2 ohm", "1 ohm"), [Turns(20, 300)], 100, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.False(report.Rehearsal.AllHold);
        Assert.True(report.Best.Least < 0);
    }

    [Fact]
    public void Trials_ThatRunOut_AreSaidToHaveRunOut()
    {
        var report = TuneStudy.Run(Coil("1 ohm", "2 ohm"), [Turns(20, 300)], 4, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.False(report.Settled);
        Assert.Equal(4, report.Trials);
    }

    [Fact]
    public void Settings_ThatCannotBeBuilt_AreNotChosen()
    {
        // 561 turns fit at most: 144 mm² over (√3/2)(0.544 mm)²; a resistance of 20 Ω would need over a thousand.
        var report = TuneStudy.Run(Coil("20 ohm", "30 ohm"), [Turns(20, 3000)], 60, new RehearsalOptions(), cancellation: TestContext.Current.CancellationToken);
        Assert.False(report.Rehearsal.AllHold);
        Assert.InRange(report.Best.Values[0], 20, 561);
    }
}
