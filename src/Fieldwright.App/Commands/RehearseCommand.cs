using Fieldwright.App.Reports;
using Fieldwright.Bench;

namespace Fieldwright.App.Commands;

/// <summary><c>rehearse FILE</c>: claims, answers, verdicts, cautions; <c>rehearse FOLDER</c>: every apparatus in it, in a table.</summary>
internal sealed class RehearseCommand : BenchCommand<AnsweringSettings>
{
    /// <inheritdoc/>
    protected override int Run(AnsweringSettings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        if (Directory.Exists(settings.File))
            return FolderRehearsal.Run(settings, options, terminal);
        var apparatus = Opened.Apparatus(settings);
        RehearsalReport report;
        using (var progress = new ProgressLine(terminal))
            report = Rehearsal.Run(apparatus, options, progress, terminal.Stop);
        if (settings.Json)
            terminal.Out.WriteLine(JsonReport.Of(report));
        else
            RehearsalPage.Of(report, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.AllHold ? ExitCode.Good : ExitCode.NotAll;
    }
}
