using Xunit;

namespace Fieldwright.Validation;

/// <summary>Figures reached, beside the test that holds them; seen with <c>-showLiveOutput</c>.</summary>
internal static class Told
{
    /// <summary>Writes one line.</summary>
    /// <param name="text">The line; numbers are written as everywhere.</param>
    public static void Line(FormattableString text) => TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(text));
}
