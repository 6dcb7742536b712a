using System.Numerics;
using Fieldwright.Fields;
using Fieldwright.Geometry;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;

namespace Fieldwright.Benchmarks.Fields;

/// <summary>One generated apparatus with the answers asked of it, and their true values where a closed form or series has them.</summary>
/// <param name="Family">What kind it is of.</param>
/// <param name="Model">The model.</param>
/// <param name="Goals">The answers asked.</param>
/// <param name="Exact">True values by name of goal; empty when only a finer mesh knows.</param>
internal sealed record BarCase(string Family, FieldModel Model, IReadOnlyList<Goal> Goals, IReadOnlyDictionary<string, double> Exact);

/// <summary>Apparatus made by chance, the same for the same seed: round and long, static and alternating, steel, magnets, thin sheets, deep and shallow skins.</summary>
internal static class GeneratedApparatus
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    private static readonly BhCurve Steel = BhCurve.Create("strip steel",
        [60, 90, 120, 200, 500, 1500, 5000, 15000, 50000], [0.2, 0.5, 0.8, 1.1, 1.35, 1.5, 1.68, 1.88, 2.1]);

    private static readonly (string Name, Func<Chance, BarCase> Make)[] Families =
    [
        ("coils, exact", Coils),
        ("coil and steel", CoilAndSteel),
        ("magnets", RoundMagnets),
        ("coil over disc", c => CoilOver(c, "coil over disc", Disc(c))),
        ("coil over ball", c => CoilOver(c, "coil over ball", [Outline.HalfDisc(2, 1e-3 * c.From(8, 25))])),
        ("coil over foil", c => CoilOver(c, "coil over foil", Foil(c))),
        ("ring on a core", RingOnCore),
        ("long core", LongCore),
        ("coils over plate", LongPlate),
        ("long magnets", LongMagnets),
        ("solid steel, alternating", SolidSteel),
        ("magnetised body, exact", MagnetisedBody),
        ("cable in a tube, exact", Cable),
    ];

    /// <summary>Number of families.</summary>
    public static int FamilyCount => Families.Length;

    /// <summary>The k-th apparatus of a seed; families take turns.</summary>
    public static BarCase At(int seed, int k) => Families[k % Families.Length].Make(new Chance((seed * 1_000_003) + k));

    private static BarCase Coils(Chance c)
    {
        double scale = c.Spread(0.3, 3), gap = c.From(2, 30) * scale;
        (double In, double Out, double Low, double High) a = Section(c, scale, 0), b = Section(c, scale, a.High + gap);
        double turnsA = c.Whole(20, 800), turnsB = c.Sign * c.Whole(20, 800), i = c.Spread(0.1, 20), j = c.Spread(0.1, 20);
        var model = Round(
            [Rectangle(1, a), Rectangle(2, b)], [],
            Coil("lower", 1, turnsA, i), Coil("upper", 2, turnsB, j));
        ThickCoil lower = new(1e-3 * a.In, 1e-3 * a.Out, 1e-3 * a.Low, 1e-3 * a.High, turnsA), upper = new(1e-3 * b.In, 1e-3 * b.Out, 1e-3 * b.Low, 1e-3 * b.High, turnsB);
        double l1 = lower.SelfInductance(), l2 = upper.SelfInductance(), m = ThickCoil.MutualInductance(lower, upper);
        return new("coils, exact", model,
            [new FluxLinkageGoal("linkage", "lower"), new FluxLinkageGoal("other linkage", "upper"), new EnergyGoal("energy"), new ForceGoal("force", [2])],
            new Dictionary<string, double>
            {
                ["linkage"] = (l1 * i) + (m * j), ["other linkage"] = (m * i) + (l2 * j),
                ["energy"] = (0.5 * l1 * i * i) + (m * i * j) + (0.5 * l2 * j * j), ["force"] = ThickCoil.Force(lower, upper, i, j).Z,
            });
    }

    private static BarCase CoilAndSteel(Chance c)
    {
        var a = Section(c, 1, 0);
        var steel = c.Next() switch
        {
            < 0.35 => Rectangle(2, (0, c.From(10, 60), a.High + c.From(0.5, 10), a.High + c.From(11, 30))),
            < 0.7 => Rectangle(2, (0, a.In * c.From(0.4, 0.9), a.Low - c.From(0, 30), a.High + c.From(-5, 30))),
            _ => Rectangle(2, (a.In, a.Out + c.From(0, 20), a.High + c.From(0.3, 8), a.High + c.From(9, 20))),
        };
        var model = Round([Rectangle(1, a), steel], new() { [2] = SteelOf(c) }, Coil("coil", 1, c.Whole(100, 800), c.Spread(0.1, 10)));
        return Asked("coil and steel", model, new FluxLinkageGoal("linkage", "coil"), new EnergyGoal("energy"), new ForceGoal("force", [2]), new MeanFluxDensityGoal("mean B", 2));
    }

    private static BarCase RoundMagnets(Chance c)
    {
        double radius = c.From(4, 25), length = c.From(3, 30), gap = c.Spread(0.3, 20);
        var first = Rectangle(1, (0, radius, -length, 0));
        var second = Rectangle(2, (c.Next() < 0.3 ? c.From(1, 3) : 0, c.From(4, 30), gap, gap + c.From(2, 20)));
        RegionMatter magnet = Magnet(0, c.From(0.2, 1.4)), other = c.Next() < 0.5 ? Magnet(0, c.Sign * c.From(0.2, 1.4)) : SteelOf(c);
        return Asked("magnets", Round([first, second], new() { [1] = magnet, [2] = other }), new EnergyGoal("energy"), new ForceGoal("force", [2]), new MeanFluxDensityGoal("mean B", 2));
    }

    private static IReadOnlyList<Outline> Disc(Chance c) => [Rectangle(2, (c.Next() < 0.4 ? c.From(5, 20) : 0, c.From(25, 80), 0, c.Spread(1, 12)))];

    private static IReadOnlyList<Outline> Foil(Chance c) => [Rectangle(2, (0, c.From(20, 70), 0, c.Spread(0.02, 0.3)))];

    private static BarCase CoilOver(Chance c, string family, IReadOnlyList<Outline> body)
    {
        var lowest = body[0].Edges.Min(e => Math.Min(e.From.Y, e.To.Y)) * 1e3;
        var a = Section(c, 1, 0);
        var shift = lowest - c.Spread(0.5, 20) - a.High;
        a = (a.In, a.Out, a.Low + shift, a.High + shift);
        var matter = new RegionMatter("metal", c.Spread(2e6, 6e7));
        var model = Round([Rectangle(1, a), .. body], new() { [2] = matter }, Coil("coil", 1, c.Whole(50, 800), c.Spread(0.5, 20))) with { Frequency = c.Spread(5, 20e3) };
        return Asked(family, model, new ForceGoal("force", [2]), new LossGoal("loss", [2]), new FluxLinkageGoal("linkage", "coil"));
    }

    private static BarCase RingOnCore(Chance c)
    {
        double core = c.From(6, 20), length = c.From(40, 150), inner = core + c.From(1, 4), z = c.From(5, length - 10);
        var coil = (In: core + c.From(1, 3), Out: core + c.From(6, 20), Low: -c.From(20, 60), High: -1.0);
        var model = Round(
            [Rectangle(1, coil), Rectangle(2, (inner, inner + c.From(1, 15), z, z + c.Spread(1, 15))), Rectangle(3, (0, core, coil.Low, length))],
            new() { [2] = new RegionMatter("ring", c.Spread(1e7, 6e7)), [3] = new RegionMatter("core", 0, c.Spread(50, 2000)) },
            Coil("coil", 1, c.Whole(100, 800), c.Spread(0.5, 20))) with { Frequency = c.Spread(10, 1000) };
        return Asked("ring on a core", model, new ForceGoal("force", [2]), new LossGoal("loss", [2]), new FluxLinkageGoal("linkage", "coil"), new FluxGoal("flux", new(0, 0), new(1e-3 * core, 0)));
    }

    private static BarCase LongCore(Chance c)
    {
        // a U and a keeper across its mouth
        double limb = c.From(5, 15), window = c.From(10, 40), height = c.From(15, 50), gap = c.Spread(0.3, 8), width = window + (2 * limb), keeper = c.From(5, 15), slack = 0.1 * window;
        (double X, double Y)[] u = [(0, 0), (width, 0), (width, height), (width - limb, height), (width - limb, limb), (limb, limb), (limb, height), (0, height)];
        var outlines = new List<Outline>
        {
            Outline.Polygon(1, [.. u.Select(p => new Point(1e-3 * p.X, 1e-3 * p.Y))]),
            Rectangle(2, (0, width, height + gap, height + gap + keeper)),
            Rectangle(3, (limb + slack, limb + (3 * slack), limb + 1, height - 1)),
            Rectangle(4, (-3 * slack, -slack, limb + 1, height - 1)),
        };
        var winding = new FieldWinding("coil", [new(3, c.Whole(50, 500)), new(4, 0)], new ImposedCurrent(c.Spread(0.1, 10)));
        winding = winding with { Sides = [winding.Sides[0], new(4, -winding.Sides[0].Turns)] };
        var model = new FieldModel { Symmetry = Symmetry.Long, Depth = 0.03, Parts = outlines, Matter = new Dictionary<int, RegionMatter> { [1] = SteelOf(c), [2] = SteelOf(c) }, Windings = [winding] };
        return Asked("long core", model, new FluxLinkageGoal("linkage", "coil"), new ForceGoal("force", [2]), new EnergyGoal("energy"),
            new FluxGoal("flux", new(0, 0.5e-3 * height), new(1e-3 * limb, 0.5e-3 * height)));
    }

    private static BarCase LongPlate(Chance c)
    {
        double plate = c.Spread(0.5, 15), half = c.From(30, 100), lift = c.Spread(0.5, 15), side = c.From(4, 15), apart = c.From(2, 20);
        var outlines = new List<Outline>
        {
            Rectangle(2, (-half, half, -plate, 0)),
            Rectangle(1, (apart, apart + side, lift, lift + side)),
            Rectangle(3, (-apart - side, -apart, lift, lift + side)),
        };
        double turns = c.Whole(20, 300);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long, Depth = 0.1, Parts = outlines, Frequency = c.Spread(5, 10e3),
            Matter = new Dictionary<int, RegionMatter> { [2] = new RegionMatter("plate", c.Spread(2e6, 6e7)) },
            Windings = [new FieldWinding("coil", [new(1, turns), new(3, -turns)], new ImposedCurrent(new Complex(c.Spread(0.5, 20), 0)))],
        };
        return Asked("coils over plate", model, new ForceGoal("force", [2]), new LossGoal("loss", [2]), new FluxLinkageGoal("linkage", "coil"));
    }

    private static BarCase LongMagnets(Chance c)
    {
        double width = c.From(5, 30), height = c.From(4, 20), gap = c.Spread(0.3, 15), angle = c.From(0, 360);
        var outlines = new List<Outline>
        {
            Rectangle(1, (-0.5 * width, 0.5 * width, -height, 0)),
            c.Next() < 0.5 ? Rectangle(2, (c.From(-40, -5), c.From(5, 40), gap, gap + c.From(2, 15))) : Outline.Circle(2, new Point(0, 1e-3 * (gap + (0.4 * width))), 0.4e-3 * width),
        };
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long, Depth = 0.05, Parts = outlines,
            Matter = new Dictionary<int, RegionMatter> { [1] = Magnet(1.2 * Math.Cos(angle * Math.PI / 180), 1.2 * Math.Sin(angle * Math.PI / 180)), [2] = c.Next() < 0.5 ? SteelOf(c) : Magnet(c.Sign * 0.9, 0.3) },
        };
        return Asked("long magnets", model, new EnergyGoal("energy"), new ForceGoal("force", [2]), new MeanFluxDensityGoal("mean B", 2));
    }

    private static BarCase SolidSteel(Chance c)
    {
        var a = Section(c, 1, 0);
        var body = c.Next() < 0.5
            ? Rectangle(2, (0, a.In * c.From(0.3, 0.9), a.Low - c.From(0, 20), a.High + c.From(0, 20)))
            : Rectangle(2, (0, c.From(15, 50), a.High + c.From(1, 10), a.High + c.From(12, 25)));
        var matter = new RegionMatter("steel", c.Spread(2e6, 1e7), c.Spread(50, 1000));
        if (c.Next() < 0.25) matter = matter with { Curve = Steel };
        var model = Round([Rectangle(1, a), body], new() { [2] = matter }, Coil("coil", 1, c.Whole(100, 600), c.Spread(0.2, 5))) with { Frequency = c.Spread(1, 400) };
        return Asked("solid steel, alternating", model, new ForceGoal("force", [2]), new LossGoal("loss", [2]), new FluxLinkageGoal("linkage", "coil"));
    }

    private static BarCase MagnetisedBody(Chance c)
    {
        double radius = c.Spread(3e-3, 5e-2), remanence = c.From(0.2, 1.4);
        var round = c.Next() < 0.5;
        var outline = round ? Outline.HalfDisc(1, radius) : Outline.Circle(1, new Point(0, 0), radius);
        var volume = round ? 4.0 / 3 * Math.PI * radius * radius * radius : Math.PI * radius * radius * 0.05;
        double inside = round ? 2.0 / 3 : 0.5, factor = round ? 6 : 4;
        var model = new FieldModel
        {
            Symmetry = round ? Symmetry.Round : Symmetry.Long, Depth = 0.05, Parts = [outline], Matter = new Dictionary<int, RegionMatter> { [1] = Magnet(0, remanence, 1) },
        };
        return new("magnetised body, exact", model, [new EnergyGoal("energy"), new MeanFluxDensityGoal("mean B", 1)],
            new Dictionary<string, double> { ["energy"] = volume * remanence * remanence / (factor * Mu0), ["mean B"] = inside * remanence });
    }

    private static BarCase Cable(Chance c)
    {
        // current in a rod, back in a tube; between them a tube of linear matter: all by Ampère's law
        double a = c.From(2, 6), t1 = a + c.From(0.5, 5), t2 = t1 + c.Spread(0.3, 6), b = t2 + c.From(0.5, 5), outer = b + c.Spread(0.3, 4), mu = c.Spread(1, 1000), current = c.Spread(1, 200);
        Outline Circle(int region, double radius) => Outline.Circle(region, new Point(0, 0), 1e-3 * radius);
        var model = new FieldModel
        {
            Symmetry = Symmetry.Long, Depth = 1,
            Parts = [Circle(5, outer), Circle(4, b), Circle(3, t2), Circle(2, t1), Circle(1, a)],
            Matter = new Dictionary<int, RegionMatter> { [3] = new RegionMatter("tube", 0, mu) },
            Windings = [new FieldWinding("cable", [new(1, 1), new(5, -1)], new ImposedCurrent(current))],
        };
        double o2 = outer * outer, b2 = b * b;
        var shell = (o2 * o2 * Math.Log(outer / b) / Math.Pow(o2 - b2, 2)) - (((3 * o2) - b2) / (4 * (o2 - b2)));
        var inductance = Mu0 / (2 * Math.PI) * (0.25 + Math.Log(t1 / a) + (mu * Math.Log(t2 / t1)) + Math.Log(b / t2) + shell);
        return new("cable in a tube, exact", model, [new FluxLinkageGoal("linkage", "cable"), new EnergyGoal("energy")],
            new Dictionary<string, double> { ["linkage"] = inductance * current, ["energy"] = 0.5 * inductance * current * current });
    }

    private static BarCase Asked(string family, FieldModel model, params Goal[] goals) => new(family, model, goals, new Dictionary<string, double>());

    private static (double In, double Out, double Low, double High) Section(Chance c, double scale, double low)
    {
        var inner = c.From(8, 40) * scale;
        return (inner, inner + (c.From(2, 25) * scale), low, low + (c.From(2, 50) * scale));
    }

    /// <summary>Sides in mm.</summary>
    private static Outline Rectangle(int region, (double Left, double Right, double Bottom, double Top) s) => Outline.Rectangle(region, 1e-3 * s.Left, 1e-3 * s.Bottom, 1e-3 * s.Right, 1e-3 * s.Top);

    private static FieldWinding Coil(string name, int region, double turns, double current) => FieldWinding.InOneRegion(name, region, turns, new ImposedCurrent(current));

    private static FieldModel Round(IReadOnlyList<Outline> parts, Dictionary<int, RegionMatter> matter, params FieldWinding[] windings) =>
        new() { Symmetry = Symmetry.Round, Parts = parts, Matter = matter, Windings = windings };

    private static RegionMatter SteelOf(Chance c) => c.Next() < 0.5 ? new RegionMatter("steel") { Curve = Steel, StackingFactor = c.Next() < 0.5 ? 1 : 0.95 } : new RegionMatter("linear steel", 0, c.Spread(20, 5000));

    private static RegionMatter Magnet(double x, double y, double recoil = 1.05) => new("magnet", 0, recoil) { Remanence = new(x, y) };

    /// <summary>Numbers by chance, always the same for the same seed.</summary>
    private sealed class Chance(int seed)
    {
        private readonly Random random = new(seed);

        public double Sign => random.NextDouble() < 0.5 ? -1 : 1;

        public double Next() => random.NextDouble();

        public double From(double low, double high) => low + ((high - low) * random.NextDouble());

        /// <summary>Even in the logarithm.</summary>
        public double Spread(double low, double high) => low * Math.Pow(high / low, random.NextDouble());

        public double Whole(int low, int high) => random.Next(low, high);
    }
}
