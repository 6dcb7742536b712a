namespace Fieldwright.Bench.File;

/// <summary>A person's mistake in an apparatus file: where, what was found, what was expected, and the nearest known word.</summary>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
/// <param name="Finding">What is wrong, in words.</param>
/// <param name="Expectation">What was expected there.</param>
/// <param name="NearestWord">The nearest known word; null when nothing is near.</param>
public sealed record Mistake(int Line, int Column, string Finding, string Expectation, string? NearestWord = null);
