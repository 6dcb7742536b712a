namespace Fieldwright.Series;

/// <summary>An expansion or quadrature did not settle, so no number is given.</summary>
public sealed class NotConvergedException : Exception
{
    /// <summary>Says what did not settle.</summary>
    /// <param name="what">The quantity asked for.</param>
    /// <param name="lastChange">Relative change at the last refinement.</param>
    /// <param name="refinements">Refinements made.</param>
    public NotConvergedException(string what, double lastChange, int refinements)
        : base(FormattableString.Invariant($"{what} did not settle: it still changed by {lastChange:E1} of itself after {refinements} refinements."))
    {
        LastChange = lastChange;
        Refinements = refinements;
    }

    /// <summary>Relative change at the last refinement.</summary>
    public double LastChange { get; }

    /// <summary>Refinements made.</summary>
    public int Refinements { get; }
}
