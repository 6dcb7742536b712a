using System.Globalization;

namespace Fieldwright.Matter.Units;

/// <summary>Reads what stands behind the number: a product, quotient or power of units.</summary>
/// <remarks>
/// Grammar: expression = group { ("·" | "*" | "⋅" | space | "/" | "per") group }; group = "(" expression ")" [power] | word [power];
/// power = "^" integer | superscripts | digits right behind the word. After a stroke only one group may follow before the next stroke, so that
/// <c>W/m K</c> is refused rather than guessed at.
/// </remarks>
internal ref struct UnitExpression(ReadOnlySpan<char> text)
{
    private readonly ReadOnlySpan<char> text = text;
    private int at;
    private int depth;

    public double Size { get; private set; }

    public Dimension Dimension { get; private set; }

    public string? Problem { get; private set; }

    public static bool TryRead(ReadOnlySpan<char> text, out double size, out Dimension dimension, out string? problem)
    {
        var reader = new UnitExpression(text);
        bool read = reader.Expression(out size, out dimension) && reader.AtEnd();
        problem = reader.Problem;
        return read;
    }

    private bool AtEnd()
    {
        if (at == text.Length)
            return true;
        return Fail($"'{text[at]}' does not belong in a unit");
    }

    private bool Expression(out double size, out Dimension dimension)
    {
        if (!Group(out size, out dimension))
            return false;
        bool divided = false;
        while (true)
        {
            int start = at;
            bool stroke = false, joined = false;
            while (at < text.Length)
            {
                if (text[at] is '/' && !stroke && !joined)
                    stroke = true;
                else if (text[at] is '·' or '⋅' or '*' or '×' && !stroke && !joined)
                    joined = true;
                else if (!char.IsWhiteSpace(text[at]))
                    break;
                at++;
            }

            if (!stroke && !joined && text[at..].StartsWith("per ", StringComparison.Ordinal))
            {
                stroke = true;
                at += 4;
            }

            if (at == text.Length || text[at] == ')')
                return !stroke && !joined || Fail("a unit is missing at the end");
            if (at == start && text[at] != '(')
                return true;
            if (!stroke && divided)
                return Fail($"'{text.ToString()}' can be read in two ways: put what stands under the stroke in brackets, such as W/(m K)");
            int before = at;
            if (!Group(out double next, out var nextDimension))
                return false;
            if (at == before)
                return Fail($"'{text[at]}' does not belong in a unit");
            try
            {
                (size, dimension) = stroke ? (size / next, dimension / nextDimension) : (size * next, dimension * nextDimension);
            }
            catch (OverflowException)
            {
                return Fail("a power is too high");
            }

            divided |= stroke;
        }
    }

    private bool Group(out double size, out Dimension dimension)
    {
        (size, dimension) = (1, Dimension.None);
        if (at < text.Length && text[at] == '(')
        {
            if (++depth > 8)
                return Fail("there are too many brackets");
            at++;
            if (!Expression(out size, out dimension))
                return false;
            if (at >= text.Length || text[at] != ')')
                return Fail("a bracket is not closed");
            at++;
            depth--;
        }
        else
        {
            int start = at;
            if (at < text.Length && text[at] == '1')
                at++;
            else
                while (at < text.Length && IsLetter(text[at]))
                    at++;
            if (text[start..at] is "mH" or "mmH" or "cmH" && text[at..].StartsWith("2O", StringComparison.Ordinal))
                at += 2;
            string word = text[start..at].ToString();
            if (word.Length == 0)
                return Fail(at < text.Length ? $"'{text[at]}' does not belong in a unit" : "a unit is missing");
            if (!UnitTable.TryFind(word, out var unit))
                return Fail(Unknown(word));
            (size, dimension) = (unit.Size, unit.Dimension);
        }

        if (!Power(out int power))
            return false;
        try
        {
            (size, dimension) = (Math.Pow(size, power), dimension.Power(power));
        }
        catch (OverflowException)
        {
            return Fail("a power is too high");
        }

        return true;
    }

    private static bool IsLetter(char c) => char.IsLetter(c) || c is '°' or '%' or '‰' or '℃';

    private static string Unknown(string word)
    {
        string? near = NearestWord.To(word, UnitTable.Known);
        string shown = word.Length > 30 ? word[..30] + "…" : word;
        return near is null ? $"no unit '{shown}' is known" : $"no unit '{shown}' is known; the nearest is '{near}'";
    }

    private bool Power(out int power)
    {
        const string Superscripts = "⁰¹²³⁴⁵⁶⁷⁸⁹";
        power = 1;
        int start = at;
        bool caret = at < text.Length && text[at] == '^', negative = false;
        if (caret)
            at++;
        if (at < text.Length && (text[at] is '⁻' || text[at] is '-' or '−' && (caret || at + 1 < text.Length && char.IsAsciiDigit(text[at + 1]))))
        {
            negative = true;
            at++;
        }

        int digits = at, value = 0;
        for (; at < text.Length && at - digits < 3; at++)
        {
            int digit = char.IsAsciiDigit(text[at]) ? text[at] - '0' : Superscripts.IndexOf(text[at], StringComparison.Ordinal);
            if (digit < 0)
                break;
            value = 10 * value + digit;
        }

        if (at == digits)
            return start == at || Fail(string.Create(CultureInfo.InvariantCulture, $"a whole power is missing behind '{text[..start]}'"));
        if (value is 0 or > 12)
            return Fail("a power must lie between 1 and 12");
        power = negative ? -value : value;
        return true;
    }

    private bool Fail(string problem)
    {
        Problem ??= problem;
        return false;
    }
}
