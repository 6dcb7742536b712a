using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Xunit;

namespace Fieldwright.Tests.Bench.Studies;

/// <summary>An apparatus at another size. With skin ratio and force to weight kept the likeness is exact: heights go with k, stiffness with k².</summary>
public class ScaleStudyTests
{
    private static readonly string Path2 = Path.Combine(Repository.Root, "examples/floating-ball-two-coils.yaml");

    private static (Apparatus Original, Apparatus Scaled, string Text, SizeLaw Law) Made(string text, double factor, params string[] keep)
    {
        var original = ApparatusFile.Read(text, "a.yaml").Apparatus!;
        var law = SizeLaw.Of(original, factor, keep);
        var (fresh, _) = ScaledFile.Of(text, "a.yaml", original, law);
        var reading = ApparatusFile.Read(fresh, "b.yaml");
        Assert.Empty(reading.Mistakes);
        return (original, reading.Apparatus!, fresh, law);
    }

    private static double Ask(Apparatus apparatus, string text)
    {
        var measure = File.Bench.Measure(text, apparatus);
        return Rehearsal.Ask(apparatus, measure, new RehearsalOptions()).Leading!.Value;
    }

    [Fact]
    public void BallOverTwoCoils_FourTimesTheSize_FloatsAtFourTimesTheHeightWithSixteenTimesTheStiffness()
    {
        var (small, large, _, law) = Made(System.IO.File.ReadAllText(Path2), 4);
        Assert.Equal(50.0 / 16, large.Frequency, 12);
        Assert.Equal(8, large.Supplies[0].Current!.Value / small.Supplies[0].Current!.Value, 12);
        Assert.Equal(["skin ratio", "force to weight"], law.Asked);
        // The route's own error is some parts in a million.
        Assert.Equal(4, Ask(large, "rest height of ball") / Ask(small, "rest height of ball"), 1e-4);
        Assert.Equal(16, Ask(large, "vertical stiffness of ball") / Ask(small, "vertical stiffness of ball"), 1e-2);
        Assert.Equal(16, Ask(large, "sideways stiffness of ball at rest") / Ask(small, "sideways stiffness of ball at rest"), 1e-2);
    }

    [Fact]
    public void Size_Unchanged_ChangesNothingButTheName()
    {
        string text = System.IO.File.ReadAllText(Path2);
        var (_, _, fresh, _) = Made(text, 1);
        Assert.Equal(text.Replace("The ball that stays", "The ball that stays at 1 times the size", StringComparison.Ordinal), fresh[(fresh.IndexOf('\n', StringComparison.Ordinal) + 1)..]);
    }

    [Fact]
    public void File_Scaled_KeepsCommentsAndSharesAndScalesDialsDoubtsStatesAndBounds()
    {
        var (_, large, fresh, _) = Made(System.IO.File.ReadAllText(Path.Combine(Repository.Root, "examples/floating-disc.yaml")), 2);
        Assert.Contains("# First evening of the winter programme", fresh, StringComparison.Ordinal);
        Assert.Contains("conductivity of disc: ± 4 %", fresh, StringComparison.Ordinal);
        Assert.Contains("thickness of disc: ± 0.1 mm", fresh, StringComparison.Ordinal);
        Assert.Contains("from: 22.6274 A", fresh, StringComparison.Ordinal);
        Assert.Contains("mains: 230 V", fresh, StringComparison.Ordinal);
        Assert.Contains("at height 1 mm at current in inner 25.4558 A", fresh, StringComparison.Ordinal);
        Assert.Contains("hottest winding after 30 s", fresh, StringComparison.Ordinal);
        Assert.Contains("at least: 12 mm", fresh, StringComparison.Ordinal);
        Assert.Contains("at most: 80 °C", fresh, StringComparison.Ordinal);
        Assert.Equal(12.5, large.Frequency, 12);
    }

    [Fact]
    public void Groups_ThatCannotBeKeptTogether_AreSaidToBe()
    {
        var original = ApparatusFile.Read(System.IO.File.ReadAllText(Path2), "a.yaml").Apparatus!;
        var law = SizeLaw.Of(original, 4, ["frequency", "flux density", "force to weight"]);
        Assert.Equal(["frequency", "flux density"], law.Asked);
        Assert.Contains("'force to weight' cannot be kept together with 'flux density': it becomes 0.25 times as large", Assert.Single(law.NotPossible), StringComparison.Ordinal);
        Assert.Equal(4, law.Groups.Single(g => g.Name == "skin ratio").Factor, 12);
        Assert.True(law.Groups.Single(g => g.Name == "flux density").Kept);
        Assert.False(law.Groups.Single(g => g.Name == "temperature rise").Kept);
    }

    [Theory]
    [InlineData("1.4 mm grade 1", 2, "2.8 mm grade 1", 1.0)]
    [InlineData("1.4 mm grade 1", 4, "2 x 4 mm grade 1", 1.02)]
    [InlineData("1 mm bare aluminium 1050", 7, "7 mm bare aluminium 1050", 1.0)]
    [InlineData("0.2 mm grade 2", 0.25, "0.1 mm grade 2", 4.0)]
    public void Wire_AtAnotherSize_IsThePreferredSizeThatFits(string wire, double factor, string expected, double share)
    {
        var apparatus = ApparatusFile.Read($$"""
            apparatus: A
            symmetry: round
            windings:
              coil: {turns: 10, wire: {{wire}}, between radii: [20 mm, 60 mm], from z: 0 mm, to z: 40 mm}
            """, "a.yaml").Apparatus!;
        var (text, found) = ScaledWire.Of(apparatus.Windings[0].Wire, factor);
        Assert.Equal(expected, text);
        Assert.Equal(share, found, 0.005);
    }

    [Fact]
    public void Report_OfALargerDisc_NamesWhatTheSocketCannotGiveAndWhatToWind()
    {
        const string Text = """
            apparatus: Plate
            symmetry: round
            parts:
              plate: {shape: disc, radius: 30 mm, thickness: 3 mm, at: {z: 14 mm}, of: aluminium 1050}
            windings:
              coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [20 mm, 26 mm], from z: 0 mm, to z: 10 mm}
            supplies:
              source: {current: 2 A, frequency: 50 Hz, feeds: coil}
            claims:
              - {say: The box can give it, measure: voltage needed of source, at most: 5 V}
              - {say: It stays cool, measure: hottest winding after 20 s, at most: 60 °C}
            """;
        var report = ScaleStudy.Run(Text, "plate.yaml", 4, ["skin ratio", "temperature rise"], new RehearsalOptions(0.05), cancellation: TestContext.Current.CancellationToken);
        Assert.True(report.Original.AllHold);
        var volts = report.Claims[0];
        Assert.Equal(Outcome.Fails, volts.After.Outcome);
        Assert.Contains("% of the turns in wire of", volts.Advice, StringComparison.Ordinal);
        Assert.Equal(Outcome.Holds, report.Claims[1].After.Outcome);
        // Current density and time kept: the rise is the same up to the wire's sizes, which differ by two per cent of section at most.
        double before = report.Claims[1].Before.Answer.Leading!.Value - 293.15, after = report.Claims[1].After.Answer.Leading!.Value - 293.15;
        Assert.Equal(1, after / before, 0.05);
    }
}
