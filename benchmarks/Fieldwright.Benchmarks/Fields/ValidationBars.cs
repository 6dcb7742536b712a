using System.Diagnostics;
using System.Globalization;

namespace Fieldwright.Benchmarks.Fields;

/// <summary>Bars beside true errors in the validation cases: runs those that note them and gathers what they note.</summary>
internal static class ValidationBars
{
    /// <summary>Rows of all cases, each with what its truth leaves open.</summary>
    public static IReadOnlyList<(BarRow Row, double Open)> Run()
    {
        var notes = Path.GetTempFileName();
        try
        {
            var start = new ProcessStartInfo("dotnet", ["run", "-c", "Release", "--project", Path.Combine(Root(), "validation", "Fieldwright.Validation"), "--", "-maxThreads", "1", "-trait", "bars=yes"])
            {
                RedirectStandardOutput = true,
            };
            start.Environment["FIELDWRIGHT_BARS"] = notes;
            using var process = Process.Start(start)!;
            var said = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode != 0) Console.Error.WriteLine(said);
            return [.. File.ReadLines(notes).Select(Read)];
        }
        finally
        {
            File.Delete(notes);
        }
    }

    private static (BarRow Row, double Open) Read(string line)
    {
        var fields = line.Split(';');
        double At(int k) => double.Parse(fields[k], CultureInfo.InvariantCulture);
        return (new BarRow(fields[0], 0, fields[0], At(1), At(2), At(3), true), At(4));
    }

    private static string Root()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Fieldwright.slnx"))) return folder.FullName;
        throw new InvalidOperationException("Fieldwright.slnx not found above the program's folder.");
    }
}
