namespace Fieldwright.App.Page;

/// <summary>Bounds a piece of work in time and in memory: its token is cancelled when either is used up, or when whoever asked for it no longer wants it.</summary>
internal sealed class Bounds : IDisposable
{
    /// <summary>Longest work, if nothing else is said.</summary>
    public static readonly TimeSpan LongestWork = TimeSpan.FromMinutes(3);

    private static readonly TimeSpan Look = TimeSpan.FromMilliseconds(200);
    private readonly CancellationTokenSource source;
    private readonly Timer watch;
    private readonly long most;
    private readonly TimeSpan longest;

    /// <summary>Starts to watch.</summary>
    /// <param name="wanted">Cancelled when the work is no longer wanted.</param>
    /// <param name="longest">Time it may take; null for <see cref="LongestWork"/>.</param>
    /// <param name="mostBytes">Memory that the whole program may hold while it works, bytes; null for half of what the machine gives.</param>
    public Bounds(CancellationToken wanted, TimeSpan? longest = null, long? mostBytes = null)
    {
        most = mostBytes ?? GC.GetGCMemoryInfo().TotalAvailableMemoryBytes / 2;
        source = CancellationTokenSource.CreateLinkedTokenSource(wanted);
        this.longest = longest ?? LongestWork;
        source.CancelAfter(this.longest);
        watch = new Timer(_ => Weigh(), null, Look, Look);
    }

    /// <summary>Cancelled when a bound is reached.</summary>
    public CancellationToken Token => source.Token;

    /// <summary>Whether it was stopped because it needed too much memory.</summary>
    public bool IsTooLarge { get; private set; }

    /// <summary>What is said when it was stopped at a bound.</summary>
    public string Words => IsTooLarge ? "The work needed more memory than this machine can spare and was stopped; what was found so far stands."
        : FormattableString.Invariant($"The work was stopped after {longest.TotalMinutes:0.##} minutes; what was found so far stands.");

    /// <inheritdoc/>
    public void Dispose()
    {
        watch.Dispose();
        source.Dispose();
    }

    private void Weigh()
    {
        // What is only waiting to be collected does not count.
        if (GC.GetTotalMemory(false) <= most || GC.GetTotalMemory(true) <= most)
            return;
        IsTooLarge = true;
        try
        {
            source.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // It had just ended.
        }
    }
}
