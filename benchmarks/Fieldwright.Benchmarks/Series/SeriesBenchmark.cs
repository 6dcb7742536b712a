using System.Numerics;
using Fieldwright.Benchmarks.Series.Balls;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Foil;
using Fieldwright.Series.Magnets;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Benchmarks.Series;

/// <summary>The whole series route in one table: relative error reached, time a call (best of several rounds, warm) and bytes allocated.</summary>
/// <remarks>Each error is against another method where there is one (a round coil for a racetrack whose corners meet, poles for current sheets, the closed form for the sum), otherwise against a finer rule.</remarks>
public static class SeriesBenchmark
{
    public static string Name => "series";

    public static int Run(string[] arguments)
    {
        SeriesBallsBenchmark.Run(arguments);
        Coils();
        Magnets();
        var strip = new FoilStrip(0.3, 0.01, 15e-6, 0.04, 2700, 70e9);
        var fine = FoilLoop.Settle(strip, 20, null, 96).Opening;
        SeriesBallsBenchmark.Line("foil loop at 20 A, 48 links", FoilLoop.Settle(strip, 20, null, 48).Opening / fine - 1, () => FoilLoop.Settle(strip, 20, null, 48), 1);
        return 0;
    }

    private static void Coils()
    {
        ThickCoil first = new(0.02, 0.03, -0.015, 0.015, 100), second = new(0.022, 0.035, 0.02, 0.04, 80), askew = new(0.022, 0.035, -0.01, 0.01, 80, new Vector(0.02, 0.01, 0.05), new Vector(0.3, 0.1, 1));
        var square = new RacetrackCoil(0.04, 0.04, 0.02, 0.01, 0.03, 100);
        Vector near = new(0.01, 0.02, 0.03), inside = new(0.025, 0, 0.003);
        double sections = SectionCoupling.Mutual(first.Section, first.Section, 14), self = SectionCoupling.Mutual(first.Section, first.Section);
        SeriesBallsBenchmark.Line("self-inductance of a thick coil", self / sections - 1, () => first.SelfInductance(), 20);
        var by = first.Filaments(24, 24).Sum(a => second.Filaments(24, 24).Sum(b => a.Turns * b.Turns * Filament.MutualInductance(a.Radius, b.Radius, b.Height - a.Height)));
        SeriesBallsBenchmark.Line("mutual inductance of two thick coils on one axis", ThickCoil.MutualInductance(first, second) / by - 1, () => ThickCoil.MutualInductance(first, second), 20);
        var pair = new CoilPair(first, askew).MutualInductance();
        SeriesBallsBenchmark.Line("mutual inductance of two thick coils askew", pair.Error / pair.Value, () => new CoilPair(first, askew).MutualInductance(), 1);
        SeriesBallsBenchmark.Line("field of a thick coil, outside", double.NaN, () => first.FluxDensity(near, 1), 500);
        SeriesBallsBenchmark.Line("field of a thick coil, inside the winding", double.NaN, () => first.FluxDensity(inside, 1), 200);
        foreach (var (what, at, calls) in new (string, Vector, int)[] { ("field of a racetrack coil, outside", near, 100), ("field of a racetrack coil, inside the winding", inside, 20) })
            SeriesBallsBenchmark.Line(what, (square.FluxDensity(at) - first.FluxDensity(at, 1)).Length / first.FluxDensity(at, 1).Length, () => square.FluxDensity(at), calls);
        SeriesBallsBenchmark.Line("self-inductance of a racetrack coil", square.SelfInductance().Value / first.SelfInductance() - 1, () => square.SelfInductance(), 1);
    }

    private static void Magnets()
    {
        CylinderMagnet low = new(0.01, 0.01, 1.2), high = new(0.01, 0.01, 1.2, new Vector(0, 0, 0.013)), aside = new(0.008, 0.006, 1.2, new Vector(0.005, 0, 0.012), new Vector(0.2, 0, 1));
        double closed = CylinderMagnet.Load(low, high).Force.Z;
        SeriesBallsBenchmark.Line("cylinder magnets on one axis, closed form", Loads.Between(low, high, 1e-10).Force.Z / closed - 1, () => CylinderMagnet.Load(low, high), 200);
        var load = Loads.Between(low, aside, 1e-6);
        SeriesBallsBenchmark.Line("cylinder magnets askew, to 1e-6", (load.Force - Loads.Between(low, aside, 1e-10).Force).Length / load.Force.Length, () => Loads.Between(low, aside, 1e-6), 2);
        BarMagnet block = new(new Vector(0.02, 0.012, 0.006), new Vector(0, 0, 1.2)), other = new(new Vector(0.015, 0.01, 0.006), new Vector(0.5, 0, 1), new Vector(0.004, 0.002, 0.012), new Vector(1, 0.3, 0));
        load = Loads.Between(block, other, 1e-6);
        SeriesBallsBenchmark.Line("block on block askew, against its poles", (load.Force - BarMagnet.Load(block, other).Force).Length / load.Force.Length, () => Loads.Between(block, other, 1e-6), 2);
        BallAmongMagnets Ball(double tolerance) => new(SphereBody.Solid(0.007, 0, 500), new Vector(0.001, 0, 0.0122), low.FluxDensity, tolerance);
        SeriesBallsBenchmark.Line("steel ball 0.2 mm off a magnet, to 1e-6", (Ball(1e-6).Force - Ball(1e-9).Force).Length / Ball(1e-9).Force.Length, () => Ball(1e-6), 5);
    }
}
