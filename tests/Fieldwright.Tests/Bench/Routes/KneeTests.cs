using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>A magnet driven beyond the knee of its curve, from the file to the answer's remark.</summary>
public class KneeTests
{
    /// <summary>A ball magnetised evenly stands in its own field −B_r/(3μ₀) = −318 kA/m throughout (Jackson, Classical Electrodynamics, sec. 5.10, from memory; recoil permeability 1).</summary>
    [Theory]
    [InlineData("300 kA/m", true)]
    [InlineData("340 kA/m", false)]
    public void MagnetisedBall_InItsOwnField_PassesAKneeBelowAThirdOfItsRemanence(string knee, bool passed)
    {
        var remark = Ask($"{{remanence: 1.2 T, recoil permeability: 1, knee: {knee}, density: 7500 kg/m3}}").Remark;
        Assert.Equal(passed, remark.Contains("'ball' is driven beyond its knee in 100 % of its volume", StringComparison.Ordinal));
        Assert.Equal(passed, remark.Contains("knee", StringComparison.Ordinal));
    }

    [Fact]
    public void Knee_OfMatterWithoutRemanence_IsAMistake() =>
        Assert.Contains(ApparatusFile.Read(Text("{relative permeability: 100, knee: 300 kA/m}"), "ball.yaml").Mistakes, m => m.Finding.Contains("a knee without a remanence", StringComparison.Ordinal));

    private static Answer Ask(string matter)
    {
        var apparatus = File.Bench.Read(Text(matter));
        var measure = File.Bench.Measure("lift on ball", apparatus);
        return Assert.Single(Rehearsal.Ask(apparatus, measure, new RehearsalOptions(0.2), cancellation: TestContext.Current.CancellationToken).Answers, a => a.Route == RouteName.Field);
    }

    private static string Text(string matter) => $$$"""
        apparatus: Ball
        symmetry: round
        parts:
          ball: {shape: ball, radius: 10 mm, at: {z: 30 mm}, of: {{{matter}}}, magnetised: up}
          table: {shape: disc, radius: 60 mm, thickness: 20 mm, at: {z: -60 mm}, of: {relative permeability: 1000, density: 7500 kg/m3}}
        """;
}
