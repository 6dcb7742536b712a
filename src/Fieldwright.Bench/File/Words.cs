using System.Globalization;

namespace Fieldwright.Bench.File;

/// <summary>Small pieces of language that messages are made of.</summary>
internal static class Words
{
    /// <summary>A list of choices: <c>disc, ring or tube</c>.</summary>
    public static string Or(IEnumerable<string> words) => Join(words, "or");

    /// <summary>A list of things: <c>disc, ring and tube</c>.</summary>
    public static string And(IEnumerable<string> words) => Join(words, "and");

    /// <summary>A noun with its article: <c>a disc</c>, <c>an outline</c>.</summary>
    public static string A(string noun) => (noun.Length > 0 && "aeiou".Contains(char.ToLowerInvariant(noun[0]), StringComparison.Ordinal) ? "an " : "a ") + noun;

    /// <summary>A text cut to a length that fits in a message, its control characters shown as spaces.</summary>
    public static string Shorten(string text, int length = 60)
    {
        string plain = string.Concat(text.Take(length).Select(c => char.IsControl(c) ? ' ' : c));
        return text.Length <= length ? plain : plain[..(length - 1)] + "…";
    }

    /// <summary>A whole number, written the same everywhere.</summary>
    public static string Count(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Join(IEnumerable<string> words, string last)
    {
        var all = words.ToList();
        return all.Count < 2 ? string.Concat(all) : string.Join(", ", all.Take(all.Count - 1)) + " " + last + " " + all[^1];
    }
}
