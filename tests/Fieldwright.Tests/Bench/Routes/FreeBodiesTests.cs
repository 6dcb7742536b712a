using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>Magnets, coils and the foil anywhere in space, from the file to the answer.</summary>
public class FreeBodiesTests
{
    private static readonly Apparatus Table = File.Bench.Read(
        """
        apparatus: Table
        symmetry: free
        materials:
          rigid: {remanence: 1.2 T, recoil permeability: 1, density: 7500 kg/m3}
        parts:
          low: {shape: disc, radius: 10 mm, thickness: 8 mm, of: rigid, magnetised: up}
          high: {shape: block, length: 20 mm, width: 12 mm, thickness: 6 mm, at: {x: 5 mm, y: 3 mm, z: 20 mm}, of: rigid, magnetised: along its length, tilted: 20 deg, towards: 30 deg, moves: freely}
          probe: {shape: probe, at: {x: 0 mm, y: 0 mm, z: 16 mm}, of: air}
        windings:
          round: {turns: 250, wire: 0.5 mm grade 1, between radii: [15 mm, 22 mm], from z: -12 mm, to z: -2 mm}
          frame: {turns: 100, wire: 0.5 mm grade 1, round opening: [30 mm, 20 mm], corner radius: 4 mm, build: 4 mm, from z: 40 mm, to z: 48 mm, at: {x: -10 mm, y: 0 mm}, tilted: 30 deg}
        supplies:
          cell: {current: 2 A, feeds: [round, frame]}
        """);

    private static double Ask(Apparatus apparatus, string measure) => Answer(apparatus, measure).Value;

    private static Answer Answer(Apparatus apparatus, string text)
    {
        var measure = File.Bench.Measure(text, apparatus);
        var answer = Rehearsal.Ask(apparatus, measure, new RehearsalOptions(1e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(answer.Leading is not null, string.Join(' ', answer.Silent.Select(s => s.Reason)));
        return answer.Leading;
    }

    [Theory]
    [InlineData("x")]
    [InlineData("y")]
    [InlineData("z")]
    public void Forces_OfAllBodies_AddUpToNothing(string axis)
    {
        double[] forces = [.. new[] { "low", "high", "round", "frame" }.Select(b => Ask(Table, $"force along {axis} on {b}"))];
        Assert.Equal(0, forces.Sum(), 1e-5 * forces.Max(Math.Abs));
    }

    /// <summary>About one point the torques of all forces and couples vanish.</summary>
    [Fact]
    public void Torques_OfAllBodies_Balance()
    {
        (string Name, double X, double Y, double Z)[] bodies = [("low", 0, 0, 4), ("high", 5, 3, 23), ("round", 0, 0, -7), ("frame", -10, 0, 44)];
        double sum = 0, largest = 0;
        foreach (var (name, x, _, z) in bodies)
        {
            double own = Ask(Table, $"torque about y on {name}"), of = 1e-3 * (z * Ask(Table, $"force along x on {name}") - x * Ask(Table, $"force along z on {name}"));
            sum += own + of;
            largest = Math.Max(largest, Math.Max(Math.Abs(own), Math.Abs(of)));
        }

        Assert.Equal(0, sum, 1e-5 * largest);
    }

    [Fact]
    public void Coil_UprightOnTheAxis_KeepsItsPlaceAndTiltAsInputs()
    {
        foreach (string input in (string[])["x of round", "y of round", "height of round", "tilt of round", "bearing of round", "turn of frame", "build of frame", "corner radius of frame", "tilt of low", "tilt of high"])
            Assert.True(Inputs.TryReadName(input, Table, out _, out var mistake), input + ": " + mistake?.Finding);
        double straight = Ask(Table, "mutual inductance of round and frame at height of frame 70 mm at tilt of frame 0 deg"), leant = Ask(Table, "mutual inductance of round and frame at height of frame 70 mm at tilt of frame 60 deg");
        Assert.True(Math.Abs(straight - leant) > 0.05 * Math.Abs(straight));
    }

    [Fact]
    public void Softest_OfAFreeMagnet_IsBelowZeroAndTheThreeAddUpToNothing()
    {
        // Earnshaw: ∇·F = 0 for a rigid magnet among steady fields, so the stiffnesses add up to nothing.
        double soft = Ask(Table, "softest stiffness of high"), middle = Ask(Table, "middle stiffness of high"), hard = Ask(Table, "hardest stiffness of high");
        Assert.True(soft < 0);
        Assert.Equal(0, soft + middle + hard, 1e-3 * hard);
        double time = Ask(Table, "run-away time of high");
        Assert.Equal(Math.Sqrt(7500 * 20e-3 * 12e-3 * 6e-3 / -soft), time, 1e-9);
    }

    [Fact]
    public void Bodies_ThatOverlap_AreAMistake()
    {
        var setting = new Setting(new InputName("height", "high", "height of high"), 0.006);
        Assert.Contains("overlap", Assert.Throws<ArgumentException>(() => Inputs.Apply(Table, [setting])).Message, StringComparison.Ordinal);
    }

    /// <summary>A magnet with a recoil line between the file's two routes: the bars must hold the difference.</summary>
    [Fact]
    public void Ball_BetweenMagnets_RoutesMeet()
    {
        var apparatus = File.Bench.Read(
            """
            apparatus: Ball
            symmetry: round
            materials:
              soft: {relative permeability: 500, density: 7850 kg/m3}
            parts:
              low: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: -10 mm}, of: NdFeB N42, magnetised: up}
              ball: {shape: ball, radius: 7 mm, of: soft, moves: up and down}
              high: {shape: ring, inner radius: 4 mm, outer radius: 10 mm, thickness: 8 mm, at: {z: 18 mm}, of: ferrite Y30, magnetised: up}
            """);
        var measure = File.Bench.Measure("lift on ball", apparatus);
        var answer = Rehearsal.Ask(apparatus, measure, new RehearsalOptions(5e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(2, answer.Answers.Count);
        Assert.Empty(answer.Disagreeing);
        // Bars that hold because they are wide would show nothing.
        Assert.All(answer.Answers, a => Assert.True(a.ErrorBar < 0.1 * Math.Abs(a.Value)));
    }

    [Fact]
    public void Foil_WithAMagnetBeside_GoesOneWayAndTheOtherWithTheCurrentTurned()
    {
        var foil = File.Bench.Read(
            """
            apparatus: Foil
            symmetry: free
            parts:
              foil: {shape: foil loop, length: 200 mm, width: 10 mm, thickness: 15 um, span: 40 mm, carries: 3 A, of: aluminium 1199}
              magnet: {shape: disc, radius: 12.5 mm, thickness: 10 mm, at: {x: 150 mm, y: -5 mm, z: -60 mm}, of: NdFeB N42, magnetised: up, tilted: 90 deg, towards: 90 deg}
            """);
        double there = Ask(foil, "shift of foil"), back = Ask(foil, "shift of foil at current in foil -3 A");
        Assert.True(there > 0 && back < 0, $"{there}, {back}");
        Assert.Equal(Math.Sign(there), Math.Sign(Ask(foil, "force along x on foil")));
        // 20 A in 0.15 mm²: c d (β + 20)/ρ ln((β + 660)/(β + 20))/J².
        Assert.InRange(Ask(foil, "melting time of foil at current in foil 20 A"), 1.5, 1.8);
    }

    private const string Floating = """
        apparatus: Floating
        symmetry: free
        parts:
          ball: {shape: ball, radius: 12 mm, wall: 2 mm, at: {x: 0 mm, y: 0 mm, z: 4 mm}, of: aluminium 1050, moves: freely}
          needle: {shape: probe, at: {x: 30 mm, y: 0 mm, z: 0 mm}, of: air}
        windings:
          coil: {turns: 400, wire: 1 mm grade 1, between radii: [10 mm, 30 mm], from z: -30 mm, to z: -2 mm}
        supplies:
          mains: {current: 10 A, frequency: 50 Hz, feeds: coil}
        """;

    /// <summary>Bodies that stand about one axis are answered by the field too, each bar covering the other.</summary>
    [Theory]
    [InlineData("lift on ball")]
    [InlineData("force along z on ball")]
    [InlineData("heat in ball")]
    [InlineData("inductance of coil")]
    public void Bodies_AboutOneAxis_AreAnsweredByTheFieldToo(string measure)
    {
        var apparatus = File.Bench.Read(Floating);
        var answers = Rehearsal.Ask(apparatus, File.Bench.Measure(measure, apparatus), new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken).Answers;
        Assert.Equal([RouteName.Series, RouteName.Field], answers.Select(a => a.Route));
        Assert.Equal(answers[0].Value, answers[1].Value, answers[0].ErrorBar + answers[1].ErrorBar);
        Assert.True(answers[1].ErrorBar < 0.02 * Math.Abs(answers[0].Value));
    }

    [Theory]
    [InlineData("lift on ball at x of ball 1 mm")]
    [InlineData("lift on ball at tilt of coil 2 deg")]
    public void Bodies_OffTheAxis_AreLeftToTheSeries(string measure)
    {
        var apparatus = File.Bench.Read(Floating);
        var answer = Rehearsal.Ask(apparatus, File.Bench.Measure(measure, apparatus), new RehearsalOptions(0.01), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(RouteName.Series, Assert.Single(answer.Answers).Route);
        Assert.Empty(answer.Silent);
    }
}
