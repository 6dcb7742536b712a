namespace Fieldwright.Geometry;

/// <summary>What can be wrong with a closed loop of edges.</summary>
public enum OutlineFault
{
    /// <summary>Fewer edges than can close round an area.</summary>
    TooFewEdges,

    /// <summary>A coordinate is infinite or not a number.</summary>
    NotFinite,

    /// <summary>An edge has no length.</summary>
    ZeroLength,

    /// <summary>The two ends of an arc are not equally far from its centre.</summary>
    UnequalRadii,

    /// <summary>An edge does not start where the one before it ended.</summary>
    NotClosed,

    /// <summary>Two edges cross, touch or run over one another other than at their common end.</summary>
    SelfIntersection,

    /// <summary>The loop goes round no area.</summary>
    NoArea,
}

/// <summary>One fault of a loop of edges, and where it is.</summary>
/// <param name="Fault">What is wrong.</param>
/// <param name="Edge">Number of the first edge concerned, from 0.</param>
/// <param name="Other">Number of the second edge concerned, or −1.</param>
/// <param name="At">Where, m.</param>
/// <param name="Message">The finding in words, with its numbers.</param>
public sealed record OutlineFlaw(OutlineFault Fault, int Edge, int Other, Point At, string Message);

/// <summary>A loop of edges that is no outline of an area.</summary>
public sealed class OutlineException : ArgumentException
{
    /// <summary>Says what is wrong with the loop.</summary>
    /// <param name="flaw">The first fault found.</param>
    public OutlineException(OutlineFlaw flaw) : base(flaw.Message) => Flaw = flaw;

    /// <summary>The first fault found.</summary>
    public OutlineFlaw Flaw { get; }
}
