using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Routes.Travel;
using Xunit;

namespace Fieldwright.Tests.Bench.Travelling;

/// <summary>A track with a sheet through the apparatus file: what is read, what must balance, and what two routes say.</summary>
public class TrackTests
{
    private const string Text =
        """
        apparatus: Track
        symmetry: long
        depth: 60 mm
        materials: {strip steel: {relative permeability: 800, density: 7650 kg/m3}}
        parts:
          sheet: {shape: sheet, width: 900 mm, thickness: 2 mm, of: aluminium 1050, moves: sideways}
          back iron: {shape: plate, width: 900 mm, thickness: 12 mm, at: {y: -29 mm}, of: strip steel, laminated: {stacking factor: 0.95}}
        windings:
          track: {turns: 60, wire: 1 mm grade 1, phases: 3, slots: 9, slot pitch: 20 mm, slot width: 16 mm, slot height: 16 mm, y: -12 mm}
        supplies:
          inverter: {current: 6 A, frequency: 50 Hz, connection: star, feeds: track}
        """;

    private static readonly Apparatus Track = File.Bench.Read(Text);

    [Fact]
    public void Winding_OfThreePhases_IsThreeWindingsInBelts()
    {
        Assert.Equal(["track a", "track b", "track c"], Track.Windings.Select(w => w.Name));
        Assert.Equal(["track a", "track b", "track c"], Track.Supplies[0].Feeds);
        var whole = Track.Polyphases().Single();
        Assert.Equal((0.06, 3), (Math.Round(whole.PolePitch, 12), whole.CoilSpan));
        // Six coils of full pitch in nine slots, a −c b −a c −b; their second sides lie three slots further, on top.
        Assert.Equal([(0, 0, 1), (1, 2, -1), (2, 1, 1), (3, 0, -1), (4, 2, 1), (5, 1, -1)],
            whole.Sides.Where(s => s.Part == SlotPart.Lower).Select(s => (s.Slot, s.Phase, s.Sign)));
        Assert.Equal([(3, 0, -1), (4, 2, 1), (5, 1, -1), (6, 0, 1), (7, 2, -1), (8, 1, 1)],
            whole.Sides.Where(s => s.Part == SlotPart.Upper).Select(s => (s.Slot, s.Phase, s.Sign)));
        Assert.Equal(2, whole.CoilsOf(0));
    }

    [Fact]
    public void Sheet_AtRestAndRunning_IsPushedAlikeByBothRoutes()
    {
        foreach (string asked in (string[])["thrust on sheet", "force along y on sheet", "heat in sheet", "thrust on sheet at slip 0.3"])
        {
            var answer = Ask(Track, asked);
            Assert.Equal([RouteName.Field, RouteName.Series], answer.Answers.Select(a => a.Route).Order().Reverse());
            Assert.Empty(answer.Disagreeing);
            Assert.True(answer.Difference < 0.01 * Math.Abs(answer.Leading!.Value), $"{asked}: {answer.Difference}");
        }
    }

    [Fact]
    public void Layers_AskedAtManySpeedsAndOfAnotherSheet_AnswerAsIfAskedFirst()
    {
        var asked = new LayersRoute();
        foreach (string setting in (string[])["speed of sheet=0 m/s", "speed of sheet=4 m/s", "thickness of sheet=3 mm", "frequency of inverter=60 Hz", "speed of sheet=-2 m/s"])
        {
            Assert.True(Inputs.TryRead(setting, Track, out var read, out var mistake), mistake?.Finding);
            var turned = Inputs.Apply(Track, [read]);
            double Thrust(LayersRoute route) => route.Solve(turned, Wanted.Forces, 1e-2, TestContext.Current.CancellationToken).ForceX["sheet"].Value;
            Assert.Equal(Thrust(new LayersRoute()), Thrust(asked));
        }
    }

    [Theory]
    [InlineData("0.2")]
    [InlineData("1")]
    public void Power_OfTheSupply_BecomesHeatAndMotion(string slip)
    {
        double Of(string measure) => Ask(Track, $"{measure} at slip of sheet {slip}", RouteName.Series).Value;
        double copper = Track.Windings.Sum(w => Ask(Track, "copper loss in " + w.Name).Leading!.Value);
        double moved = Of("thrust on sheet") * (1 - double.Parse(slip, System.Globalization.CultureInfo.InvariantCulture)) * 6;
        double power = Of("power from inverter");
        // Sums of waves cut off alike on both sides: what is left is rounding.
        Assert.Equal(power, copper + Of("heat in sheet") + moved, 1e-6 * power);
    }

    [Fact]
    public void Leads_ChangedOver_TurnTheThrustRound()
    {
        var reversed = File.Bench.Read(Text.Replace("connection: star", "connection: star, phase order: reversed", StringComparison.Ordinal));
        double there = Ask(Track, "standstill thrust on sheet", RouteName.Series).Value, back = Ask(reversed, "standstill thrust on sheet", RouteName.Series).Value;
        Assert.True(there > 0);
        Assert.Equal(-there, back, 1e-3 * there);
        Assert.Equal(-6, Ask(reversed, "field speed of track").Leading!.Value, 1e-12);
    }

    [Fact]
    public void Sheet_OfFiniteWidth_HasTheEdgeFactorInBothBars()
    {
        // At 5 Hz the sheet's own field is feeble, and thrust goes with conductivity: what is left of the reaction is (sG)² = 1e-3.
        string slow = Text.Replace("50 Hz", "5 Hz", StringComparison.Ordinal);
        var narrow = File.Bench.Read(slow.Replace("moves: sideways", "moves: sideways, width across: 90 mm", StringComparison.Ordinal));
        var full = Ask(File.Bench.Read(slow), "standstill thrust on sheet");
        var answer = Ask(narrow, "standstill thrust on sheet");
        Assert.Empty(answer.Disagreeing);
        // Width 60 mm over a pole pitch of 60 mm, a quarter of it overhanging: K = 0.635410 (russell-norsworthy.csv).
        Assert.Equal(0.63541, answer.Leading!.Value / full.Leading!.Value, 5e-3);
        // At 50 Hz the sheet's own field counts, and what the factor neglects stands in every route's bar.
        var fast = File.Bench.Read(Text.Replace("moves: sideways", "moves: sideways, width across: 90 mm", StringComparison.Ordinal));
        double neglected = AcrossWidth.RelativeBar(fast, fast.Part("sheet")!);
        Assert.InRange(neglected, 1e-3, 0.2);
        Assert.All(Ask(fast, "standstill thrust on sheet").Answers, a => Assert.True(a.ErrorBar >= neglected * a.Value));
    }

    [Fact]
    public void Coil_JoinedTheWrongWay_IsNamed()
    {
        Assert.Equal(1, Ask(Track, "forward share of track").Leading!.Value, 1e-12);
        var wrong = File.Bench.Read(Text.Replace("phases: 3, slots", "phases: 3, reversed coils: [4], slots", StringComparison.Ordinal));
        var answer = Ask(wrong, "forward share of track").Leading!;
        Assert.InRange(answer.Value, 0.6, 0.95);
        Assert.Contains("coil 4 is against the rest", answer.Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Goodness_OfANarrowGapBetweenIron_IsLaithwaites()
    {
        // τ = 50 mm, 50 Hz, 2 mm of 35 MS/m, 10 mm of gap: 0.700 (closed-forms, b). The sheet lies in the middle, and k·g = 0.63 is not small: tanh falls 3.2 % short.
        var narrow = File.Bench.Read(
            """
            apparatus: Gap
            symmetry: long
            depth: 60 mm
            materials: {iron: {relative permeability: 1e6}, metal: {conductivity: 35 MS/m}}
            parts:
              sheet: {shape: sheet, width: 900 mm, thickness: 2 mm, of: metal, moves: sideways}
              upper: {shape: plate, width: 900 mm, thickness: 12 mm, at: {y: 11 mm}, of: iron}
              lower: {shape: plate, width: 900 mm, thickness: 12 mm, at: {y: -11 mm}, of: iron}
            windings: {track: {turns: 2, wire: 1 mm bare, phases: 1, slots: 4, slot pitch: 50 mm, slot width: 40 mm, slot height: 2 mm, y: -3 mm, layers: single}}
            supplies: {line: {current: 6 A, frequency: 50 Hz, feeds: track}}
            """);
        double k = Math.PI / 0.05;
        Assert.Equal(0.700 * k * 0.01 / (2 * Math.Tanh(k * 0.005)), Ask(narrow, "goodness of sheet").Leading!.Value, 1e-3);
    }

    [Theory]
    [InlineData("connection: star, feeds", "feeds", "3 phases and 'inverter' has one")]
    [InlineData("connection: star, feeds", "phases: 3, feeds", "'phases' is no key of a supply any more")]
    [InlineData("connection: star, feeds", "phase order: reversed, feeds", "a phase order with one phase only")]
    [InlineData("slots: 9", "slots: 3", "coil span")]
    [InlineData("slot width: 16 mm", "slot width: 21 mm", "overlap at a pitch")]
    [InlineData("phases: 3, slots", "phases: 4, slots", "4 phases")]
    [InlineData("phases: 3, slots", "phases: 3, layers: single, slots", "whole pairs of poles")]
    [InlineData("phases: 3, slots", "phases: 3, reversed coils: [7], slots", "no coil 7")]
    [InlineData("moves: sideways", "moves: sideways, goes with: track", "goes with 'track'")]
    [InlineData("moves: sideways", "moves: sideways, turning speed: 3 rad/s", "turns")]
    public void File_ThatMakesNoSense_SaysWhy(string part, string wrong, string finding)
    {
        var reading = ApparatusFile.Read(Text.Replace(part, wrong, StringComparison.Ordinal), "wrong.yaml");
        Assert.Contains(reading.Mistakes, m => m.Finding.Contains(finding, StringComparison.Ordinal));
    }

    private static RoutedAnswer Ask(Apparatus apparatus, string text, RouteName? only = null)
    {
        var measure = File.Bench.Measure(text, apparatus);
        var answer = Rehearsal.Ask(apparatus, measure, new RehearsalOptions(0.01) { Only = only }, null, TestContext.Current.CancellationToken);
        Assert.Empty(answer.Silent.Select(s => s.Reason));
        return answer;
    }

    private static Answer Ask(Apparatus apparatus, string text, RouteName only) => Ask(apparatus, text, (RouteName?)only).Leading!;
}
