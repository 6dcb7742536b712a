using System.Collections.Concurrent;

namespace Fieldwright.App.Page;

/// <summary>The windows that are open.</summary>
internal sealed class Desks(Shelf shelf) : IDisposable
{
    private const int Most = 24, AtATime = 2;
    private readonly ConcurrentDictionary<string, Desk> open = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim workers = new(AtATime);

    /// <summary>Opens a window on a file.</summary>
    /// <exception cref="WrongCallException">There is no such file, or too many windows are open.</exception>
    public Desk Open(string file)
    {
        if (open.Count >= Most)
            throw new WrongCallException(FormattableString.Invariant($"{Most} windows are open already; close one first."));
        var desk = new Desk(file, shelf.Open(file), workers);
        open[desk.Key] = desk;
        return desk;
    }

    /// <summary>The window of a key, or null.</summary>
    public Desk? Find(string? key) => key is not null && open.TryGetValue(key, out var desk) ? desk : null;

    /// <summary>Closes a window.</summary>
    public void Close(Desk desk)
    {
        if (open.TryRemove(desk.Key, out _))
            desk.Dispose();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var desk in open.Values)
            desk.Dispose();
        workers.Dispose();
    }
}
