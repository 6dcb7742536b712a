using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>Solid steel that saturates under alternating current: its law, its iteration and the slope its dual solutions see.</summary>
public class SaturatedHarmonicTests
{
    private static readonly BhCurve Steel = BhCurve.Create("test steel", [60, 90, 120, 200, 500, 1500, 5000, 15000, 50000], [0.2, 0.5, 0.8, 1.1, 1.35, 1.5, 1.68, 1.88, 2.1]);

    private static readonly Outline[] Parts = [Outline.Rectangle(1, 12e-3, -15e-3, 20e-3, 15e-3), Outline.Rectangle(2, 0, -25e-3, 10e-3, 25e-3)];

    [Theory]
    [InlineData(1.0)]
    [InlineData(0.95)]
    public void EffectiveReluctivity_FromItsTable_IsTheFundamentalOfTheCurve(double stacking)
    {
        var matter = new RegionMatter("steel") { Curve = Steel, StackingFactor = stacking };
        ReluctivityLaw law = SinusoidalLaw.Of(matter), still = ReluctivityLaw.Static(matter);
        foreach (var b in new[] { 0, 0.013, 0.21, 0.77, 1.234, 1.5, 1.777, 2.05, 2.9, 3.9, 4.5, 7 })
        {
            // the promise of the rule on a table of ordinary steel, whose slope bends at every point: 1e-4
            var sum = 0.0;
            for (var k = 0; k < 4000; k++)
            {
                var sin = Math.Sin((k + 0.5) * Math.PI / 8000);
                sum += still.Reluctivity(b * sin) * sin * sin / 2000;
            }
            Assert.Equal(1, law.Reluctivity(b) / sum, 1e-4);
            if (b == 0) continue;
            var slope = ((law.Reluctivity(b * 1.00001) * b * 1.00001) - (law.Reluctivity(b * 0.99999) * b * 0.99999)) / (0.00002 * b);
            Assert.Equal(1, law.DifferentialReluctivity(b) / slope, 1e-5);
        }
    }

    [Theory]
    [InlineData("loss")]
    [InlineData("energy")]
    [InlineData("linkage")]
    public void Dual_OfAnAnswerInSaturation_IsItsSlopeAgainstTheCurrent(string asked)
    {
        var mesh = MeshedModel.Create(Model(1), 0.5, TestContext.Current.CancellationToken);
        Goal goal = asked switch { "loss" => new LossGoal("loss", [2]), "energy" => new EnergyGoal("energy"), _ => new FluxLinkageGoal("linkage", "coil") };
        double At(double current) => GoalFunctional.Of(Solved.Harmonic(mesh.With(Model(current))), goal).Value;
        var field = Solved.Harmonic(mesh);
        var dual = ErrorEstimate.DualOf(field, goal);
        var slope = (At(1.002) - At(0.998)) / 0.004;
        Assert.Equal(1, NodeVectors.Dot(mesh.Ports.Windings[0], dual).Real / slope, 5e-3);
    }

    [Fact]
    public void Iteration_FromAFieldNearBy_EndsAtTheSameFieldSooner()
    {
        var mesh = MeshedModel.Create(Model(1), 0.5, TestContext.Current.CancellationToken);
        var before = Solved.Harmonic(mesh.With(Model(0.95)));
        var cold = Solved.Harmonic(mesh);
        var warm = HarmonicField.Solve(mesh, before, TestContext.Current.CancellationToken);
        Assert.Equal(1, warm.Loss(2) / cold.Loss(2), 1e-5);
        Assert.True(warm.SaturationSteps.Count < cold.SaturationSteps.Count, $"{warm.SaturationSteps.Count} steps, {cold.SaturationSteps.Count} from nothing");
    }

    /// <summary>A coil of 1500 turns round a solid bar, driven well into saturation at its skin.</summary>
    private static FieldModel Model(double current) => new()
    {
        Symmetry = Symmetry.Round,
        Parts = Parts,
        Matter = Solved.Matter((2, new RegionMatter("steel", 4e6) { Curve = Steel })),
        Windings = [FieldWinding.InOneRegion("coil", 1, 1500, new ImposedCurrent(new Complex(current, 0)))],
        Frequency = 20,
    };
}
