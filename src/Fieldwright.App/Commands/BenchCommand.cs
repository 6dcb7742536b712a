using Spectre.Console.Cli;

namespace Fieldwright.App.Commands;

/// <summary>A command that speaks through a <see cref="Terminal"/> and prints what is wrong line by line.</summary>
/// <typeparam name="TSettings">What it takes.</typeparam>
internal abstract class BenchCommand<TSettings> : Command<TSettings>
    where TSettings : CommandSettings
{
    /// <inheritdoc/>
    public sealed override int Execute(CommandContext context, TSettings settings, CancellationToken cancellationToken)
    {
        var terminal = (Terminal)context.Data!;
        try
        {
            return Run(settings, terminal);
        }
        catch (WrongCallException e)
        {
            foreach (string line in e.Lines)
                terminal.Error.WriteLine(line);
            return ExitCode.Wrong;
        }
    }

    /// <summary>Does the work.</summary>
    /// <exception cref="WrongCallException">The file or the call is wrong.</exception>
    protected abstract int Run(TSettings settings, Terminal terminal);
}
