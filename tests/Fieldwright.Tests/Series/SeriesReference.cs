using Xunit;

using System.Globalization;

namespace Fieldwright.Tests.Series;

/// <summary>Rows of a published table kept under validation/reference.</summary>
internal static class SeriesReference
{
    /// <summary>The magnetic constant all computed tables there use.</summary>
    public const double Permeability = 4e-7 * Math.PI;

    public static IEnumerable<string[]> Rows(string file) =>
        File.ReadLines(Path.Combine(Repository.Root, "validation", "reference", file))
            .Where(line => line.Length > 0 && line[0] != '#').Skip(1).Select(line => line.Split(','));

    public static double Number(string text) => double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    public static void Close(double expected, double actual, double relative) =>
        Assert.True(Math.Abs(actual - expected) <= relative * Math.Abs(expected),
            string.Create(CultureInfo.InvariantCulture, $"expected {expected:G15}, found {actual:G15}, {(actual - expected) / expected:E2} off"));
}
