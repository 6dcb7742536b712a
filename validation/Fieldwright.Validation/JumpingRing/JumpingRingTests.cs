using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Xunit;

namespace Fieldwright.Validation.JumpingRing;

/// <summary>Tjossem and Brost: the best ring has a resistance equal to its reactance; see source.md.</summary>
/// <source key="TjossemBrost2011"/>
public class JumpingRingTests
{
    private const double Radius = 0.017, Side = 0.001, Frequency = 2000;

    [Fact]
    public void JumpingRing_LiftOverMass_IsGreatestWhereResistanceEqualsReactance()
    {
        double best = 4e-7 * Math.PI * Radius * (Math.Log(8 * Radius / (0.44705 * Side)) - 2) * 2 * Math.PI * Frequency;
        double expected = 2 * Math.PI * Radius / (best * Side * Side);
        double low = Math.Log(0.3 * expected), high = Math.Log(3 * expected);
        // Lift over conductivity, which stands for mass, by golden section; the bottom of a parabola is known to the root of the error of its values.
        double golden = 0.5 * (Math.Sqrt(5) - 1);
        for (int i = 0; i < 12; i++)
        {
            double a = high - golden * (high - low), b = low + golden * (high - low);
            (low, high) = Worth(Math.Exp(a)) > Worth(Math.Exp(b)) ? (low, b) : (a, high);
        }

        Assert.Equal(1, Math.Exp(0.5 * (low + high)) / expected, 0.03);
    }

    private static double Worth(double conductivity)
    {
        var file = FormattableString.Invariant($$"""
            apparatus: A ring over a coil
            symmetry: round
            parts:
              ring: {shape: ring, inner radius: {{(Radius - Side / 2) * 1e3}} mm, outer radius: {{(Radius + Side / 2) * 1e3}} mm, thickness: {{Side * 1e3}} mm, at: {z: 10 mm}, of: {conductivity: {{conductivity * 1e-6:R}} MS/m, density: 2700 kg/m3}, moves: up and down}
            windings:
              coil: {turns: 100, wire: 0.5 mm grade 1, between radii: [12 mm, 22 mm], from z: -20 mm, to z: 0 mm}
            supplies:
              source: {current: 5 A, frequency: {{Frequency}} Hz, feeds: coil}
            """);
        var reading = ApparatusFile.Read(file, "ring.yaml");
        var apparatus = reading.Apparatus ?? throw new InvalidOperationException(string.Join("\n", reading.Mistakes));
        Assert.True(MeasureReader.TryRead("lift on ring", apparatus, out var measure, out var mistake), mistake?.Finding);
        return Rehearsal.Ask(apparatus, measure, new RehearsalOptions(1e-3) { Only = RouteName.Series }, null, TestContext.Current.CancellationToken).Answers.Single().Value / conductivity;
    }
}
