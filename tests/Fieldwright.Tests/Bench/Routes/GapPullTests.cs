using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Routes;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>The pull that closes the gap of a core.</summary>
public class GapPullTests
{
    private static readonly string Ring = File.Bench.CutRing.Replace("SUPPLY", "current: 4 A", StringComparison.Ordinal);

    // Work against the pull is what the field's energy loses at a held current: F = −½ I² dL/dg. Parting the faces does not quite move the whole ring, and the ends of the gap count in L alone: 15 %.
    [Fact]
    public void Field_AtAHeldCurrent_IsHalfTheSquareTimesTheSlopeOfTheInductance()
    {
        double slope = (Value("inductance of primary at gap in core 2.2 mm", RouteName.Field) - Value("inductance of primary at gap in core 1.8 mm", RouteName.Field)) / 0.4e-3;
        double expected = -0.5 * 16 * slope;
        Assert.Equal(expected, Value("pull across gap in core", RouteName.Field), 0.15 * expected);
    }

    // The faces pull together whatever way the flux goes and wherever the cut lies.
    [Theory]
    [InlineData("gap at: 0 deg", "centred at: 180 deg", "current: 4 A")]
    [InlineData("gap at: 0 deg", "centred at: 180 deg", "current: -4 A")]
    [InlineData("gap at: 90 deg", "centred at: 270 deg", "current: 4 A")]
    public void Field_WhereverTheCutLies_AgreesWithTheReluctances(string gap, string coil, string current)
    {
        string file = Ring.Replace("gap at: 0 deg", gap, StringComparison.Ordinal).Replace("centred at: 180 deg", coil, StringComparison.Ordinal).Replace("current: 4 A", current, StringComparison.Ordinal);
        var apparatus = File.Bench.Read(file);
        var answers = Rehearsal.Ask(apparatus, File.Bench.Measure("pull across gap in core", apparatus), new RehearsalOptions(0.02), cancellation: TestContext.Current.CancellationToken).Answers;
        var field = answers.Single(a => a.Route == RouteName.Field);
        var circuit = answers.Single(a => a.Route == RouteName.Circuit);
        Assert.True(field.Value > 0, $"{field.Value}");
        Assert.InRange(Math.Abs(field.Value - circuit.Value), 0, field.ErrorBar + circuit.ErrorBar);
    }

    private static double Value(string measure, RouteName route)
    {
        var apparatus = File.Bench.Read(Ring);
        return Rehearsal.Ask(apparatus, File.Bench.Measure(measure, apparatus), new RehearsalOptions(0.02), cancellation: TestContext.Current.CancellationToken).Answers.Single(a => a.Route == route).Value;
    }
}
