using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.ShortSolenoid;

/// <summary>Nagaoka's coefficient of a current sheet by the round field route; see source.md.</summary>
public class ShortSolenoid
{
    private const double Radius = 0.05, MagneticConstant = 4e-7 * Math.PI;

    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData("0.10")]
    [InlineData("0.30")]
    [InlineData("0.60")]
    [InlineData("1.00")]
    public void ShortSolenoid_NagaokaCoefficient_AgreesWithGrover(string lengthOverDiameter)
    {
        var table = PublishedTable.Read("nagaoka.csv");
        int row = Enumerable.Range(0, table.Count).First(r => table.Text(r, "length_over_diameter") == lengthOverDiameter);
        double published = table.Number(row, "K_grover_table36"), length = 2 * Radius * table.Number(row, "length_over_diameter");
        // A sheet has no thickness; what a winding's thickness does is linear in it to first order, so two thicknesses give the sheet.
        const double Thickness = 0.002 * Radius;
        var (thin, thinBar) = Coefficient(length, Thickness);
        var (thick, thickBar) = Coefficient(length, 2 * Thickness);
        double sheet = 2 * thin - thick;
        // The extrapolation leaves the square of the thickness over the length, times a factor of order one; the table itself is good to 2e-6.
        Bars.Reach("short solenoid, inductance", sheet, 2 * thinBar + thickBar, published, Math.Pow(2 * Thickness / length, 2) + 2e-6);
    }

    private static (double Value, double Bar) Coefficient(double length, double thickness)
    {
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = [Outline.Rectangle(1, Radius - 0.5 * thickness, -0.5 * length, Radius + 0.5 * thickness, 0.5 * length)],
            Matter = new Dictionary<int, RegionMatter>(),
            Windings = [FieldWinding.InOneRegion("coil", 1, 1, new ImposedCurrent(1))],
        };
        var answer = AdaptiveField.Solve(model, [new FluxLinkageGoal("linkage", "coil")], new AdaptiveDemand(1e-4)).Answers[0];
        double scale = length / (MagneticConstant * Math.PI * Radius * Radius);
        return (scale * answer.Value, scale * answer.ErrorBar);
    }
}
