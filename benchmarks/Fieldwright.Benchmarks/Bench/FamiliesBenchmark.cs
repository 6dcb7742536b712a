using System.Diagnostics;
using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;

namespace Fieldwright.Benchmarks.Bench;

/// <summary>What one answer costs in each of the ten families: processor time of one claim by every route that can, the better of two runs.</summary>
public static class FamiliesBenchmark
{
    /// <summary>What one types to run it.</summary>
    public static string Name => "families";

    private static readonly (string Family, string Example, string Measure, string? State)[] Rows =
    [
        ("1 ring with two coils", "ring-and-lamp", "brightness of lamp", "ring with a gap"),
        ("1 kick of a meter", "battery-kick", "kick charge through galvanometer", null),
        ("2 magnets and steel", "two-magnets-and-a-ball", "", null),
        ("2 steel between like poles", "like-poles", "", "brass between"),
        ("2 who keeps the ball", "magnet-steel-and-a-ball", "", "bare"),
        ("3 foil loop", "foil-loop", "opening of foil", "open"),
        ("4 levitator, disc", "floating-disc", "rest height of disc", null),
        ("4 levitator, ball", "floating-ball-two-coils", "rest height of ball", null),
        ("4 levitator, ball let go until it is down", "floating-ball-two-coils", "staying time of ball at x 2 mm at rest", "inner behind"),
        ("4 levitator, ball that leaves", "floating-ball-two-coils", "exit speed of ball at x 2 mm at rest", "inner ahead"),
        ("5 rotation tester", "rotation-tester", "", null),
        ("6 travelling track", "flat-track", "", null),
        ("7 liquid-metal pump", "liquid-pump", "head of metal", "with the bar"),
        ("8 tube launcher", "tube-launcher", "", null),
        ("8 ring before a bank", "ring-shot", "mouth speed of ring", null),
        ("8 ring off a core", "ring-off-a-core", "", null),
        ("9 particle box", "gas-in-a-tray", "", null),
        ("9 magnets that repel", "shy-magnets", "gas pressure", "as magnets"),
        ("10 boards", "water-board", "flow in wide tube", "riding"),
    ];

    /// <summary>Prints the table; the folder of the examples may be given.</summary>
    public static int Run(string[] arguments)
    {
        ArgumentNullException.ThrowIfNull(arguments);
        string folder = arguments.Length > 0 ? arguments[0] : "examples";
        Console.WriteLine("One answer of each family by every route that can, CPU seconds, the better of two runs (the first also compiles).");
        Console.WriteLine("| family | example | measure | routes | CPU s |");
        Console.WriteLine("|---|---|---|---|---|");
        foreach (var (family, example, asked, state) in Rows)
        {
            string path = Path.Combine(folder, example + ".yaml");
            var apparatus = ApparatusFile.Read(File.ReadAllText(path), path).Apparatus ?? throw new InvalidDataException(path + " is not sound.");
            var claim = apparatus.Claims[0];
            var measure = claim.Measure;
            if (asked.Length > 0 && !MeasureReader.TryRead(asked, apparatus, out measure, out var mistake))
                throw new InvalidDataException(mistake.Finding);
            double best = double.PositiveInfinity;
            RoutedAnswer? answer = null;
            for (int run = 0; run < 2; run++)
            {
                var before = Process.GetCurrentProcess().TotalProcessorTime;
                answer = Rehearsal.Ask(apparatus, measure!, new RehearsalOptions(), asked.Length > 0 ? state : claim.State);
                best = Math.Min(best, (Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds);
            }

            string routes = string.Join(", ", answer!.Answers.Select(a => Judge.Word(a.Route)));
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {family} | {example} | {measure!.Text} | {routes} | {best:0.00} |"));
        }

        return 0;
    }
}
