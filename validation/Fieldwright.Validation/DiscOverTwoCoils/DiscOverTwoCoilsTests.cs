using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Validation.DiscOverTwoCoils;

/// <summary>TEAM workshop problem 28 through the apparatus file, by every route that answers; see source.md beside this file.</summary>
public class DiscOverTwoCoilsTests
{
    private static readonly Apparatus Case = Read();

    public static TheoryData<RouteName> Routes => [RouteName.Field, RouteName.Series];

    [Theory]
    [MemberData(nameof(Routes))]
    public void DiscOverTwoCoils_RestHeight_AgreesWithTeam28(RouteName route)
    {
        // Measured 11.36 ± 0.01 mm; the drawing's dimensions allow no closer comparison than 0.4 mm.
        Assert.Equal(11.36e-3, Ask("rest height of plate", route).Value, 0.4e-3);
    }

    [Theory]
    [MemberData(nameof(Routes))]
    public void DiscOverTwoCoils_SwingPeriod_AgreesWithTeam28(RouteName route)
    {
        // Measured 147.7 ± 0.3 ms; 6 % allowed, for the same reason.
        Assert.Equal(147.7e-3, Ask("swing period of plate", route).Value, 0.06 * 147.7e-3);
    }

    [Theory]
    [MemberData(nameof(Routes))]
    public void DiscOverTwoCoils_HeatAtRest_AgreesWithComputedRings(RouteName route)
    {
        // Computed by coupled rings elsewhere, 13.64 W at 11.05 mm, converged to 0.1 %; the heat changes by 1 % for 0.06 mm of height.
        var heat = Ask("heat in plate at rest", route);
        Assert.Equal(13.64, heat.Value, heat.ErrorBar + 0.01 * 13.64);
    }

    [Theory]
    [MemberData(nameof(Routes))]
    public void DiscOverTwoCoils_LiftAgainstHeight_AgreesWithComputedRings(RouteName route)
    {
        foreach (string line in System.IO.File.ReadLines(Path.Combine(Folder.Reference, "team28-lift-calc.csv")).Where(l => char.IsAsciiDigit(l[0])))
        {
            string[] cells = line.Split(',');
            double height = double.Parse(cells[0], CultureInfo.InvariantCulture), published = double.Parse(cells[1], CultureInfo.InvariantCulture);
            var lift = Ask(string.Create(CultureInfo.InvariantCulture, $"lift on plate at height {height} mm"), route);
            // The table is converged to about 0.1 % of itself and printed to four digits.
            Assert.Equal(published, lift.Value, lift.ErrorBar + 0.002 * published + 1e-4);
        }
    }

    private static Answer Ask(string text, RouteName route)
    {
        Assert.True(MeasureReader.TryRead(text, Case, out var measure, out var mistake), mistake?.Finding);
        var answer = Rehearsal.Ask(Case, measure, new RehearsalOptions(0.005));
        return answer.Answers.SingleOrDefault(a => a.Route == route)
            ?? throw new InvalidOperationException($"The {route} route is silent: {string.Join("; ", answer.Silent.Select(s => s.Reason))}");
    }

    private static Apparatus Read()
    {
        string path = Path.Combine(Folder.Of("DiscOverTwoCoils"), "case.yaml");
        var reading = ApparatusFile.Read(System.IO.File.ReadAllText(path), path);
        return reading.Apparatus ?? throw new InvalidOperationException(string.Join("\n", reading.Mistakes));
    }
}
