using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.MagnetOnIron;

/// <summary>Pull of a disc magnet on an iron plane by the round field route; see source.md.</summary>
public class MagnetOnIron
{
    private const double Radius = 0.010, Height = 0.010, Polarisation = 1.2;

    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData(0.001)]
    [InlineData(0.005)]
    public void MagnetOnIronPlane_Attraction_AgreesWithItsImage(double gap)
    {
        // The plane ends at fifteen radii, where the magnet's field has fallen to some 1e-4 of that at its face; steel of 10⁵ stands for ideal iron (short by about 1e-5).
        var parts = new[] { Outline.Rectangle(1, 0, -0.05, 0.15, 0), Magnet(2, gap) };
        var force = Pull(parts, new() { [1] = new RegionMatter("iron", 0, 1e5), [2] = MagnetMatter });
        double published = Published("disc R10 h10 J1.2 on ideal iron plane", gap);
        Bars.Reach("magnet over wide iron, pull", force.Value, force.ErrorBar, -published, 1e-3 * published);
    }

    private static RegionMatter MagnetMatter => new("magnet") { Remanence = new PlaneVector(0, Polarisation) };

    private static Outline Magnet(int region, double bottom) => Outline.Rectangle(region, 0, bottom, Radius, bottom + Height);

    private static GoalAnswer Pull(Outline[] parts, Dictionary<int, RegionMatter> matter) =>
        AdaptiveField.Solve(new FieldModel { Symmetry = Symmetry.Round, Parts = parts, Matter = matter }, [new ForceGoal("pull", [2])], new AdaptiveDemand(2e-3)).Answers[0];

    private static double Published(string name, double gap)
    {
        var table = PublishedTable.Read("magnets-coaxial-force.csv");
        int row = Enumerable.Range(0, table.Count).First(r => table.Text(r, "case") == name && table.Number(r, "gap_m") == gap);
        return table.Number(row, "attraction_N");
    }
}
