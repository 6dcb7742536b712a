namespace Fieldwright.Matter;

/// <summary>Finds the word that was probably meant.</summary>
/// <source key="Damerau1964"/>
public static class NearestWord
{
    private const int LongestWord = 100;

    /// <summary>The known word nearest to one that was found, when it is near enough to be a slip of the keys; null otherwise.</summary>
    /// <param name="word">The word found.</param>
    /// <param name="known">Words that would have been right; of equally near ones the first is taken.</param>
    /// <remarks>Case does not count, except between words that are otherwise equally near. Up to a third of the letters may differ, one at least.</remarks>
    public static string? To(string word, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(word);
        ArgumentNullException.ThrowIfNull(known);
        if (word.Length is 0 or > LongestWord)
            return null;
        string lower = word.ToLowerInvariant();
        string? best = null;
        double least = double.PositiveInfinity;
        foreach (string candidate in known)
        {
            int allowed = Math.Max(1, Math.Min(word.Length, candidate.Length) / 3);
            if (Math.Abs(candidate.Length - word.Length) > allowed)
                continue;
            int distance = Distance(lower, candidate.ToLowerInvariant());
            if (distance > allowed || distance >= Math.Max(word.Length, candidate.Length))
                continue;
            double weight = distance + 0.01 * Distance(word, candidate);
            if (weight < least)
                (least, best) = (weight, candidate);
        }

        return best;
    }

    /// <summary>Letters to insert, drop, replace or swap with a neighbour to get from one word to the other, no part being edited twice (optimal string alignment).</summary>
    /// <param name="a">First word.</param>
    /// <param name="b">Second word.</param>
    public static int Distance(string a, string b)
    {
        ArgumentNullException.ThrowIfNull(a);
        ArgumentNullException.ThrowIfNull(b);
        int[] twoBack = new int[b.Length + 1], back = new int[b.Length + 1], row = new int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++)
            back[j] = j;
        for (int i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                row[j] = Math.Min(Math.Min(back[j] + 1, row[j - 1] + 1), back[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1));
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                    row[j] = Math.Min(row[j], twoBack[j - 2] + 1);
            }

            (twoBack, back, row) = (back, row, twoBack);
        }

        return back[b.Length];
    }
}
