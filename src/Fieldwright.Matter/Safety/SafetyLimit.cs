namespace Fieldwright.Matter.Safety;

/// <summary>A number that a hazard is set beside, and how far its source may be trusted.</summary>
/// <param name="Value">The number, SI (temperatures in K, alternating quantities rms).</param>
/// <param name="Document">Standard or guideline with its year, or <c>common practice, no source</c>.</param>
/// <param name="Grade">a: read in an opened source, often at second hand · b: computed · c: from memory.</param>
public sealed record SafetyLimit(double Value, string Document, char Grade);
