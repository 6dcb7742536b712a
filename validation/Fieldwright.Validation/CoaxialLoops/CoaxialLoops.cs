using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.CoaxialLoops;

/// <summary>Mutual inductance and force of two coaxial loops by the round field route; see source.md.</summary>
public class CoaxialLoops
{
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(8)]
    public void CoaxialLoops_MutualInductanceAndForce_AgreeWithMaxwell(int row)
    {
        var table = PublishedTable.Read("mutual-loops.csv");
        double a = table.Number(row, "a_m"), b = table.Number(row, "b_m"), z = table.Number(row, "z_m");
        // Small square sections stand for filaments; the mean over a section differs by the square of its side over the distance, times a factor below one.
        double side = 0.01 * Math.Min(Math.Min(a, b), double.Hypot(a - b, z));
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Square(1, a, 0, side), Square(2, b, z, side)],
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [FieldWinding.InOneRegion("first", 1, 1, new ImposedCurrent(1)), FieldWinding.InOneRegion("second", 2, 1, new ImposedCurrent(1))],
        };
        var alone = model with { Windings = [model.Windings[0], model.Windings[1] with { Drive = new OpenCircuit() }] };
        var mutual = AdaptiveField.Solve(alone, [new FluxLinkageGoal("M", "second")], new AdaptiveDemand(5e-4)).Answers[0];
        double published = table.Number(row, "M_H");
        Bars.Reach("loops on one axis, mutual inductance", mutual.Value, mutual.ErrorBar, published, 1e-4 * published);

        var force = AdaptiveField.Solve(model, [new ForceGoal("F", [2])], new AdaptiveDemand(2e-3)).Answers[0];
        double gradient = table.Number(row, "dM_dz_H_per_m");
        Bars.Reach("loops on one axis, force", force.Value, force.ErrorBar, gradient, 1e-4 * Math.Abs(gradient));
    }

    private static Outline Square(int region, double r, double z, double side) =>
        Outline.Rectangle(region, r - 0.5 * side, z - 0.5 * side, r + 0.5 * side, z + 0.5 * side);
}
