using System.Globalization;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;

namespace Fieldwright.Benchmarks.Fields;

/// <summary>Answers that are made of several solutions, asked through the file: rest heights, temperatures and heights after a time of generated discs and rings over coils. The truth is the series route's
/// answer where its bar is a third of the field's at most; the two share no physics.</summary>
internal static class AskedStudy
{
    private static readonly string[] Measures =
        ["rest height of disc", "swing period of disc", "heat in disc at rest", "temperature of disc after 30 s at rest", "height of disc after 40 ms", "speed of disc after 40 ms"];

    /// <summary>Asks a number of apparatus of a seed.</summary>
    public static IReadOnlyList<BarRow> Run(int seed, int count, Action<int>? done = null)
    {
        var rows = new List<BarRow>();
        for (var k = 0; k < count; k++)
        {
            var random = new Random((seed * 7_919) + k);
            double From(double low, double high) => low + ((high - low) * random.NextDouble());
            double radius = From(45, 70), thickness = From(1.5, 4), inner = From(20, 30), outer = inner + From(15, 25), deep = From(30, 60);
            // three quarters of what wire 1 mm thick over its enamel fills, and enough current to lift
            var turns = Math.Floor(0.75 * (outer - inner) * deep / 1.13);
            var text = string.Create(CultureInfo.InvariantCulture, $$"""
                apparatus: Disc {{k}}
                symmetry: round
                parts:
                  disc: {shape: disc, radius: {{radius:0.##}} mm, thickness: {{thickness:0.##}} mm, at: {z: 0.5 mm}, of: aluminium 1050, moves: up and down}
                windings:
                  coil: {turns: {{turns}}, wire: 1 mm grade 1, between radii: [{{inner:0.##}} mm, {{outer:0.##}} mm], from z: -{{deep:0.##}} mm, to z: 0 mm}
                supplies:
                  source: {current: {{From(9000, 14000) / turns:0.##}} A, frequency: 50 Hz, feeds: [coil]}
                """);
            var reading = ApparatusFile.Read(text, "disc.yaml");
            if (reading.Apparatus is not { } apparatus) throw new InvalidOperationException(string.Join('\n', reading.Mistakes.Select(m => m.Finding)));
            foreach (var asked in Measures)
            {
                if (!MeasureReader.TryRead(asked, apparatus, out var measure, out _)) throw new InvalidOperationException(asked);
                var answers = Rehearsal.Ask(apparatus, measure, new RehearsalOptions(0.01, CarryDoubts: false)).Answers;
                var field = answers.FirstOrDefault(a => a.Route == RouteName.Field);
                var series = answers.FirstOrDefault(a => a.Route == RouteName.Series);
                if (field is null || series is null || series.ErrorBar > field.ErrorBar / 3) continue;
                rows.Add(new("asked of a file", k, string.Join(' ', asked.Split(' ').TakeWhile(w => w is not ("of" or "in"))), field.Value, field.ErrorBar, series.Value, true));
            }
            done?.Invoke(k);
        }
        return rows;
    }
}
