namespace Fieldwright.Bench.File;

/// <summary>Names of things in an apparatus, and the words they must leave free.</summary>
internal static class Names
{
    /// <summary>The name under which the inputs of the room go: <c>temperature of hall</c>.</summary>
    public const string Hall = "hall";

    /// <summary>Words that join the parts of a measure or an input, so that no name may contain them.</summary>
    public static readonly IReadOnlyList<string> Joining = ["of", "on", "in", "at", "after", "and", "across", "from", "through"];
}
