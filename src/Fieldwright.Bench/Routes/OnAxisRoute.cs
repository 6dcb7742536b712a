using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Series;

namespace Fieldwright.Bench.Routes;

/// <summary>The field route for a free apparatus whose bodies and coils happen to stand upright about one axis: it is asked as the round one it then is.</summary>
/// <remarks>What lies along the axis only: lift, rest, heat, impedances. Sideways there is no force on the axis, and its slope is for the series route.</remarks>
internal sealed class OnAxisRoute : IRoute
{
    private const Wanted Along = Wanted.Forces | Wanted.Heat | Wanted.Impedance | Wanted.Warmth;

    private readonly FieldRoute round = new();

    /// <inheritdoc/>
    public RouteName Name => RouteName.Field;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => Round(apparatus) is { } same ? round.Serves(same) & Along : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) => Solve(apparatus, wanted, null, relativeTarget, cancellation);

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double relativeTarget, CancellationToken cancellation)
    {
        var same = Round(apparatus) ?? throw new RouteFailedException("It does not stand about one axis.");
        var point = round.Solve(same, wanted, about, relativeTarget, cancellation);
        return point with
        {
            Loads = point.ForceUp.ToDictionary(f => f.Key, f => new SpaceLoad(new Vector(0, 0, f.Value.Value), default, new Vector(0, 0, f.Value.Bar), default), StringComparer.OrdinalIgnoreCase),
        };
    }

    /// <summary>The round apparatus that a free one is; null when something stands off the z axis, leans, or has corners. Probes are no bodies.</summary>
    public static Apparatus? Round(Apparatus apparatus)
    {
        if (apparatus.Layout != Layout.Free || apparatus.Windings.Any(w => w.Space is not RoundSpace { X: 0, Y: 0 } space || space.Attitude.Tilt != 0))
            return null;
        IReadOnlyList<Part> bodies = [.. apparatus.Parts.Where(p => p.Shape is not ProbeShape)];
        return bodies.Count > 0 && bodies.All(p => p.Shape is DiscShape or RingShape or BallShape && p.Place is { X: 0, Y: 0 } && p.Attitude.Tilt == 0)
            ? apparatus with { Layout = Layout.Round, Parts = bodies } : null;
    }
}
