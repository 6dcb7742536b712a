using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;

namespace Fieldwright.Bench.Routes;

/// <summary>One route at work on one apparatus: keeps what it has solved, so that no operating point is computed twice.</summary>
internal sealed class RouteSession(IRoute route, double relativeTarget, CancellationToken cancellation)
{
    private const Wanted OfParts = Wanted.Forces | Wanted.Heat | Wanted.Torque | Wanted.Magnets;

    private Dictionary<string, List<Known>> points = [];
    private Dictionary<string, Rest> rests = [];
    private Dictionary<string, Flight> flights = [];
    private Dictionary<string, Shot> shots = [];
    private readonly Dictionary<string, object> kept = [];
    private Dictionary<string, Flights> courses = [];

    /// <summary>The route.</summary>
    public IRoute Route => route;

    /// <summary>Stops the work.</summary>
    public CancellationToken Cancellation => cancellation;

    /// <summary>What operating points are asked to hold besides what the question at hand needs, so that one solve serves many questions.</summary>
    public Wanted Also { get; set; }

    /// <summary>The parts that operating points are asked about besides the one in the question at hand.</summary>
    public IReadOnlySet<string> AlsoAbout { get; set; } = new HashSet<string>();

    /// <summary>Whether answers are wanted without their bars, where those cost extra: for tolerances and studies, that ask many times.</summary>
    public bool ValuesOnly { get; set; }

    /// <summary>The operating point under given circumstances.</summary>
    /// <param name="circumstances">The circumstances.</param>
    /// <param name="wanted">What it must hold.</param>
    /// <param name="about">The part asked about; null for all parts, where parts matter to what is wanted.</param>
    public OperatingPoint At(Circumstances circumstances, Wanted wanted, string? about = null) =>
        At(circumstances, wanted | Also, about is not null ? With(AlsoAbout, about) : (wanted & OfParts) == Wanted.None ? AlsoAbout : null, relativeTarget);

    /// <summary>A session that aims no closer than a target and knows what this one knows.</summary>
    public RouteSession Loosely(double target) => new(route, Math.Max(target, relativeTarget), cancellation) { points = points, rests = new(rests), flights = new(flights), shots = new(shots), courses = new(courses) };

    /// <summary>Something that a family of measures makes once for given circumstances and asks again.</summary>
    public T Keep<T>(Circumstances circumstances, Func<T> make)
        where T : notnull
    {
        string key = typeof(T).Name + "@" + circumstances.Key;
        return (T)(kept.TryGetValue(key, out object? before) ? before : kept[key] = make());
    }

    /// <summary>Where a part floats under given circumstances.</summary>
    public Rest Rest(Circumstances circumstances, Part part)
    {
        string key = part.Name + "@" + circumstances.Key;
        if (rests.TryGetValue(key, out var rest))
            return rest;
        var spread = Floats.Of(circumstances.Apparatus, part);
        rest = RestHeight.Find(
            (height, target) => At(AtHeight(circumstances, part, height), Wanted.Forces, With([], part.Name), target).ForceUp[part.Name],
            Floats.Weight(part), spread.Lowest, spread.Span, part.Place.Z, 0.5 * relativeTarget);
        if (!rest.Floats && !spread.Stands)
            throw new RouteFailedException($"'{part.Name}' does not lift and nothing of the file lies under it, so it falls: it has no rest.");
        return rests[key] = rest;
    }

    /// <summary>Where the part that may move is, a time after it was let go, s.</summary>
    public Flight Release(Circumstances circumstances, double time)
    {
        string key = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{time:R}@{circumstances.Key}");
        if (!flights.TryGetValue(key, out var flight))
            flights[key] = flight = ((IReleasingRoute)route).Release(circumstances.Apparatus, time, relativeTarget, cancellation);
        return flight;
    }

    /// <summary>The way of a body that is let go in space, for a time, s.</summary>
    public Flights Fly(Circumstances circumstances, double until)
    {
        if (courses.TryGetValue(circumstances.Key, out var known) && known.Serves(until, !ValuesOnly))
            return known;
        return courses[circumstances.Key] = Flights.Of(circumstances.Apparatus, until, cancellation, bars: !ValuesOnly);
    }

    /// <summary>The shot of the part that may move.</summary>
    public Shot Throw(Circumstances circumstances)
    {
        if (!shots.TryGetValue(circumstances.Key, out var shot))
            shots[circumstances.Key] = shot = ((IThrowingRoute)route).Throw(circumstances.Apparatus, relativeTarget, cancellation);
        return shot;
    }

    /// <summary>The same circumstances with a part at another height of its underside, m.</summary>
    public static Circumstances AtHeight(Circumstances circumstances, Part part, double height) =>
        circumstances.With(new Setting(new InputName("height", part.Name, "height of " + part.Name), height));

    private OperatingPoint At(Circumstances circumstances, Wanted wanted, IReadOnlySet<string>? about, double target)
    {
        cancellation.ThrowIfCancellationRequested();
        wanted &= route.Finds(circumstances.Apparatus);
        if (!points.TryGetValue(circumstances.Key, out var known))
            points[circumstances.Key] = known = [];
        if (known.Find(k => k.Answers(wanted, about, target)) is { } before)
            return before.Point;
        // whoever asked before may ask again, of the same parts
        if (about is not null)
            about = known.TrueForAll(k => k.About is not null) ? With(about, [.. known.SelectMany(k => k.About!)]) : null;
        var point = route.Solve(circumstances.Apparatus, wanted, about, target, cancellation);
        known.Add(new Known(wanted, about, target, point));
        return point;
    }

    private static HashSet<string> With(IEnumerable<string> names, params ReadOnlySpan<string> more)
    {
        var all = new HashSet<string>(names, StringComparer.OrdinalIgnoreCase);
        foreach (string name in more)
            all.Add(name);
        return all;
    }

    // A point, and what it was solved for.
    private sealed record Known(Wanted Wanted, IReadOnlySet<string>? About, double Target, OperatingPoint Point)
    {
        public bool Answers(Wanted wanted, IReadOnlySet<string>? about, double target) =>
            (Wanted & wanted) == wanted && Target <= target
            && (About is null || (wanted & OfParts) == Wanted.None || (about is not null && about.IsSubsetOf(About)));
    }
}
