using System.Globalization;
using System.Text.RegularExpressions;
using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Validation.CoaxialMagnets;

/// <summary>Every row of the table asked of an apparatus file, answered by the series route; see source-field.md.</summary>
public class CoaxialMagnetsThroughTheFile
{
    // The table was computed with μ₀ = 4π·10⁻⁷ and is printed with six decimals; forces go as J²/μ₀.
    private const double Scale = 1.25663706127e-6 / (4e-7 * Math.PI);

    public static TheoryData<string, double, double> Rows()
    {
        var table = PublishedTable.Read("magnets-coaxial-force.csv");
        var data = new TheoryData<string, double, double>();
        for (var i = 0; i < table.Count; i++)
            data.Add(table.Text(i, "case"), table.Number(i, "gap_m"), table.Number(i, "attraction_N"));
        return data;
    }

    [Theory]
    [MemberData(nameof(Rows))]
    public void Magnets_OnOneAxis_PullAsPublished(string name, double gap, double pull)
    {
        var sizes = Regex.Matches(name, @"R([\d.]+) h([\d.]+) J([\d.]+)");
        string Part(string part, Match m, double z) => string.Create(CultureInfo.InvariantCulture,
            $"  {part}: {{shape: disc, radius: {m.Groups[1].Value} mm, thickness: {m.Groups[2].Value} mm, at: {{z: {z * 1e3:R} mm}}, of: {{remanence: {m.Groups[3].Value} T, recoil permeability: 1, density: 7500 kg/m3}}, magnetised: up}}\n");
        string text = "apparatus: Pair\nsymmetry: free\nparts:\n";
        if (name.Contains("iron plane", StringComparison.Ordinal))
            text += "  table: {shape: iron plane, of: pure iron}\n" + Part("upper", sizes[0], gap);
        else
        {
            // 'a over b': the second stands below.
            var below = sizes[^1];
            text += Part("lower", below, 0) + Part("upper", sizes[0], 1e-3 * double.Parse(below.Groups[2].Value, CultureInfo.InvariantCulture) + gap);
        }

        var reading = ApparatusFile.Read(text, "pair.yaml");
        Assert.Empty(reading.Mistakes);
        Assert.True(MeasureReader.TryRead("lift on upper", reading.Apparatus!, out var measure, out _));
        var answer = Rehearsal.Ask(reading.Apparatus!, measure, new RehearsalOptions(1e-3), cancellation: TestContext.Current.CancellationToken).Leading!;
        Assert.Equal(pull, -Scale * answer.Value, 1e-6 + answer.ErrorBar);
        Assert.True(answer.ErrorBar <= 1e-5 * pull);
    }
}
