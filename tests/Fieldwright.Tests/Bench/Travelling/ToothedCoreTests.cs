using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;
using Xunit;

namespace Fieldwright.Tests.Bench.Travelling;

/// <summary>A track in a toothed core: Carter's factor and slot leakage by series, every tooth drawn by the field.</summary>
public class ToothedCoreTests
{
    private const string Text =
        """
        apparatus: Track
        symmetry: long
        depth: 60 mm
        materials: {strip steel: {relative permeability: 1000, density: 7650 kg/m3}}
        parts:
          core: {shape: toothed core, width: 560 mm, thickness: 32 mm, at: {y: -16 mm}, of: strip steel, laminated: {stacking factor: 0.97}}
          sheet: {shape: sheet, width: 600 mm, thickness: 2 mm, at: {y: 3 mm}, of: aluminium 1050, moves: sideways}
          back iron: {shape: plate, width: 600 mm, thickness: 12 mm, at: {y: 12 mm}, of: strip steel, laminated: {stacking factor: 0.97}}
        windings:
          track: {turns: 60, wire: 1 mm grade 1, phases: 3, slots: 9, slot pitch: 20 mm, slot width: 12 mm, slot height: 18 mm, y: -9 mm}
        supplies:
          inverter: {current: 6 A, frequency: 50 Hz, connection: star, feeds: track}
        """;

    private static readonly Apparatus Track = File.Bench.Read(Text);

    [Fact]
    public void Teeth_LengthenTheGapByCartersFactor()
    {
        var teeth = Teeth.Of(Track)!;
        Assert.True(teeth.OpensUp);
        Assert.Equal(0.006, teeth.Gap, 1e-12);
        // Opening over gap 2: γ = 0.558729 (carter.csv), pitch/(pitch − γg) = 20/(20 − 3.352374).
        Assert.Equal(20 / (20 - 0.558729 * 6), teeth.CarterFactor, 1e-6);
        Assert.Equal(-(teeth.CarterFactor - 1) * 0.006, teeth.SmoothFace(true), 1e-12);
    }

    [Fact]
    public void SlotLeakage_OfAWholeCoil_IsThatOfTheHandbook()
    {
        // All turns in one side: h/3w; split in two layers that carry the same current: 1/6 + 2/3 + 2·1/4 = 4/3 over four, the same.
        var single = File.Bench.Read(Text.Replace("slots: 9", "slots: 12, layers: single", StringComparison.Ordinal));
        var bare = new System.Numerics.Complex[3, 3];
        var (z, _) = Teeth.Of(single)!.WithSlots(single, bare);
        // Two coils a phase, two sides each.
        double one = 4e-7 * Math.PI * 0.06 * (18.0 / 12) / 3 * 60 * 60;
        Assert.Equal(2 * Math.PI * 50 * 4 * one, z[0, 0].Imaginary, 1e-6 * z[0, 0].Imaginary);
        Assert.Equal(0, z[0, 1].Magnitude, 1e-12);
    }

    [Theory]
    [InlineData("thrust on sheet")]
    [InlineData("heat in sheet")]
    [InlineData("inductance of track b")]
    public void Track_WithTeeth_IsToldAlikeBySeriesAndByTheFieldOfEveryTooth(string asked)
    {
        var measure = File.Bench.Measure(asked, Track);
        var answer = Rehearsal.Ask(Track, measure, new RehearsalOptions(0.02), null, TestContext.Current.CancellationToken);
        Assert.Equal([RouteName.Field, RouteName.Series], answer.Answers.Select(a => a.Route).Order().Reverse());
        Assert.Empty(answer.Disagreeing);
        // Carter and the leakage of slots are good to some per cent, the coil's ends apart.
        Assert.True(answer.Difference < 0.12 * Math.Abs(answer.Leading!.Value), $"{asked}: {answer.Difference} of {answer.Leading!.Value}");
    }

    [Theory]
    [InlineData("width: 560 mm", "width: 170 mm")]
    [InlineData("y: -9 mm", "y: -10 mm")]
    public void Core_WithoutSlotsAtItsFace_IsAMistake(string part, string wrong)
    {
        var reading = ApparatusFile.Read(Text.Replace(part, wrong, StringComparison.Ordinal), "wrong.yaml");
        Assert.Contains(reading.Mistakes, m => m.Finding.Contains("no slots lie in 'core'", StringComparison.Ordinal));
    }
}
