using System.Diagnostics;
using Xunit;

namespace Fieldwright.Tests.App;

/// <summary>The script that builds and starts the program, with a pretended compiler in place of the real one.</summary>
public class StartScriptTests
{
    // Notes when a build begins and ends, and takes long enough for another call to come between.
    private const string PretendedCompiler = """
        #!/usr/bin/env bash
        if [ "$1" = build ]; then
          echo begin >>"$NOTES"; sleep 0.4
          mkdir -p "$HOUSE/src/Fieldwright.App/bin/Release/net10.0"
          touch "$HOUSE/src/Fieldwright.App/bin/Release/net10.0/fieldwright.dll"
          echo end >>"$NOTES"
        fi
        """;

    [Fact]
    public async Task Script_CalledTwiceAtOnce_BuildsOnceAndOneAtATime()
    {
        using var folder = new Folder();
        Directory.CreateDirectory(Path.Combine(folder.Path, "src/Fieldwright.App"));
        folder.File("Directory.Build.props", "");
        folder.File("src/Fieldwright.App/Program.cs", "");
        string script = folder.File("fieldwright", File.ReadAllText(Path.Combine(Repository.Root, "fieldwright")));
        string compiler = folder.File("dotnet", PretendedCompiler), notes = Path.Combine(folder.Path, "notes");
        foreach (string file in (string[])[script, compiler])
            if (!OperatingSystem.IsWindows())
                File.SetUnixFileMode(file, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        using Process first = Start(), second = Start();
        await first.WaitForExitAsync(TestContext.Current.CancellationToken);
        await second.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.Equal((0, 0), (first.ExitCode, second.ExitCode));
        Assert.Equal(["begin", "end"], File.ReadAllLines(notes));

        Process Start()
        {
            var start = new ProcessStartInfo(script) { RedirectStandardError = true, RedirectStandardOutput = true };
            start.Environment["PATH"] = folder.Path + ":" + Environment.GetEnvironmentVariable("PATH");
            start.Environment["NOTES"] = notes;
            start.Environment["HOUSE"] = folder.Path;
            return Process.Start(start)!;
        }
    }
}
