using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>An independent way of finding the operating point of an apparatus. Routes share no physics.</summary>
internal interface IRoute
{
    /// <summary>Its name.</summary>
    RouteName Name { get; }

    /// <summary>What it can find for this apparatus; <see cref="Wanted.None"/> when it cannot serve it at all.</summary>
    Wanted Serves(Apparatus apparatus);

    /// <summary>The operating point of the apparatus as it stands.</summary>
    /// <param name="apparatus">The apparatus, all settings applied.</param>
    /// <param name="wanted">What the point must hold.</param>
    /// <param name="relativeTarget">Half-width to aim for, relative to each answer.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The route could not reach an answer it can stand by.</exception>
    OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation);

    /// <summary>The same when only some parts are asked about, so that no work goes into the rest; a route that finds all at once need not look.</summary>
    /// <param name="apparatus">The apparatus, all settings applied.</param>
    /// <param name="wanted">What the point must hold.</param>
    /// <param name="about">Names of the parts asked about; null for all.</param>
    /// <param name="relativeTarget">Half-width to aim for, relative to each answer.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">The route could not reach an answer it can stand by.</exception>
    OperatingPoint Solve(Apparatus apparatus, Wanted wanted, IReadOnlySet<string>? about, double relativeTarget, CancellationToken cancellation) =>
        Solve(apparatus, wanted, relativeTarget, cancellation);

    /// <summary>All that it can find for this apparatus: what it says it serves, and what comes with that.</summary>
    Wanted Finds(Apparatus apparatus) => Serves(apparatus) is var serves && serves.HasFlag(Wanted.Impedance) ? serves | Wanted.Inductance : serves;
}

/// <summary>A route could not reach an answer it can stand by; the message says why, for a person to read.</summary>
public sealed class RouteFailedException : Exception
{
    /// <summary>Makes the exception.</summary>
    public RouteFailedException(string message) : base(message)
    {
    }

    /// <summary>Makes the exception from what broke down below.</summary>
    public RouteFailedException(string message, Exception inner) : base(message, inner)
    {
    }

    /// <summary>Makes the exception without a reason; prefer the others.</summary>
    public RouteFailedException() : base("The route could not reach an answer.")
    {
    }
}
