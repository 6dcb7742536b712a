using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>liquids FILE</c>: every liquid metal in the channels of an apparatus, what it would do there, its properties and its hazard.</summary>
internal sealed class LiquidsCommand : BenchCommand<LiquidsCommand.Settings>
{
    private const double Target = 0.01;

    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var apparatus = Opened.Apparatus(settings);
        string? state = Opened.State(settings.State, apparatus);
        if (apparatus.Parts.All(p => p.Channel is null))
            throw new WrongCallException(settings.File, [new Mistake(1, 1, "no part of it is a channel of liquid", "a part with 'channel', such as that of examples/liquid-pump.yaml")]);
        IReadOnlyList<LiquidInChannel> liquids;
        using (var progress = new ProgressLine(terminal))
        {
            progress.Report(new RehearsalStep(0, 1, "the liquids"));
            liquids = LiquidStudy.Of(apparatus, state, Target, terminal.Stop);
        }

        if (settings.Json)
            terminal.Out.WriteLine(LiquidsJson.Of(apparatus, state, liquids));
        else
            LiquidsPage.Of(apparatus, state, liquids, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>The state it is asked in.</summary>
        [CommandOption("--state <NAME>")]
        [Description("The state it is asked in; as the file stands if not said.")]
        public string? State { get; set; }

        /// <summary>Whether to print JSON.</summary>
        [CommandOption("--json")]
        [Description("Print for machines; see docs/commands.md.")]
        public bool Json { get; set; }
    }
}
