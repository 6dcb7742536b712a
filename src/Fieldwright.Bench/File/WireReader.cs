using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Reads wire as people write it: <c>0.8 mm grade 1</c>, <c>3 x 0.5 mm grade 2</c>, <c>litz 60 x 0.2 mm grade 1</c>, <c>1 mm grade 1 aluminium 1050</c>, <c>2 mm bare</c>.</summary>
internal static class WireReader
{
    private const string Expected = "a wire such as 0.8 mm grade 1, 1 mm grade 2 aluminium 1050, 3 x 0.5 mm grade 1, or litz 60 x 0.2 mm grade 1";

    // Strands of litz run round one another: 2 to 5 % longer than the bundle (common practice, no source).
    private const double LitzTwist = 1.035;

    /// <summary>The wire; null when it cannot be read, and then a mistake says why.</summary>
    public static WireChoice? Read(Phrase phrase, IReadOnlyList<Material> own, List<Mistake> mistakes)
    {
        var words = phrase.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).ToList();
        WireChoice? Wrong(string finding, string expectation = Expected, string? nearest = null)
        {
            mistakes.Add(new Mistake(phrase.Node.Line, phrase.Node.Column, finding, expectation, nearest));
            return null;
        }

        bool litz = words is ["litz", ..];
        if (litz)
            words.RemoveAt(0);
        int strands = 1;
        if (words.Count > 2 && words[1] is "x" or "×")
        {
            if (!int.TryParse(words[0], NumberStyles.None, CultureInfo.InvariantCulture, out strands) || strands is < 1 or > 10000)
                return Wrong($"'{Words.Shorten(words[0])}' is no number of strands");
            words.RemoveRange(0, 2);
        }

        if (litz && strands < 3)
            return Wrong("litz of fewer than three strands", "litz 60 x 0.2 mm grade 1, or no litz");
        int taken = words.Count > 1 && !double.TryParse(words[0], NumberStyles.Float, CultureInfo.InvariantCulture, out _) ? 1 : Math.Min(2, words.Count);
        string size = string.Join(' ', words.Take(taken));
        if (!Units.TryRead(size, "m", out double bare, out string problem))
            return Wrong(problem);
        if (!(bare > 1e-6 && bare <= 0.05))
            return Wrong($"a wire of {Words.Shorten(size)}", "a diameter between 1 um and 50 mm");
        words.RemoveRange(0, taken);

        double overall = bare;
        if (words is ["bare", ..])
            words.RemoveAt(0);
        else if (words is ["grade", ..])
        {
            if (words is not ["grade", "1" or "2", ..])
                return Wrong($"'grade {Words.Shorten(words.ElementAtOrDefault(1) ?? "")}'", "grade 1 or grade 2");
            try
            {
                overall = WireTable.OverallDiameter(bare, int.Parse(words[1], CultureInfo.InvariantCulture));
            }
            catch (ArgumentException)
            {
                return Wrong($"enamelled wire of {Words.Shorten(size)} is in no table", "a diameter between 0.1 mm and 5 mm, or 'bare'");
            }

            words.RemoveRange(0, 2);
        }

        string metalName = words.Count == 0 ? "copper" : string.Join(' ', words);
        var metal = Inputs.FindMaterial(metalName, own);
        if (metal is null)
        {
            var unknown = Inputs.UnknownMaterial(metalName, own, phrase.Node.Line, phrase.Node.Column);
            return Wrong($"'{Words.Shorten(metalName)}' is no metal that is known", Expected, unknown.NearestWord ?? NearestWord.To(words[0], ["grade", "bare"]));
        }

        return metal.Conductivity > 0 ? new WireChoice(bare, overall, metal, strands, phrase.Text, litz ? LitzTwist : 1) : Wrong($"wire of {metal.Name}, which does not conduct", "a metal");
    }
}
