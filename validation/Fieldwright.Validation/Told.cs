using Xunit;

namespace Fieldwright.Validation;

/// <summary>Figures reached, beside the test that holds them; seen with <c>-showLiveOutput</c>.</summary>
internal static class Told
{
    /// <summary>Writes one line.</summary>
    /// <param name="text">The line; numbers are written as everywhere.</param>
    public static void Line(FormattableString text) => TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(text));

    /// <summary>Per cent by which a value is off another, to three places, with its sign.</summary>
    /// <param name="found">The value.</param>
    /// <param name="truth">The other.</param>
    public static string Off(double found, double truth) => Math.Round(100 * ((found / truth) - 1), 3).ToString("+0.000;-0.000;0.000", System.Globalization.CultureInfo.InvariantCulture);
}
