using System.ComponentModel;
using Fieldwright.App.Reports;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Windings;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>wind FILE WINDING</c>: what a winding takes; with ampere-turns and a voltage, which wire and turns to choose for its space.</summary>
internal sealed class WindCommand : BenchCommand<WindCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        var apparatus = Opened.Apparatus(settings);
        var winding = apparatus.Winding(settings.Winding)
            ?? throw new WrongCallException(settings.Winding, [new Mistake(1, 1, $"there is no winding '{settings.Winding}'", apparatus.Windings.Count == 0 ? "an apparatus with windings" : string.Join(" or ", apparatus.Windings.Select(w => w.Name)))]);
        if (settings.AmpereTurns is null != settings.Voltage is null)
            throw new WrongCallException("wind", [new Mistake(1, 1, "ampere-turns without a voltage, or a voltage without ampere-turns", "both --ampere-turns and --voltage to choose wire, or neither to see the winding as it is")]);
        if (settings.AmpereTurns is null)
        {
            WindPage.Of(apparatus, WindingTable.Of(winding, apparatus), null, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
            return ExitCode.Good;
        }

        double hot = Values.Read(settings.Hot, "K", "--hot");
        double[]? stock = settings.Stock is { } list ? [.. list.Split(',').Select(d => Values.Read(d, "m", "--stock"))] : null;
        var proposal = WindingProposal.For(winding, apparatus, Values.Read(settings.AmpereTurns, "A", "--ampere-turns"), Values.Read(settings.Voltage!, "V", "--voltage"), hot, settings.Grade is 2 ? 2 : 1, stock);
        WindPage.Of(apparatus, proposal?.Table, proposal, terminal.Width).WriteTo(terminal.Out, terminal.Colours);
        return proposal is null ? ExitCode.NotAll : ExitCode.Good;
    }

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>Name of the winding.</summary>
        [CommandArgument(1, "<WINDING>")]
        [Description("The winding, or the space to fill.")]
        public string Winding { get; set; } = "";

        /// <summary>Ampere-turns wanted.</summary>
        [CommandOption("--ampere-turns <VALUE>")]
        [Description("Ampere-turns to reach, rms, such as [italic]1500 A[/]: chooses wire and turns for the space.")]
        public string? AmpereTurns { get; set; }

        /// <summary>Voltage over its resistance.</summary>
        [CommandOption("--voltage <VALUE>")]
        [Description("Voltage over the resistance, rms, such as [italic]24 V[/]; on alternating current what the reactance leaves.")]
        public string? Voltage { get; set; }

        /// <summary>Temperature at work.</summary>
        [CommandOption("--hot <VALUE>")]
        [Description("Temperature of the winding at work: [italic]80 °C[/] if not said.")]
        public string Hot { get; set; } = "80 °C";

        /// <summary>Diameters at hand.</summary>
        [CommandOption("--stock <LIST>")]
        [Description("Bare diameters at hand, such as [italic]\"0.8 mm, 1 mm\"[/]; all preferred sizes if not said.")]
        public string? Stock { get; set; }

        /// <summary>Grade of enamel.</summary>
        [CommandOption("--grade <NUMBER>")]
        [Description("Grade of the enamel, 1 or 2.")]
        public int Grade { get; set; } = 1;
    }
}
