using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>Bounds from complementary solutions on their way from the field to the answer, and the flat faces of a ring.</summary>
public class BracketTests
{
    private const string Coils = """
        apparatus: Two coils
        symmetry: round
        windings:
          inner: {turns: 700, wire: 0.8 mm grade 1, between radii: [20 mm, 40 mm], from z: -60 mm, to z: -5 mm}
          outer: {turns: 390, wire: 1.0 mm grade 1, between radii: [55 mm, 70 mm], from z: -60 mm, to z: -5 mm}
        supplies:
          box: {current: 3 A, feeds: [inner, outer], connection: series}
        claims:
          - {say: It links, measure: inductance of inner, at least: 8 mH}
        """;

    private static readonly ThickCoil Inner = new(0.02, 0.04, -0.06, -0.005, 700), Outer = new(0.055, 0.07, -0.06, -0.005, 390);

    [Fact]
    public void RoundCoils_InductanceReluctanceAndEnergy_LieBetweenTheirBounds()
    {
        double l1 = Inner.SelfInductance(), l2 = Outer.SelfInductance(), m = ThickCoil.MutualInductance(Inner, Outer);
        Check("inductance of inner", l1);
        Check("mutual inductance of inner and outer", m);
        Check("reluctance seen by inner", 700 * 700 / l1);
        Check("stored energy", 0.5 * 9 * (l1 + l2 + (2 * m)));
    }

    [Theory]
    [InlineData("inductance of primary")]
    [InlineData("mutual inductance of primary and secondary")]
    [InlineData("current in primary")]
    public void RingWithAGap_FieldAndReluctances_AgreeWithinAFieldBarOfFivePerCent(string measure)
    {
        var answer = Ask(System.IO.File.ReadAllText(Path.Combine(Repository.Root, "examples", "ring-and-lamp.yaml")), measure, "ring with a gap");
        var field = answer.Answers.Single(a => a.Route == RouteName.Field);
        var circuit = answer.Answers.Single(a => a.Route == RouteName.Circuit);
        Assert.InRange(field.ErrorBar / field.Value, 0.001, 0.05);
        Assert.InRange(Math.Abs(field.Value - circuit.Value), 0, field.ErrorBar + circuit.ErrorBar);
        Assert.Null(field.Bracket);
    }

    private static void Check(string measure, double exact)
    {
        var field = Ask(Coils, measure, null).Answers.Single(a => a.Route == RouteName.Field);
        Assert.True(field.Bracket is { } bracket && bracket.Holds(exact), $"{measure}: {field.Bracket}, exact {exact}");
        Assert.InRange(field.Bracket!.Value.HalfWidth / exact, 0, 0.02);
        Assert.InRange(Math.Abs(field.Value - exact), 0, field.ErrorBar);
    }

    private static RoutedAnswer Ask(string text, string measure, string? state)
    {
        var apparatus = ApparatusFile.Read(text, "case.yaml").Apparatus!;
        var read = File.Bench.Measure(measure, apparatus);
        return Rehearsal.Ask(apparatus, read, new RehearsalOptions(), state, TestContext.Current.CancellationToken);
    }
}
