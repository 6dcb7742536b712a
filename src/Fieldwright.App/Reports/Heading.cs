namespace Fieldwright.App.Reports;

/// <summary>The apparatus in a line, its name first.</summary>
internal static class Heading
{
    /// <summary>Writes it, wrapped when it is long.</summary>
    /// <param name="page">Where to.</param>
    /// <param name="summary">Name, colon, the rest.</param>
    public static void Write(Page page, string summary)
    {
        int colon = summary.IndexOf(':', StringComparison.Ordinal);
        page.Prose("", 2, new Run(summary[..(colon + 1)], Tone.Strong), summary[(colon + 1)..]);
    }
}
