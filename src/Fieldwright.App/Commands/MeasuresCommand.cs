using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>measures FILE</c>: what can be asked of an apparatus.</summary>
internal sealed class MeasuresCommand : BenchCommand<MeasuresCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var apparatus = Opened.Apparatus(settings);
        var measures = Rehearsal.Measures(apparatus);
        if (settings.Json)
            terminal.Out.WriteLine(JsonReport.Of(apparatus, measures));
        else
            MeasuresPage.Of(apparatus, measures, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>Whether to print JSON.</summary>
        [CommandOption("--json")]
        [Description("Print for machines; see docs/commands.md.")]
        public bool Json { get; set; }
    }
}
