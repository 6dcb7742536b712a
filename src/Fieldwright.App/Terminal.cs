namespace Fieldwright.App;

/// <summary>What a command talks to.</summary>
/// <param name="Out">Takes answers.</param>
/// <param name="Error">Takes mistakes and progress.</param>
/// <param name="Width">Columns an answer may fill.</param>
/// <param name="Colours">Whether answers may be coloured; they read as well without.</param>
/// <param name="ShowsProgress">Whether errors go to a screen, so that a line of progress may come and go.</param>
/// <param name="Traces">Whether the program's own failures are shown with their trace.</param>
/// <param name="Stop">Cancelled when the person wants to stop.</param>
internal sealed record Terminal(TextWriter Out, TextWriter Error, int Width, bool Colours, bool ShowsProgress, bool Traces, CancellationToken Stop)
{
    private const int Narrowest = 72, Widest = 100, OnPaper = 92;

    /// <summary>The console of this process.</summary>
    public static Terminal OfConsole(CancellationToken stop)
    {
        bool colours = !Console.IsOutputRedirected && Environment.GetEnvironmentVariable("NO_COLOR") is null or "" && Environment.GetEnvironmentVariable("TERM") != "dumb";
        return new Terminal(
            Console.Out,
            Console.Error,
            Console.IsOutputRedirected ? OnPaper : Math.Clamp(WindowWidth() - 1, Narrowest, Widest),
            colours && !Console.IsOutputRedirected,
            !Console.IsErrorRedirected && Environment.GetEnvironmentVariable("TERM") != "dumb",
            Environment.GetEnvironmentVariable("FIELDWRIGHT_TRACE") is not (null or "" or "0"),
            stop);
    }

    private static int WindowWidth()
    {
        try
        {
            return Console.WindowWidth;
        }
        catch (IOException)
        {
            return OnPaper;
        }
    }
}
