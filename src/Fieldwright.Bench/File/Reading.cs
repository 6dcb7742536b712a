using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>What came of reading an apparatus file.</summary>
/// <param name="Apparatus">The apparatus, its dials where they stand; null when there is any mistake.</param>
/// <param name="Mistakes">Everything that is wrong, in the order of the file.</param>
/// <param name="Path">Path of the file, for messages.</param>
public sealed record Reading(Apparatus? Apparatus, IReadOnlyList<Mistake> Mistakes, string Path);
