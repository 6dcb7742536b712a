using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Logs;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Studies;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>reconcile FILE LOG.csv</c>: readings beside predictions.</summary>
internal sealed class ReconcileCommand : BenchCommand<ReconcileCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        var apparatus = Opened.Apparatus(settings);
        var suspects = new List<InputName>();
        var mistakes = new List<Mistake>();
        foreach (string text in settings.Suspect)
            if (Inputs.TryReadName(text, apparatus, out var input, out var mistake))
                suspects.Add(input);
            else
                throw new WrongCallException($"--suspect \"{text}\"", [mistake]);
        var readings = BenchLog.Read(Opened.Text(settings.Log), apparatus, mistakes);
        if (mistakes.Count > 0)
            throw new WrongCallException(settings.Log, mistakes);
        ReconcileReport report;
        using (var progress = new ProgressLine(terminal))
            report = ReconcileStudy.Run(apparatus, readings, suspects, options, progress, terminal.Stop);
        if (settings.Json)
            terminal.Out.WriteLine(StudyJson.Of(report));
        else
            ReconcilePage.Of(report, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.Agreement == Agreement.Agrees ? ExitCode.Good : ExitCode.NotAll;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>The log.</summary>
        [CommandArgument(1, "<LOG>")]
        [Description("The readings, as comma-separated values; see docs/topics/reconcile.md.")]
        public string Log { get; set; } = "";

        /// <summary>Inputs that might be to blame.</summary>
        [CommandOption("--suspect <INPUT>")]
        [Description("An input without a stated tolerance that might explain a misfit; may be repeated.")]
        public string[] Suspect { get; set; } = [];
    }
}
