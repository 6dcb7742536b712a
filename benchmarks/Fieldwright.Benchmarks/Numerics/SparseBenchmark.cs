using System.Diagnostics;
using System.Globalization;
using System.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Benchmarks.Numerics;

/// <summary>
/// The sparse solver beside its peers, on the same matrices in one run, one thread each: processor time, best of several.
/// Options: sizes to run ("11k", "79k", "458k", or the cells along a side of the grid; all three when none is named), "dial" for the dials alone,
/// "quick" to leave out splu and UMFPACK, "alone" to leave out all peers. The analysis, the factor and the solution are timed apart; "in all" is their sum.
/// </summary>
internal static class SparseBenchmark
{
    public static string Name => "sparse";

    public static int Run(string[] arguments)
    {
        if (arguments is ["memory", var cellsText, var kind])
            return Memory(int.Parse(cellsText, CultureInfo.InvariantCulture), kind == "complex");
        var quick = arguments.Contains("quick");
        var alone = arguments.Contains("alone");
        int[] sizes = [.. arguments.Select(Cells).Where(cells => cells > 0)];
        var dial = arguments.Contains("dial");
        foreach (var cells in sizes.Length > 0 || dial ? sizes : [54, 141, 339])
            One(cells, quick, alone);
        if (dial || sizes.Length == 0)
        {
            Dial(50, 16);
            Dial(113, 100);
        }
        return 0;
    }

    private static int Cells(string size) => size switch
    {
        "11k" => 54,
        "79k" => 141,
        "458k" => 339,
        _ => int.TryParse(size, CultureInfo.InvariantCulture, out var cells) ? cells : 0,
    };

    private static void One(int cells, bool quick, bool alone)
    {
        const double omega = 1e4;
        var system = new PlanarSystem(cells);
        var imaginary = system.Mass.Select(m => m * omega).ToArray();
        var repeat = system.Order < 100_000 ? 9 : 4;
        Console.WriteLine(Line($"P2, {system.Order} unknowns, {system.Pattern.EntryCount} entries of the lower triangle"));
        SparseAnalysis analysis = null!;
        var analysed = Best(repeat, () => analysis = SparseAnalysis.Create(system.Pattern, system.Coordinates));
        var byGraph = Best(2, () => SparseAnalysis.Create(system.Pattern));
        Console.WriteLine(Line($"  {analysis.FactorEntries / 1e6:F2} M entries of L, {analysis.Operations / 1e9:F2} G operations; memory foretold {analysis.PredictedBytes / 1048576.0:F0} MB real, {analysis.PredictedComplexBytes / 1048576.0:F0} MB complex; ordering without places {byGraph:F0} ms"));
        Console.WriteLine("                             analysis    factor     solve   peak MB");
        var real = RealLdl.Create(analysis, system.Stiffness, threads: 1);
        var b = Enumerable.Repeat(1.0, system.Order).ToArray();
        var x = new double[system.Order];
        var realTime = Best(repeat, () => real.Refactor(system.Stiffness));
        var realSolve = Best(repeat, () => real.Solve(b, x));
        var realMemory = MeasuredMemory(cells, "real");
        Row("real", analysed, realTime, realSolve, realMemory);
        var realFirst = Best(2, () => RealLdl.Create(analysis, system.Stiffness, threads: 1));
        var realWall = Wall(repeat, () => real.Refactor(system.Stiffness));
        real = RealLdl.Create(analysis, system.Stiffness, threads: 2);
        var realTwo = Wall(repeat, () => real.Refactor(system.Stiffness));
        var complex = ComplexLdl.Create(analysis, system.Stiffness, imaginary, threads: 1);
        var complexB = b.Select(v => new Complex(v, 0)).ToArray();
        var complexX = new Complex[system.Order];
        var complexTime = Best(repeat, () => complex.Refactor(system.Stiffness, imaginary));
        var complexSolve = Best(repeat, () => complex.Solve(complexB, complexX));
        var complexMemory = MeasuredMemory(cells, "complex");
        Row("complex", analysed, complexTime, complexSolve, complexMemory);
        var complexFirst = Best(2, () => ComplexLdl.Create(analysis, system.Stiffness, imaginary, threads: 1));
        Console.WriteLine(Line($"  a first factor, its memory fetched from the system: real {realFirst:F1} ms, complex {complexFirst:F1} ms"));
        var complexWall = Wall(repeat, () => complex.Refactor(system.Stiffness, imaginary));
        complex = ComplexLdl.Create(analysis, system.Stiffness, imaginary, threads: 2);
        var complexTwo = Wall(repeat, () => complex.Refactor(system.Stiffness, imaginary));
        Console.WriteLine(Line($"  second thread, elapsed: real {realWall:F1} to {realTwo:F1} ms, {Judged(realWall / realTwo, 1.6)} times; complex {complexWall:F1} to {complexTwo:F1} ms, {Judged(complexWall / complexTwo, 1.6)} times"));
        Pivoting(system, analysis, Math.Min(repeat, 5), realTime);
        if (alone)
            return;
        foreach (var line in Peers(system, imaginary, repeat, quick))
        {
            var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            if (words.Length != 5)
            {
                Console.WriteLine("  " + line);
                continue;
            }
            var numbers = words[1..].Select(w => double.Parse(w, CultureInfo.InvariantCulture)).ToArray();
            var isReal = words[0].StartsWith("CHOLMOD", StringComparison.Ordinal) || words[0].StartsWith("DMUMPS", StringComparison.Ordinal);
            Row(words[0], numbers[0], numbers[1], numbers[2], numbers[3]);
            var (factor, solve) = isReal ? (realTime, realSolve) : (complexTime, complexSolve);
            var (byAnalysis, byFactor, inAll) = Targets(words[0]);
            var memory = isReal ? realMemory : complexMemory;
            Console.WriteLine(Line($"    times ours: {(numbers[0] > 0 ? Line($"analysis {Judged(numbers[0] / analysed, byAnalysis)}, ") : "")}factor {Judged(numbers[1] / factor, byFactor)}, solve {numbers[2] / solve:F1}, in all {Judged(numbers[..3].Sum() / (analysed + factor + solve), inAll)}, peak memory {Judged(numbers[3] / memory, 1)}"));
        }
    }

    // The factors that choose their pivots, on an indefinite and on an unsymmetric matrix of the same pattern, beside the definite one's time.
    private static void Pivoting(PlanarSystem system, SparseAnalysis analysis, int repeat, double definite)
    {
        var indefinite = system.Stiffness.Zip(system.Mass, (k, m) => k - 3e3 * m).ToArray();
        var paired = Best(repeat, () => IndefiniteLdl.Create(analysis, indefinite));
        var upper = system.Stiffness.Select((v, p) => v + (p % 3 - 1) * 0.05).ToArray();
        var lu = Best(repeat, () => SparseLu.Create(analysis, system.Stiffness, upper));
        Console.WriteLine(Line($"  with pivoting, real: pairs {paired:F1} ms ({paired / definite:F1} of the definite factor), LU {lu:F1} ms ({lu / definite:F1})"));
    }

    // What is aimed at beside each peer, in times ours: analysis (ordering by METIS), factorisation, all together; 0 where nothing is.
    private static (double Analysis, double Factor, double InAll) Targets(string peer) => peer switch
    {
        "CHOLMOD-real" => (3, 3, 0),
        "ZMUMPS-SYM2" => (3, 2.5, 0),
        "UMFPACK-complex" => (0, 6, 0),
        _ when peer.StartsWith("splu", StringComparison.Ordinal) => (0, 0, 15),
        _ => (0, 0, 0),
    };

    private static string Judged(double ratio, double target) =>
        target == 0 ? Line($"{ratio:F1}") : Line($"{ratio:F2} ({(ratio >= target ? "met" : "missed")}: {target})");

    // Peak resident memory of analysis, factorisation and solution beyond the matrix, in a process of its own as the peers have.
    private static int Memory(int cells, bool complex)
    {
        // A small system first, so that the code is compiled: the peers' is before they start.
        Once(new PlanarSystem(36), complex);
        var system = new PlanarSystem(cells);
        GC.Collect(2, GCCollectionMode.Aggressive, true, true);
        var before = Status("VmRSS:");
        File.WriteAllText("/proc/self/clear_refs", "5"); // the peak starts anew
        Once(system, complex);
        Console.WriteLine(Line($"{(Status("VmHWM:") - before) / 1024.0:F0}"));
        return 0;
    }

    private static void Once(PlanarSystem system, bool complex)
    {
        var analysis = SparseAnalysis.Create(system.Pattern, system.Coordinates);
        if (complex)
            ComplexLdl.Create(analysis, system.Stiffness, system.Mass, threads: 1).Solve(Enumerable.Repeat(Complex.One, system.Order).ToArray(), new Complex[system.Order]);
        else
            RealLdl.Create(analysis, system.Stiffness, threads: 1).Solve(Enumerable.Repeat(1.0, system.Order).ToArray(), new double[system.Order]);
    }

    private static long Status(string name) =>
        long.Parse(File.ReadLines("/proc/self/status").First(l => l.StartsWith(name, StringComparison.Ordinal)).Split((char[])[' ', '\t'], StringSplitOptions.RemoveEmptyEntries)[1], CultureInfo.InvariantCulture);

    private static double MeasuredMemory(int cells, string kind)
    {
        string[] self = Environment.ProcessPath!.EndsWith("dotnet", StringComparison.Ordinal) ? [typeof(SparseBenchmark).Assembly.Location] : [];
        using var process = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, [.. self, Name, "memory", cells.ToString(CultureInfo.InvariantCulture), kind]) { RedirectStandardOutput = true })!;
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return double.TryParse(text, CultureInfo.InvariantCulture, out var megabytes) ? megabytes : double.NaN;
    }

    // A dial is turned: the pattern stays, values change, and the picture waits for the solution. Elapsed time, two threads.
    private static void Dial(int cells, double target)
    {
        var system = new PlanarSystem(cells);
        var imaginary = system.Mass.Select(m => m * 1e4).ToArray();
        var factor = ComplexLdl.Create(SparseAnalysis.Create(system.Pattern, system.Coordinates), system.Stiffness, imaginary, threads: 2);
        var b = Enumerable.Repeat(Complex.One, system.Order).ToArray();
        var x = new Complex[system.Order];
        void Turn()
        {
            factor.Refactor(system.Stiffness, imaginary);
            factor.Solve(b, x);
        }
        var wall = Wall(20, Turn);
        var cpu = Best(20, Turn);
        Console.WriteLine(Line($"dial, {system.Order} complex unknowns: refactor and solve {wall:F1} ms elapsed, {cpu:F1} ms of processor; target {target:F0} ms"));
    }

    private static List<string> Peers(PlanarSystem system, double[] imaginary, int repeat, bool quick)
    {
        var path = Path.Combine(Path.GetTempPath(), Line($"fieldwright-sparse-{system.Order}.bin"));
        using (var file = new BinaryWriter(File.Create(path)))
        {
            file.Write(system.Order);
            file.Write(system.Pattern.EntryCount);
            foreach (var start in system.Pattern.ColumnStarts)
                file.Write(start);
            foreach (var row in system.Pattern.RowIndices)
                file.Write(row);
            foreach (var value in system.Stiffness)
                file.Write(value);
            foreach (var value in imaginary)
                file.Write(value);
        }
        try
        {
            using var process = Process.Start(new ProcessStartInfo("sh", [Script(), path, repeat.ToString(CultureInfo.InvariantCulture), quick ? "quick" : "all"]) { RedirectStandardOutput = true })!;
            var lines = new List<string>();
            while (process.StandardOutput.ReadLine() is { } line)
                lines.Add(line);
            process.WaitForExit();
            return lines;
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static string Script()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return Path.Combine(folder.FullName, "benchmarks", "peers", "sparse.sh");
        throw new InvalidOperationException("the repository was not found above the benchmark's folder");
    }

    private static void Row(string name, double analysis, double factor, double solve, double megabytes) =>
        Console.WriteLine(Line($"  {name,-24} {analysis,10:F1} {factor,9:F1} {solve,9:F1} {megabytes,9:F0}"));

    private static double Best(int repeat, Action action)
    {
        using var process = Process.GetCurrentProcess();
        var best = double.MaxValue;
        for (var k = 0; k < repeat; k++)
        {
            process.Refresh();
            var start = process.TotalProcessorTime;
            action();
            process.Refresh();
            best = Math.Min(best, (process.TotalProcessorTime - start).TotalMilliseconds);
        }
        return best;
    }

    private static double Wall(int repeat, Action action)
    {
        var best = double.MaxValue;
        for (var k = 0; k < repeat; k++)
        {
            var watch = Stopwatch.StartNew();
            action();
            best = Math.Min(best, watch.Elapsed.TotalMilliseconds);
        }
        return best;
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
