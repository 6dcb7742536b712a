using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Reads the tolerance of an input: <c>± 5 %</c>, <c>± 2 MS/m</c>.</summary>
internal static class Tolerances
{
    private static readonly string[] Signs = ["±", "+/-", "+-"];

    /// <summary>The doubt; null when it cannot be read, and then a mistake says why.</summary>
    public static Doubt? Read(InputName name, Phrase phrase, Apparatus apparatus, List<Mistake> mistakes)
    {
        var (rule, slot) = Inputs.Find(name, apparatus)!.Value;
        string example = rule.Kind is QuantityKind quantity ? $"a tolerance such as ± 5 % or ± {quantity.Example}" : "a tolerance such as ± 5 %";
        Doubt? Wrong(string finding)
        {
            mistakes.Add(new Mistake(phrase.Node.Line, phrase.Node.Column, finding, example));
            return null;
        }

        if (rule.TakesWord)
            return Wrong($"'{name.Text}' takes a word, so it has no tolerance");
        string? sign = Array.Find(Signs, s => phrase.Text.StartsWith(s, StringComparison.Ordinal));
        if (sign is null)
            return Wrong($"'{Words.Shorten(phrase.Text)}' is no tolerance");
        string text = phrase.Text[sign.Length..].Trim();
        if (text.EndsWith('%'))
            return Units.TryRead(text, "%", out double share, out string problem) && share is > 0 and < 1
                ? new Doubt(name, null, share)
                : Wrong(problem.Length > 0 ? problem : $"a tolerance of {Words.Shorten(text)}");
        var swing = slot.Swings ? Units.TakeSwing(ref text) : Swing.Unsaid;
        // A difference of temperatures: 5 °C is 5 K here, not 278 K.
        if (rule.Unit == "K" && text.EndsWith("°C", StringComparison.Ordinal))
            text = text[..^2] + "K";
        if (!Units.TryRead(text, rule.Unit, out double width, out string why))
            return Wrong(why);
        return width > 0 ? new Doubt(name, slot.Swings && swing != Swing.Peak ? width * Math.Sqrt(2) : width, null) : Wrong($"a tolerance of {Words.Shorten(text)}");
    }
}
