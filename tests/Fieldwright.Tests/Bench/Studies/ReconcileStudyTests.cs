using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Logs;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Xunit;

namespace Fieldwright.Tests.Bench.Studies;

public class ReconcileStudyTests
{
    private static readonly Apparatus Coil = DoubtStudyTests.Coil("at least: 0.1 ohm", "± 1 %", ", density of ring: ± 1 %");
    private static readonly double Resistance = Rehearsal.Run(Coil, new RehearsalOptions()).Verdicts[0].Answer.Leading!.Value;

    private static ReconcileReport Run(string log, params string[] suspects)
    {
        var mistakes = new List<Mistake>();
        var readings = BenchLog.Read(log, Coil, mistakes);
        Assert.Empty(mistakes);
        return ReconcileStudy.Run(Coil, readings, [.. suspects.Select(Name)], new RehearsalOptions());
    }

    private static InputName Name(string text) => Inputs.TryReadName(text, Coil, out var name, out _) ? name : throw new ArgumentException(text);

    private static string Ohm(double times) => FormattableString.Invariant($"{times * Resistance:R} ohm");

    [Fact]
    public void Reading_TenPerCentOff_HasTheSumOfSquaresOfItsParts()
    {
        var report = Run($"measure,reading,bar\nresistance of coil,{Ohm(1.1)},{Ohm(0.01)}\n");
        // Limits within which all is as likely: standard deviation half-width over √3. Reading 1 %, table 2 %, turns 1 %.
        double variance = (0.01 * 0.01 + 0.02 * 0.02 + 0.01 * 0.01) / 3;
        Assert.Equal(0.01 / variance, report.SumOfSquares, 1e-6);
        Assert.Equal(0.1 / Math.Sqrt(variance), report.Readings[0].Deviations, 1e-6);
        // One reading: chance of a larger square is erfc(√(χ²/2)); for χ² = 50 about 1.5e-12.
        Assert.Equal(Agreement.Disagrees, report.Agreement);
        Assert.InRange(report.ChanceOfWorse, 1e-12, 3e-12);
        var best = report.Explanations[0];
        Assert.Equal("turns of coil", best.Input.Text);
        Assert.Equal(10, best.InTolerances!.Value, 1e-6);
        Assert.Equal(0, best.Left, 1e-9);
        Assert.DoesNotContain(report.Explanations, e => e.Input.Text == "density of ring");
    }

    [Fact]
    public void Reading_WithinItsBar_Agrees()
    {
        var report = Run($"# notes\n\nmeasure,reading\nresistance of coil,{Ohm(1.001)}\n\"weight of ring\",55 mN\n");
        Assert.Equal(Agreement.Agrees, report.Agreement);
        Assert.Equal(2, report.Count);
        Assert.False(report.Readings[1].Reading.BarStated);
        Assert.Equal(0.5e-3, report.Readings[1].Reading.Bar, 1e-12);
    }

    [Fact]
    public void Suspect_WithoutATolerance_MayExplainButDoesNotExcuse()
    {
        string log = $"measure,reading,bar\nweight of ring,110 mN,1 mN\n";
        var without = Run(log);
        var with = Run(log, "radius of ring");
        Assert.Equal(without.SumOfSquares, with.SumOfSquares, 1e-9);
        var blamed = with.Explanations.Single(e => e.Input.Text == "radius of ring");
        Assert.Null(blamed.InTolerances);
        Assert.True(blamed.Left < 1e-6);
        Assert.True(blamed.Shift > 0);
    }

    [Fact]
    public void Column_OfAnInput_SetsItForItsLine()
    {
        var report = Run($"measure,reading,bar,turns of coil\nresistance of coil,{Ohm(2)},1 %,200\nresistance of coil,{Ohm(1)},1 %,\n");
        Assert.All(report.Readings, r => Assert.Equal(0, r.Difference, 1e-9));
    }

    [Theory]
    [InlineData("", 1, "empty")]
    [InlineData("measure\n", 1, "no column 'reading'")]
    [InlineData("measure,reading,colour\n", 1, "'colour'")]
    [InlineData("measure,reading\nresistence of coil,1 ohm\n", 2, "resistence")]
    [InlineData("measure,reading\nresistance of coil,1 A\n", 2, "wrong unit")]
    [InlineData("measure,reading,bar\nresistance of coil,1 ohm,-1 %\n", 2, "no half-width")]
    [InlineData("measure,reading\nresistance of coil,1 ohm,3\n", 2, "more cells")]
    [InlineData("measure,in,reading\nresistance of coil,upside down,1 ohm\n", 2, "no state")]
    public void Log_ThatIsWrong_SaysWhereAndWhy(string log, int line, string finding)
    {
        var mistakes = new List<Mistake>();
        BenchLog.Read(log, Coil, mistakes);
        var mistake = Assert.Single(mistakes);
        Assert.Equal(line, mistake.Line);
        Assert.Contains(finding, mistake.Finding, StringComparison.Ordinal);
    }
}
