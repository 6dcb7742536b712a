using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Xunit;

namespace Fieldwright.Tests.Bench.Particles;

public class ParticleBoxTests
{
    private const string Discs = "discs: {count: 64, radius: 8 mm, mass: 5 g, rms speed: 300 mm/s}\n";

    private static Apparatus Read(string rest)
    {
        var reading = ApparatusFile.Read("apparatus: Box\nsymmetry: flat\n" + rest, "box.yaml");
        Assert.Empty(reading.Mistakes);
        return reading.Apparatus!;
    }

    private static RoutedAnswer Ask(Apparatus apparatus, string text, double target = 0.03)
    {
        var measure = File.Bench.Measure(text, apparatus);
        return Rehearsal.Ask(apparatus, measure, new RehearsalOptions(target));
    }

    [Theory]
    [InlineData("mean speed")]
    [InlineData("gas pressure")]
    [InlineData("pressure ratio on halving")]
    [InlineData("gas pressure", "joined")]
    public void ClosedGas_ByMotionAndByItsEquationOfState_Agrees(string measure, string sides = "walls")
    {
        var answer = Ask(Read($"box: {{width: 400 mm, height: 400 mm, sides: {sides}}}\n" + Discs), measure);
        Assert.Equal(2, answer.Answers.Count);
        Assert.Empty(answer.Disagreeing);
    }

    [Fact]
    public void Lid_OnAGasThatKeepsItsEnergy_StandsWhereTheEquationOfStateSays()
    {
        // 64 discs of 0.225 mJ each; 40 mN press on the lid.
        var answer = Ask(Read("box: {width: 300 mm, height: 1500 mm}\n" + Discs + "lid: {mass: 100 g, load: 40 mN, starts at: 400 mm}\n"), "lid height");
        Assert.Equal([RouteName.Series, RouteName.Motion], answer.Answers.Select(a => a.Route).Order());
        double motion = answer.Answers.Single(a => a.Route == RouteName.Motion).Value, series = answer.Answers.Single(a => a.Route == RouteName.Series).Value;
        Assert.Equal(1, motion / series, 0.06);
    }

    [Fact]
    public void Lid_PressedHarder_Sinks()
    {
        var apparatus = Read("box: {width: 300 mm, height: 1500 mm, tilt: 20 deg}\n" + Discs.Replace("}", ", restitution: 0.9}", StringComparison.Ordinal) + "floor: {amplitude: 4 mm, frequency: 30 Hz}\nlid: {mass: 100 g, load: 50 mN, starts at: 300 mm}\n");
        var light = Ask(apparatus, "lid height");
        Assert.Equal(RouteName.Motion, Assert.Single(light.Answers).Route);
        double heavy = Ask(apparatus, "lid height at load of lid 500 mN").Leading!.Value;
        Assert.True(heavy + light.Leading!.ErrorBar < light.Leading.Value, $"{heavy} {light.Leading}");
    }

    /// <summary>A gas without gravity leaves through an open side as the kinetic theory says: n √(kT/2πm) for each metre of it, as long as few have left (Knudsen's law in two dimensions).</summary>
    [Fact]
    public void Top_TakenOffAGas_LetsAsManyGoAsTheKineticTheorySays()
    {
        const string Few = "box: {width: 400 mm, height: 4 m, top: open}\ndiscs: {count: 60, radius: 2 mm, mass: 5 g, rms speed: 300 mm/s}\n";
        var answer = Assert.Single(Ask(Read(Few), "escape rate", 0.1).Answers);
        double unit = 0.3 / Math.Sqrt(2), expected = 60 / 4.0 * unit / Math.Sqrt(2 * Math.PI);
        // While a tenth leaves, the gas behind the opening grows thinner: the rate falls by up to that.
        Assert.InRange(answer.Value, 0.75 * expected - answer.ErrorBar, expected + answer.ErrorBar);
        Assert.InRange(answer.ErrorBar, 0, 0.3 * expected);
    }

    [Fact]
    public void Floor_ThatTravels_DragsWhatItShakesAlong()
    {
        const string Shaken = "box: {width: 300 mm, height: 400 mm, tilt: 20 deg, restitution: 0.95}\ndiscs: {count: 30, radius: 6 mm, mass: 2 g, rms speed: 600 mm/s, restitution: 0.9}\nfloor: {amplitude: 3 mm, frequency: 40 Hz, travels: SPEED, grip: 0.9}\n";
        var right = Ask(Read(Shaken.Replace("SPEED", "200 mm/s", StringComparison.Ordinal)), "drift speed", 0.1).Leading!;
        var still = Ask(Read(Shaken.Replace("SPEED", "0 m/s", StringComparison.Ordinal)), "drift speed", 0.1).Leading!;
        Assert.Equal(0, still.Value, 2 * still.ErrorBar);
        Assert.InRange(right.Value, 2 * right.ErrorBar, 0.2);
    }

    /// <summary>Nothing but the floor pushes along a channel whose top is smooth, so that in the end all stream as it travels; a top that grips as well holds them back.</summary>
    [Fact]
    public void Stream_InAChannelThatRunsRound_IsThatOfTheFloorUntilTheTopHoldsIt()
    {
        const string Channel = "box: {width: 500 mm, height: 80 mm, sides: joined, restitution: 0.95, grip: TOP}\ndiscs: {count: 40, radius: 6 mm, mass: 2 g, rms speed: 400 mm/s, restitution: 0.95}\nfloor: {amplitude: 2 mm, frequency: 40 Hz, travels: 150 mm/s, grip: 0.3}\n";
        var free = Ask(Read(Channel.Replace("TOP", "0", StringComparison.Ordinal)), "stream speed").Leading!;
        var held = Ask(Read(Channel.Replace("TOP", "0.3", StringComparison.Ordinal)), "stream speed").Leading!;
        Assert.Equal(0.15, free.Value, free.ErrorBar + 0.005);
        // The floor, which shakes and is touched a little more often, wins by a little.
        Assert.InRange(held.Value, 0.06, 0.12);
        Assert.True(held.ErrorBar < 0.02, held.ToString());
        Assert.False(MeasureReader.TryRead("stream speed", Read("box: {width: 400 mm, height: 400 mm}\n" + Discs), out _, out _));
    }

    /// <summary>Magnets press harder than plain discs of the same speeds, and only the run answers: the equation of state is that of hard discs.</summary>
    [Fact]
    public void Magnets_ThatRepel_PressHarderAndAreFollowedOnly()
    {
        const string Few = "box: {width: 400 mm, height: 400 mm}\ndiscs: {count: 16, radius: 6 mm, mass: 3 g, rms speed: 300 mm/s, moment: MOMENT}\n";
        var plain = Ask(Read(Few.Replace("MOMENT", "0 A m2", StringComparison.Ordinal)), "gas pressure");
        var magnets = Ask(Read(Few.Replace("MOMENT", "200 mA m2", StringComparison.Ordinal)), "gas pressure", 0.05);
        Assert.Equal(2, plain.Answers.Count);
        var only = Assert.Single(magnets.Answers);
        Assert.Equal(RouteName.Motion, only.Route);
        Assert.Contains("every pair counted", only.Remark, StringComparison.Ordinal);
        Assert.True(only.Value - only.ErrorBar > 1.05 * plain.Leading!.Value, $"{only} {plain.Leading}");
        Assert.False(MeasureReader.TryRead("pressure ratio on halving", Read(Few.Replace("MOMENT", "1 A m2", StringComparison.Ordinal)), out _, out _));
    }

    [Theory]
    [InlineData("discs: {count: 1200, radius: 1 mm, mass: 1 g, rms speed: 100 mm/s, moment: 1 mA m2}", "every pair")]
    [InlineData("discs: {count: 10, radius: 1 mm, mass: 1 g, rms speed: 100 mm/s, moment: -1 mA m2}", "moment")]
    public void Magnets_ThatCannotBeFollowed_AreAMistake(string discs, string finding)
    {
        var mistakes = ApparatusFile.Read("apparatus: Box\nsymmetry: flat\nbox: {width: 400 mm, height: 400 mm}\n" + discs, "box.yaml").Mistakes;
        Assert.Contains(mistakes, m => m.ToString()!.Contains(finding, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("box: {width: 40 mm, height: 40 mm}\n", "do not fit")]
    [InlineData("box: {width: 400 mm, height: 400 mm, top: open}\nlid: {mass: 1 g}\n", "a lid or is open")]
    public void Box_ThatCannotBe_IsAMistake(string rest, string finding)
    {
        var mistakes = ApparatusFile.Read("apparatus: Box\nsymmetry: flat\n" + rest + Discs, "box.yaml").Mistakes;
        Assert.Contains(mistakes, m => m.Finding.Contains(finding, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("lid height")]
    [InlineData("escape rate")]
    [InlineData("drift speed")]
    public void Measure_ThatTheBoxHasNot_IsAMistake(string measure)
    {
        Assert.False(MeasureReader.TryRead(measure, Read("box: {width: 400 mm, height: 400 mm}\n" + Discs), out _, out var mistake));
        Assert.NotEqual("", mistake.Expectation);
    }

    /// <summary>Discs that lie across the joint of a channel are drawn on both sides of it.</summary>
    [Fact]
    public void Picture_OfAChannel_DrawsDiscsOnTheJointTwice()
    {
        var scene = BoxPicture.Of(Read("box: {width: 130 mm, height: 400 mm, sides: joined}\n" + Discs), new PictureOptions(), (text, size, _) => 0.5 * size * text.Length, TestContext.Current.CancellationToken);
        var stage = scene.Marks.OfType<ClippedMarks>().Single();
        var discs = stage.Marks.OfType<CircleMark>().ToList();
        var circles = discs.ConvertAll(c => c.Centre);
        // The stage is 620 high for 400 mm.
        double round = 130 * 620 / 400.0;
        var twins = circles.Where(c => circles.Exists(o => Math.Abs(o.X - c.X - round) < 1e-6 && Math.Abs(o.Y - c.Y) < 1e-6)).ToList();
        Assert.Equal(circles.Count - 64, twins.Count);
        Assert.NotEmpty(twins);
        // Whichever edge of the stage a disc lies across, its other half is seen at the other.
        bool Twin(CircleMark d, double aside) => circles.Exists(o => Math.Abs(o.X - d.Centre.X - aside) < 1e-6 && Math.Abs(o.Y - d.Centre.Y) < 1e-6);
        Assert.All(discs.Where(d => Math.Abs(d.Centre.X - stage.Corner.X) < d.Radius), d => Assert.True(Twin(d, round)));
        Assert.All(discs.Where(d => Math.Abs(d.Centre.X - stage.Corner.X - round) < d.Radius), d => Assert.True(Twin(d, -round)));
        Assert.Contains("64 discs", scene.About, StringComparison.Ordinal);
        Assert.Contains("are one", scene.About, StringComparison.Ordinal);
    }

    [Fact]
    public void Picture_OfABox_DrawsEveryDisc()
    {
        var scene = BoxPicture.Of(Read("box: {width: 400 mm, height: 400 mm}\n" + Discs), new PictureOptions(), (text, size, _) => 0.5 * size * text.Length, TestContext.Current.CancellationToken);
        Assert.Equal(64, scene.Marks.OfType<ClippedMarks>().Single().Marks.OfType<CircleMark>().Count());
        Assert.Contains("64 discs", scene.About, StringComparison.Ordinal);
        var magnets = BoxPicture.Of(Read("box: {width: 400 mm, height: 400 mm}\ndiscs: {count: 9, radius: 6 mm, mass: 3 g, rms speed: 300 mm/s, moment: 200 mA m2}\n"), new PictureOptions(), (text, size, _) => 0.5 * size * text.Length, TestContext.Current.CancellationToken);
        Assert.Equal(18, magnets.Marks.OfType<ClippedMarks>().Single().Marks.OfType<CircleMark>().Count());
        Assert.Contains("keep one another off", magnets.About, StringComparison.Ordinal);
    }
}
