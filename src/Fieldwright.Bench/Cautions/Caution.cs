namespace Fieldwright.Bench.Cautions;

/// <summary>A hazard with its number, the limit it is set beside, where that limit comes from, and what to do.</summary>
/// <param name="Name">Short name, by which it is acknowledged in the file.</param>
/// <param name="Finding">The number found and what it means, in words.</param>
/// <param name="Limit">The limit it is set beside.</param>
/// <param name="Standard">Standard and year, or <c>common practice, no source</c>.</param>
/// <param name="Grade">a read in an opened source · b computed · c from memory.</param>
/// <param name="Remedy">What to do about it.</param>
/// <param name="Acknowledged">Whether the file acknowledges it by name; it is printed all the same.</param>
public sealed record Caution(string Name, string Finding, string Limit, string Standard, char Grade, string Remedy, bool Acknowledged)
{
    /// <summary>The sentence that ends every list of cautions.</summary>
    public const string Deferral =
        "These are computed hints, not a safety assessment: local codes and a licensed practitioner decide what may be switched on in front of people.";
}
