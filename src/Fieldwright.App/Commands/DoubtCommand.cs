using System.ComponentModel;
using System.Globalization;
using Fieldwright.App.Reports;
using Fieldwright.Bench.Studies;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>doubt FILE</c>: the stated tolerances carried through to every claim.</summary>
internal sealed class DoubtCommand : BenchCommand<DoubtCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        if (settings.Samples is < 10 or > 100_000)
            throw new WrongCallException("--samples: this is no number of samples. expected a whole number between 10 and 100000.");
        var apparatus = Opened.Apparatus(settings);
        if (apparatus.Doubts.Count == 0)
            throw new WrongCallException($"{settings.File}: no tolerance is stated, so nothing is in doubt. expected doubts: an input and its tolerance, such as conductivity of disc: ± 5 %.");
        var doubts = new DoubtOptions(settings.Samples, settings.Seed);
        var kept = Resumed.Rows(settings.Resume, settings, string.Create(CultureInfo.InvariantCulture, $"doubt {settings.Seed}"));
        DoubtReport report;
        using (var progress = new ProgressLine(terminal))
            report = Resumed.Run(settings.Resume, kept, terminal, () => DoubtStudy.Run(apparatus, doubts, options, kept, progress, terminal.Stop));
        if (settings.Json)
            terminal.Out.WriteLine(StudyJson.Of(report));
        else
            DoubtPage.Of(report, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.Claims.All(c => c.Verdict.Outcome == Bench.Claims.Outcome.Holds) ? ExitCode.Good : ExitCode.NotAll;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>How many samples.</summary>
        [CommandOption("--samples <COUNT>")]
        [DefaultValue(200)]
        [Description("How many apparatus are drawn from the tolerances; 200 if not said.")]
        public int Samples { get; set; } = 200;

        /// <summary>The seed.</summary>
        [CommandOption("--seed <NUMBER>")]
        [DefaultValue(1UL)]
        [Description("Where the drawing starts; the same seed draws the same apparatus.")]
        public ulong Seed { get; set; } = 1;

        /// <summary>Where samples are kept.</summary>
        [CommandOption("--resume <KEPT>")]
        [Description("Keep what is found in this file, and go on from it when it is there.")]
        public string? Resume { get; set; }
    }
}
