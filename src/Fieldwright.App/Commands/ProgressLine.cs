using Fieldwright.Bench;

namespace Fieldwright.App.Commands;

/// <summary>One line on the screen that says what is being worked on and is gone when the work is done.</summary>
internal sealed class ProgressLine(Terminal terminal) : IProgress<RehearsalStep>, IDisposable
{
    private int shown;

    /// <inheritdoc/>
    public void Report(RehearsalStep value)
    {
        if (!terminal.ShowsProgress)
            return;
        string text = value.Of > 1 ? FormattableString.Invariant($"{value.Done + 1} of {value.Of + 1}  {value.What} …") : value.What + " …";
        if (text.Length > terminal.Width - 2)
            text = text[..(terminal.Width - 3)] + "…";
        lock (this)
        {
            terminal.Error.Write("\r" + text.PadRight(shown));
            terminal.Error.Flush();
            shown = text.Length;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => Wipe();

    /// <summary>Wipes the line, so that something else may be written; the next report shows it again.</summary>
    public void Wipe()
    {
        if (shown > 0)
            terminal.Error.Write("\r" + new string(' ', shown) + "\r");
        shown = 0;
    }
}
