using System.Globalization;
using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Balls;
using Xunit;

namespace Fieldwright.Tests.Series.Balls;

public class SphereResponseTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    public static TheoryData<double, double, double> Published
    {
        get
        {
            var rows = new TheoryData<double, double, double>();
            foreach (var line in File.ReadLines(Path.Combine(Repository.Root, "validation", "reference", "sphere-response.csv")).Where(l => l.Length > 0 && char.IsAsciiDigit(l[0])))
            {
                var cells = line.Split(',').Select(c => double.Parse(c, NumberStyles.Float, CultureInfo.InvariantCulture)).ToArray();
                rows.Add(cells[0], cells[1], cells[2]);
            }
            return rows;
        }
    }

    // Smythe, Static and Dynamic Electricity, ch. X, printed to 8 decimals.
    [Theory]
    [MemberData(nameof(Published))]
    public void SolidBall_EvenField_AgreesWithSmythe(double radiusOverSkin, double real, double imaginary)
    {
        var moment = Solid(radiusOverSkin).Polarisability / (2 * Math.PI * 1e-6);
        Assert.Equal(real, moment.Real, 6e-9);
        Assert.Equal(imaginary, moment.Imaginary, 6e-9);
    }

    [Fact]
    public void SolidBall_FeebleConductor_AgreesWithItsSeries()
    {
        // D → −(2j/15)(a/δ)² + O((a/δ)⁴): no digits may be lost at a thousandth of a skin depth.
        var d = Solid(1e-3).Polarisability / (2 * Math.PI * 1e-6);
        Assert.Equal(-2.0 / 15 * 1e-6, d.Imaginary, 1e-17);
    }

    // TEAM problem 6/11 as recalled: inner radius 50, outer 55 mm, 5e8 S/m, 50 Hz; five digits printed, computed by an independent layered solution.
    [Fact]
    public void HollowBall_ThickWall_CentreAgreesWithTeam11()
    {
        var centre = new SphereResponse(SphereBody.Hollow(0.055, 0.005, 5e8), 50, 1).CentreOverApplied;
        Assert.Equal(-0.034918, centre.Real, 1e-6);
        Assert.Equal(-0.041499, centre.Imaginary, 1e-6);
    }

    [Fact]
    public void HollowBall_ThinWall_AgreesWithExactAndNearlyWithThinShell()
    {
        // 50 mm, 1 mm wall, 35 MS/m, 50 Hz: exact 0.95103 − j 0.21694 printed to five digits; thin shell 1/(1 + jωμ₀σat/3) good to 0.05 %.
        var centre = new SphereResponse(SphereBody.Hollow(0.050, 0.001, 35e6), 50, 1).CentreOverApplied;
        Assert.Equal(0.95103, centre.Real, 6e-6);
        Assert.Equal(-0.21694, centre.Imaginary, 6e-6);
    }

    [Theory]
    [InlineData(1e-3, 1e-3)]
    [InlineData(1e-4, 1e-4)]
    [InlineData(1e-5, 1e-5)]
    public void HollowBall_WallThinner_ApproachesThinShellAtFirstOrder(double wallOverRadius, double bound)
    {
        // Same σt: the difference falls in proportion to t/a.
        const double a = 0.05;
        var omega = 2 * Math.PI * 50;
        var sigma = 0.7e5 / (a * wallOverRadius) * a; // σt = 3.5 kS throughout
        var x = omega * Mu0 * sigma * a * a * wallOverRadius / 3;
        var exact = new SphereResponse(SphereBody.Hollow(a, a * wallOverRadius, sigma), 50, 1).CentreOverApplied;
        var thin = 1 / new Complex(1, x);
        Assert.True(Complex.Abs(exact - thin) < bound, FormattableString.Invariant($"off by {Complex.Abs(exact - thin)}"));
    }

    [Theory]
    [InlineData(1, 4.0)]
    [InlineData(2, 4.0)]
    [InlineData(5, 1000.0)]
    public void PermeableBall_ConstantField_AgreesWithPoisson(int l, double permeability)
    {
        // T = l(1−μ)/((l+1)+lμ), Stratton 4.18 for degree 1.
        var t = new SphereResponse(SphereBody.Solid(0.01, 1e7, permeability), 0, 6).Ratios[l];
        Assert.Equal(l * (1 - permeability) / (l + 1 + l * permeability), t.Real, 1e-14);
        Assert.Equal(0, t.Imaginary);
    }

    [Fact]
    public void PermeableShell_ConstantField_ShieldsAsMaxwellSays()
    {
        // Inside/applied = 9μ/((2μ+1)(μ+2) − 2(μ−1)²(b/a)³), Maxwell art. 431.
        const double mu = 200, b = 0.045, a = 0.05;
        var centre = new SphereResponse(SphereBody.Hollow(a, a - b, 0, mu), 0, 1).CentreOverApplied;
        Assert.Equal(9 * mu / ((2 * mu + 1) * (mu + 2) - 2 * (mu - 1) * (mu - 1) * Math.Pow(b / a, 3)), centre.Real, 1e-13);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(30)]
    [InlineData(3000)]
    public void Layers_OfOneMetal_AnswerAsOneBall(double radiusOverSkin)
    {
        var sigma = Conductivity(0.01, radiusOverSkin, 2.5);
        var one = new SphereResponse(SphereBody.Solid(0.01, sigma, 2.5), 50, 40);
        var many = new SphereResponse(new SphereBody(new SphereLayer(0.001, sigma, 2.5), new SphereLayer(0.0035, sigma, 2.5), new SphereLayer(0.0099, sigma, 2.5), new SphereLayer(0.01, sigma, 2.5)), 50, 40);
        for (var l = 1; l <= 40; l++)
            Assert.True(Complex.Abs(one.Ratios[l] - many.Ratios[l]) < 1e-12 * Complex.Abs(one.Ratios[l]), FormattableString.Invariant($"degree {l}: {one.Ratios[l]} {many.Ratios[l]}"));
    }

    [Fact]
    public void Layers_ThreeDifferent_AgreeWithRadialIntegration()
    {
        // f″ + 2f′/r − (l(l+1)/r² + k²) f = 0 by fourth-order Runge–Kutta, (rf)′/μ and f continuous.
        SphereLayer[] layers = [new(0.004, 5e6, 30), new(0.007, 0, 1), new(0.009, 4e7, 2), new(0.010, 1e7, 1)];
        var response = new SphereResponse(new SphereBody(layers), 400, 5);
        for (var l = 1; l <= 5; l++)
        {
            double r = 1e-5;
            Complex f = 1, g = l + 1; // g = (rf)′, f = r^l scaled
            var permeability = layers[0].RelativePermeability;
            foreach (var layer in layers)
            {
                g *= layer.RelativePermeability / permeability;
                permeability = layer.RelativePermeability;
                var k2 = new Complex(0, 2 * Math.PI * 400 * Mu0 * layer.RelativePermeability * layer.Conductivity);
                const int steps = 6000;
                // In x = ln r: df/dx = g − f, dg/dx = (l(l+1) + k²r²) f.
                var h = Math.Log(layer.OuterRadius / r) / steps;
                for (var i = 0; i < steps; i++)
                {
                    (Complex, Complex) Slope(double at, Complex ff, Complex gg) => (gg - ff, (l * (l + 1) + k2 * at * at) * ff);
                    var (a1, b1) = Slope(r, f, g);
                    var (a2, b2) = Slope(r * Math.Exp(h / 2), f + h / 2 * a1, g + h / 2 * b1);
                    var (a3, b3) = Slope(r * Math.Exp(h / 2), f + h / 2 * a2, g + h / 2 * b2);
                    var (a4, b4) = Slope(r * Math.Exp(h), f + h * a3, g + h * b3);
                    f += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
                    g += h / 6 * (b1 + 2 * b2 + 2 * b3 + b4);
                    r *= Math.Exp(h);
                }
                r = layer.OuterRadius;
            }
            var z = g / f / permeability;
            var expected = l / (l + 1.0) * (z - (l + 1)) / (z + l);
            Assert.True(Complex.Abs(expected - response.Ratios[l]) < 1e-8 * Complex.Abs(expected), FormattableString.Invariant($"degree {l}: {expected} {response.Ratios[l]}"));
        }
    }

    [Fact]
    public void PerfectConductor_AnyDegree_IsTheLimitOfGoodConductors()
    {
        var perfect = new SphereResponse(SphereBody.PerfectConductor(0.01), 50, 8);
        var good = Solid(1e6, 8);
        for (var l = 1; l <= 8; l++)
        {
            Assert.Equal(l / (l + 1.0), perfect.Ratios[l].Real, 1e-15);
            Assert.True(Complex.Abs(perfect.Ratios[l] - good.Ratios[l]) < 2e-5); // falls as (l+½)δ/a
        }
    }

    [Fact]
    public void Body_LayersInwards_IsRefused() =>
        Assert.Throws<ArgumentException>(() => new SphereBody(new SphereLayer(0.02, 1e6), new SphereLayer(0.01, 1e6)));

    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(-1, 1)]
    [InlineData(1e6, 0)]
    public void Body_PropertyOutOfRange_IsRefused(double conductivity, double permeability) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => SphereBody.Solid(0.01, conductivity, permeability));

    private static double Conductivity(double a, double radiusOverSkin, double permeability = 1) =>
        2 * radiusOverSkin * radiusOverSkin / (2 * Math.PI * 50 * Mu0 * permeability * a * a);

    private static SphereResponse Solid(double radiusOverSkin, int degrees = 1) =>
        new(SphereBody.Solid(0.01, Conductivity(0.01, radiusOverSkin)), 50, degrees);
}
