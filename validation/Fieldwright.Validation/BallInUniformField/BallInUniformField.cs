using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.BallInUniformField;

/// <summary>A conducting ball and a hollow ball in a uniform alternating field, by the round field route; see source.md.</summary>
public class BallInUniformField
{
    private const double Radius = 0.05, Sigma = 3.5e7;
    private const int Bands = 24;

    public static TheoryData<double, double> Rows()
    {
        var table = PublishedTable.Read("sphere-response.csv");
        var data = new TheoryData<double, double>();
        for (var i = 0; i < table.Count; i++)
            if (table.Number(i, "a_over_delta") is 0.5 or 1 or 2 or 5 or 10) data.Add(table.Number(i, "a_over_delta"), table.Number(i, "Im_m_over_2pia3H0"));
        return data;
    }

    /// <summary>
    /// Mean power = −½μ0·ω·H0²·2πa³·Im D. The field is made by a thin spherical sheet of 24 bands at four radii whose turns follow sin θ. What that costs: the field of a
    /// thin shell of thickness t is uniform to order t/ρ only in size, which is measured here by a static solution of the same sheet without the ball (frequency and
    /// conductivity zero), and its unevenness is of the order of the 47th zonal harmonic at a quarter of its radius: nothing. The ball's own field is not reflected by a current sheet.
    /// </summary>
    [Trait(Bars.Trait, "yes")]
    [Theory]
    [MemberData(nameof(Rows))]
    public void ConductingBall_Heat_AgreesWithTheExactResponse(double ratio, double response)
    {
        var delta = Radius / ratio;
        var omega = 2 / (PhysicalConstants.MagneticConstant * Sigma * delta * delta);
        var result = Solve(Model([Ball(1, Radius)], omega), [new LossGoal("heat", [1])], 1e-3);
        var heat = result.Answers[0];
        var h0 = UniformField(result.Field) / PhysicalConstants.MagneticConstant;
        var exact = -0.5 * PhysicalConstants.MagneticConstant * omega * h0 * h0 * 2 * Math.PI * Math.Pow(Radius, 3) * response;
        // the applied field enters squared and is known to its own 1e-4
        Bars.Reach("ball in a uniform field, heat", heat.Value, heat.ErrorBar, exact, 4e-4 * exact);
    }

    /// <summary>TEAM 6/11 sizes from memory; the answer is the exact layered solution: inside/applied = −0.034918 − j 0.041499.</summary>
    [Fact]
    public void HollowBall_FieldInside_AgreesWithTheLayeredSolution()
    {
        var model = Model([Ball(2, 0.055), Ball(1, 0.05)], 2 * Math.PI * 50) with { Matter = new Dictionary<int, RegionMatter> { [2] = new("wall", 5e8) } };
        var result = Solve(model, [new MeanFluxDensityGoal("inside", 1) { Uncorrected = true }], 2e-3);
        var field = (HarmonicField)result.Field;
        var inside = field.MeanFluxDensity(1).Y / UniformField(field);
        var exact = new Complex(-0.034918, -0.041499);
        var bar = result.Answers[0].ErrorBar / UniformField(field);
        Assert.True(Complex.Abs(inside - exact) <= bar + (2e-4 * exact.Magnitude) + 1e-6, $"{inside} against {exact}, bar {bar:G3}");
    }

    private static FieldModel Model(IReadOnlyList<Outline> bodies, double omega)
    {
        double inner = 4 * Radius, outer = 4.1 * Radius;
        var step = 180.0 / Bands;
        var sheet = new List<Outline>();
        var sides = new List<WindingSide>();
        for (var k = 0; k < Bands; k++)
        {
            var from = -90 + (k * step);
            sheet.Add(Outline.AnnulusSector(10 + k, new(0, 0), inner, outer, from, step));
            sides.Add(new(10 + k, 1e3 * (Math.Sin((from + step) * Math.PI / 180) - Math.Sin(from * Math.PI / 180))));
        }
        return new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = omega / (2 * Math.PI),
            Parts = [.. sheet, .. bodies],
            Matter = new Dictionary<int, RegionMatter> { [1] = new("ball", Sigma) },
            Windings = [new FieldWinding("sheet", sides, new ImposedCurrent(10))],
        };
    }

    private static Outline Ball(int region, double radius) => Outline.HalfDisc(region, radius);

    /// <summary>Flux density at the centre with nothing conducting.</summary>
    private static double UniformField(MagneticField field)
    {
        var bare = field.Meshed.With(field.Model with { Frequency = 0 });
        return StaticField.Solve(bare, TestContext.Current.CancellationToken).FluxDensity(0, 0).Y;
    }

    private static AdaptiveResult Solve(FieldModel model, IReadOnlyList<Goal> goals, double relativeError)
    {
        var result = AdaptiveField.Solve(model, goals, new(relativeError), cancellation: TestContext.Current.CancellationToken);
        Assert.True(result.DemandMet);
        return result;
    }
}
