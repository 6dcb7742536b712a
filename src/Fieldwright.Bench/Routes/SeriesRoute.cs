using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route: closed forms and expansions.</summary>
internal sealed class SeriesRoute : IRoute
{
    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) =>
        throw new RouteFailedException("No series describes this apparatus.");
}
