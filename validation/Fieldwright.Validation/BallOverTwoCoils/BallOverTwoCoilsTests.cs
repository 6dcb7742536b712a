using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Validation.BallOverTwoCoils;

/// <summary>Lift and heat of a ball on the axis of two coils by series and by field; see source.md.</summary>
public class BallOverTwoCoilsTests
{
    private const double Radius = 0.012, Frequency = 400;
    private static readonly Complex InnerCurrent = new(0, -8), OuterCurrent = 12;

    [Trait(Bars.Trait, "yes")]
    [Theory]
    [InlineData(0.0015, 35e6, 1, 0.016)] // hollow aluminium
    [InlineData(0, 58e6, 1, 0.016)] // solid copper
    [InlineData(0, 5e6, 50, 0.020)] // solid steel, drawn down
    public void Ball_OnTheAxis_SeriesLiesWithinTheBarsOfTheField(double wall, double conductivity, double permeability, double height)
    {
        var body = wall > 0 ? SphereBody.Hollow(Radius, wall, conductivity, permeability) : SphereBody.Solid(Radius, conductivity, permeability);
        var series = new BallOverCoils(body, [new(new ThickCoil(0.010, 0.022, -0.040, -0.002, 400), InnerCurrent), new(new ThickCoil(0.030, 0.042, -0.040, -0.002, 300), OuterCurrent)], Frequency)
            .Evaluate(new Vector(0, 0, height), 1e-8);

        List<Outline> parts = [Outline.Rectangle(1, 0.010, -0.040, 0.022, -0.002), Outline.Rectangle(2, 0.030, -0.040, 0.042, -0.002), Outline.HalfDisc(3, Radius, height)];
        if (wall > 0)
            parts.Add(Outline.HalfDisc(4, Radius - wall, height));
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = Frequency,
            Parts = parts,
            Matter = new Dictionary<int, RegionMatter> { [3] = new("ball", conductivity, permeability) },
            Windings = [FieldWinding.InOneRegion("inner", 1, 400, new ImposedCurrent(InnerCurrent)), FieldWinding.InOneRegion("outer", 2, 300, new ImposedCurrent(OuterCurrent))],
        };
        int[] ball = wall > 0 ? [3, 4] : [3];
        var field = AdaptiveField.Solve(model, [new ForceGoal("lift", ball), new LossGoal("heat", [3])], new(5e-3), cancellation: TestContext.Current.CancellationToken);
        Assert.True(field.DemandMet);
        Bars.Reach("ball over two coils, lift", field.Answers[0].Value, field.Answers[0].ErrorBar, series.Force.Z);
        Bars.Reach("ball over two coils, heat", field.Answers[1].Value, field.Answers[1].ErrorBar, series.Loss);
    }
}
