using System.Diagnostics;
using System.Threading.Channels;
using Fieldwright.App.Pictures;
using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Bench.Routes;
using Setting = Fieldwright.Bench.Model.Setting;

namespace Fieldwright.App.Page;

/// <summary>One window on one apparatus: its text, where its dials stand, and the work of keeping stage and claims true to them.</summary>
/// <remarks>The stage is answered coarsely at once, then refined; claims follow when the hand rests, first with wide bars, then with narrow ones. Whatever is no longer wanted is stopped.</remarks>
public sealed class Desk : IDisposable
{
    /// <summary>Unknowns up to which the stage follows a dial.</summary>
    public const int LiveUnknowns = 10_000;

    private const int MostUnknowns = 60_000;
    private const double FirstTarget = 0.05, LastTarget = 0.01;
    private static readonly TimeSpan ShortRest = TimeSpan.FromMilliseconds(120), Rest = TimeSpan.FromMilliseconds(250), LongestMoment = TimeSpan.FromMilliseconds(100);
    private readonly CancellationTokenSource closed = new();
    private readonly SemaphoreSlim wake = new(0);
    private readonly Lock gate = new();
    private readonly SemaphoreSlim workers;
    private readonly Dictionary<string, Setting> turned = new(StringComparer.OrdinalIgnoreCase);
    private readonly Channel<object> outbox = System.Threading.Channels.Channel.CreateUnbounded<object>();
    private CancellationTokenSource later = new();
    private readonly Lock boxGate = new();
    private StageField? shown;
    private SpaceStage? space;
    private SpacePlane? plane;
    private BoxPlay? play;
    private double stamp;
    private int turn;
    private bool wantsShow;

    /// <summary>Opens a window on a text and starts its work.</summary>
    /// <param name="file">Name of the file.</param>
    /// <param name="text">Its text.</param>
    /// <param name="workers">How many windows may work at a time.</param>
    public Desk(string file, SharedText text, SemaphoreSlim workers)
    {
        (File, Text, this.workers) = (file, text, workers);
        Reading = ApparatusFile.Read(text.Text, file);
        Apparatus = Reading.Apparatus;
        Verdicts = new Verdict?[Apparatus?.Claims.Count ?? 0];
        text.Changed += Reread;
        _ = Task.Run(Work);
        Ask();
    }

    /// <summary>Raised when anything that a panel shows has changed.</summary>
    public event Action? Changed;

    /// <summary>The key by which the window's own socket is known.</summary>
    public string Key { get; } = Convert.ToHexString(System.Security.Cryptography.RandomNumberGenerator.GetBytes(16));

    /// <summary>Name of the file.</summary>
    public string File { get; }

    /// <summary>Its text.</summary>
    public SharedText Text { get; }

    /// <summary>What came of reading it.</summary>
    public Reading Reading { get; private set; }

    /// <summary>The apparatus as the file stood when it was last right; null if it never was.</summary>
    public Apparatus? Apparatus { get; private set; }

    /// <summary>The state shown; null for the apparatus as it stands.</summary>
    public string? State { get; private set; }

    /// <summary>One verdict a claim, null where there is none yet.</summary>
    public Verdict?[] Verdicts { get; private set; }

    /// <summary>Error bars the verdicts aim for, as a share; null while the claims wait.</summary>
    public double? Target { get; private set; }

    /// <summary>The last whole rehearsal; null before there is one.</summary>
    public RehearsalReport? Report { get; private set; }

    /// <summary>What is being worked on; null when all is done.</summary>
    public string? Working { get; private set; }

    /// <summary>What stands in the way of stage or claims; null when nothing does.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Messages for the window: byte arrays for the stage, anything else as JSON.</summary>
    public ChannelReader<object> Outbox => outbox.Reader;

    /// <summary>The dials with where they stand, SI.</summary>
    public IReadOnlyList<(Dial Dial, double Now)> Dials => Apparatus is { } apparatus ? [.. apparatus.Dials.Select(d => (d, StandsAt(d)))] : [];

    /// <summary>The apparatus with the dials where the hand left them.</summary>
    public Apparatus? Turned
    {
        get
        {
            lock (gate)
                return Apparatus is null ? null : With(Apparatus, turned.Values);
        }
    }

    /// <summary>The apparatus as the stage shows it: dials turned, state set.</summary>
    public Apparatus? Staged => Turned is { } apparatus ? InState(apparatus, State) : null;

    /// <summary>Counts every change of file, dials or state, so that who shows something can see that it is old.</summary>
    public int Stand => turn;

    /// <summary>Turns a dial.</summary>
    /// <param name="dial">Which one, in file order.</param>
    /// <param name="value">Where to, SI.</param>
    /// <param name="mark">The browser's mark of the turn.</param>
    public void Turn(int dial, double value, double mark)
    {
        lock (gate)
        {
            if (Apparatus is null || dial < 0 || dial >= Apparatus.Dials.Count || !double.IsFinite(value))
                return;
            var d = Apparatus.Dials[dial];
            var setting = new Setting(d.Input, Math.Clamp(value, d.From, d.To));
            // The hand wins over a state that sets the same dial: the rest of the state is kept as if turned by hand.
            if (State is { } state && Apparatus.States.First(s => Same(s.Name, state)).Settings is var settings && settings.Any(s => Same(s.Input.Text, d.Input.Text)))
            {
                foreach (var other in settings)
                    turned[other.Input.Text] = other;
                State = null;
            }

            turned[d.Input.Text] = setting;
            stamp = mark;
        }

        Ask();
    }

    /// <summary>Puts every dial and the state back to what the file says.</summary>
    public void PutBack()
    {
        lock (gate)
        {
            turned.Clear();
            State = null;
        }

        outbox.Writer.TryWrite(DeskWords.Dials(this));
        Ask();
    }

    /// <summary>Shows a state; null for the apparatus as it stands.</summary>
    public void Show(string? state)
    {
        lock (gate)
        {
            if (state is not null && Apparatus?.States.Any(s => Same(s.Name, state)) != true)
                return;
            State = state;
            turned.Clear();
        }

        outbox.Writer.TryWrite(DeskWords.Dials(this));
        Ask();
    }

    /// <summary>Asks for the fields of all states, for the show.</summary>
    public void PrepareShow()
    {
        lock (gate)
            wantsShow = true;
        Ask();
    }

    /// <summary>Stops refining and rehearsing until something changes.</summary>
    public void Stop()
    {
        lock (gate)
            later.Cancel();
    }

    /// <summary>Sends a message to the window.</summary>
    public void Tell(object message) => outbox.Writer.TryWrite(message);

    /// <summary>Bodies in space shown, and the plane through them; null before there are any.</summary>
    public (SpaceStage Stage, SpacePlane Plane)? Space => space is { } stage ? (stage, plane ?? stage.FirstPlane) : null;

    /// <summary>Lays another plane through the field in space.</summary>
    /// <param name="asked">The plane.</param>
    public void Lay(SpacePlane asked)
    {
        if (space is not { } stage || asked.Axis is < 0 or > 2 || !double.IsFinite(asked.At))
            return;
        plane = asked;
        Tell(SpaceMessage.Of(stage.Slice(asked)));
    }

    /// <summary>Lets the discs of the box fly on for a moment, and shows them.</summary>
    /// <param name="seconds">How long, s; at most a tenth of a second is granted.</param>
    public void Fly(double seconds)
    {
        if (!(seconds > 0))
            return;
        lock (boxGate)
        {
            if (play is not { } going)
                return;
            going.Advance(Math.Min(seconds, LongestMoment.TotalSeconds), closed.Token);
            Tell(SpaceMessage.Of(going, new StageNote(0, State, false, 0), false));
        }
    }

    /// <summary>The field shown; null before there is one.</summary>
    public StageField? Shown => shown;

    /// <inheritdoc/>
    public void Dispose()
    {
        Text.Changed -= Reread;
        closed.Cancel();
        lock (gate)
            later.Cancel();
        outbox.Writer.TryComplete();
    }

    /// <summary>An apparatus with one of its states set.</summary>
    public static Apparatus InState(Apparatus apparatus, string? state) =>
        state is not null && apparatus.States.FirstOrDefault(s => Same(s.Name, state)) is { } found ? With(apparatus, found.Settings) : apparatus;

    private static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);

    // A setting that makes no sense with the others, as may happen when the file changes under the hand, is left out.
    private static Apparatus With(Apparatus apparatus, IEnumerable<Setting> settings)
    {
        foreach (var setting in settings)
        {
            try
            {
                apparatus = Inputs.Apply(apparatus, [setting]);
            }
            catch (ArgumentException)
            {
            }
        }

        return apparatus;
    }

    private double StandsAt(Dial dial)
    {
        lock (gate)
        {
            if (State is { } state && Apparatus!.States.First(s => Same(s.Name, state)).Settings.FirstOrDefault(s => Same(s.Input.Text, dial.Input.Text)) is { } set)
                return set.Value;
            return turned.TryGetValue(dial.Input.Text, out var setting) ? setting.Value : dial.Now;
        }
    }

    private void Reread()
    {
        var reading = ApparatusFile.Read(Text.Text, File);
        lock (gate)
        {
            Reading = reading;
            if (reading.Apparatus is { } apparatus)
            {
                // Where the file moved a dial, the file wins over the hand.
                foreach (var dial in apparatus.Dials.Where(d => Apparatus?.Dials.FirstOrDefault(o => Same(o.Input.Text, d.Input.Text)) is { } old && old.Now != d.Now))
                    turned.Remove(dial.Input.Text);
                Apparatus = apparatus;
                if (!apparatus.States.Any(s => s.Name == State))
                    State = null;
                if (Verdicts.Length != apparatus.Claims.Count)
                    Verdicts = new Verdict?[apparatus.Claims.Count];
            }
        }

        Tell(DeskWords.Mistakes(reading));
        if (reading.Apparatus is not null)
        {
            Tell(DeskWords.Dials(this));
            Ask();
        }

        Changed?.Invoke();
    }

    // Something changed: wake the work and stop what was under way for the state of things before.
    private void Ask()
    {
        lock (gate)
        {
            turn++;
            later.Cancel();
        }

        wake.Release();
    }

    private async Task Work()
    {
        var before = Task.CompletedTask;
        try
        {
            while (true)
            {
                await wake.WaitAsync(closed.Token);
                while (wake.CurrentCount > 0)
                    await wake.WaitAsync(closed.Token);
                if (Now() is not { } now)
                    continue;
                // The stage does not wait until the work on how things stood before has stopped.
                if (await Try(now, stop => Draw(now, stop)))
                    before = Later(now, before);
                else
                    Say(now, null);
            }
        }
        catch (OperationCanceledException)
        {
        }
    }

    // How things stand, with a fresh leave for whatever follows from it.
    private Standing? Now()
    {
        lock (gate)
        {
            if (later.IsCancellationRequested)
                later = CancellationTokenSource.CreateLinkedTokenSource(closed.Token);
            Trouble = null;
            return Staged is { } staged && Turned is { } claimed ? new(turn, staged, claimed, new StageNote(stamp, State, false, 0), wantsShow, later.Token) : null;
        }
    }

    // What follows when the hand rests: the sharp stage, the show, the claims.
    private async Task Later(Standing now, Task before)
    {
        await before.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
        await Try(now, async stop =>
        {
            await Task.Delay(ShortRest, now.Stop);
            await workers.WaitAsync(now.Stop);
            try
            {
                Sharpen(now, stop);
                if (now.WantsShow)
                    Prepare(now, stop);
                await Task.Delay(Rest, now.Stop);
                if (now.Claimed.Claims.Count > 0)
                    Rehearse(now, stop);
            }
            finally
            {
                workers.Release();
            }
        });
        Say(now, null);
    }

    // Works within bounds, and says whatever stands in the way. True if it came to its end.
    private async Task<bool> Try(Standing now, Func<CancellationToken, Task> work)
    {
        using var bounded = new Bounds(now.Stop);
        try
        {
            await work(bounded.Token);
            return true;
        }
        catch (Exception e) when (IsStop(e))
        {
            if (!now.Stop.IsCancellationRequested)
                Trouble = bounded.Words;
        }
        catch (Exception e) when (e is RouteFailedException or ArgumentException or Geometry.OverlapException or Geometry.MeshLimitException)
        {
            Trouble = e.Message.Split(" (Parameter")[0];
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            // A slip of the program must not leave the window dead: it says so and goes on with the next turn.
            Trouble = $"The program slipped ({e.GetType().Name}: {e.Message}); please turn something and it tries again.";
        }

        return false;
    }

    // What cannot be drawn is said; the claims are answered all the same.
    private Task Draw(Standing now, CancellationToken stop)
    {
        var clock = Stopwatch.StartNew();
        try
        {
            switch (now.Staged.Layout)
            {
                case Layout.Free:
                    var bodies = SpaceStage.Quick(now.Staged, stop);
                    Put(now, null, bodies);
                    Tell(SpaceMessage.Of(bodies, bodies.Slice(plane ?? bodies.FirstPlane), now.Note with { Milliseconds = clock.Elapsed.TotalMilliseconds }));
                    break;
                case Layout.Flat:
                    InBox(now);
                    break;
                case Layout.Board:
                    Put(now, null, null);
                    Tell(Drawing(now.Staged, now.Note));
                    break;
                default:
                    // Not stopped by the next turn, so that the stage moves while the hand does.
                    var quick = StageField.Quick(now.Staged, shown, LiveUnknowns, closed.Token);
                    Tell(StageMessage.Of(quick, now.Note with { Milliseconds = clock.Elapsed.TotalMilliseconds }));
                    Put(now, quick, null);
                    break;
            }
        }
        catch (RouteFailedException e) when (now.Staged.Layout is Layout.Free or Layout.Flat or Layout.Board)
        {
            Put(now, null, null);
            Tell(DeskWords.NoStage(e.Message));
        }

        return Task.CompletedTask;
    }

    private void InBox(Standing now)
    {
        lock (boxGate)
        {
            bool fresh = play is null;
            var going = play ?? new BoxPlay(now.Staged.Box!);
            if (!fresh)
                going.Become(now.Staged.Box!);
            Put(now, null, null);
            play = going;
            Tell(SpaceMessage.Of(going, now.Note, fresh));
        }
    }

    // The coarse picture made sharp, if it is still the one shown.
    private void Sharpen(Standing now, CancellationToken stop)
    {
        var clock = Stopwatch.StartNew();
        var (quick, bodies) = (shown, space);
        if (now.Turn != turn)
            return;
        if (bodies is not null)
        {
            Say(now, "following the field through a period");
            bodies = bodies.Refined(stop);
            if (Put(now, null, bodies))
                Tell(SpaceMessage.Of(bodies, bodies.Slice(plane ?? bodies.FirstPlane), now.Note with { Milliseconds = clock.Elapsed.TotalMilliseconds }));
        }
        else if (quick is not null)
        {
            Say(now, "sharpening the picture");
            quick = quick.Refined(LastTarget, MostUnknowns, stop);
            if (Put(now, quick, null))
                Tell(StageMessage.Of(quick, now.Note with { Milliseconds = clock.Elapsed.TotalMilliseconds }));
        }
    }

    // What is shown from now on, unless the sharp one of things that have changed since comes late.
    private bool Put(Standing now, StageField? field, SpaceStage? bodies)
    {
        lock (gate)
        {
            if (now.Turn != turn && (field?.IsRefined ?? bodies?.IsRefined ?? false))
                return false;
            (shown, space, play) = (field, bodies, null);
            return true;
        }
    }

    private void Prepare(Standing now, CancellationToken stop)
    {
        foreach (var state in now.Claimed.States)
        {
            Say(now, "preparing the show: " + state.Name);
            var note = new StageNote(0, state.Name, true, 0);
            var set = InState(now.Claimed, state.Name);
            Tell(Kept(set, note, shown, stop));
        }

        lock (gate)
            wantsShow = false;
    }

    /// <summary>The stage of an apparatus as sharp as it gets, as one message.</summary>
    /// <exception cref="RouteFailedException">It cannot be drawn.</exception>
    internal static byte[] Kept(Apparatus set, StageNote note, StageField? before, CancellationToken stop)
    {
        if (set.Layout == Layout.Flat)
            return SpaceMessage.Of(new BoxPlay(set.Box!), note, true);
        if (set.Layout == Layout.Board)
            return Drawing(set, note);
        if (set.Layout != Layout.Free)
            return StageMessage.Of(StageField.Quick(set, before, LiveUnknowns, stop).Refined(LastTarget, MostUnknowns, stop), note);
        var stage = SpaceStage.Quick(set, stop).Refined(stop);
        return SpaceMessage.Of(stage, stage.Slice(stage.FirstPlane), note);
    }

    private static byte[] Drawing(Apparatus board, StageNote note) => SpaceMessage.Of(SvgPicture.WithinPage(BoardPicture.OnStage(board, TypeFace.Width), "board-"), note);

    private void Rehearse(Standing now, CancellationToken stop)
    {
        foreach (double target in (double[])[FirstTarget, LastTarget])
        {
            var report = Rehearsal.Run(now.Claimed, new RehearsalOptions(target), new Steps(this, now, target), stop);
            if (now.Turn != turn)
                return;
            Report = report;
            Verdicts = [.. report.Verdicts];
            Tell(DeskWords.Verdicts(this));
        }
    }

    private void Step(Standing now, RehearsalStep step, double target)
    {
        if (now.Turn != turn)
            return;
        if (step.Latest is { } verdict && step.Done <= Verdicts.Length)
        {
            Target = target;
            Verdicts[step.Done - 1] = verdict;
            Tell(DeskWords.Verdicts(this));
        }

        Say(now, $"{(target == FirstTarget ? "first answers" : "narrower bars")}: {step.What}");
    }

    private void Say(Standing now, string? what)
    {
        if (now.Turn != turn)
            return;
        Working = what;
        Tell(DeskWords.Working(this));
        Changed?.Invoke();
    }

    // Work side by side hands its cancellation up in a bundle.
    private static bool IsStop(Exception e) =>
        e is OperationCanceledException || (e is AggregateException bundle && bundle.Flatten().InnerExceptions.All(i => i is OperationCanceledException));

    private sealed class Steps(Desk desk, Standing now, double target) : IProgress<RehearsalStep>
    {
        public void Report(RehearsalStep value) => desk.Step(now, value, target);
    }

    // How things stood when a piece of work began, and its leave to go on.
    private sealed record Standing(int Turn, Apparatus Staged, Apparatus Claimed, StageNote Note, bool WantsShow, CancellationToken Stop);
}
