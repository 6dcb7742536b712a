using Fieldwright.Bench.Routes;

namespace Fieldwright.App.Page;

/// <summary>What a panel has reckoned for it: the newest wish only, within bounds, and begun when the hand has come to rest.</summary>
internal sealed class PanelWork : IDisposable
{
    private static readonly TimeSpan Rest = TimeSpan.FromMilliseconds(400);
    private CancellationTokenSource? stop;

    /// <summary>Begins a piece of work and drops what was under way.</summary>
    /// <param name="work">The work; what it finds it must show only while its token is not cancelled.</param>
    /// <param name="ended">Told at the end, unless something newer was begun: what stood in the way, or null.</param>
    /// <param name="rest">How long to wait first; null for a moment in which the hand may still be turning.</param>
    public void Begin(Func<CancellationToken, Task> work, Func<string?, Task> ended, TimeSpan? rest = null)
    {
        Halt();
        var wanted = (stop = new CancellationTokenSource()).Token;
        _ = Task.Run(async () =>
        {
            using var bounded = new Bounds(wanted);
            string? said = null;
            try
            {
                await Task.Delay(rest ?? Rest, bounded.Token);
                await work(bounded.Token);
            }
            catch (Exception e) when (e is OperationCanceledException or AggregateException)
            {
                said = bounded.Words;
            }
            catch (Exception e) when (e is ArgumentException or RouteFailedException or Geometry.OverlapException or Geometry.MeshLimitException)
            {
                said = e.Message.Split(" (Parameter")[0];
            }

            if (!wanted.IsCancellationRequested)
                await ended(said);
        });
    }

    /// <summary>Stops what is under way; its end is not told.</summary>
    public void Halt()
    {
        stop?.Cancel();
        stop = null;
    }

    /// <inheritdoc/>
    public void Dispose() => Halt();
}
