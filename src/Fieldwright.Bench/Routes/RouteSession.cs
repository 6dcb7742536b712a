using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;

namespace Fieldwright.Bench.Routes;

/// <summary>One route at work on one apparatus: keeps what it has solved, so that no operating point is computed twice.</summary>
internal sealed class RouteSession(IRoute route, double relativeTarget, CancellationToken cancellation)
{
    private readonly Dictionary<string, (Wanted Wanted, double Target, OperatingPoint Point)> points = [];
    private readonly Dictionary<string, Rest> rests = [];
    private readonly Dictionary<string, Flight> flights = [];

    /// <summary>The route.</summary>
    public IRoute Route => route;

    /// <summary>What operating points are asked to hold besides what the question at hand needs, so that one solve serves many questions.</summary>
    public Wanted Also { get; set; }

    /// <summary>The operating point under given circumstances.</summary>
    public OperatingPoint At(Circumstances circumstances, Wanted wanted) => At(circumstances, wanted | Also, relativeTarget);

    /// <summary>Where a part floats under given circumstances.</summary>
    public Rest Rest(Circumstances circumstances, Part part)
    {
        string key = part.Name + "@" + circumstances.Key;
        if (rests.TryGetValue(key, out var rest))
            return rest;
        var spread = Floats.Of(circumstances.Apparatus, part);
        rest = RestHeight.Find(
            (height, target) => At(AtHeight(circumstances, part, height), Wanted.Forces, target).ForceUp[part.Name],
            Floats.Weight(part), spread.Lowest, spread.Span, part.Place.Z, 0.5 * relativeTarget);
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

    /// <summary>The same circumstances with a part at another height of its underside, m.</summary>
    public static Circumstances AtHeight(Circumstances circumstances, Part part, double height) =>
        circumstances.With(new Setting(new InputName("height", part.Name, "height of " + part.Name), height));

    private OperatingPoint At(Circumstances circumstances, Wanted wanted, double target)
    {
        cancellation.ThrowIfCancellationRequested();
        wanted &= route.Serves(circumstances.Apparatus);
        if (points.TryGetValue(circumstances.Key, out var known) && (known.Wanted & wanted) == wanted && known.Target <= target)
            return known.Point;
        var point = route.Solve(circumstances.Apparatus, wanted, target, cancellation);
        points[circumstances.Key] = (wanted, target, point);
        return point;
    }
}
