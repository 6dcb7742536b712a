using System.Diagnostics;
using System.Globalization;
using Fieldwright.Particles;

namespace Fieldwright.Benchmarks.Particles;

/// <summary>Meetings a second of processor time, one thread, for gases from thin to dense and for a shaken box with a lid.</summary>
public static class HardDiscsBenchmark
{
    public static string Name => "hard-discs";

    public static int Run(string[] arguments)
    {
        Console.WriteLine("what                                          |  discs | meetings a second");
        foreach (int count in (int[])[100, 1000, 10_000])
            foreach (double packing in (double[])[0.01, 0.1, 0.3, 0.5, 0.65])
            {
                double side = Math.Sqrt(count * Math.PI * 0.25 / packing);
                var discs = new HardDiscs(new BoxDescription { Width = side, Height = side, Sides = Sides.Endless }, Placement.Lattice(count, 0.5, 1, side, side, 1, 1, Sides.Endless));
                discs.RunMeetings(10L * count);
                Line($"gas without walls, packing {packing.ToString("0.##", CultureInfo.InvariantCulture)}", count, discs);
            }

        double tray = 0.6;
        Line("tray with walls, packing 0.1", 144, new HardDiscs(new BoxDescription { Width = tray, Height = tray }, Placement.Lattice(144, 0.0089, 0.005, tray, tray, 2e-4, 1)));
        var shaken = new BoxDescription { Width = 20, Height = 80, Gravity = 9.81, Restitution = 0.95, WallRestitution = 0.98, ContactTime = 1e-5, Floor = new ShakingFloor(0.3, 5), Lid = new Lid(20, 50, 30) };
        Line("shaken box with losses and a lid", 100, new HardDiscs(shaken, [.. Placement.Lattice(100, 0.5, 1, 20, 28, 20, 1).Select(d => d with { Y = d.Y + 0.5 })]));
        return 0;
    }

    private static void Line(string what, int count, HardDiscs discs)
    {
        discs.RunMeetings(200_000);
        double best = 0;
        for (int round = 0; round < 3; round++)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            discs.RunMeetings(500_000);
            best = Math.Max(best, 500_000 / (Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds);
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-45} | {count,6} | {best,12:0}"));
    }
}
