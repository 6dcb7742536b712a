using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.CoaxialMagnets;

/// <summary>Pull between magnets on one axis and on an iron plane, by the field route; see source.md.</summary>
public class CoaxialMagnetsByField
{
    private const double Millimetre = 1e-3;

    public static TheoryData<double, double> Pairs()
    {
        var table = PublishedTable.Read("magnets-coaxial-force.csv");
        var data = new TheoryData<double, double>();
        for (var i = 0; i < table.Count; i++)
            if (table.Text(i, "case") == "disc R10 h10 J1.2 pair") data.Add(table.Number(i, "gap_m"), table.Number(i, "attraction_N"));
        return data;
    }

    /// <summary>Rigid magnets, so the surface-current integral is exact; six digits in the table. Tolerance: our own bar.</summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [MemberData(nameof(Pairs))]
    public void TwoDiscMagnets_Pull_AgreesWithSurfaceCurrents(double gap, double pull)
    {
        var model = Model([Magnet(1, -10 * Millimetre), Magnet(2, gap)]);
        var answers = Solve(model, [new ForceGoal("lower", [1]), new ForceGoal("upper", [2])]);
        Bars.Reach("magnets on one axis, pull", answers[0].Value, answers[0].ErrorBar, pull);
        Bars.Reach("magnets on one axis, pull", answers[1].Value, answers[1].ErrorBar, -pull);
    }

    /// <summary>By images the pull of an ideal plane at a gap is that of the pair at twice the gap. The plane here is a steel disc of eight magnet radii with
    /// relative permeability 1e4: finite permeability takes 2/μr of the image, 2e-4, and the edge sees a dipole field weaker by 8³: together 3e-3 allowed.</summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData(0.5)]
    [InlineData(5)]
    public void DiscMagnet_OverAnIronPlane_IsPulledAsByItsImage(double gapInMillimetres)
    {
        var gap = gapInMillimetres * Millimetre;
        var table = PublishedTable.Read("magnets-coaxial-force.csv");
        var row = Enumerable.Range(0, table.Count).Single(i => table.Text(i, "case") == "disc R10 h10 J1.2 on ideal iron plane" && Math.Abs(table.Number(i, "gap_m") - gap) < 1e-9);
        var pull = table.Number(row, "attraction_N");
        var model = Model([Magnet(1, gap), Outline.Rectangle(3, 0, -20 * Millimetre, 80 * Millimetre, 0)]);
        var answer = Solve(model, [new ForceGoal("magnet", [1])])[0];
        Bars.Reach("magnet over iron, pull", answer.Value, answer.ErrorBar, -pull, 3e-3 * pull);
    }

    private static Outline Magnet(int region, double bottom) => Outline.Rectangle(region, 0, bottom, 10 * Millimetre, bottom + (10 * Millimetre));

    private static FieldModel Model(IReadOnlyList<Outline> parts)
    {
        var magnet = new RegionMatter("magnet") { Remanence = new(0, 1.2) };
        return new FieldModel
        {
            Symmetry = Symmetry.Round,
            Parts = parts,
            Matter = new Dictionary<int, RegionMatter> { [1] = magnet, [2] = magnet, [3] = new("iron", 0, 1e4) },
        };
    }

    private static IReadOnlyList<GoalAnswer> Solve(FieldModel model, IReadOnlyList<Goal> goals)
    {
        var result = AdaptiveField.Solve(model, goals, new(3e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        return result.Answers;
    }
}
