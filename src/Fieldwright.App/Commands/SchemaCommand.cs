using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Matter;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>schema [OF]</c>: JSON Schema of apparatus files, or of what <c>--json</c> prints.</summary>
internal sealed class SchemaCommand : BenchCommand<SchemaCommand.Settings>
{
    private const string OfFiles = "apparatus";

    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        string of = settings.Of;
        if (of == OfFiles)
            terminal.Out.Write(ApparatusSchema.Write());
        else if (JsonReport.Forms.Contains(of))
            terminal.Out.WriteLine(JsonReport.Schema(of));
        else
        {
            string[] known = [OfFiles, .. JsonReport.Forms];
            throw new WrongCallException("schema", [new Mistake(1, 1, $"there is no schema of '{of}'", string.Join(", ", known), NearestWord.To(of, known))]);
        }

        return ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : CommandSettings
    {
        /// <summary>What the schema is of.</summary>
        [CommandArgument(0, "[OF]")]
        [DefaultValue(OfFiles)]
        [Description("[italic]apparatus[/] (the files you write), or a form that --json prints: [italic]rehearsal[/], [italic]answer[/], [italic]measures[/], [italic]folder[/], [italic]scale[/], [italic]doubt[/], [italic]tune[/], [italic]reconcile[/], [italic]programme[/], [italic]analogue[/], [italic]liquids[/].")]
        public string Of { get; set; } = OfFiles;
    }
}
