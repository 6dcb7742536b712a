using System.Diagnostics;
using System.Globalization;
using Fieldwright.Series.Layers;

namespace Fieldwright.Benchmarks.Series.Layers;

/// <summary>Thrust–slip curves of 100 points with 40 harmonics, flat, tubular and rotating (best of several rounds, warm, one thread), and what 40 harmonics leave out.</summary>
public static class SeriesTracksBenchmark
{
    public static string Name => "series-tracks";

    public static int Run(string[] arguments)
    {
        Console.WriteLine("thrust-slip curve, 100 points, 40 harmonics            | left out at 40 | milliseconds");
        Line("flat: sheet over a row of slots, back iron", StackShape.Flat, 0.24);
        Line("tubular: tube in a row of coils", StackShape.Tubular, 0.24);
        Line("rotating: cage in a stator", StackShape.Rotating, 2 * Math.PI);
        return 0;
    }

    private static void Line(string what, StackShape shape, double period)
    {
        var winding = Winding.Slotted(3, 2, 4, period / 24, 0.7 * period / 24, 40, coilPitch: 5);
        var currents = winding.BalancedCurrents(10);
        var field = Field(shape, winding, 40);
        double speed = field.SynchronousSpeed(2, 50);
        double best = double.MaxValue;
        for (int round = 0; round < 7; round++)
        {
            long start = Stopwatch.GetTimestamp();
            for (int i = 0; i < 100; i++)
                field.Evaluate(currents, 50, speed * i / 100);
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        double reached = field.Evaluate(currents, 50, 0.5 * speed).Thrust, limit = Field(shape, winding, 400).Evaluate(currents, 50, 0.5 * speed).Thrust;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-55}| {Math.Abs(reached / limit - 1),14:E1} | {best,12:F2}"));
    }

    private static TravellingField Field(StackShape shape, Winding winding, int harmonics)
    {
        Layer first = shape == StackShape.Flat ? new(double.PositiveInfinity) : new(0.02, 0, 100);
        return new TravellingField(shape, [first, new(0.003, 3.5e7, 1, true), new(0.004), new(0.010), new(0.012, 0, 800), new(double.PositiveInfinity)], [new(winding, 3, shape != StackShape.Tubular)], 0.06, harmonics);
    }
}
