using System.Collections.Concurrent;
using Fieldwright.App.Pictures;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Programmes;
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
/// <param name="Evening">What a programme shows, in order; null for an apparatus.</param>
internal sealed record Card(string File, string Title, string About, IReadOnlyList<Claim> Claims, int Mistakes, bool HasPicture, string Mark, IReadOnlyList<Showing>? Evening = null);

/// <summary>One step of an evening on its card.</summary>
/// <param name="Title">What the apparatus is called, with its state; or the pause.</param>
/// <param name="File">Its file on the shelf; null for a pause, or when it is not there.</param>
internal sealed record Showing(string Title, string? File);

/// <summary>Reads the files of the shelf, and finds their pictures and cue lamps in the background, each once a text.</summary>
internal sealed class Cards(Shelf shelf) : IDisposable
{
    private const double PictureTarget = 0.3, LampTarget = 0.1;
    private static readonly TimeSpan LongestWork = TimeSpan.FromMinutes(2);
    private readonly KeptLamps kept = new(shelf.Folder);
    private readonly ConcurrentDictionary<string, IReadOnlyList<Outcome?>> partly = new(StringComparer.Ordinal);
    private string? rehearsed;
    private int waiting;
    private readonly ConcurrentDictionary<string, Task<string?>> pictures = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, IReadOnlyList<Outcome?>> lamps = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, bool> asked = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim oneAtATime = new(1), onePicture = new(1);
    private readonly CancellationTokenSource closed = new();

    /// <summary>Raised when lamps were lit.</summary>
    public event Action? Lit;

    /// <summary>The files as they stand now.</summary>
    public IReadOnlyList<Card> All => [.. shelf.Files.Select(Read)];

    /// <summary>What is being worked on and how many wait; null when every lamp that can be lit is.</summary>
    public string? Doing => rehearsed is { } name ? name + (waiting > 1 ? FormattableString.Invariant($", {waiting - 1} more wait") : "") : null;

    /// <summary>Outcomes of a card's claims as far as they are known; asks for them.</summary>
    public IReadOnlyList<Outcome?> Lamps(Card card)
    {
        if (asked.TryAdd(card.Mark, true))
        {
            if (kept.Find(card.Mark) is { } found && found.Count == card.Claims.Count)
                lamps[card.Mark] = found;
            else
                _ = Task.Run(() => Light(card));
        }

        return lamps.TryGetValue(card.Mark, out var known) || partly.TryGetValue(card.Mark, out known) ? known : [.. card.Claims.Select(_ => (Outcome?)null)];
    }

    /// <summary>Takes over what a window has found.</summary>
    public void Know(string text, IReadOnlyList<Outcome?> outcomes)
    {
        string mark = MarkOf(text);
        asked[mark] = true;
        lamps[mark] = outcomes;
        kept.Keep(mark, outcomes);
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
            if (name.EndsWith(Commands.Opened.ProgrammeEnding, StringComparison.OrdinalIgnoreCase))
                return Evening(name, text);
            var reading = ApparatusFile.Read(text, name);
            return reading.Apparatus is { } a
                ? new Card(name, a.Name, a.About, a.Claims, 0, true, MarkOf(text))
                : new Card(name, name, "", [], reading.Mistakes.Count, false, MarkOf(text));
        }
        catch (WrongCallException)
        {
            return new Card(name, name, "", [], 1, false, name);
        }
    }

    private Card Evening(string name, string text)
    {
        var mistakes = new List<Mistake>();
        if (ProgrammeFile.Read(text, mistakes) is not { } evening)
            return new Card(name, name, "", [], mistakes.Count, false, MarkOf(text), []);
        string minutes = FormattableString.Invariant($"{(int)evening.Begins / 3600:00}:{(int)evening.Begins / 60 % 60:00}");
        int shown = evening.Steps.Count(s => s.Apparatus is not null);
        string about = $"A programme: {(shown == 1 ? "one showing" : FormattableString.Invariant($"{shown} showings"))} from {minutes}{(evening.Hall.Length > 0 ? " at " + evening.Hall : "")}"
            + (evening.People.Count > 0 ? ", by " + string.Join(", ", evening.People.Select(p => p.Name)) : "") + ".";
        return new Card(name, evening.Name, about, [], 0, false, MarkOf(text), [.. evening.Steps.Select(ShowingOf)]);
    }

    private Showing ShowingOf(ProgrammeStep step)
    {
        if (step.Apparatus is not { } file)
            return new Showing(FormattableString.Invariant($"pause, {step.Talk / 60:0.#} min"), null);
        var card = shelf.Files.Contains(file, StringComparer.Ordinal) ? Read(file) : null;
        return new Showing((card?.Title ?? file) + (step.State is { } state ? ": " + state : ""), card?.File);
    }

    private static string MarkOf(string text) => Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(text)));

    private async Task<string?> Draw(Apparatus apparatus)
    {
        await onePicture.WaitAsync(closed.Token);
        try
        {
            using var bounded = new Bounds(closed.Token, LongestWork);
            // A board is all drawing: its card leaves the words below it out.
            if (apparatus.Layout == Layout.Board)
                return SvgPicture.Of(BoardPicture.OnStage(apparatus, TypeFace.Width));
            var scene = ApparatusPicture.Of(apparatus, new PictureOptions(RelativeTarget: PictureTarget), TypeFace.Width, bounded.Token);
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
        Interlocked.Increment(ref waiting);
        await oneAtATime.WaitAsync(closed.Token);
        try
        {
            if (lamps.ContainsKey(card.Mark))
                return;
            rehearsed = card.Title;
            Lit?.Invoke();
            using var bounded = new Bounds(closed.Token, LongestWork);
            var report = Rehearsal.Run(apparatus, new RehearsalOptions(LampTarget), new Lighting(this, card), bounded.Token);
            lamps[card.Mark] = [.. report.Verdicts.Select(v => (Outcome?)v.Outcome)];
            kept.Keep(card.Mark, lamps[card.Mark]);
        }
        catch (Exception e) when (e is RouteFailedException or ArgumentException or OperationCanceledException or AggregateException or Geometry.OverlapException or Geometry.MeshLimitException)
        {
            // Its lamps stay unlit; the bench says why.
        }
        finally
        {
            rehearsed = null;
            Interlocked.Decrement(ref waiting);
            oneAtATime.Release();
            Lit?.Invoke();
        }
    }

    // One lamp after another, as they are found.
    private sealed class Lighting(Cards cards, Card card) : IProgress<RehearsalStep>
    {
        private readonly Outcome?[] found = new Outcome?[card.Claims.Count];

        public void Report(RehearsalStep value)
        {
            if (value.Latest is not { } verdict || value.Done > found.Length)
                return;
            found[value.Done - 1] = verdict.Outcome;
            cards.partly[card.Mark] = [.. found];
            cards.Lit?.Invoke();
        }
    }
}
