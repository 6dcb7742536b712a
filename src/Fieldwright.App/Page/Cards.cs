using System.Collections.Concurrent;
using Fieldwright.App.Pictures;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Routes;

namespace Fieldwright.App.Page;

/// <summary>A file as it stands on the shelf.</summary>
/// <param name="File">Its name.</param>
/// <param name="Title">What the apparatus is called; the file's name when it cannot be read.</param>
/// <param name="About">What it shows.</param>
/// <param name="Claims">Its claims.</param>
/// <param name="Mistakes">How many mistakes it holds.</param>
/// <param name="HasPicture">Whether a section can be drawn.</param>
/// <param name="Mark">Changes with its text.</param>
internal sealed record Card(string File, string Title, string About, IReadOnlyList<Claim> Claims, int Mistakes, bool HasPicture, string Mark);

/// <summary>Reads the files of the shelf, and finds their pictures and cue lamps in the background, each once a text.</summary>
internal sealed class Cards(Shelf shelf) : IDisposable
{
    private const double PictureTarget = 0.3, LampTarget = 0.1;
    private static readonly TimeSpan LongestWork = TimeSpan.FromMinutes(2);
    private readonly ConcurrentDictionary<string, Task<string?>> pictures = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, IReadOnlyList<Outcome?>> lamps = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, bool> asked = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim oneAtATime = new(1), onePicture = new(1);
    private readonly CancellationTokenSource closed = new();

    /// <summary>Raised when lamps were lit.</summary>
    public event Action? Lit;

    /// <summary>The files as they stand now.</summary>
    public IReadOnlyList<Card> All => [.. shelf.Files.Select(Read)];

    /// <summary>Outcomes of a card's claims as far as they are known; asks for them.</summary>
    public IReadOnlyList<Outcome?> Lamps(Card card)
    {
        if (asked.TryAdd(card.Mark, true))
            _ = Task.Run(() => Light(card));
        return lamps.TryGetValue(card.Mark, out var known) ? known : [.. card.Claims.Select(_ => (Outcome?)null)];
    }

    /// <summary>Takes over what a window has found.</summary>
    public void Know(string text, IReadOnlyList<Outcome?> outcomes)
    {
        string mark = MarkOf(text);
        asked[mark] = true;
        lamps[mark] = outcomes;
        Lit?.Invoke();
    }

    /// <summary>The picture of a file as SVG; null when it has none.</summary>
    public async Task<string?> Picture(string name, CancellationToken cancellation)
    {
        var card = Read(name);
        if (!card.HasPicture || ApparatusFile.Read(shelf.Open(name).Text, name).Apparatus is not { } apparatus)
            return null;
        return await pictures.GetOrAdd(card.Mark, _ => Task.Run(() => Draw(apparatus))).WaitAsync(cancellation);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        closed.Cancel();
        oneAtATime.Dispose();
        onePicture.Dispose();
        closed.Dispose();
    }

    private Card Read(string name)
    {
        try
        {
            string text = shelf.Open(name).Text;
            var reading = ApparatusFile.Read(text, name);
            return reading.Apparatus is { } a
                ? new Card(name, a.Name, a.About, a.Claims, 0, a.Layout != Layout.Free, MarkOf(text))
                : new Card(name, name, "", [], reading.Mistakes.Count, false, MarkOf(text));
        }
        catch (WrongCallException)
        {
            return new Card(name, name, "", [], 1, false, name);
        }
    }

    private static string MarkOf(string text) => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(text)));

    private async Task<string?> Draw(Apparatus apparatus)
    {
        await onePicture.WaitAsync(closed.Token);
        try
        {
            using var bounded = Bounded();
            var scene = SectionPicture.Of(apparatus, new PictureOptions(RelativeTarget: PictureTarget), TypeFace.Width, bounded.Token);
            return SvgPicture.OfStage(scene);
        }
        catch (Exception e) when (e is RouteFailedException or ArgumentException or OperationCanceledException or Geometry.OverlapException or Geometry.MeshLimitException)
        {
            return null;
        }
        finally
        {
            onePicture.Release();
        }
    }

    private async Task Light(Card card)
    {
        if (card.Claims.Count == 0 || ApparatusFile.Read(shelf.Open(card.File).Text, card.File).Apparatus is not { } apparatus)
            return;
        await oneAtATime.WaitAsync(closed.Token);
        try
        {
            if (lamps.ContainsKey(card.Mark))
                return;
            using var bounded = Bounded();
            var report = Rehearsal.Run(apparatus, new RehearsalOptions(LampTarget), null, bounded.Token);
            lamps[card.Mark] = [.. report.Verdicts.Select(v => (Outcome?)v.Outcome)];
            Lit?.Invoke();
        }
        catch (Exception e) when (e is RouteFailedException or ArgumentException or OperationCanceledException or AggregateException or Geometry.OverlapException or Geometry.MeshLimitException)
        {
            // Its lamps stay unlit; the bench says why.
        }
        finally
        {
            oneAtATime.Release();
        }
    }

    private CancellationTokenSource Bounded()
    {
        var bounded = CancellationTokenSource.CreateLinkedTokenSource(closed.Token);
        bounded.CancelAfter(LongestWork);
        return bounded;
    }
}
