using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Series;
using Xunit;

namespace Fieldwright.Tests.Bench.Pictures;

/// <summary>The stage of bodies anywhere in space: what it shows is what the routes answer.</summary>
public sealed class SpaceStageTests
{
    internal const string Coils = """
        apparatus: Two coils
        symmetry: free
        parts:
          needle: {shape: probe, at: {x: 4 mm, y: 3 mm, z: 20 mm}, of: air}
        windings:
          base: {turns: 60, wire: 0.8 mm grade 1, between radii: [30 mm, 36 mm], from z: -10 mm, to z: 0 mm}
          swing: {turns: 40, wire: 0.5 mm grade 1, round opening: [60 mm, 24 mm], corner radius: 6 mm, build: 4 mm, from z: 35 mm, to z: 41 mm, at: {x: 10 mm, y: 0 mm}, tilted: 20 deg, towards: 0 deg}
        supplies:
          left: {current: 3 A, feeds: base}
          right: {current: 1.5 A, feeds: swing}
        dials:
          current in base: {from: 0 A, to: 3 A}
        claims:
          - {say: A needle feels it, measure: field at needle, at least: 0.1 mT}
        """;

    private const string Ball = """
        apparatus: Ball
        symmetry: free
        parts:
          ball: {shape: ball, radius: 15 mm, at: {x: 0 mm, y: 0 mm, z: 8 mm}, of: aluminium 1050, moves: freely}
        windings:
          coil: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 30 mm], from z: -15 mm, to z: 0 mm}
        supplies:
          mains: {current: 10 A, frequency: 50 Hz, feeds: coil}
        """;

    [Fact]
    public void FluxDensity_AtAProbe_IsWhatTheMeasureAnswers()
    {
        var apparatus = Read(Coils);
        var stage = SpaceStage.Quick(apparatus, default);
        var measure = File.Bench.Measure("field at needle", apparatus);
        double asked = Rehearsal.Ask(apparatus, measure, new RehearsalOptions()).Leading!.Value;
        var b = stage.FluxDensity(stage.Probes[0].At).Real;
        // One is the length of the other; both are summed to 1e-6.
        Assert.InRange(b.Length / asked, 1 - 1e-5, 1 + 1e-5);
        // A plane laid through the probe carries the same field where it has a point there.
        var slice = stage.Slice(new SpacePlane(1, 0.003));
        var corner = stage.FluxDensity(new Vector(slice.FromU, 0.003, slice.FromV));
        Assert.Equal((float)corner.Z.Real, slice.FluxDensity[4]);
    }

    [Fact]
    public void FluxDensity_OfAMagnetLiftedByASteelBall_IsWhatTheMeasureAnswers()
    {
        // A soft magnet that the ball lifts by some per cent: the drawn field has to have that in it.
        var apparatus = Read("""
            apparatus: Lifted
            symmetry: free
            materials:
              soft: {remanence: 0.6 T, recoil permeability: 3, density: 5000 kg/m3}
              iron: {relative permeability: 1000, density: 7800 kg/m3}
            parts:
              magnet: {shape: disc, radius: 10 mm, thickness: 6 mm, of: soft, magnetised: up}
              ball: {shape: ball, radius: 8 mm, at: {x: 2 mm, y: 0 mm, z: 6.5 mm}, of: iron}
              needle: {shape: probe, at: {x: 6 mm, y: 4 mm, z: -5 mm}, of: air}
            """);
        double asked = Rehearsal.Ask(apparatus, File.Bench.Measure("field at needle", apparatus), new RehearsalOptions()).Leading!.Value;
        var stage = SpaceStage.Quick(apparatus, default);
        Assert.InRange(stage.FluxDensity(stage.Probes[0].At).Real.Length / asked, 1 - 1e-4, 1 + 1e-4);
    }

    [Fact]
    public void Solids_OfADirectCurrentPump_ShowItsChannelAndTheFieldOfItsMagnets()
    {
        var apparatus = File.Bench.Example("direct-current-pump");
        var stage = SpaceStage.Quick(apparatus, default);
        var channel = apparatus.Parts.Single(p => p.Shape is PumpChannelShape);
        Assert.Contains(stage.Solids, s => s.Name == channel.Name);
        Assert.True(stage.FluxDensity(stage.Solids.Single(s => s.Name == channel.Name).Centre).Real.Length > 0.1);
    }

    [Fact]
    public void Solids_HaveTheVolumeOfTheirThings_FacesOutwards()
    {
        var stage = SpaceStage.Quick(Read(Coils), default);
        // Area of the section times the length of its middle line; a circle of 36 straight pieces lacks half a per cent.
        double round = Math.PI * (36 * 36 - 30 * 30) * 10e-9, frame = (68 * 32 - 60 * 24 - (4 - Math.PI) * (100 - 36)) * 6e-9;
        Assert.InRange(Volume(Named(stage, "base")) / round, 0.99, 1);
        Assert.InRange(Volume(Named(stage, "swing")) / frame, 0.99, 1.01);
        Assert.InRange(Volume(Named(SpaceStage.Quick(Read(Ball), default), "ball")) / (4.0 / 3 * Math.PI * 15e-3 * 15e-3 * 15e-3), 0.96, 1);
    }

    [Fact]
    public void Lines_GoAlongTheField()
    {
        var stage = SpaceStage.Quick(Read(Coils), default);
        Assert.True(stage.Lines[0].Lines.Count > 20);
        foreach (float[] line in stage.Lines[0].Lines)
            for (int i = 8; i + 8 < line.Length; i += 24)
            {
                Vector a = Point(line, i - 4), b = Point(line, i), c = Point(line, i + 4);
                // The chord over a point of a smooth curve is parallel to it to second order.
                double cosine = Vector.Dot((c - a).Unit(), stage.FluxDensity(b).Real.Unit());
                Assert.True(cosine > 0.97, $"{cosine}");
            }
    }

    [Fact]
    public void Refined_BallThatAnswersWithALag_HasAWholePeriodAndItsForce()
    {
        var apparatus = Read(Ball);
        var stage = SpaceStage.Quick(apparatus, default).Refined(default);
        Assert.True(stage.Lines.Count > 12);
        var measure = File.Bench.Measure("lift on ball", apparatus);
        var lift = Rehearsal.Ask(apparatus, measure, new RehearsalOptions()).Leading!;
        Assert.InRange(Named(stage, "ball").Force!.Value.Z, lift.Value * 0.999 - lift.ErrorBar, lift.Value * 1.001 + lift.ErrorBar);
    }

    [Fact]
    public void Picture_OfFreeBodies_DrawsSolidsAndNames()
    {
        var scene = ApparatusPicture.Of(Read(Coils), new PictureOptions(), (text, size, _) => 0.5 * size * text.Length);
        var inside = scene.Marks.OfType<ClippedMarks>().Single().Marks;
        Assert.True(inside.OfType<AreaMark>().Count() > 100);
        Assert.Contains(inside.OfType<TextMark>(), t => t.Text == "swing");
    }

    private static Apparatus Read(string text) => Fieldwright.Tests.Bench.File.Bench.Read(text);

    private static SpaceSolid Named(SpaceStage stage, string name) => stage.Solids.Single(s => s.Name == name);

    private static Vector Point(float[] line, int at) => new(line[at], line[at + 1], line[at + 2]);

    // By the divergence theorem, which is wrong at once if a face is missing or looks inwards.
    private static double Volume(SpaceSolid solid)
    {
        double sum = 0;
        foreach (var (a, b, c, d) in solid.Faces)
            sum += Tetrahedron(solid.Points[a], solid.Points[b], solid.Points[c]) + Tetrahedron(solid.Points[a], solid.Points[c], solid.Points[d]);
        return sum;
    }

    private static double Tetrahedron(Vector a, Vector b, Vector c) => Vector.Dot(a, Vector.Cross(b, c)) / 6;
}
