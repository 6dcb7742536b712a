namespace Fieldwright.Bench.Pictures;

/// <summary>Text broken into lines.</summary>
public static class Setting
{
    /// <summary>Lines no wider than asked, broken between words; a word that is wider stands alone.</summary>
    public static List<string> Wrapped(string text, double size, Face face, double width, TextWidth textWidth)
    {
        var lines = new List<string>();
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (lines.Count > 0 && textWidth(lines[^1] + " " + word, size, face) <= width)
                lines[^1] += " " + word;
            else
                lines.Add(word);
        }

        return lines;
    }
}
