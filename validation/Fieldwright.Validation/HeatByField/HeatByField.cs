using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Validation.HeatByField;

/// <summary>Temperatures of the field route against closed forms and a worked example; see source.md.</summary>
public class HeatByField
{
    private const double Ambient = 293.15;

    // T at the centre of an evenly heated ball: T₀ + pR/3h + pR²/6k; mean T₀ + pR/3h + pR²/15k.
    [Fact]
    public void Ball_EvenlyHeated_HasTheTemperatureOfTheClosedForm()
    {
        const double radius = 0.03, k = 2, h = 12, p = 3e4;
        var ball = new Outline(1, [new ArcEdge(new(0, -radius), new(radius, 0), new(0, 0), true), new ArcEdge(new(radius, 0), new(0, radius), new(0, 0), true), new LineEdge(new(0, radius), new(0, -radius))]);
        var field = Steady(Symmetry.Round, ball, k, p, h);
        Compare("ball, centre", field.Temperature(0, 0), p * radius / (3 * h) + p * radius * radius / (6 * k), 2e-4);
        Compare("ball, mean", field.Mean(1), p * radius / (3 * h) + p * radius * radius / (15 * k), 2e-4);
        // What goes in comes out.
        Assert.Equal(field.Made, field.SurfaceHeat, 1e-9 * field.Made);
    }

    // The same of a long round bar: pR/2h + pR²/4k.
    [Fact]
    public void Bar_EvenlyHeated_HasTheTemperatureOfTheClosedForm()
    {
        const double radius = 0.01, k = 15, h = 25, p = 2e5;
        var field = Steady(Symmetry.Long, Disc(radius), k, p, h);
        Compare("bar, centre", field.Temperature(0, 0), p * radius / (2 * h) + p * radius * radius / (4 * k), 2e-4);
    }

    // The hot spot of a packing that conducts better along its layers than across: even heat in a rectangle 2a × 2b with its rim held at T₀,
    // rise p a²/(2kₓ) (1 − 32/π³ Σ (−1)ⁿ/((2n+1)³ cosh((2n+1)πb√(kₓ/k_y)/2a))).
    [Theory]
    [InlineData(0.4, 1.0)]
    [InlineData(0.4, 3.0)]
    [InlineData(0.4, 0.3)]
    public void Packing_ThatConductsUnlikeBothWays_HasTheHotSpotOfTheSeries(double across, double anisotropy)
    {
        const double a = 0.014, b = 0.03, p = 5e4, hold = 1e7;
        double ratio = b / a * Math.Sqrt(1 / anisotropy), sum = 0;
        for (int n = 0; n < 20; n++)
            sum += (n % 2 == 0 ? 1 : -1) / (Math.Pow(2 * n + 1, 3) * Math.Cosh((2 * n + 1) * Math.PI * ratio / 2));
        double rise = p * a * a / (2 * across) * (1 - 32 / Math.Pow(Math.PI, 3) * sum);
        var field = HeatField.Steady(Model(Symmetry.Long, Outline.Rectangle(1, -a, -b, a, b), HeatMatter.Constant("packing", across, 1) with { Anisotropy = anisotropy }, p, _ => [new LinearCooling(hold, Ambient)], 3), Ambient);
        Compare($"packing, k_y/k_x {anisotropy}", field.Temperature(0, 0), rise, 1e-3);
        // The hottest node may stand a little off the middle.
        Assert.InRange(field.HighestIn(1) - Ambient, 0.997 * rise, 1.001 * rise);
    }

    // A slab 2L thick taken from one temperature into air, Bi = 1: one term of the series is 1.1191 exp(−0.8603² Fo) in the middle (table 5.1 of the textbook, from memory);
    // the same root found here has ζ tan ζ = Bi and C = 4 sin ζ/(2ζ + sin 2ζ).
    [Theory]
    [InlineData(0.5)]
    [InlineData(1.5)]
    public void Slab_PutIntoAir_CoolsAsOneTermSays(double fourier)
    {
        const double half = 0.01, k = 0.5, capacity = 2e6, h = k / half, start = Ambient + 100;
        Assert.Equal(1, 0.8603 * Math.Tan(0.8603), 3e-4);
        double end = fourier * half * half * capacity / k, expected = 100 * 1.1191 * Math.Exp(-0.8603 * 0.8603 * fourier);
        // The next root, 3.4256, leaves 0.15 % at Fo 0.5 and nothing at 1.5.
        const double next = 3.4256;
        expected += 100 * 4 * Math.Sin(next) / (2 * next + Math.Sin(2 * next)) * Math.Exp(-next * next * fourier);
        var model = Model(Symmetry.Long, Outline.Rectangle(1, -half, 0, half, 0.006), HeatMatter.Constant("slab", k, capacity), 0, p => Math.Abs(p.OutwardX) > 0.9 ? [new LinearCooling(h, Ambient)] : [], 2);
        var field = HeatField.Uniform(model, start).After(end, 1e-5, cancellation: TestContext.Current.CancellationToken);
        // Table and roots are given to four figures.
        Compare($"slab, Fo {fourier}", field.Temperature(0, 0.003), expected, 5e-4);
    }

    // A level steam pipe of 0.1 m at 165 °C in a room of 23 °C, emissivity 0.85, loses 766 W a metre (example 9.4 of the textbook, from memory). So much heat put into a copper bar must take it there.
    // The printed Nusselt number lies 1 % above its own formula and our air within 2 %: 3 % of the 325 W that the air takes, over what a kelvin takes, 7.5 W.
    [Fact]
    public void SteamPipe_OfTheTextbook_StandsAtItsTemperature()
    {
        const double room = 296, pipe = 438, watts = 766, radius = 0.05;
        var model = Model(Symmetry.Long, Disc(radius), HeatMatter.Constant("pipe", 400, 1), watts / (Math.PI * radius * radius), _ => [new CylinderConvection(2 * radius, room), new Radiation(0.85, room)], 1);
        var field = HeatField.Steady(model, room);
        Told.Line($"steam pipe: {field.Mean(1) - PhysicalConstants.ZeroCelsius:F2} °C against 165 °C");
        Assert.Equal(pipe, field.Mean(1), 0.03 * 325 / 7.5);
        // Arcs are drawn as parabolas, so that the bar is a ten-thousandth thinner.
        Assert.Equal(watts, field.Made, 2e-4 * watts);
        Assert.Equal(field.Made, field.SurfaceHeat, 1e-9 * watts);
    }

    // A ball of 40 mm in still air by Churchill's formula and glow, worked by hand: at 60 K above 293.15 K, film 323.15 K, ν 1.811e-5, k 0.02801, Ra = 9.80665·60/323.15·0.04³·0.70/ν² = 2.487e5;
    // Nu = 2 + 0.589·22.33/1.2980 = 12.13, h = 8.499 W/(m² K).
    [Fact]
    public void Ball_InStillAir_StandsWhereTheFormulaPutsIt()
    {
        const double radius = 0.02, rise = 60, emissivity = 0.5;
        double glow = emissivity * PhysicalConstants.StefanBoltzmann * (Math.Pow(Ambient + rise, 4) - Math.Pow(Ambient, 4)), watts = 4 * Math.PI * radius * radius * (8.499 * rise + glow);
        var ball = new Outline(1, [new ArcEdge(new(0, -radius), new(radius, 0), new(0, 0), true), new ArcEdge(new(radius, 0), new(0, radius), new(0, 0), true), new LineEdge(new(0, radius), new(0, -radius))]);
        var model = Model(Symmetry.Round, ball, HeatMatter.Constant("copper", 400, 1), watts / (4 * Math.PI / 3 * Math.Pow(radius, 3)), _ => [new BallConvection(2 * radius, Ambient), new Radiation(emissivity, Ambient)], 1);
        Compare("ball in air", HeatField.Steady(model, Ambient).Mean(1), rise, 1e-3);
    }

    private static HeatField Steady(Symmetry symmetry, Outline outline, double k, double p, double h) =>
        HeatField.Steady(Model(symmetry, outline, HeatMatter.Constant("matter", k, 1), p, _ => [new LinearCooling(h, Ambient)], 2), Ambient);

    private static HeatModel Model(Symmetry symmetry, Outline outline, HeatMatter matter, double p, Func<SurfacePlace, IReadOnlyList<SurfaceCooling>> cooling, double fineness) => new()
    {
        Mesh = MeshedModel.Create(new FieldModel { Symmetry = symmetry, Parts = [outline], Matter = new Dictionary<int, RegionMatter>() }, fineness, TestContext.Current.CancellationToken),
        Matter = new Dictionary<int, HeatMatter> { [1] = matter },
        Even = new Dictionary<int, EvenHeat> { [1] = new(p, 0, Ambient) },
        CoolingAt = cooling,
    };

    private static Outline Disc(double radius)
    {
        Point[] p = [new(radius, 0), new(0, radius), new(-radius, 0), new(0, -radius)];
        return new Outline(1, [.. Enumerable.Range(0, 4).Select(i => new ArcEdge(p[i], p[(i + 1) % 4], new Point(0, 0), true))]);
    }

    private static void Compare(FormattableString what, double temperature, double rise, double within)
    {
        Told.Line($"{FormattableString.Invariant(what)}: rise {temperature - Ambient:F4} K, off by {Told.Off(temperature - Ambient, rise)} %");
        Assert.Equal(rise, temperature - Ambient, within * rise);
    }

    private static void Compare(string what, double temperature, double rise, double within) => Compare((FormattableString)$"{what}", temperature, rise, within);
}
