using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Claims;

/// <summary>Working points of magnets and the energy of their field.</summary>
public class MagnetMeasuresTests
{
    private static string Pair(string permeability) => $$$"""
        apparatus: Pair
        symmetry: round
        parts:
          lower: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: 0 mm}, of: {remanence: 1.2 T, recoil permeability: {{{permeability}}}, density: 7500 kg/m3}, magnetised: up}
          upper: {shape: disc, radius: 10 mm, thickness: 8 mm, at: {z: 16 mm}, of: {remanence: 1.2 T, recoil permeability: {{{permeability}}}, density: 7500 kg/m3}, magnetised: up}
        """;

    private const string Ball = """
        apparatus: Ball
        symmetry: round
        parts:
          ball: {shape: ball, radius: 10 mm, at: {z: 0 mm}, of: {remanence: 1.2 T, recoil permeability: 1.1, density: 7500 kg/m3}, magnetised: up}
        """;

    private static Answer Ask(string text, string measure, double target = 0.01)
    {
        var apparatus = Read.Read(text);
        return Assert.Single(Rehearsal.Ask(apparatus, Read.Measure(measure, apparatus), new RehearsalOptions(target), cancellation: TestContext.Current.CancellationToken).Answers, a => a.Route == RouteName.Field);
    }

    /// <summary>Bᵣ = B − μ₀μᵣH inside, and H = −N·M with N = 1/3 gives B = 2Bᵣ/(2 + μᵣ) in a ball (Jackson, Classical Electrodynamics, sec. 5.10 with a recoil line, from memory).</summary>
    [Fact]
    public void Ball_InItsOwnField_WorksWhereAThirdPutsIt()
    {
        var density = Ask(Ball, "working flux density of ball");
        Assert.Equal(2 * 1.2 / 3.1, density.Value, density.ErrorBar);
        var strength = Ask(Ball, "working field strength of ball");
        Assert.Equal((density.Value - 1.2) / (1.1 * 4e-7 * Math.PI), strength.Value, 1e-6 * Math.Abs(strength.Value));
    }

    // B·A of flux against −H·L: the reluctance times the flux gives back the field strength.
    [Fact]
    public void Reluctance_SeenByADisc_IsWhatItsWorkingPointSays()
    {
        double density = Ask(Pair("1"), "working flux density of upper").Value, strength = Ask(Pair("1"), "working field strength of upper").Value;
        Assert.Equal(-strength * 8e-3 / (density * Math.PI * 1e-4), Ask(Pair("1"), "reluctance seen by upper").Value, 1);
    }

    /// <summary>Virtual work: at given remanence the pull is the fall of the stored energy.</summary>
    [Fact]
    public void StoredEnergy_AgainstPlace_HasThePullForItsSlope()
    {
        Answer above = Ask(Pair("1.05"), "stored energy at height of upper 17 mm", 3e-4), below = Ask(Pair("1.05"), "stored energy at height of upper 15 mm", 3e-4);
        var lift = Ask(Pair("1.05"), "lift on upper");
        // The pull falls off over some 6 mm: its second derivative over half the step, squared and over six, is (1/6)²/6 of it.
        Assert.Equal(-lift.Value, (above.Value - below.Value) / 2e-3, (above.ErrorBar + below.ErrorBar) / 2e-3 + lift.ErrorBar + 0.01 * Math.Abs(lift.Value));
    }
}
