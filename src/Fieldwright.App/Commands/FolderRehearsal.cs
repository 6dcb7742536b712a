using System.Globalization;
using Fieldwright.App.Reports;
using Fieldwright.Bench;

namespace Fieldwright.App.Commands;

/// <summary>Rehearses every apparatus file of a folder, one line each as it is done, and ends with the worst of their exit codes.</summary>
internal static class FolderRehearsal
{
    /// <summary>Does the work.</summary>
    /// <exception cref="WrongCallException">There is no apparatus file in the folder, or settings were given.</exception>
    public static int Run(AnsweringSettings settings, RehearsalOptions options, Terminal terminal)
    {
        if (settings.Set.Length > 0)
            throw new WrongCallException("--set: a folder was given. expected one apparatus file, since an input is turned for one apparatus only.");
        var files = Opened.ApparatusFiles(settings.File);
        var entries = new List<FolderEntry>();
        int width = files.Max(f => f.Length);
        using (var progress = new ProgressLine(terminal))
            foreach (string file in files)
            {
                var entry = Rehearse(settings.File, file, options, progress, terminal.Stop);
                entries.Add(entry);
                progress.Wipe();
                if (settings.Json)
                    continue;
                FolderPage.Line(entry, width, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
                terminal.Out.Flush();
            }

        if (settings.Json)
            terminal.Out.WriteLine(JsonReport.Of(entries));
        else
            FolderPage.Closing(entries, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        foreach (string line in entries.SelectMany(e => e.Mistakes))
            terminal.Error.WriteLine(line);
        return entries.Max(e => e.Code);
    }

    private static FolderEntry Rehearse(string folder, string file, RehearsalOptions options, ProgressLine progress, CancellationToken stop)
    {
        try
        {
            var apparatus = Opened.Apparatus(Path.Combine(folder, file));
            var named = new Named(file, progress);
            return new FolderEntry(file, Rehearsal.Run(apparatus, options, named, stop), []);
        }
        catch (WrongCallException e)
        {
            return new FolderEntry(file, null, e.Lines);
        }
    }

    // Says which file it is that is being worked on.
    private sealed class Named(string file, ProgressLine progress) : IProgress<RehearsalStep>
    {
        public void Report(RehearsalStep value) => progress.Report(value with { What = string.Create(CultureInfo.InvariantCulture, $"{file}: {value.What}") });
    }
}

/// <summary>One file of a folder and what became of it.</summary>
/// <param name="File">Its path within the folder.</param>
/// <param name="Report">Its rehearsal; null when the file is wrong.</param>
/// <param name="Mistakes">What is wrong with it, a line each.</param>
internal sealed record FolderEntry(string File, RehearsalReport? Report, IReadOnlyList<string> Mistakes)
{
    /// <summary>The exit code that a rehearsal of this file alone would have.</summary>
    public int Code => Report is null ? ExitCode.Wrong : Report.AllHold ? ExitCode.Good : ExitCode.NotAll;
}
