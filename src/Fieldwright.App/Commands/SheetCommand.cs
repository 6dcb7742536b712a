using System.ComponentModel;
using System.Text;
using Fieldwright.App.Pictures;
using Fieldwright.App.Sheets;
using Fieldwright.Bench.Sheets;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>sheet FILE -o OUT</c>: the build sheet as PDF or HTML.</summary>
internal sealed class SheetCommand : BenchCommand<SheetCommand.Settings>
{
    private static readonly string[] Kinds = [".pdf", ".html"];

    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        string kind = Path.GetExtension(settings.Output).ToLowerInvariant();
        if (!Kinds.Contains(kind))
            throw new WrongCallException($"--output: '{settings.Output}' is no sheet that can be written. expected a name that ends in .pdf or .html.");
        var options = Opened.Options(settings.Target);
        var apparatus = Opened.Apparatus(settings);
        BuildSheet sheet;
        using (var progress = new ProgressLine(terminal))
            sheet = BuildSheet.Of(apparatus, Opened.Text(settings.File), options, TypeFace.Width, progress, terminal.Stop);
        WholeFile.Write(settings.Output, stream =>
        {
            if (kind == ".pdf")
                SkiaPicture.WritePdf(SheetOnPaper.Of(sheet), stream);
            else
                stream.Write(Encoding.UTF8.GetBytes(SheetOnScreen.Of(sheet)));
        });
        return sheet.Report.AllHold ? ExitCode.Good : ExitCode.NotAll;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>Where to.</summary>
        [CommandOption("-o|--output <OUT>", true)]
        [Description("The file to write; its ending says what: .pdf or .html.")]
        public string Output { get; set; } = "";

        /// <summary>Error bars aimed for.</summary>
        [CommandOption("--target <SHARE>")]
        [Description("Half-width of the error bars to aim for, as a share of each answer: [italic]1%[/] or [italic]0.01[/].")]
        public string Target { get; set; } = "1%";
    }
}
