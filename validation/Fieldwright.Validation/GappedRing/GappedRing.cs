using Fieldwright.Fields;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Validation.GappedRing;

/// <summary>Flux of a ring with a gap, by the planar field route and by reluctances; see source.md.</summary>
public class GappedRing
{
    private const double Inner = 0.040, Outer = 0.060, Depth = 0.020, Ampereturns = 500, Permeability = 2000, MagneticConstant = 4e-7 * Math.PI;

    [Trait(Bars.Trait, "yes")]
    [Fact]
    public void ClosedRing_Flux_IsAmperesLaw()
    {
        // Exact for a coil spread evenly all round: Φ = μ NI d ln(ro/ri) / 2π.
        var flux = Solve(0);
        double exact = MagneticConstant * Permeability * Ampereturns * Depth * Math.Log(Outer / Inner) / (2 * Math.PI);
        Bars.Reach("closed ring, flux", flux.Value, flux.ErrorBar, exact, 1e-6 * exact);
    }

    [Theory]
    [InlineData(0.0002)]
    [InlineData(0.0005)]
    [InlineData(0.001)]
    public void GappedRing_TextbookFlux_LiesBetweenThatOfTheFacesAndThatOfTheRing(double gap)
    {
        // The sum of reluctances knows neither bulge nor leakage. Both are paths beside the faces: they let more flux through the ring opposite the gap than the
        // sum says, and by the drop this makes in the steel they leave less of it to the faces.
        var far = Solve(gap);
        var faces = Solve(gap, new FluxGoal("faces", new PlaneVector(Inner, 0), new PlaneVector(Outer, 0)));
        double sum = Ampereturns / (Steel(gap) + gap / (MagneticConstant * Depth * (Outer - Inner)));
        Assert.InRange(sum, Math.Abs(faces.Value) - faces.ErrorBar, Math.Abs(far.Value) + far.ErrorBar);
        Assert.True(Math.Abs(far.Value) > 1.01 * Math.Abs(faces.Value), "Bulge and leakage are not to be missed at this gap.");
    }

    [Fact]
    public void GappedRing_SmallGap_ApproachesTheReluctancesWithoutFringing()
    {
        const double Gap = 0.0001;
        var flux = Solve(Gap);
        double bare = Ampereturns / (Steel(Gap) + Gap / (MagneticConstant * Depth * (Outer - Inner)));
        // The gap still fringes: by the bulge above 2.4 % of its permeance, which is half of the circuit's reluctance.
        Assert.Equal(bare, flux.Value, 0.03 * bare);
    }

    // Reluctance of the cut ring's steel, A/Wb, the field running along circles.
    private static double Steel(double gap) =>
        (2 * Math.PI - gap / (0.5 * (Inner + Outer))) / (MagneticConstant * Permeability * Depth * Math.Log(Outer / Inner));

    private static GoalAnswer Solve(double gap, FluxGoal? goal = null)
    {
        var centre = new Point(0, 0);
        var steel = gap == 0
            ? new[] { Outline.Circle(1, centre, Outer), Outline.Circle(2, centre, Inner) }
            : [Outline.RingWithGap(1, centre, Inner, Outer, gap)];
        // Sheets of current just inside and just outside the limb, all round.
        double[] radii = [Inner - 0.003, Inner - 0.001, Outer + 0.001, Outer + 0.003];
        var parts = new List<Outline>
        {
            Outline.Circle(11, centre, radii[3]), Outline.Circle(12, centre, radii[2]),
        };
        parts.AddRange(steel);
        parts.AddRange([Outline.Circle(13, centre, radii[1]), Outline.Circle(14, centre, radii[0])]);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long,
            Depth = Depth,
            Parts = parts,
            Matter = new Dictionary<int, RegionMatter> { [1] = new("steel", 0, Permeability) },
            Windings = [new FieldWinding("coil", [new(13, Ampereturns), new(11, -Ampereturns)], new ImposedCurrent(1))],
        };
        return AdaptiveField.Solve(model, [goal ?? new FluxGoal("flux", new PlaneVector(-Inner, 0), new PlaneVector(-Outer, 0))], new AdaptiveDemand(2e-3)).Answers[0];
    }
}
