using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Fields;

/// <summary>
/// −div(k(T)∇T) + ρc·∂T/∂t = p, −k ∂T/∂n = h(T − T₀), with p made for T = T₀ + A(t)(1 + s − (ρ/R)⁴) in a disc (long) or ball (round), k = k₀(1 + β(T − T₀)); at the rim
/// 4k(T_R)/R = h·s, so s = q/(1 − qβA), q = 4k₀/(hR). Quadratic elements: order 3 in T (Ciarlet 1978, theorem 3.2.2); in time order 2. Beside it, balances of heat and lumped bodies.
/// </summary>
public class HeatTests
{
    private const double Radius = 1, Ambient = 290, Rise = 40, Conductivity = 20, Slope = 0.004, Capacity = 500, Coefficient = 200;

    [Theory]
    [InlineData(Symmetry.Long)]
    [InlineData(Symmetry.Round)]
    public void ManufacturedTemperature_Steady_ConvergesAtThirdOrder(Symmetry symmetry)
    {
        double coarse = Error(symmetry, 8), fine = Error(symmetry, 16);
        Assert.InRange(Solved.Rate(coarse, fine), 2.7, 4.2);

        static double Error(Symmetry symmetry, int sectors)
        {
            var model = Manufactured(symmetry, sectors, Slope, _ => Rise, _ => 0);
            var field = HeatField.Steady(model, Ambient);
            return Math.Sqrt(field.Integral((t, x, y) => Math.Pow(t - Exact(x, y, Rise, Slope), 2)));
        }
    }

    /// <summary>A(t) = A·(1 + sin ωt)/2 with constant k, whose profile the mesh carries to a thousandth of the error in time.</summary>
    [Fact]
    public void ManufacturedTemperature_InTime_ConvergesAtSecondOrder()
    {
        double coarse = Error(8), fine = Error(16);
        Assert.InRange(Solved.Rate(coarse, fine), 1.8, 2.6);

        static double Error(int steps)
        {
            const double end = 40, omega = 0.15;
            var model = Manufactured(Symmetry.Long, 16, 0, t => 0.5 * Rise * (1 - Math.Cos(omega * t)), t => 0.5 * Rise * omega * Math.Sin(omega * t));
            var field = HeatField.Uniform(model, Ambient).After(end, fixedSteps: steps, cancellation: TestContext.Current.CancellationToken);
            var rise = 0.5 * Rise * (1 - Math.Cos(omega * end));
            return Math.Sqrt(field.Integral((t, x, y) => Math.Pow(t - Exact(x, y, rise, 0), 2)));
        }
    }

    /// <summary>A body that conducts well cools as a lump: C·dT/dt = −εσS(T⁴ − T₀⁴) with T₀ = 0 has T⁻³ = T₁⁻³ + 3εσSt/C.</summary>
    [Fact]
    public void SmallCopperCylinder_RadiatingIntoSpace_CoolsByTheCube()
    {
        const double radius = 0.01, height = 0.02, emissivity = 0.8, capacity = 3.4e6, start = 900, end = 400;
        var mesh = MeshedModel.Create(new FieldModel { Symmetry = Symmetry.Round, Parts = [Outline.Rectangle(1, 0, 0, radius, height)], Matter = Solved.Matter() });
        var model = new HeatModel { Mesh = mesh, Matter = new Dictionary<int, HeatMatter> { [1] = HeatMatter.Constant("copper", 1e5, capacity) }, Cooling = [new Radiation(emissivity, 1e-6)] };
        double surface = (2 * Math.PI * radius * radius) + (2 * Math.PI * radius * height), volume = Math.PI * radius * radius * height;
        var first = HeatField.Uniform(model, start);
        Assert.Equal(emissivity * PhysicalConstants.StefanBoltzmann * Math.Pow(start, 4) * surface, first.SurfaceHeat, 1e-9 * first.SurfaceHeat);
        var exact = Math.Pow(Math.Pow(start, -3) + (3 * emissivity * PhysicalConstants.StefanBoltzmann * surface * end / (capacity * volume)), -1.0 / 3);
        Assert.Equal(exact, first.After(end, 1e-5, cancellation: TestContext.Current.CancellationToken).Mean(1), 1e-4 * exact);
    }

    /// <summary>Churchill and Chu at Ra = 1e9, Pr 0.7 gives Nu = 122.6 by hand; a warm face that looks down is cooled half as well as one that looks up.</summary>
    [Fact]
    public void NaturalConvection_KnownRayleighNumber_HasTheNusseltNumberOfTheFormula()
    {
        const double ambient = 290, temperature = 310, film = 300;
        var height = Math.Pow(1e9 * film * 1.59e-5 * 1.59e-5 / (PhysicalConstants.StandardGravity * (temperature - ambient) * 0.70), 1.0 / 3);
        var air = new NaturalConvection(height, 0.02, ambient);
        Assert.Equal(122.6, air.Coefficient(temperature, 0) * height / 0.0263, 0.2);
        Assert.Equal(0.5, air.Coefficient(temperature, -1) / air.Coefficient(temperature, 1), 1e-12);
        Assert.Equal(air.Coefficient(temperature, 1), new NaturalConvection(height, 0.02, temperature).Coefficient(ambient, -1), 1e-12);
    }

    /// <summary>A coil and a disc on a voltage: at rest all that is made leaves, and what is made is that of the warm metal, not of the cold.</summary>
    [Fact]
    public void CoilAndDisc_WarmedByTheirLosses_AgreeBothWays()
    {
        const double alpha = 0.0039, reference = 293.15;
        var model = new FieldModel
        {
            Symmetry = Symmetry.Round,
            Frequency = 50,
            Parts = [Outline.Rectangle(1, 0.02, 0, 0.03, 0.02), Outline.Rectangle(2, 0, 0.03, 0.03, 0.033)],
            Matter = Solved.Matter((2, new RegionMatter("disc", 3.5e7))),
            Windings = [FieldWinding.InOneRegion("coil", 1, 200, new ImposedVoltage(8), 1.5)],
        };
        var mesh = MeshedModel.Create(model);
        var warm = new WarmField(
            mesh,
            new() { Mesh = mesh, Matter = new Dictionary<int, HeatMatter> { [1] = HeatMatter.Constant("winding", 1, 2.5e6), [2] = HeatMatter.Constant("disc", 220, 2.4e6) }, Cooling = [new LinearCooling(12, reference), new Radiation(0.5, reference)] },
            reference,
            new Dictionary<int, double> { [1] = alpha, [2] = alpha });
        var (field, heat) = warm.Steady(TestContext.Current.CancellationToken);
        var cold = Solved.Harmonic(mesh);
        var winding = 1 + (alpha * (heat.Mean(1) - reference));
        Assert.True(winding > 1.05);
        Assert.Equal(1.5 * winding, field.Model.Windings[0].Resistance, 1e-6);
        Assert.Equal(3.5e7 / (1 + (alpha * (heat.Mean(2) - reference))), field.Model.MatterOf(2).Conductivity, 1);
        Assert.Equal(field.WindingLoss("coil") + field.Loss(2), heat.SurfaceHeat, 1e-5 * heat.SurfaceHeat);
        Assert.True(field.WindingLoss("coil") < 0.97 * cold.WindingLoss("coil"));
        // after many time constants the transient is there too
        var (_, late) = warm.After(reference, 4e4, 12, TestContext.Current.CancellationToken);
        Assert.Equal(heat.Mean(1), late.Mean(1), 1e-3 * (heat.Mean(1) - reference));
    }

    private static HeatModel Manufactured(Symmetry symmetry, int sectors, double slope, Func<double, double> rise, Func<double, double> rate)
    {
        var space = PolarMesh.Build(symmetry, PolarMesh.Steps(0, Radius, sectors / 2), symmetry == Symmetry.Round ? sectors : 2 * sectors, (_, _) => 1);
        var mesh = MeshedModel.On(new FieldModel { Symmetry = symmetry, Parts = PolarMesh.Outlines(1), Matter = Solved.Matter() }, space);
        var dimensions = symmetry == Symmetry.Round ? 3 : 2;
        double Source(int region, double x, double y, double t)
        {
            double rho = double.Hypot(x, y), a = rise(t), s = Surface(a, slope);
            double excess = a * (1 + s - Math.Pow(rho, 4)), first = -4 * a * Math.Pow(rho, 3), laplacian = -4 * a * (dimensions + 2) * rho * rho;
            var stored = Capacity * rate(t) * (1 + s - Math.Pow(rho, 4));
            return stored - (Conductivity * (((1 + (slope * excess)) * laplacian) + (slope * first * first)));
        }

        return new HeatModel
        {
            Mesh = mesh,
            Matter = new Dictionary<int, HeatMatter> { [1] = new("all", t => Conductivity * (1 + (slope * (t - Ambient))), Capacity) },
            Source = Source,
            Cooling = [new LinearCooling(Coefficient, Ambient)],
        };
    }

    private static double Surface(double rise, double slope)
    {
        const double q = 4 * Conductivity / (Coefficient * Radius);
        return q / (1 - (q * slope * rise));
    }

    private static double Exact(double x, double y, double rise, double slope) => Ambient + (rise * (1 + Surface(rise, slope) - Math.Pow((x * x) + (y * y), 2)));
}
