using System.Globalization;
using Xunit;

namespace Fieldwright.Validation;

/// <summary>Holds answers of the field route to a known truth by their own bars, and notes both for the study of docs/error-bars.md.</summary>
/// <remarks>If the variable FIELDWRIGHT_BARS names a file, each answer is a line in it: case; value; bar; truth; what the truth itself leaves open. Cases that are noted carry the trait <c>bars=yes</c>.</remarks>
internal static class Bars
{
    /// <summary>Name of the trait of what is noted.</summary>
    public const string Trait = "bars";

    private static readonly string? Path = Environment.GetEnvironmentVariable("FIELDWRIGHT_BARS");
    private static readonly Lock Writing = new();

    /// <summary>Fails unless the bar, and what the truth leaves open, reaches from value to truth.</summary>
    /// <param name="what">Name of the case.</param>
    /// <param name="value">The answer.</param>
    /// <param name="bar">Its bar.</param>
    /// <param name="truth">The published or exact value.</param>
    /// <param name="open">How far that may be off, or the model from its case.</param>
    public static void Reach(string what, double value, double bar, double truth, double open = 0)
    {
        if (Path is not null)
            lock (Writing) File.AppendAllText(Path, string.Create(CultureInfo.InvariantCulture, $"{what};{value:R};{bar:R};{truth:R};{open:R}\n"));
        Assert.True(Math.Abs(value - truth) <= bar + open, string.Create(CultureInfo.InvariantCulture, $"{what}: {value:G7} ± {bar:G3} does not reach {truth:G7}, itself good to {open:G2}"));
    }
}
