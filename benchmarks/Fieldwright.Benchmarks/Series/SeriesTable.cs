using System.Diagnostics;
using System.Globalization;

namespace Fieldwright.Benchmarks.Series;

/// <summary>Prints rows of the table of accuracy and speed, as they stand in docs/series.md.</summary>
internal static class SeriesTable
{
    // Short rounds: on a shared machine the best of many is the one nobody disturbed.
    private static readonly TimeSpan Round = TimeSpan.FromMilliseconds(2), Whole = TimeSpan.FromMilliseconds(400);

    public static void Head(string group)
    {
        Console.WriteLine();
        Console.WriteLine($"| {group} | relative error | microseconds | bytes |");
        Console.WriteLine("|---|---|---|---|");
    }

    /// <summary>One row: the error as given, the best time of a call, warm, on one thread, and what a call allocates.</summary>
    public static void Row(string what, double error, Func<object?> call)
    {
        var clock = Stopwatch.StartNew();
        call();
        call();
        var once = clock.Elapsed / 2;
        int calls = (int)Math.Clamp(Round / once, 1, 100000);
        double best = double.MaxValue;
        long bytes = 0;
        var begun = Stopwatch.StartNew();
        for (int round = 0; round < 3 || (begun.Elapsed < Whole && round < 400); round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            clock.Restart();
            for (int i = 0; i < calls; i++)
                call();
            best = Math.Min(best, clock.Elapsed.TotalMicroseconds / calls);
            bytes = (GC.GetAllocatedBytesForCurrentThread() - before) / calls;
        }

        string time = best < 10 ? best.ToString("F2", CultureInfo.InvariantCulture) : best.ToString("F0", CultureInfo.InvariantCulture);
        string off = double.IsNaN(error) ? "–" : Math.Max(Math.Abs(error), 1e-16).ToString("0.0e-0", CultureInfo.InvariantCulture);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {off} | {time} | {bytes} |"));
    }

    /// <summary>Relative departure.</summary>
    public static double Off(double value, double expected) => value / expected - 1;
}
