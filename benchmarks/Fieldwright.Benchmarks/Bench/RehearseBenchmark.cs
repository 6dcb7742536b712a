using System.Diagnostics;
using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Fields;

namespace Fieldwright.Benchmarks.Bench;

/// <summary>What a person waits for: a whole process, a rehearsal in a warm process, and one solve after a dial has turned.</summary>
public static class RehearseBenchmark
{
    /// <summary>What one types to run it.</summary>
    public static string Name => "rehearse";

    /// <summary>Prints the table.</summary>
    public static int Run(string[] arguments)
    {
        string root = Root(), file = Path.Combine(root, "examples", "floating-disc.yaml");
        string program = Path.Combine(root, "src", "Fieldwright.App", "bin", "Release", "net10.0", "fieldwright.dll");
        Console.WriteLine($"{"what",-64} {"best of",8} {"ms",9}");
        Row("process start: fieldwright --version", 5, () => Process("--version", program));
        Row("whole process: rehearse floating-disc, bars 1 %", 5, () => Process("rehearse", program, file));

        var apparatus = ApparatusFile.Read(File.ReadAllText(file), file).Apparatus!;
        Row("in process, warm: rehearse floating-disc, bars 1 %", 5, () => Rehearsal.Run(apparatus, new RehearsalOptions()));

        var sections = Sections.Of(apparatus);
        var currents = SupplyNetwork.ImposedCurrents(apparatus);
        var model = FieldModels.Of(apparatus, sections, currents);
        var goals = new Goal[] { new ForceGoal("lift", sections.RegionsOf("disc")), new LossGoal("heat", sections.RegionsOf("disc")) };
        var meshed = ((MagneticField)AdaptiveField.Solve(model, goals, new AdaptiveDemand()).Field).Meshed;
        double frequency = 50;
        Row($"re-solve on the mesh after the frequency turns ({meshed.UnknownCount} unknowns)", 20, () =>
        {
            var field = HarmonicField.Solve(meshed.With(model with { Frequency = frequency += 0.1 }));
            return field.Force(sections.RegionsOf("disc"));
        });
        double height = 0.008;
        Row("mesh and solve anew after the height turns, bars 1 %", 20, () =>
        {
            var moved = Inputs.Apply(apparatus, [new Setting(new InputName("height", "disc", "height of disc"), height += 0.0001)]);
            return AdaptiveField.Solve(FieldModels.Of(moved, Sections.Of(moved), currents), goals, new AdaptiveDemand()).Answers[0].Value;
        });
        return 0;
    }

    private static void Row(string what, int tries, Func<object> action)
    {
        double best = double.PositiveInfinity;
        action();
        for (int i = 0; i < tries; i++)
        {
            long start = Stopwatch.GetTimestamp();
            action();
            best = Math.Min(best, Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        Console.WriteLine(FormattableString.Invariant($"{what,-64} {tries,8} {best,9:0.0}"));
    }

    private static object Process(string command, string program, params string[] more)
    {
        using var process = System.Diagnostics.Process.Start(new ProcessStartInfo("dotnet", [program, command, .. more]) { RedirectStandardOutput = true })!;
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode;
    }

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx")))
                return folder.FullName;
        throw new InvalidOperationException("Fieldwright.slnx not found above the program's folder.");
    }
}
