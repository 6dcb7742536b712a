using System.Reflection;
using System.Runtime.InteropServices;
using System.Text;
using Fieldwright.App.Commands;
using Fieldwright.App.Page;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Fieldwright.App;

/// <summary>The commands, from the words typed to the exit code.</summary>
internal static class CommandLine
{
    private static readonly string[] HelpWords = ["help", "--help", "-h", "-?"];

    /// <summary>Name and version.</summary>
    public static string Version { get; } =
        "fieldwright " + typeof(CommandLine).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()!.InformationalVersion.Split('+')[0];

    /// <summary>Runs one call on the console of this process. Ctrl-C stops it in good order.</summary>
    public static int RunOnConsole(string[] args)
    {
        Console.OutputEncoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
        using var stop = new CancellationTokenSource();
        void Halt(PosixSignalContext signal)
        {
            // A second press ends the process at once.
            signal.Cancel = !stop.IsCancellationRequested;
            stop.Cancel();
        }

        using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, Halt);
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Halt);
        int code = Run(args, Terminal.OfConsole(stop.Token));
        Console.Out.Flush();
        return code;
    }

    /// <summary>Runs one call.</summary>
    /// <param name="args">The words after the program's name.</param>
    /// <param name="terminal">Where to speak.</param>
    /// <returns>The exit code.</returns>
    public static int Run(string[] args, Terminal terminal)
    {
        ArgumentNullException.ThrowIfNull(args);
        try
        {
            if (args is ["--version" or "-v" or "version"])
            {
                terminal.Out.WriteLine(Version);
                return ExitCode.Good;
            }

            if (args.Length == 0 || (args.Length == 1 && HelpWords.Contains(args[0])))
            {
                (args.Length == 0 ? terminal.Error : terminal.Out).Write(HelpPage.Text);
                return args.Length == 0 ? ExitCode.Wrong : ExitCode.Good;
            }

            if (args[0] == "help")
                args = [.. args[1..], "--help"];
            return Commands(terminal).Run(args);
        }
        catch (StoppedException e)
        {
            terminal.Error.WriteLine("fieldwright: " + e.Message);
            return ExitCode.Stopped;
        }
        catch (Exception e) when (IsStop(e))
        {
            terminal.Error.WriteLine("fieldwright: stopped; nothing was written.");
            return ExitCode.Stopped;
        }
        catch (CommandRuntimeException e)
        {
            terminal.Error.WriteLine($"fieldwright: {e.Message} Type 'fieldwright help' for the commands.");
            return ExitCode.Wrong;
        }
#pragma warning disable CA1031 // The last line of defence: a person sees one kind line, never a stack trace.
        catch (Exception e)
#pragma warning restore CA1031
        {
            terminal.Error.WriteLine(
                $"fieldwright: something broke inside the program ({e.GetType().Name}: {FirstLine(e.Message)}). Nothing was written. "
                + "Please report it with the file and the command, and with the trace that FIELDWRIGHT_TRACE=1 prints, in the issues of this repository.");
            if (terminal.Traces)
                terminal.Error.WriteLine(e);
            return ExitCode.Broken;
        }
    }

    private static CommandApp Commands(Terminal terminal)
    {
        var app = new CommandApp();
        app.Configure(c =>
        {
            c.SetApplicationName("fieldwright");
            c.PropagateExceptions();
            c.UseStrictParsing();
            c.ConfigureConsole(AnsiConsole.Create(new AnsiConsoleSettings
            {
                Out = new AnsiConsoleOutput(terminal.Out),
                Ansi = terminal.Colours ? AnsiSupport.Yes : AnsiSupport.No,
                ColorSystem = terminal.Colours ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
                Interactive = InteractionSupport.No,
            }));
            c.AddCommand<RehearseCommand>("rehearse").WithData(terminal)
                .WithDescription("Answer every claim of an apparatus by every route there is, judge it, and list the cautions.")
                .WithExample("rehearse", "examples/floating-disc.yaml")
                .WithExample("rehearse", "examples/floating-disc.yaml", "--set", "\"current in inner=18 A\"", "--target", "0.5%");
            c.AddCommand<AskCommand>("ask").WithData(terminal)
                .WithDescription("Answer one measure.")
                .WithExample("ask", "examples/floating-disc.yaml", "\"lift on disc at height 5 mm\"");
            c.AddCommand<MeasuresCommand>("measures").WithData(terminal)
                .WithDescription("List every measure that can be asked of an apparatus, with unit and routes.")
                .WithExample("measures", "examples/floating-disc.yaml");
            c.AddCommand<PictureCommand>("picture").WithData(terminal)
                .WithDescription("Draw the field: lines of flux, currents, matter and numbers, as SVG, PNG or PDF.")
                .WithExample("picture", "examples/floating-disc.yaml", "-o", "floating-disc.svg")
                .WithExample("picture", "examples/ring.yaml", "-o", "gap.pdf", "--state", "gap", "--light");
            c.AddCommand<SheetCommand>("sheet").WithData(terminal)
                .WithDescription("Write the build sheet: drawing with sizes, winding table, wiring, settings, what to buy, duty, cautions and claims, as PDF or HTML.")
                .WithExample("sheet", "examples/floating-disc.yaml", "-o", "floating-disc.pdf");
            c.AddCommand<ScaleCommand>("scale").WithData(terminal)
                .WithDescription("Make the apparatus larger or smaller, say what was kept and what follows, and rehearse it at both sizes.")
                .WithExample("scale", "examples/floating-ball-two-coils.yaml", "--by", "4", "-o", "great.yaml")
                .WithExample("scale", "examples/floating-disc.yaml", "--by", "2", "--keep", "frequency", "--keep", "\"temperature rise\"");
            c.AddCommand<DoubtCommand>("doubt").WithData(terminal)
                .WithDescription("Carry the stated tolerances through to every claim: how often it holds, and which tolerance matters.")
                .WithExample("doubt", "examples/floating-disc.yaml", "--samples", "500");
            c.AddCommand<TuneCommand>("tune").WithData(terminal)
                .WithDescription("Turn dials until all claims hold with the best least margin.")
                .WithExample("tune", "examples/floating-disc.yaml", "--turn", "\"current in inner\"")
                .WithExample("tune", "examples/floating-disc.yaml", "--turn", "\"turns of inner from 500 to 900\"");
            c.AddCommand<ReconcileCommand>("reconcile").WithData(terminal)
                .WithDescription("Set readings taken at the bench beside the predictions.")
                .WithExample("reconcile", "examples/floating-disc.yaml", "examples/floating-disc.log.csv");
            c.AddCommand<ProgrammeCommand>("programme").WithData(terminal)
                .WithDescription("Plan an evening: apparatus in order, on-times and pauses, who does what, energy and cautions.")
                .WithExample("programme", "examples/first-evening.programme.yaml");
            c.AddCommand<GalleryCommand>("gallery").WithData(terminal)
                .WithDescription("Make a page of every apparatus in a folder, with pictures and the lamps of its claims.")
                .WithExample("gallery", "examples", "-o", "docs/gallery.md");
            c.AddCommand<WindCommand>("wind").WithData(terminal)
                .WithDescription("Say what a winding takes, or choose wire and turns for its space, ampere-turns and voltage.")
                .WithExample("wind", "examples/floating-disc.yaml", "inner")
                .WithExample("wind", "examples/floating-disc.yaml", "inner", "--ampere-turns", "\"1500 A\"", "--voltage", "\"24 V\"", "--stock", "\"0.8 mm, 1 mm\"");
            c.AddCommand<LiquidsCommand>("liquids").WithData(terminal)
                .WithDescription("Set the liquid metals side by side in the channel of a pump: what each would do, its properties, its hazard.")
                .WithExample("liquids", "examples/liquid-pump.yaml", "--state", "\"with the bar\"");
            c.AddCommand<AnalogueCommand>("analogue").WithData(terminal)
                .WithDescription("Redraw a circuit of an apparatus in another domain with true numbers, and say where the likeness breaks; or give its flux a board of resistance wires.")
                .WithExample("analogue", "examples/ring-and-lamp.yaml", "--as", "water", "--state", "\"ring with a gap\"", "-o", "ring-as-water.svg")
                .WithExample("analogue", "examples/battery-kick.yaml", "--board", "12", "-o", "wires.svg");
            c.AddCommand<PageCommand>("page").WithData(terminal)
                .WithDescription("Open the bench in the browser: the apparatus of a folder, live under the hand.")
                .WithExample("page", "examples");
            c.AddCommand<SchemaCommand>("schema").WithData(terminal)
                .WithDescription("Print a JSON Schema: of apparatus files, or of what --json prints.")
                .WithExample("schema")
                .WithExample("schema", "rehearsal");
        });
        return app;
    }

    // Work side by side hands its cancellation up in a bundle.
    internal static bool IsStop(Exception e) =>
        e is OperationCanceledException || (e is AggregateException bundle && bundle.Flatten().InnerExceptions.All(i => i is OperationCanceledException));

    private static string FirstLine(string text) => text.Split('\n')[0].TrimEnd().TrimEnd('.');
}
