using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Magnets;
using static Fieldwright.Benchmarks.Series.SeriesTable;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Balls over coils and among magnets.</summary>
internal static class BallRows
{
    private static readonly ThickCoil Inner = new(0.010, 0.022, -0.040, -0.002, 400), Outer = new(0.030, 0.042, -0.040, -0.002, 300);
    private static readonly CoilSource[] Pair = [new(Inner, new Complex(0, -8)), new(Outer, 12)];

    public static void Run()
    {
        Head("balls; two thick coils, force and loss to 1e-6");
        var body = SphereBody.Hollow(0.012, 0.0015, 35e6);
        var ball = new BallOverCoils(body, Pair, 400);
        foreach (var (what, at) in new (string, Vector)[]
        {
            ("on the axis, 8 mm clear", new(0, 0, 0.020)), ("4 mm off the axis", new(0.004, 0, 0.020)), ("4 mm off, 2 mm clear", new(0.004, 0, 0.014)),
            ("20 mm off", new(0.02, 0.01, 0.020)), ("beside the coils, 16 mm clear", new(0.07, 0, 0.0)), ("beside the coils, 6 mm clear", new(0.06, 0, -0.02)),
            ("over the outer rim, 6 mm clear", new(0.046, 0, 0.016)),
        })
        {
            var best = Reference(ball, at);
            Row(what, (ball.Evaluate(at, 1e-6).Force - best).Length / best.Length, () => ball.Evaluate(at, 1e-6));
        }

        ThickCoil wide = new(0.010, 0.080, -0.040, -0.002, 900), leaning = new(0.010, 0.022, -0.040, -0.002, 400, default, new Vector(0.2, 0, 1)),
            other = new(0.030, 0.042, -0.040, -0.002, 300, default, new Vector(0.2, 0.1, 1));
        foreach (var (what, coils, at) in new (string, CoilSource[], Vector)[]
        {
            ("over a wide winding, half way out, 2 mm clear", [new(wide, 8), new(Inner.Moved(new Vector(0, 0, 0.07)), 12)], new(0.045, 0, 0.012)),
            ("two coils that lean", [new(leaning, new Complex(0, -8)), new(other, 12)], new(0.004, 0, 0.022)),
            ("two coils that lean, over the outer rim", [new(leaning, new Complex(0, -8)), new(other, 12)], new(0.046, 0, 0.022)),
        })
        {
            var over = new BallOverCoils(body, coils, 400);
            var best = Reference(over, at);
            Row(what, (over.Evaluate(at, 1e-6).Force - best).Length / best.Length, () => over.Evaluate(at, 1e-6));
        }

        var place = new Vector(0.004, 0, 0.020);
        // Differences of the force over 0.2 mm by the formula of fourth order.
        const double h = 2e-4;
        double ForceX(double dx) => ball.Evaluate(place + new Vector(dx, 0, 0), 1e-10).Force.X;
        double slope = -(8 * (ForceX(h) - ForceX(-h)) - ForceX(2 * h) + ForceX(-2 * h)) / (12 * h);
        Row("stiffness matrix (differences of the force)", Off(ball.Stiffness(place, 1e-6)[0, 0], slope), () => ball.Stiffness(place, 1e-6));
        var fine = ball.ReflectedImpedance(place, 1e-11);
        Row("impedance reflected into the coils (tighter tolerance)", (ball.ReflectedImpedance(place, 1e-6)[0, 0] - fine[0, 0]).Magnitude / fine[0, 0].Magnitude, () => ball.ReflectedImpedance(place, 1e-6));
        var strong = new BallOverCoils(body, [new(Inner, new Complex(0, -32)), new(Outer, 16)], 400);
        var rest = BallEquilibrium.OnLine(strong, 0.006, new Vector(0, 0, 0.0125), 0.08);
        Row("places of rest from a scan of 40 heights, with eigenvalues (force against weight)", Off(rest.Count > 0 ? rest[^1].Response.Force.Z : double.NaN, 0.006 * 9.80665), () => BallEquilibrium.OnLine(strong, 0.006, new Vector(0, 0, 0.0125), 0.08));
        var field = ball.Field(place, 1e-9);
        var rough = ball.Field(place, 1e-6);
        var seen = new Vector(0.014, 0.006, 0.024);
        var there = field.FluxDensity(seen);
        Row("field for drawing, at a point (tighter tolerance)", (rough.FluxDensity(seen).Real - there.Real).Length / there.Real.Length, () => rough.FluxDensity(seen));
        var answer = ball.Evaluate(place, 1e-9);
        Row("heat by layers from the currents (against the power drawn)", Off(VolumeLoss.ByLayer(body, answer.Response, answer.Coefficients, answer.Degrees).Sum(), answer.Loss), () => VolumeLoss.ByLayer(body, answer.Response, answer.Coefficients, answer.Degrees));
        var solid = SphereBody.Solid(0.01, 35e6);
        double delta = Math.Sqrt(2 / (2 * Math.PI * 400 * Matter.PhysicalConstants.MagneticConstant * 35e6)), x = 0.01 / delta;
        var k = new Complex(x, x);
        var closed = -2 * Math.PI * 1e-6 * (1 - 3 / (k * Complex.Tanh(k)) + 3 / (k * k));
        Row("response of a solid ball, 12 degrees (closed form of the first)", ((new SphereResponse(solid, 400, 12).Polarisability - closed) / closed).Magnitude, () => new SphereResponse(solid, 400, 12));
        var low = new CylinderMagnet(0.01, 0.01, 1.2);
        BallAmongMagnets Steel(double tolerance) => new(SphereBody.Solid(0.007, 0, 500), new Vector(0.001, 0, 0.0122), low.FluxDensity, tolerance);
        Row("steel ball 0.2 mm off a magnet, to 1e-6 (tighter tolerance)", (Steel(1e-6).Force - Steel(1e-9).Force).Length / Steel(1e-9).Force.Length, () => Steel(1e-6));
        Samples();
    }

    // By the other expansion: the radial field projected on a sphere, 40 degrees; that coil field is good to 1e-9.
    private static Vector Reference(BallOverCoils ball, Vector at)
    {
        const int degrees = 40;
        Complex[] c = new Complex[SolidHarmonics.Count(degrees)], one = new Complex[c.Length];
        foreach (var source in ball.Sources)
        {
            CoilExpansion.FromSphere(p => source.Coil.FieldPerAmpere(p).FluxDensity, at, ball.Body.Radius, degrees, one);
            for (int i = 0; i < c.Length; i++)
                c[i] += source.PeakCurrent * one[i];
        }

        return BallForces.Force(c, new SphereResponse(ball.Body, ball.Frequency, degrees), degrees, new double[degrees + 1]);
    }

    // All of it varied: conductivity, wall, radius, coil sizes, turns, currents, place.
    private static void Samples()
    {
        const int count = 10000;
        double best = double.MaxValue, sum = 0;
        for (int round = 0; round < 3; round++)
        {
            var forces = new double[count];
            var clock = Stopwatch.StartNew();
            Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = 2 }, i =>
            {
                var random = new Random(i);
                double Vary(double x, double by) => x * (1 + by * (2 * random.NextDouble() - 1));
                ThickCoil inner = new(Vary(0.010, 0.03), Vary(0.022, 0.03), Vary(-0.040, 0.03), -0.002, Vary(400, 0.01));
                ThickCoil outer = new(Vary(0.030, 0.03), Vary(0.042, 0.03), Vary(-0.040, 0.03), -0.002, Vary(300, 0.01));
                var ball = new BallOverCoils(SphereBody.Hollow(Vary(0.012, 0.03), Vary(0.0015, 0.1), Vary(35e6, 0.1)),
                    [new(inner, Complex.FromPolarCoordinates(Vary(8, 0.05), -Vary(1.57, 0.05))), new(outer, Vary(12, 0.05))], 400);
                forces[i] = ball.Evaluate(new Vector(0.004 * random.NextDouble(), 0.004 * random.NextDouble(), Vary(0.018, 0.1)), 1e-6).Force.Z;
            });
            best = Math.Min(best, clock.Elapsed.TotalSeconds);
            sum = forces.Average();
        }

        Console.WriteLine();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"10,000 samples of the floating ball, everything varied, two threads: {best:F2} s (best of 3; mean lift {sum * 1e3:F3} mN)"));
    }
}
