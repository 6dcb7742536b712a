using System.Diagnostics;
using System.Globalization;

namespace Fieldwright.Benchmarks.Fields;

/// <summary>How often error bars reach the truth, and how much longer than the error they are. See docs/error-bars.md.</summary>
public static class BarsBenchmark
{
    /// <summary>What one types to run it.</summary>
    public static string Name => "bars";

    /// <summary>Prints the tables: <c>bars [SEED …] [--count N] [--only N,N …] [--misses] [--no-bounds] [--asked N] [--validation]</c>; with one of the last two, those tables only;
    /// with <c>--only</c> the apparatus of those numbers, every mesh of them in a line of its own.</summary>
    public static int Run(string[] arguments)
    {
        IReadOnlyList<int>? only = null;
        var (seeds, count, misses, bounds, asked, validation) = (new List<int>(), 208, false, true, 0, false);
        for (var i = 0; i < arguments.Length; i++)
        {
            if (arguments[i] == "--count") count = int.Parse(arguments[++i], CultureInfo.InvariantCulture);
            else if (arguments[i] == "--only") only = [.. arguments[++i].Split(',').Select(n => int.Parse(n, CultureInfo.InvariantCulture))];
            else if (arguments[i] == "--misses") misses = true;
            else if (arguments[i] == "--no-bounds") bounds = false;
            else if (arguments[i] == "--asked") asked = int.Parse(arguments[++i], CultureInfo.InvariantCulture);
            else if (arguments[i] == "--validation") validation = true;
            else seeds.Add(int.Parse(arguments[i], CultureInfo.InvariantCulture));
        }
        only ??= [.. Enumerable.Range(0, count)];
        if (seeds.Count == 0) seeds.Add(2);
        if (validation) Cases(misses);
        foreach (var seed in seeds)
        {
            if (asked > 0) Asked(seed, asked, misses);
            else if (!validation) Study(seed, only, misses, bounds, each: only.Count < count);
        }
        return 0;
    }

    private static void Asked(int seed, int count, bool misses)
    {
        var rows = AskedStudy.Run(seed, count, k => Console.Error.Write($"\r{k + 1} of {count} "));
        Console.Error.WriteLine();
        Console.WriteLine(Line($"seed {seed}: {count} apparatus asked through the file, {rows.Count} answers"));
        Head();
        Row("all", rows);
        foreach (var kind in rows.GroupBy(r => r.Kind)) Row(kind.Key, [.. kind]);
        if (misses) Misses(rows);
    }

    /// <summary>Cases whose truth is known to a third of the bar; the rest cannot say how good a bar is.</summary>
    private static void Cases(bool misses)
    {
        var all = ValidationBars.Run();
        var rows = all.Where(r => r.Open <= r.Row.Bar / 3).Select(r => r.Row).ToList();
        Console.WriteLine(Line($"validation: {all.Count} answers, truth known to a third of the bar in {rows.Count}; within bar and what the truth leaves open: {all.Count(r => r.Row.Error <= r.Row.Bar + r.Open)}"));
        Head();
        Row("all", rows);
        foreach (var kind in rows.GroupBy(r => r.Kind).OrderBy(g => g.Key, StringComparer.Ordinal)) Row(kind.Key, [.. kind]);
        if (misses) Misses(rows);
    }

    private static void Study(int seed, IReadOnlyList<int> numbers, bool misses, bool bounds, bool each)
    {
        var start = Stopwatch.GetTimestamp();
        var finished = 0;
        var (bars, brackets) = BarStudy.Run(seed, numbers, bounds, _ => Console.Error.Write($"\r{Interlocked.Increment(ref finished)} of {numbers.Count} "));
        Console.Error.WriteLine();
        if (each) foreach (var b in bars) One(b);
        var last = bars.Where(b => b.Last).ToList();
        Console.WriteLine(Line($"seed {seed}: {numbers.Count} apparatus, {last.Count} answers, {Stopwatch.GetElapsedTime(start).TotalSeconds:0} s"));
        Head();
        Row("all", last);
        Row("all, on coarser meshes on the way", [.. bars.Where(b => !b.Last)]);
        foreach (var kind in last.GroupBy(b => b.Kind).OrderBy(g => g.Key, StringComparer.Ordinal)) Row(kind.Key, [.. kind]);
        foreach (var family in last.GroupBy(b => b.Family)) Row("*" + family.Key + "*", [.. family]);
        if (bounds) CoenergyBounds(brackets);
        Console.WriteLine();
        if (!misses) return;
        Misses(bars);
        foreach (var b in brackets.Where(b => !b.Held)) Console.WriteLine(Line($"not held: {b.Number} {b.Family}"));
    }

    private static void CoenergyBounds(IReadOnlyList<BracketRow> brackets)
    {
        Console.WriteLine();
        Console.WriteLine("| bounds of the coenergy | how many | hold the truth | half distance, median | widest |");
        Console.WriteLine("|---|--:|--:|--:|--:|");
        Bounds("all", brackets);
        foreach (var family in brackets.GroupBy(b => b.Family)) Bounds("*" + family.Key + "*", [.. family]);
    }

    private static void Head()
    {
        Console.WriteLine();
        Console.WriteLine("| answers | how many | bar reaches the truth | bar over error, median | error over bar, 95 % | worst | bar, median |");
        Console.WriteLine("|---|--:|--:|--:|--:|--:|--:|");
    }

    private static void Misses(IReadOnlyList<BarRow> rows)
    {
        foreach (var b in rows.Where(b => !b.Covered)) One(b);
    }

    private static void One(BarRow b) =>
        Console.WriteLine(Line($"{(b.Covered ? "held" : "miss")}: {b.Number} {b.Family} {b.Kind} {(b.Last ? "last" : "on the way")}: {b.Value:G6} ± {b.Bar:G3}, truth {b.Truth:G6}, error/bar {b.Error / b.Bar:0.00}"));

    private static void Row(string what, IReadOnlyList<BarRow> rows)
    {
        if (rows.Count == 0) return;
        double[] over = [.. rows.Where(r => r.Bar > 0).Select(r => r.Error / r.Bar).Order()];
        double[] size = [.. rows.Where(r => r.Value != 0).Select(r => r.Bar / Math.Abs(r.Value)).Order()];
        Console.WriteLine(Line($"| {what} | {rows.Count} | {100.0 * rows.Count(r => r.Covered) / rows.Count:0.0} % | {1 / At(over, 0.5):0.0} | {At(over, 0.95):0.00} | {over[^1]:0.00} | {100 * At(size, 0.5):0.00} % |"));
    }

    private static void Bounds(string what, IReadOnlyList<BracketRow> rows)
    {
        if (rows.Count == 0) return;
        double[] width = [.. rows.Select(r => r.Relative).Order()];
        Console.WriteLine(Line($"| {what} | {rows.Count} | {100.0 * rows.Count(r => r.Held) / rows.Count:0.0} % | {100 * At(width, 0.5):0.000} % | {100 * width[^1]:0.0} % |"));
    }

    private static double At(double[] sorted, double share) => sorted.Length == 0 ? double.NaN : sorted[Math.Min(sorted.Length - 1, (int)(share * sorted.Length))];

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
