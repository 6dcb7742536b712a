namespace Fieldwright.Numerics;

/// <summary>A lower and an upper bound of a quantity.</summary>
/// <param name="Lower">The lower bound.</param>
/// <param name="Upper">The upper bound; never below the lower one.</param>
public readonly record struct Bracket(double Lower, double Upper)
{
    /// <summary>The value halfway between the bounds.</summary>
    public double Middle => 0.5 * (Lower + Upper);

    /// <summary>Half the distance of the bounds.</summary>
    public double HalfWidth => 0.5 * (Upper - Lower);

    /// <summary>Whether a value lies between the bounds.</summary>
    /// <param name="value">The value.</param>
    public bool Holds(double value) => value >= Lower && value <= Upper;

    /// <summary>The bounds times a factor.</summary>
    /// <param name="factor">The factor; a negative one swaps the bounds.</param>
    public Bracket Times(double factor) => factor >= 0 ? new(factor * Lower, factor * Upper) : new(factor * Upper, factor * Lower);
}
