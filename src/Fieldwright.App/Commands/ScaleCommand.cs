using System.ComponentModel;
using System.Globalization;
using System.Text;
using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Studies;
using Fieldwright.Matter;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>scale FILE --by 4</c>: the apparatus at another size.</summary>
internal sealed class ScaleCommand : BenchCommand<ScaleCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var options = Opened.Options(settings);
        double factor = Factor(settings.By);
        foreach (string keep in settings.Keep)
            if (!SizeLaw.Names.Contains(keep, StringComparer.OrdinalIgnoreCase))
                throw new WrongCallException("--keep", [new Mistake(1, 1, $"there is nothing called '{keep}' that could be kept", string.Join(", ", SizeLaw.Names), NearestWord.To(keep, SizeLaw.Names))]);
        if (settings.Set.Length > 0)
            throw new WrongCallException("--set: the file itself is made larger. expected the value in the file, or --set when the new file is rehearsed.");
        Opened.Apparatus(settings.File);
        ScaleReport report;
        using (var progress = new ProgressLine(terminal))
            try
            {
                report = ScaleStudy.Run(Opened.Text(settings.File), Path.GetFileName(settings.File), factor, settings.Keep, options, progress, terminal.Stop);
            }
            catch (ArgumentException e)
            {
                throw new WrongCallException($"{settings.File}: {e.Message.Split(" (Parameter")[0]}");
            }

        if (settings.Output is { } output)
            WholeFile.Write(output, stream => stream.Write(Encoding.UTF8.GetBytes(report.Text)));
        if (settings.Json)
            terminal.Out.WriteLine(StudyJson.Of(report));
        else
            ScalePage.Of(report, settings.Output, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return report.Scaled.AllHold ? ExitCode.Good : ExitCode.NotAll;
    }

    private static double Factor(string text)
    {
        string[] parts = text.Split('/');
        double[] numbers = [.. parts.Select(p => double.TryParse(p, NumberStyles.Float, CultureInfo.InvariantCulture, out double n) ? n : double.NaN)];
        double factor = numbers.Length == 1 ? numbers[0] : numbers.Length == 2 ? numbers[0] / numbers[1] : double.NaN;
        return factor is >= 0.01 and <= 100 ? factor : throw new WrongCallException($"--by: '{text}' is no size. expected a number between 0.01 and 100, such as 4 or 1/2.");
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : AnsweringSettings
    {
        /// <summary>How many times larger.</summary>
        [CommandOption("--by <TIMES>", true)]
        [Description("How many times the size: [italic]4[/], [italic]1/2[/].")]
        public string By { get; set; } = "";

        /// <summary>What to keep.</summary>
        [CommandOption("--keep <GROUP>")]
        [Description("What to keep: [italic]\"skin ratio\"[/] or [italic]frequency[/]; and [italic]\"force to weight\"[/], [italic]\"flux density\"[/], [italic]\"temperature rise\"[/], [italic]\"heat per surface\"[/], [italic]current[/] or [italic]voltage[/]; may be repeated.")]
        public string[] Keep { get; set; } = [];

        /// <summary>Where to.</summary>
        [CommandOption("-o|--output <OUT>")]
        [Description("Write the new apparatus file here.")]
        public string? Output { get; set; }
    }
}
