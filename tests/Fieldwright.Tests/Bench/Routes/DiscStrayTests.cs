using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>Whether a floating disc or ring stays where it floats, from the file to the answer.</summary>
public class DiscStrayTests
{
    private static Apparatus Disc(string outer, string thickness = "3 mm", string shape = "disc, radius: 65 mm, thickness") => File.Bench.Read(
        $$"""
        apparatus: Over two coils
        symmetry: round
        parts:
          plate: {shape: {{shape}}: {{thickness}}, at: {z: 8 mm}, of: aluminium 1050, moves: up and down}
        windings:
          inner: {turns: 960, wire: 1 mm grade 1, between radii: [27 mm, 55 mm], from z: -52 mm, to z: 0 mm}
          outer: {turns: {{outer}}, wire: 1 mm grade 1, between radii: [80 mm, 95 mm], from z: -52 mm, to z: 0 mm, sense: reversed}
        supplies:
          line: {current: 15 A, frequency: 50 Hz, feeds: [inner, outer], connection: series}
        """);

    private static RoutedAnswer Ask(Apparatus apparatus, string measure) =>
        Rehearsal.Ask(apparatus, File.Bench.Measure(measure, apparatus), new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken);

    [Fact]
    public void Sideways_MoreTurnsOutside_HoldTheDisc()
    {
        var few = Ask(Disc("400"), "sideways stiffness of plate at rest").Leading!;
        var many = Ask(Disc("620"), "sideways stiffness of plate at rest").Leading!;
        Assert.True(few.Value < -1 && few.Remark.Contains("grows by e", StringComparison.Ordinal));
        Assert.True(many.Value > 1 && many.Remark.Contains("swings", StringComparison.Ordinal));
    }

    [Fact]
    public void Sideways_IsLessThanHeldLevelAndNoMoreThanTiltingAllows()
    {
        var apparatus = Disc("576");
        var sideways = Ask(apparatus, "sideways stiffness of plate").Leading!;
        var tilting = Ask(apparatus, "tilting stiffness of plate").Leading!;
        double gyration = Math.Sqrt(0.25 * 0.065 * 0.065 + 0.003 * 0.003 / 12);
        Assert.True(tilting.Value > 0);
        Assert.InRange(sideways.Value, double.NegativeInfinity, tilting.Value / (gyration * gyration));
        double level = double.Parse(sideways.Remark.Split("would be ")[1].Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.True(sideways.Value < level);
    }

    [Fact]
    public void Sideways_TooThick_IsRefusedWithTheReason()
    {
        var apparatus = Disc("576", "90 mm", "ring, inner radius: 30 mm, outer radius: 40 mm, thickness");
        var answer = Ask(apparatus, "sideways stiffness of plate");
        Assert.Null(answer.Leading);
        Assert.Contains(answer.Silent, s => s.Reason.Contains("thick", StringComparison.Ordinal));
    }

    [Fact]
    public void Sideways_FixedDisc_IsNotListed() =>
        Assert.DoesNotContain(Rehearsal.Measures(File.Bench.Read("""
            apparatus: Fixed
            symmetry: round
            parts:
              plate: {shape: disc, radius: 65 mm, thickness: 3 mm, at: {z: 8 mm}, of: aluminium 1050}
            windings:
              inner: {turns: 960, wire: 1 mm grade 1, between radii: [27 mm, 55 mm], from z: -52 mm, to z: 0 mm}
            supplies:
              line: {current: 15 A, frequency: 50 Hz, feeds: [inner]}
            """)), m => m.Kind.Name is "sideways stiffness" or "tilting stiffness");
}
