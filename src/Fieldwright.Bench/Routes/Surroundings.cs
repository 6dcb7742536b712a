using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Series;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Bench.Routes;

/// <summary>The field around bodies that stand anywhere in space, and what makes it.</summary>
/// <param name="FluxDensity">Flux density at a point, T, peak phasors; real where nothing alternates.</param>
/// <param name="Currents">Current of each winding, A, peak phasors.</param>
/// <param name="Foil">Middle line of a foil loop, m; null when there is none.</param>
internal sealed record Surroundings(Func<Vector, ComplexVector> FluxDensity, IReadOnlyDictionary<string, Complex> Currents, IReadOnlyList<Vector>? Foil = null)
{
    private static readonly IReadOnlyList<(IRoute Route, Func<Apparatus, CancellationToken, Surroundings> Field)> Known =
        [(new BallRoute(), (a, _) => BallRoute.Around(a)), (new DiscRoute(), (a, _) => DiscRoute.Around(a)), (new FreeBodiesRoute(), (a, _) => FreeBodiesRoute.Around(a)), (new FoilRoute(), FoilRoute.Around),
        (new ConductionPumpRoute(), (a, _) => FreeBodiesRoute.Around(a))];

    /// <summary>The surroundings of an apparatus and the route that knows the loads in it.</summary>
    /// <exception cref="RouteFailedException">No route knows the field around such a thing.</exception>
    public static (Surroundings Around, IRoute Route) Of(Apparatus apparatus, CancellationToken cancellation)
    {
        foreach (var (route, field) in Known)
            if (route.Serves(apparatus) != Wanted.None)
            {
                try
                {
                    return (field(apparatus, cancellation), route);
                }
                catch (NotConvergedException e)
                {
                    throw new RouteFailedException(e.Message, e);
                }
            }

        throw new RouteFailedException("No route knows the field in the space around these bodies together, so it is not drawn.");
    }
}
