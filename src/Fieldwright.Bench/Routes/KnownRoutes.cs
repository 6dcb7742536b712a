using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes.Travel;

namespace Fieldwright.Bench.Routes;

/// <summary>All routes there are: the one list that others choose from.</summary>
internal static class KnownRoutes
{
    /// <summary>A fresh one of each.</summary>
    public static IReadOnlyList<IRoute> All() =>
        [new FieldRoute(), new OnAxisRoute(), new RingsRoute(), new BallRoute(), new DiscRoute(), new FreeBodiesRoute(), new FoilRoute(), new ConductionPumpRoute(), new ChannelNetRoute(), new AirRingRoute(), new LayersRoute(), new GasRoute(), new CircuitRoute(), new MotionRoute(), new BoardRoute()];

    /// <summary>Those that know the impedances of an apparatus, series before fields, which answer at once, and reluctances last.</summary>
    public static IEnumerable<IRoute> OfImpedance(Apparatus apparatus) =>
        All().Where(r => r.Serves(apparatus).HasFlag(Wanted.Impedance)).OrderBy(r => r.Name switch { Claims.RouteName.Series => 0, Claims.RouteName.Field => 1, _ => 2 });
}
