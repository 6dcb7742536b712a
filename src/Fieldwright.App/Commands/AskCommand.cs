using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>ask FILE "MEASURE"</c>: one measure by every route that can.</summary>
internal sealed class AskCommand : BenchCommand<AskCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        var apparatus = Opened.Apparatus(settings);
        string? state = Opened.State(settings.State, apparatus);
        if (!MeasureReader.TryRead(settings.Measure, apparatus, out var measure, out var mistake))
            throw new WrongCallException($"\"{settings.Measure}\"", [mistake]);
        RoutedAnswer answer;
        using (var progress = new ProgressLine(terminal))
        {
            progress.Report(new RehearsalStep(0, 1, measure.Text));
            answer = Rehearsal.Ask(apparatus, measure, options, state, terminal.Stop);
        }

        if (settings.Json)
            terminal.Out.WriteLine(JsonReport.Of(apparatus, state, answer));
        else
            AnswerPage.Of(apparatus, state, answer, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return answer.Leading is null ? ExitCode.NotAll : ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>What is asked.</summary>
        [CommandArgument(1, "<MEASURE>")]
        [Description("What is asked, such as [italic]\"lift on disc at height 5 mm\"[/].")]
        public string Measure { get; set; } = "";

        /// <summary>The state it is asked in.</summary>
        [CommandOption("--state <NAME>")]
        [Description("The state it is asked in; as the file stands if not said.")]
        public string? State { get; set; }
    }
}
