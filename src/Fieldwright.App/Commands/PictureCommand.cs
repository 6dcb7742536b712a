using System.ComponentModel;
using Fieldwright.App.Pictures;
using Fieldwright.Bench;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>picture FILE -o OUT</c>: the field of an apparatus as SVG, PNG or PDF.</summary>
internal sealed class PictureCommand : BenchCommand<PictureCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        string kind = Path.GetExtension(settings.Output).ToLowerInvariant();
        if (!PictureFile.Kinds.Contains(kind))
            throw new WrongCallException($"--output: '{settings.Output}' is no picture that can be written. expected a name that ends in .svg, .png or .pdf.");
        if (settings.Phase is { } phase && !(Math.Abs(phase) <= 360))
            throw new WrongCallException("--phase: this is no phase. expected degrees between 0 and 360.");
        var apparatus = Opened.Apparatus(settings);
        string? state = Opened.State(settings.State, apparatus);
        Scene scene;
        try
        {
            using var progress = new ProgressLine(terminal);
            progress.Report(new RehearsalStep(0, 1, "the field of " + apparatus.Name));
            var options = new PictureOptions(state, settings.Phase, settings.Light, Turning: settings.Turning);
            scene = ApparatusPicture.Of(apparatus, options, TypeFace.Width, terminal.Stop);
        }
        catch (RouteFailedException e)
        {
            terminal.Error.WriteLine($"{settings.File}: the field could not be found, so nothing was drawn: {e.Message}");
            return ExitCode.NotAll;
        }

        PictureFile.Write(settings.Output, scene);
        return ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>Where to.</summary>
        [CommandOption("-o|--output <OUT>", true)]
        [Description("The file to write; its ending says what: .svg, .png or .pdf.")]
        public string Output { get; set; } = "";

        /// <summary>The instant.</summary>
        [CommandOption("--phase <DEGREES>")]
        [Description("The instant shown, in degrees after the source peaks; the instant of the strongest field if not said.")]
        public double? Phase { get; set; }

        /// <summary>The state.</summary>
        [CommandOption("--state <NAME>")]
        [Description("The state shown; as the file stands if not said.")]
        public string? State { get; set; }

        /// <summary>Whether to show which way the field goes round.</summary>
        [CommandOption("--turning")]
        [Description("Ellipses that show which way an alternating field goes round, in a long section; drawn anyhow where a cylinder is free to turn.")]
        public bool Turning { get; set; }

        /// <summary>Whether for print.</summary>
        [CommandOption("--light")]
        [Description("Dark on light, for print.")]
        public bool Light { get; set; }
    }
}
