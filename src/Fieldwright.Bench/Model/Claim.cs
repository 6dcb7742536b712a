namespace Fieldwright.Bench.Model;

/// <summary>What kind of bound a claim sets.</summary>
public enum BoundKind
{
    /// <summary>At least the lower value.</summary>
    AtLeast,

    /// <summary>At most the upper value.</summary>
    AtMost,

    /// <summary>Between the lower and the upper value.</summary>
    Between,

    /// <summary>About a value: between value − within and value + within.</summary>
    About,
}

/// <summary>The bound of a claim, in SI.</summary>
/// <param name="Kind">What kind of bound it is.</param>
/// <param name="Lower">Lower limit; −∞ when there is none.</param>
/// <param name="Upper">Upper limit; +∞ when there is none.</param>
/// <param name="Text">As people read it: <c>at least 8 mm</c>.</param>
public sealed record Bound(BoundKind Kind, double Lower, double Upper, string Text);

/// <summary>What is said to the audience, the measure that decides it, and the bound it must keep.</summary>
/// <param name="Say">The sentence.</param>
/// <param name="Measure">The measure that decides it.</param>
/// <param name="Bound">The bound.</param>
/// <param name="State">The state it is said in; null when it does not matter.</param>
public sealed record Claim(string Say, Measure Measure, Bound Bound, string? State);

/// <summary>A quantity that can be asked of an apparatus: <c>lift on disc at height 5 mm</c>.</summary>
/// <param name="Kind">What is asked, as the catalogue names it: <c>lift</c>, <c>rest height</c>, <c>hottest winding</c> …</param>
/// <param name="Subject">The part, winding, supply or load asked about; null when the measure has none.</param>
/// <param name="Other">A second subject (<c>mutual inductance of inner and outer</c>); null otherwise.</param>
/// <param name="Conditions">Inputs set for this question only (<c>at height 5 mm</c>).</param>
/// <param name="After">Time since switching on, s (<c>after 30 s</c>); null when it does not matter.</param>
/// <param name="AtRest">Whether it is asked with the floating part at its rest height (<c>at rest</c>).</param>
/// <param name="Text">The measure as people write it.</param>
public sealed record Measure(string Kind, string? Subject, string? Other, IReadOnlyList<Setting> Conditions, double? After, bool AtRest, string Text)
{
    /// <inheritdoc/>
    public override string ToString() => Text;
}
