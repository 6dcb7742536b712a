namespace Fieldwright.Bench.File;

/// <summary>Finds the word that was probably meant.</summary>
internal static class NearestWord
{
    /// <summary>The known word nearest to one that was found, when it is near enough to be a slip of the keys; null otherwise.</summary>
    /// <param name="word">The word found.</param>
    /// <param name="known">Words that would have been right.</param>
    public static string? To(string word, IEnumerable<string> known)
    {
        if (word.Length is 0 or > 100)
            return null;
        string lower = word.ToLowerInvariant();
        var best = known.Distinct().Select(k => (Word: k, Distance: Distance(lower, k.ToLowerInvariant()))).OrderBy(k => k.Distance).FirstOrDefault();
        return best.Word is not null && best.Distance <= Math.Max(1, Math.Min(word.Length, best.Word.Length) / 3) ? best.Word : null;
    }

    /// <summary>Letters to insert, drop, replace or swap with a neighbour to get from one word to the other (optimal string alignment).</summary>
    private static int Distance(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (int i = 0; i <= a.Length; i++)
            d[i, 0] = i;
        for (int j = 0; j <= b.Length; j++)
            d[0, j] = j;
        for (int i = 1; i <= a.Length; i++)
            for (int j = 1; j <= b.Length; j++)
            {
                d[i, j] = Math.Min(Math.Min(d[i - 1, j] + 1, d[i, j - 1] + 1), d[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }

        return d[a.Length, b.Length];
    }
}
