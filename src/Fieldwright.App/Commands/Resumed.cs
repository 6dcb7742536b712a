using Fieldwright.Bench.Studies;

namespace Fieldwright.App.Commands;

/// <summary>Long studies that keep what they find and go on from it.</summary>
internal static class Resumed
{
    /// <summary>The rows kept so far; in memory only when no file is given.</summary>
    /// <param name="path">The file, or null.</param>
    /// <param name="settings">The call.</param>
    /// <param name="study">What else the rows follow from.</param>
    /// <exception cref="WrongCallException">The file belongs to another study, or cannot be read or written.</exception>
    public static KeptRows Rows(string? path, AnsweringSettings settings, string study)
    {
        try
        {
            return new KeptRows(path, string.Join('\n', [study, settings.Target, .. settings.Set, CommandLine.Version, path is null ? "" : Opened.Text(settings.File)]));
        }
        catch (ArgumentException e)
        {
            throw new WrongCallException($"{path}: {e.Message.Split(" (Parameter")[0]}. expected a new file, or one that this very call (file, settings, version) began.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new WrongCallException($"{path}: the file cannot be used ({e.Message.TrimEnd('.')}).");
        }
    }

    /// <summary>Runs a study; when it is stopped, says what was kept.</summary>
    public static T Run<T>(string? path, KeptRows kept, Terminal terminal, Func<T> study)
    {
        try
        {
            return study();
        }
        catch (Exception e) when (path is not null && CommandLine.IsStop(e))
        {
            throw new StoppedException(FormattableString.Invariant($"stopped; {kept.Count} {(kept.Count == 1 ? "row is" : "rows are")} kept in {path}, and the same call goes on from there."), e);
        }
    }
}

/// <summary>Work was stopped, with something to say about it.</summary>
internal sealed class StoppedException(string message, Exception inner) : OperationCanceledException(message, inner);
