using Fieldwright.Fields;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>A steel tube between a current and its coaxial return: H = I/(2πr) whatever the steel, so B = B(H) and every flux and energy is an integral of
/// the curve (Ampère's law).</summary>
public class NonlinearSteelTests
{
    private const double Inner = 0.4, Outer = 0.7;

    private static readonly BhCurve Steel = BhCurve.Create("test steel",
        [50, 100, 200, 400, 1000, 4000, 10000, 40000], [0.2, 0.6, 1.0, 1.3, 1.5, 1.7, 1.85, 2.1]);

    [Theory]
    [InlineData(100)]
    [InlineData(2000)]
    [InlineData(20000)]
    public void SteelTube_RoundACurrent_CarriesTheFluxOfItsCurve(double current)
    {
        var field = Tube(current, Steel, 1, 32);
        var flux = Integral(r => Steel.FluxDensity(current / (2 * Math.PI * r)));
        // order four in the flux: (Δr/r)⁴ ≈ 1e-4 of a smooth field
        Assert.InRange(Math.Abs(field.Flux(new(Outer, 0), new(Inner, 0))) / flux, 0.9999, 1.0001);
        Assert.True(field.NewtonSteps[^1] < 1e-10);
        // the end of Newton's method is quadratic: the last step is far below the square root of rounding after the one before was below 1e-3
        Assert.True(field.NewtonSteps.Count <= 25, $"{field.NewtonSteps.Count} steps");
    }

    [Fact]
    public void SteelTube_LaminatedWithAStackingFactor_CarriesSteelAndAirInParallel()
    {
        const double current = 2000, factor = 0.9;
        var field = Tube(current, Steel, factor, 32);
        double B(double r)
        {
            var h = current / (2 * Math.PI * r);
            return (factor * Steel.FluxDensity(h)) + ((1 - factor) * PhysicalConstants.MagneticConstant * h);
        }
        Assert.InRange(Math.Abs(field.Flux(new(Outer, 0), new(Inner, 0))) / Integral(B), 0.9999, 1.0001);
    }

    [Fact]
    public void SteelTube_EnergyAndCoenergy_AddUpToCurrentTimesLinkage()
    {
        const double current = 3000;
        var field = Tube(current, Steel, 1, 32);
        var linkage = field.FluxLinkage("go") * current + (field.FluxLinkage("return") * current);
        Assert.Equal(linkage, field.Energy + field.Coenergy, 1e-9 * linkage);
        // dW' = λ dI: coenergy by three-point Gauss over the current, against that of the field
        var slope = (Tube(current * 1.001, Steel, 1, 32).Coenergy - Tube(current * 0.999, Steel, 1, 32).Coenergy) / (0.002 * current);
        Assert.InRange(slope / (linkage / current), 1 - 1e-5, 1 + 1e-5);
    }

    [Fact]
    public void InductanceMatrix_InSaturation_IsTheSlopeOfLinkage()
    {
        var at = Tube(5000, Steel, 1, 32);
        var up = Tube(5005, Steel, 1, 32);
        var down = Tube(4995, Steel, 1, 32);
        var l = at.InductanceMatrix();
        // both windings carry the same current, so the slope is the sum of the row
        var slope = (up.FluxLinkage("go") - down.FluxLinkage("go")) / 10;
        Assert.InRange((l[0, 0] + l[0, 1]) / slope, 1 - 1e-4, 1 + 1e-4);
        Assert.Equal(l[0, 1], l[1, 0], 1e-9 * Math.Abs(l[0, 1]));
    }

    private static double Integral(Func<double, double> b)
    {
        const int steps = 20000;
        var sum = 0.0;
        for (var k = 0; k < steps; k++) sum += b(Inner + ((Outer - Inner) * (k + 0.5) / steps));
        return sum * (Outer - Inner) / steps;
    }

    private static StaticField Tube(double current, BhCurve curve, double stacking, int sectors)
    {
        double[] radii = [.. PolarMesh.Steps(0, 0.2, 2), .. PolarMesh.Steps(0.2, Inner, 2), .. PolarMesh.Steps(Inner, Outer, 6), 0.8, 0.9, 1.1];
        var space = PolarMesh.Build(Symmetry.Long, radii, sectors, (ring, _) => ring switch { < 2 => 1, < 4 => 0, < 10 => 2, 11 => 3, _ => 0 });
        return Solved.Static(new FieldModel
        {
            Symmetry = Symmetry.Long,
            Parts = PolarMesh.Outlines(1, 2, 3),
            Matter = Solved.Matter((2, new RegionMatter("steel") { Curve = curve, StackingFactor = stacking })),
            Windings = [FieldWinding.InOneRegion("go", 1, 1, new ImposedCurrent(current)), FieldWinding.InOneRegion("return", 3, -1, new ImposedCurrent(current))],
        }, space);
    }
}
