using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Validation.LoneMagnet;

/// <summary>Where an evenly magnetised disc works in its own field, and where it hovers over its like, both from apparatus files; see source.md.</summary>
public class LoneMagnet
{
    private const double Remanence = 1;

    [Theory]
    [InlineData("0.10", RouteName.Series)]
    [InlineData("0.30", RouteName.Series)]
    [InlineData("1.00", RouteName.Series)]
    [InlineData("0.30", RouteName.Field)]
    public void Disc_InItsOwnField_WorksAtNagaokasShareOfItsRemanence(string lengthOverDiameter, RouteName route)
    {
        var table = PublishedTable.Read("nagaoka.csv");
        int row = Enumerable.Range(0, table.Count).First(r => table.Text(r, "length_over_diameter") == lengthOverDiameter);
        double published = table.Number(row, "K_grover_table36"), thickness = 20 * table.Number(row, "length_over_diameter");
        var answer = Ask(string.Create(CultureInfo.InvariantCulture,
            $"apparatus: Lone\nsymmetry: round\nparts:\n  magnet: {{shape: disc, radius: 10 mm, thickness: {thickness} mm, at: {{z: 0 mm}}, of: {{remanence: {Remanence} T, recoil permeability: 1, density: 7500 kg/m3}}, magnetised: up}}\n"),
            "working flux density of magnet", route);
        // The table is good to two of its last digits.
        Assert.Equal(published * Remanence, answer.Value, answer.ErrorBar + 2e-6);
        Assert.True(answer.ErrorBar <= 0.01 * published);
    }

    /// <summary>A mass of the published force over gravity hovers over its like at the published gap.</summary>
    [Fact]
    public void Disc_OverItsLike_HoversAtThePublishedGap()
    {
        var table = PublishedTable.Read("magnets-coaxial-force.csv");
        int row = Enumerable.Range(0, table.Count).First(r => table.Text(r, "case") == "disc R10 h10 J1.2 pair" && table.Number(r, "gap_m") == 0.01);
        double mass = table.Number(row, "attraction_N") / 9.80665;
        string Disc(string name, double z, string poles, string more) => string.Create(CultureInfo.InvariantCulture,
            $"  {name}: {{shape: disc, radius: 10 mm, thickness: 10 mm, at: {{z: {z} mm}}, of: {{remanence: 1.2 T, recoil permeability: 1, density: 7500 kg/m3}}, magnetised: {poles}{more}}}\n");
        string text = "apparatus: Pair\nsymmetry: free\nparts:\n" + Disc("lower", 0, "up", "") + Disc("upper", 14, "down", string.Create(CultureInfo.InvariantCulture, $", mass: {mass:R} kg, moves: up and down"));
        var answer = Ask(text, "end height of upper", RouteName.Series);
        Assert.Equal(20e-3, answer.Value, answer.ErrorBar + 1e-8);
        Assert.True(answer.ErrorBar <= 5e-6);
    }

    private static Answer Ask(string text, string asked, RouteName route)
    {
        var reading = ApparatusFile.Read(text, "lone.yaml");
        Assert.Empty(reading.Mistakes);
        Assert.True(MeasureReader.TryRead(asked, reading.Apparatus!, out var measure, out _));
        return Assert.Single(Rehearsal.Ask(reading.Apparatus!, measure, new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken).Answers, a => a.Route == route);
    }
}
