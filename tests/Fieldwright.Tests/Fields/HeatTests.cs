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

    /// <summary>Two slabs of 20 mm × 5 mm, 100 mm long, one above the other with 2 mm of air between: heat made in the upper can only leave through the gap and the lower, whose lower face is held by h(T − T₀).
    /// In one dimension the mean rise of the upper is P(1/(hA) + 5 mm/(kA) + 2 mm/(κA) + 5 mm/(3kA)), κ = k_air + 4σT³·2 mm/(1/ε₁ + 1/ε₂ − 1).</summary>
    [Fact]
    public void TwoSlabs_WithAThinGap_PassTheirHeatAcross()
    {
        const double width = 0.02, thick = 0.005, gap = 0.002, depth = 0.1, k = 50, h = 40, watts = 0.2, area = width * depth;
        var mesh = MeshedModel.Create(new FieldModel
        {
            Symmetry = Symmetry.Long, Depth = depth, Matter = Solved.Matter(),
            Parts = [Outline.Rectangle(1, 0, 0, width, thick), Outline.Rectangle(2, 0, thick + gap, width, (2 * thick) + gap)],
        });
        var model = new HeatModel
        {
            Mesh = mesh,
            Matter = new Dictionary<int, HeatMatter> { [1] = HeatMatter.Constant("lower", k, 3e6) with { Emissivity = 0.9 }, [2] = HeatMatter.Constant("upper", k, 3e6) with { Emissivity = 0.5 } },
            Even = new Dictionary<int, EvenHeat> { [2] = new(watts / (area * thick), 0, 0) },
            CoolingAt = p => p.Region == 1 && p.OutwardY < -0.9 ? [new LinearCooling(h, Ambient)] : [],
            Gaps = new ThinGaps(0.004),
        };
        var field = HeatField.Steady(model, Ambient);
        Assert.Equal(watts, field.Made, 1e-9 * watts);
        Assert.Equal(watts, field.SurfaceHeat, 1e-9 * watts);
        double lower = field.Mean(1), upper = field.Mean(2), between = 0.5 * (lower + upper);
        double across = 0.0263 * Math.Pow(between / 300, 0.85) + 4 * PhysicalConstants.StefanBoltzmann * between * between * between * gap / (1 / 0.9 + 1 / 0.5 - 1);
        double expected = watts / area * (1 / h + thick / k + gap / across + thick / (3 * k));
        // Conductivities at the middle of the gap; the last triangles of air at its open ends belong to it or not.
        Assert.Equal(expected, upper - Ambient, 0.01 * expected);
        var open = HeatField.Steady(model with { CoolingAt = _ => [new LinearCooling(h, Ambient)], Gaps = null }, Ambient);
        Assert.Equal(Ambient, open.Mean(1), 1e-6);
    }

    /// <summary>What is made and not stored has left. Without cooling all is stored, to rounding, whatever the steps.</summary>
    [Fact]
    public void Transient_WithDepositsAndWarmingWire_KeepsItsHeat()
    {
        var mesh = MeshedModel.Create(new FieldModel { Symmetry = Symmetry.Round, Parts = [Outline.Rectangle(1, 0.02, 0, 0.03, 0.02), Outline.Rectangle(2, 0, 0.023, 0.03, 0.026)], Matter = Solved.Matter() });
        var model = new HeatModel
        {
            Mesh = mesh,
            Matter = new Dictionary<int, HeatMatter> { [1] = HeatMatter.Constant("winding", 1, 2.5e6), [2] = HeatMatter.Constant("disc", 220, 2.4e6) },
            Even = new Dictionary<int, EvenHeat> { [1] = new(1e6, 0, Ambient) },
            Deposits = [new HeatDeposits([2], [new(0.01, 0.0245, 3), new(0.025, 0.024, 2)])],
            Gaps = new ThinGaps(0.01),
        };
        const double end = 40;
        var start = HeatField.Uniform(model, Ambient);
        double made = (1e6 * Math.PI * (0.03 * 0.03 - 0.02 * 0.02) * 0.02) + 5;
        Assert.Equal(made, start.Made, 1e-9 * made);
        var kept = start.After(end, 1e-3, cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(made * end, kept.Stored - start.Stored, 1e-8 * made * end);
        Assert.True(kept.HighestIn(2) > kept.Mean(2));

        var cooled = start.With(model with { Cooling = [new LinearCooling(20, Ambient), new Radiation(0.9, Ambient)], Even = new Dictionary<int, EvenHeat> { [1] = new(1e6, 0.004, Ambient) } });
        double given = 0, left = 0;
        var before = cooled;
        foreach (var step in cooled.Course(end, 1e-5, cancellation: TestContext.Current.CancellationToken))
        {
            // by the trapezoidal rule over small steps
            given += 0.5 * (step.Time - before.Time) * (step.Made + before.Made);
            left += 0.5 * (step.Time - before.Time) * (step.SurfaceHeat + before.SurfaceHeat);
            before = step;
        }

        Assert.Equal(given - left, before.Stored - cooled.Stored, 1e-4 * given);
        Assert.True(given > 1.005 * made * end && left > 0.01 * given);
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
