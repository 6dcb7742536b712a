using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>The circuit route: lumped reluctances.</summary>
internal sealed class CircuitRoute : IRoute
{
    /// <inheritdoc/>
    public RouteName Name => RouteName.Circuit;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation) =>
        throw new RouteFailedException("No circuit describes this apparatus.");
}
