using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.CoilInductance;

/// <summary>Self and mutual inductance of round coils through the field route; see source.md.</summary>
public class CoilInductanceByField
{
    /// <summary>
    /// The table is for a current sheet. Coils of thickness 0.4 % and 0.8 % of their length are solved and carried to zero thickness in a straight line: what is left is of
    /// the order of the square, some 1e-5 of L. The table has six digits.
    /// </summary>
    [Theory]
    [InlineData("0.20")]
    [InlineData("0.50")]
    [InlineData("1.00")]
    public void Solenoid_Inductance_AgreesWithGroversTableOfNagaokasCoefficient(string ratio)
    {
        var table = PublishedTable.Read("nagaoka.csv");
        var row = Enumerable.Range(0, table.Count).Single(i => table.Text(i, "length_over_diameter") == ratio);
        const double radius = 0.025, turns = 100;
        var length = 2 * radius * table.Number(row, "length_over_diameter");
        var (thin, thinBar) = Solenoid(radius, length, 0.004 * length, turns);
        var (thick, thickBar) = Solenoid(radius, length, 0.008 * length, turns);
        var sheet = PhysicalConstants.MagneticConstant * turns * turns * Math.PI * radius * radius / length;
        var tolerance = ((2 * thinBar) + thickBar) / sheet;
        Assert.True(tolerance < 2e-3);
        Assert.InRange(((2 * thin) - thick) / sheet, table.Number(row, "K_grover_table36") - tolerance - 5e-5, table.Number(row, "K_grover_table36") + tolerance + 5e-5);
    }

    /// <summary>Loops are square sections of 0.4 % of the smaller radius: a section's spread changes M by its square over that of the distance, below 1e-4 for
    /// the pairs a tenth of a radius apart and more.</summary>
    [Trait(Bars.Trait, "yes")]
    [Fact]
    public void CoaxialLoops_MutualInductanceAndItsSlope_AgreeWithMaxwell()
    {
        var table = PublishedTable.Read("mutual-loops.csv");
        for (var i = 0; i < table.Count; i++)
        {
            double a = table.Number(i, "a_m"), b = table.Number(i, "b_m"), z = table.Number(i, "z_m");
            if (double.Hypot(a - b, z) < 0.1 * Math.Min(a, b)) continue;
            var side = 0.004 * Math.Min(a, b);
            var model = new FieldModel
            {
                Symmetry = Symmetry.Round,
                Parts = [Loop(1, a, 0, side), Loop(2, b, z, side)],
                Matter = new Dictionary<int, RegionMatter>(),
                Windings = [FieldWinding.InOneRegion("one", 1, 1, new ImposedCurrent(1)), FieldWinding.InOneRegion("two", 2, 1, new OpenCircuit())],
            };
            Near(model, new FluxLinkageGoal("M", "two"), table.Number(i, "M_H"));
            if (z == 0) continue;
            var both = model with { Windings = [model.Windings[0], model.Windings[1] with { Drive = new ImposedCurrent(1) }] };
            Near(both, new ForceGoal("dM/dz", [2]), table.Number(i, "dM_dz_H_per_m"));
        }
    }

    private static void Near(FieldModel model, Goal goal, double expected)
    {
        var result = AdaptiveField.Solve(model, [goal], new(5e-4), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet, goal.Name);
        var answer = result.Answers[0];
        Bars.Reach($"thin loops on one axis, {goal.Name}", answer.Value, answer.ErrorBar, expected, 1e-4 * Math.Abs(expected));
    }

    private static Outline Loop(int region, double radius, double z, double side) =>
        Outline.Rectangle(region, radius - (side / 2), z - (side / 2), radius + (side / 2), z + (side / 2));

    private static (double Inductance, double Bar) Solenoid(double radius, double length, double thickness, double turns)
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, radius - (thickness / 2), -length / 2, radius + (thickness / 2), length / 2)],
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [FieldWinding.InOneRegion("coil", 1, turns, new ImposedCurrent(1))],
        };
        var answer = AdaptiveField.Solve(model, [new FluxLinkageGoal("L", "coil")], new(3e-4), cancellation: TestContext.Current.CancellationToken).Answers[0];
        return (answer.Value, answer.ErrorBar);
    }
}
