using System.ComponentModel;
using Fieldwright.App.Pictures;
using Fieldwright.App.Reports;
using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary><c>analogue FILE --as water</c>: a circuit of an apparatus in another domain; with <c>--board N</c> the board of resistance wires for its flux.</summary>
internal sealed class AnalogueCommand : BenchCommand<AnalogueCommand.Settings>
{
    /// <inheritdoc/>
    protected override int Run(Settings settings, Terminal terminal)
    {
        if (settings.Output is { } name && Array.IndexOf(PictureFile.Kinds, Path.GetExtension(name).ToLowerInvariant()) < 0)
            throw new WrongCallException($"--output: '{name}' is no picture that can be written. expected a name that ends in .svg, .png or .pdf.");
        var apparatus = Opened.Apparatus(settings);
        string? state = Opened.State(settings.State, apparatus);
        try
        {
            if (settings.Board is { } tubes)
                OnWires(settings, terminal, apparatus, state, tubes);
            else
                Redrawn(settings, terminal, apparatus, state);
            return ExitCode.Good;
        }
        catch (RouteFailedException e)
        {
            terminal.Error.WriteLine($"{settings.File}: there is no such analogue: {e.Message}");
            return ExitCode.NotAll;
        }
    }

    private static void Redrawn(Settings settings, Terminal terminal, Apparatus apparatus, string? state)
    {
        var there = LikenessStudy.CircuitsIn(apparatus);
        if (there.Count == 0)
            throw new WrongCallException($"{settings.File}: nothing drives a circuit here. expected a board, or windings with a supply.");
        var of = settings.Of is null ? there[0] : Domain(settings.Of, "--of", there);
        var to = settings.As is null ? DomainWords.Of(of.Domain == BoardDomain.Electric ? BoardDomain.Water : BoardDomain.Electric) : Domain(settings.As, "--as", DomainWords.All);
        var likeness = LikenessStudy.Of(apparatus, state, of, to, terminal.Stop);
        Show(settings, terminal, () => BoardPicture.Of(apparatus.Titled(state), likeness, new PictureOptions(state, null, settings.Light), TypeFace.Width),
            () => AnalogueJson.Of(apparatus, state, likeness), () => AnaloguePage.Of(apparatus, state, likeness, terminal.Width));
    }

    private static void OnWires(Settings settings, Terminal terminal, Apparatus apparatus, string? state, int tubes)
    {
        if (settings.As is not null || settings.Of is not null)
            throw new WrongCallException("--board: a wire board stands for flux, in wires. expected no --as and no --of beside it.");
        if (tubes is < 2 or > 60)
            throw new WrongCallException("--board: expected 2 to 60 tubes.");
        var options = new WireBoardOptions(tubes);
        if (settings.Wire is { } wire)
            options = options with { WireDiameter = Within(Values.Read(wire, "mm", "--wire"), 0.05e-3, 2e-3, "--wire", "0.05 mm to 2 mm") };
        if (settings.Span is { } span)
            options = options with { Span = Within(Values.Read(span, "m", "--span"), 0.05, 5, "--span", "50 mm to 5 m") };
        options = options with { BarWidth = 0.25 * options.Span };
        if (settings.Voltage is { } voltage)
            options = options with { Voltage = Within(Values.Read(voltage, "V", "--voltage"), 0.01, 12, "--voltage", "10 mV to 12 V, which fingers may touch") };
        var board = WireBoard.Of(apparatus, state, options, terminal.Stop);
        Show(settings, terminal, () => WireBoardPicture.Of(apparatus.Titled(state) + ", on wires", board, new PictureOptions(state, null, settings.Light), TypeFace.Width),
            () => AnalogueJson.Of(apparatus, state, board), () => WireBoardPage.Of(apparatus, state, board, terminal.Width));
    }

    private static void Show(Settings settings, Terminal terminal, Func<Scene> picture, Func<string> json, Func<Reports.Page> page)
    {
        if (settings.Output is { } output)
            PictureFile.Write(output, picture());
        if (settings.Json)
            terminal.Out.WriteLine(json());
        else
            page().WriteTo(terminal.Out, terminal.Colours);
    }

    private static double Within(double value, double least, double most, string option, string expected) =>
        value >= least * (1 - 1e-9) && value <= most * (1 + 1e-9) ? value : throw new WrongCallException($"{option}: that makes no board. expected {expected}.");

    private static DomainWords Domain(string word, string option, IReadOnlyList<DomainWords> there) =>
        DomainWords.Find(word) is { } found && there.Contains(found) ? found
            : throw new WrongCallException(option, [new Mistake(1, 1, $"there is no circuit '{word}' here", string.Join(", ", there.Select(d => d.Word)), NearestWord.To(word, there.Select(d => d.Word)))]);

    /// <summary>What it takes.</summary>
    internal sealed class Settings : ApparatusSettings
    {
        /// <summary>The domain it is redrawn in.</summary>
        [CommandOption("--as <DOMAIN>")]
        [Description("The domain it is redrawn in: [italic]water[/], [italic]electric[/], [italic]magnetic[/] or [italic]heat[/]; electric if not said, water for an electric circuit.")]
        public string? As { get; set; }

        /// <summary>Which circuit.</summary>
        [CommandOption("--of <DOMAIN>")]
        [Description("Which circuit of the apparatus: [italic]magnetic[/], [italic]electric[/] or [italic]heat[/]; magnetic if not said. A board has its own only.")]
        public string? Of { get; set; }

        /// <summary>The wire board.</summary>
        [CommandOption("--board <TUBES>")]
        [Description("Cut the field into so many tubes of equal flux and give each its resistance wire.")]
        public int? Board { get; set; }

        /// <summary>The wire.</summary>
        [CommandOption("--wire <DIAMETER>")]
        [Description("Diameter of the constantan wire of the board; 0.2 mm if not said.")]
        public string? Wire { get; set; }

        /// <summary>The span.</summary>
        [CommandOption("--span <LENGTH>")]
        [Description("Distance of the rails, which is the shortest wire; 0.8 m if not said. The copper bar covers a quarter of it.")]
        public string? Span { get; set; }

        /// <summary>The voltage.</summary>
        [CommandOption("--voltage <VOLTAGE>")]
        [Description("Voltage between the rails; 1.5 V if not said.")]
        public string? Voltage { get; set; }

        /// <summary>The state.</summary>
        [CommandOption("--state <NAME>")]
        [Description("The state shown; as the file stands if not said.")]
        public string? State { get; set; }

        /// <summary>Where to.</summary>
        [CommandOption("-o|--output <OUT>")]
        [Description("Draw it to this file: .svg, .png or .pdf.")]
        public string? Output { get; set; }

        /// <summary>Whether for print.</summary>
        [CommandOption("--light")]
        [Description("Draw dark on light, for print.")]
        public bool Light { get; set; }

        /// <summary>Whether to print JSON.</summary>
        [CommandOption("--json")]
        [Description("Print for machines; see docs/commands.md.")]
        public bool Json { get; set; }
    }
}
