using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Cylinders;
using Fieldwright.Series.Layers;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Cylinders;

public class CylinderBodyTests
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    // Smythe ch. X; Perry and Jones 1978; printed to eight decimals.
    [Fact]
    public void SolidBar_EveryRow_AgreesWithSmythe()
    {
        foreach (var row in SeriesReference.Rows("cylinder-rotating-field.csv"))
        {
            var c = Bar(SeriesReference.Number(row[0])).Reflection(50);
            Assert.Equal(SeriesReference.Number(row[1]), c.Real, 6e-9);
            Assert.Equal(SeriesReference.Number(row[2]), c.Imaginary, 6e-9);
        }
    }

    [Fact]
    public void Torque_TurningField_IsGreatestWhereThePublishedTableSays()
    {
        // a/δ = 1.778, |Im C|/a² = 0.37745.
        Assert.Equal(0.37745, -Bar(1.778).Reflection(50).Imaginary, 5e-6);
        Assert.True(-Bar(1.75).Reflection(50).Imaginary < -Bar(1.778).Reflection(50).Imaginary);
        Assert.True(-Bar(1.80).Reflection(50).Imaginary < -Bar(1.778).Reflection(50).Imaginary);
    }

    [Fact]
    public void Torque_SlowField_IsPiSigmaOmegaAFourthBSquaredOverFour()
    {
        const double a = 0.005, sigma = 35e6, f = 0.01, b = 0.1;
        var (torque, loss) = CylinderBody.Solid(a, sigma).PerMetre(new FieldEllipse(b, new Complex(0, -b)), f);
        var expected = Math.PI * sigma * 2 * Math.PI * f * Math.Pow(a, 4) * b * b / 4;
        SeriesReference.Close(expected, torque, 1e-6);
        SeriesReference.Close(expected * 2 * Math.PI * f, loss, 1e-6);
    }

    [Theory]
    [InlineData(3e6, 1)]
    [InlineData(6e7, 5)]
    public void Tube_AgreesWithRadialIntegration(double sigma, double permeability)
    {
        // f″ + f′/r − (1/r² + k²) f = 0 through the wall by Runge–Kutta in ln r, g = r f′.
        const double b = 0.006, c = 0.008;
        var k2 = new Complex(0, 2 * Math.PI * 400 * Mu0 * permeability * sigma);
        Complex f = b, g = b * permeability; // r f′ = f inside, times μ across
        const int steps = 2000;
        var h = Math.Log(c / b) / steps;
        for (var i = 0; i < steps; i++)
        {
            Complex F(double s) => 1 + k2 * b * b * Math.Exp(2 * (i + s) * h);
            var (a1, b1) = (g, F(0) * f);
            var (a2, b2) = (g + h / 2 * b1, F(0.5) * (f + h / 2 * a1));
            var (a3, b3) = (g + h / 2 * b2, F(0.5) * (f + h / 2 * a2));
            var (a4, b4) = (g + h * b3, F(1) * (f + h * a3));
            f += h / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
            g += h / 6 * (b1 + 2 * b2 + 2 * b3 + b4);
        }
        var z = g / f / permeability;
        var expected = (1 - z) / (1 + z);
        Assert.True(Complex.Abs(expected - CylinderBody.Tube(c, c - b, sigma, permeability).Reflection(400)) < 1e-10);
    }

    [Fact]
    public void PermeableBar_ConstantField_AgreesWithTheTextbook() =>
        Assert.Equal(99.0 / 101, CylinderBody.Solid(0.01, 1e7, 100).Reflection(0).Real, 1e-14);

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(400)]
    public void Torque_TurningField_AgreesWithTheRotatingStack(double speed)
    {
        // A current sheet of one wave far outside makes an even turning field B = μ₀K/2 within; another way through other code.
        const double radius = 0.3;
        var winding = new Winding([new(0, 0, 0, 1), new(Math.PI / 2, 0, 1, 1), new(Math.PI, 0, 0, -1), new(3 * Math.PI / 2, 0, 1, -1)], 2 * Math.PI);
        var answer = new TravellingField(StackShape.Rotating, [new(0.006, 0, 1, true), new(0.002, 3e7, 4, true), new(radius - 0.008), new(double.PositiveInfinity)],
            [new(winding, 3, false)], 1, 1).Evaluate(winding.BalancedCurrents(1000), 50, speed);
        var sheet = winding.BalancedCurrents(1000).Select((i, p) => i * winding.Spectrum(p, 1)).Aggregate(Complex.Add).Magnitude / radius;
        var b = Mu0 * sheet / 2;
        var (torque, loss) = CylinderBody.Tube(0.008, 0.002, 3e7, 4).PerMetre(new FieldEllipse(b, new Complex(0, -b)), 50, speed);
        SeriesReference.Close(answer.Thrust, torque, 1e-9);
        SeriesReference.Close(answer.Loss, loss, 1e-9);
    }

    [Fact]
    public void SwingingField_AtRest_GivesHeatButNoTorque()
    {
        var (torque, loss) = Bar(2).PerMetre(new FieldEllipse(0.1, 0.05), 50);
        Assert.Equal(0, torque, 1e-15);
        Assert.True(loss > 0);
        // And once it turns, it is driven on neither way but braked or driven by the difference of two slips.
        Assert.NotEqual(0, Bar(2).PerMetre(new FieldEllipse(0.1, 0.05), 50, 10).Torque);
    }

    [Theory]
    [InlineData(1, 0, 0, -1, SpinSense.CounterClockwise)]
    [InlineData(1, 0, 0, 1, SpinSense.Clockwise)]
    [InlineData(1, 0, 1, 0, SpinSense.None)]
    [InlineData(2, 0.3, 0.5, -0.4, SpinSense.CounterClockwise)]
    public void Ellipse_TracedInTime_HasTheSenseAndAreaSaid(double xr, double xi, double yr, double yi, SpinSense sense)
    {
        var ellipse = new FieldEllipse(new Complex(xr, xi), new Complex(yr, yi));
        double area = 0, longest = 0, shortest = double.MaxValue, tilt = 0;
        const int steps = 20000;
        for (var i = 0; i < steps; i++)
        {
            var turn = Complex.FromPolarCoordinates(1, 2 * Math.PI * i / steps);
            var next = Complex.FromPolarCoordinates(1, 2 * Math.PI * (i + 1) / steps);
            double x = (ellipse.X * turn).Real, y = (ellipse.Y * turn).Real;
            area += 0.5 * (x * (ellipse.Y * next).Real - y * (ellipse.X * next).Real);
            var size = Math.Sqrt(x * x + y * y);
            if (size > longest)
                (longest, tilt) = (size, Math.Atan(y / x));
            shortest = Math.Min(shortest, size);
        }
        Assert.Equal(area, ellipse.SignedArea, 1e-6);
        Assert.Equal(longest, ellipse.SemiMajor, 1e-6);
        Assert.Equal(shortest, ellipse.SemiMinor, 1e-3);
        if (ellipse.SemiMajor - ellipse.SemiMinor > 0.01)
            Assert.Equal(tilt, ellipse.Tilt, 1e-3);
        Assert.Equal(sense, ellipse.Sense());
    }

    [Fact]
    public void Ellipse_SeenAlongAnAxis_HasTheAreaOfItsVector()
    {
        var field = new ComplexVector(new Complex(0.3, -0.2), new Complex(-0.1, 0.7), new Complex(0.5, 0.4));
        foreach (var axis in new[] { new Vector(0, 0, 1), new Vector(1, 0, 0), new Vector(1, -2, 0.5) })
            Assert.Equal(Vector.Dot(FieldEllipse.AreaVector(field), axis.Unit()), FieldEllipse.Across(field, axis).SignedArea, 1e-14);
        Assert.Equal(new FieldEllipse(field.X, field.Y).SignedArea, FieldEllipse.Across(field, Vector.AlongZ).SignedArea, 1e-14);
    }

    [Fact]
    public void Torque_OnEllipse_HasTheSignOfItsSense()
    {
        var ellipse = new FieldEllipse(new Complex(2, 0.3), new Complex(0.5, -0.4));
        Assert.True(Bar(1).PerMetre(ellipse, 50).Torque > 0);
        Assert.True(Bar(1).PerMetre(new FieldEllipse(ellipse.Y, ellipse.X), 50).Torque < 0);
        // Feeble conductor at rest: torque in proportion to the area.
        var circle = new FieldEllipse(1, new Complex(0, -1));
        var ratio = Bar(0.01).PerMetre(ellipse, 50).Torque / Bar(0.01).PerMetre(circle, 50).Torque;
        Assert.Equal(ellipse.SignedArea / circle.SignedArea, ratio, 1e-9);
    }

    [Fact]
    public void ShortFactor_LongAndShort_HasItsLimits()
    {
        Assert.Equal(1, CylinderBody.ShortFactor(100, 0.01), 1e-3);
        Assert.Equal(1.0 / 12 * 0.01 * 0.01, CylinderBody.ShortFactor(0.01, 1), 1e-9); // x²/3, x = l/2a
    }

    /// <remarks>Unrolled, a thin tube of no end plates is a sheet without overhang and with half a wave round: that factor is held to its table and to differences on a grid.</remarks>
    [Theory]
    [InlineData(0.001)]
    [InlineData(0.03)]
    [InlineData(0.4)]
    public void ShortFactor_OfATube_IsThatOfTheSheetItUnrollsTo(double length)
    {
        double sheet = Fieldwright.Series.Layers.LinearMotorFactors.TransverseEdge(length, 0, Math.PI * 0.02);
        Assert.Equal(sheet, CylinderBody.ShortFactor(length, 0.02), 1e-9 * sheet);
    }

    private static CylinderBody Bar(double radiusOverSkin) => CylinderBody.Solid(0.01, 2 * radiusOverSkin * radiusOverSkin / (2 * Math.PI * 50 * Mu0 * 1e-4));

    [Fact]
    public void PushPerMetre_NearALineOfCurrent_IsThatOfItsImages()
    {
        // A line current I at d from a thin perfect conductor of radius a: image −I at a²/d and +I in the middle, so μ₀I²/2π·(1/(d − a²/d) − 1/d), halved for the mean over a cycle.
        const double a = 1e-3, d = 0.05, current = 40, omega = 2 * Math.PI * 1e9;
        var body = CylinderBody.Solid(a, 1e9);
        double b = PhysicalConstants.MagneticConstant * current / (2 * Math.PI * d), push = 0.5 * PhysicalConstants.MagneticConstant * current * current / (2 * Math.PI) * (1 / (d - a * a / d) - 1 / d);
        // The line runs along z through the origin, the cylinder stands at (d, 0): B = (0, b), ∂B_y/∂x = −b/d, ∂B_x/∂y = −b/d.
        var (x, y) = body.PushPerMetre(0, b, (0, -b / d), (-b / d, 0), omega / (2 * Math.PI));
        // The thin cylinder sees an even field to (a/d)², and the metal is a perfect conductor to δ/a.
        Assert.InRange(x / push, 1 - 3e-3, 1 + 3e-3);
        Assert.Equal(0, y, 12);
    }

    [Fact]
    public void PushPerMetre_InAFieldThatTravels_GoesWithItAsItsHeatSays()
    {
        // A wave travelling at v pushes with the heat it leaves over v: B = b·exp(−jkx) along y, Maxwell's momentum of a travelling field.
        const double b = 0.01, k = 20, frequency = 50;
        var body = CylinderBody.Solid(3e-3, 35e6);
        var (x, _) = body.PushPerMetre(0, b, (0, 0), (new Complex(0, -k) * b, 0), frequency);
        // Of a field that only swings, heat is what both its turning halves leave.
        double loss = body.PerMetre(new FieldEllipse(0, b), frequency).Loss;
        Assert.Equal(loss * k / (2 * Math.PI * frequency), x, 1e-9 * x);
    }
}
