using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Layers;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Benchmarks.Series.Balls;

/// <summary>Relative error reached, time a call (best of several rounds, warm) and bytes allocated, for balls, layers, cylinders and liquids.</summary>
public static class SeriesBallsBenchmark
{
    public static string Name => "series-balls";

    public static int Run(string[] arguments)
    {
        Console.WriteLine("what                                                   |  relative error | microseconds |    bytes");
        ThickCoil inner = new(0.010, 0.022, -0.040, -0.002, 400), outer = new(0.030, 0.042, -0.040, -0.002, 300);
        CoilSource[] pair = [new(inner, new Complex(0, -8)), new(outer, 12)];
        var body = SphereBody.Hollow(0.012, 0.0015, 35e6);
        var ball = new BallOverCoils(body, pair, 400);
        foreach (var (what, at) in new (string, Vector)[]
        {
            ("ball over two thick coils, on the axis, 8 mm clear", new(0, 0, 0.020)),
            ("ball over two thick coils, 4 mm off the axis", new(0.004, 0, 0.020)),
            ("ball over two thick coils, 4 mm off, 2 mm clear", new(0.004, 0, 0.014)),
            ("ball over two thick coils, 20 mm off", new(0.02, 0.01, 0.020)),
            ("ball beside the coils (sphere quadrature)", new(0.07, 0, 0.0)),
        })
        {
            // Against the other expansion (radial field projected on a sphere, 40 degrees; that coil field is good to 1e-9).
            const int degrees = 40;
            Complex[] c = new Complex[SolidHarmonics.Count(degrees)], one = new Complex[c.Length];
            foreach (var source in pair)
            {
                CoilExpansion.FromSphere(p => source.Coil.FieldPerAmpere(p).FluxDensity, at, body.Radius, degrees, one);
                for (var i = 0; i < c.Length; i++)
                    c[i] += source.PeakCurrent * one[i];
            }
            var best = BallForces.Force(c, new SphereResponse(body, 400, degrees), degrees, new double[degrees + 1]);
            var error = (ball.Evaluate(at, 1e-6).Force - best).Length / best.Length;
            Line(what, error, () => ball.Evaluate(at, 1e-6), 200);
        }
        Line("  its stiffness matrix", double.NaN, () => ball.Stiffness(new Vector(0.004, 0, 0.020), 1e-6), 200);
        Line("  its place of rest from a scan of 40 heights", double.NaN, () => BallEquilibrium.OnLine(ball, 0.006, new Vector(0, 0, 0.0125), 0.08), 3);
        Samples();
        Layers();
        return 0;
    }

    // All of it varied: conductivity, wall, radius, coil sizes, turns, currents, place.
    private static void Samples()
    {
        double best = double.MaxValue, sum = 0;
        const int count = 10000;
        for (var round = 0; round < 3; round++)
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
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"10,000 samples, everything varied, two threads: {best:F2} s (best of 3; mean lift {sum * 1e3:F3} mN)"));
    }

    // Two poles of three phases, two slots a pole and phase: sheet on iron under a slotted core.
    private static void Layers()
    {
        var winding = Winding.Slotted(3, 2, 2, 0.010, 0.006, 20, coilPitch: 5);
        Layer iron = new(double.PositiveInfinity, 0, 1000);
        TravellingField With(int harmonics) => new(StackShape.Flat, [iron, new(0.004, 3.5e7, 1, true), new(0.003), iron], [new(winding, 3, false)], 0.1, harmonics);
        var field = With(40);
        var currents = winding.BalancedCurrents(40);
        var best = With(400).Evaluate(currents, 50, 0).Thrust;
        Line("thrust-slip curve, 100 points, 40 harmonics", Math.Abs(field.Evaluate(currents, 50, 0).Thrust / best - 1), () =>
        {
            double sum = 0;
            for (var i = 0; i < 100; i++)
                sum += field.Evaluate(currents, 50, 0.06 * i).Thrust;
            return sum;
        }, 10);
    }

    internal static void Line(string what, double error, Func<object> call, int calls)
    {
        for (var i = 0; i < Math.Max(calls, 30); i++)
            call();
        var best = double.MaxValue;
        long bytes = 0;
        for (var round = 0; round < 7; round++)
        {
            var before = GC.GetAllocatedBytesForCurrentThread();
            var clock = Stopwatch.StartNew();
            for (var i = 0; i < calls; i++)
                call();
            best = Math.Min(best, clock.Elapsed.TotalMicroseconds / calls);
            bytes = (GC.GetAllocatedBytesForCurrentThread() - before) / calls;
        }
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-54} | {error,15:E1} | {best,12:F1} | {bytes,8}"));
    }
}
