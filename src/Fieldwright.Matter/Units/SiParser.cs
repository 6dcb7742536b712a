using System.Globalization;

namespace Fieldwright.Matter.Units;

/// <summary>Reads a number with its unit into SI: <c>34 MS/m</c>, <c>0.8 mm</c>, <c>1.2e3 kg/m³</c>, <c>20 °C</c>, <c>897 J/(kg K)</c>.</summary>
/// <remarks>
/// Units multiply by a space, <c>·</c> or <c>*</c> and divide by <c>/</c>; everything after one <c>/</c> up to the next sign or within parentheses divides.
/// Powers are written <c>mm²</c>, <c>mm^2</c> or <c>mm2</c>, also negative (<c>s^-1</c>). <c>°C</c> stands alone and is a temperature; differences are in K.
/// </remarks>
public static class SiParser
{
    /// <summary>Reads a quantity.</summary>
    /// <param name="text">Number and unit; a bare number is dimensionless.</param>
    /// <param name="quantity">The quantity in SI.</param>
    /// <param name="problem">What is wrong, in words, when false is returned; otherwise null.</param>
    public static bool TryParse(ReadOnlySpan<char> text, out Quantity quantity, out string? problem)
    {
        quantity = default;
        text = text.Trim();
        int end = NumberLength(text);
        if (end == 0 || !double.TryParse(text[..end].ToString().Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
        {
            problem = $"'{text}' does not start with a number";
            return false;
        }

        if (!double.IsFinite(value))
        {
            problem = $"'{text}' is not a finite number";
            return false;
        }

        var unit = text[end..].Trim();
        if (unit is "°C" or "degC" or "℃")
        {
            quantity = new Quantity(value + PhysicalConstants.ZeroCelsius, new Dimension(0, 0, 0, 0, 1));
            problem = quantity.Value < 0 ? $"'{text}' lies below absolute zero" : null;
            return problem is null;
        }

        if (!TryUnit(unit, out double size, out var dimension, out problem))
            return false;
        quantity = new Quantity(value * size, dimension);
        if (double.IsFinite(quantity.Value))
            return true;
        problem = $"'{text}' is too large to be meant";
        return false;
    }

    /// <summary>Reads a unit without a number: <c>MS/m</c>.</summary>
    /// <param name="text">The unit; empty for a pure number.</param>
    /// <param name="size">Its size in SI.</param>
    /// <param name="dimension">Its dimension.</param>
    /// <param name="problem">What is wrong, in words, when false is returned; otherwise null.</param>
    public static bool TryUnit(ReadOnlySpan<char> text, out double size, out Dimension dimension, out string? problem)
    {
        (size, dimension, problem) = (1, default, null);
        int sign = 1, inside = 0;
        int i = 0;
        while (i < text.Length)
        {
            char c = text[i];
            if (c is ' ' or '·' or '*' or '⋅')
            {
                i++;
            }
            else if (c == '/')
            {
                sign = -1;
                i++;
            }
            else if (c == '(')
            {
                inside++;
                i++;
            }
            else if (c == ')')
            {
                if (--inside < 0)
                    break;
                sign = 1;
                i++;
            }
            else
            {
                int start = i;
                while (i < text.Length && !IsBreak(text[i]))
                    i++;
                var symbol = text[start..i];
                int power = ReadPower(text, ref i);
                if (symbol.Length == 0 || !UnitTable.TryFind(symbol, out double one, out var its))
                {
                    problem = $"'{(symbol.Length == 0 ? text[start..] : symbol)}' is no unit known here";
                    return false;
                }

                size *= Math.Pow(one, sign * power);
                dimension *= its.Power(sign * power);
                // A slash divides by what follows it directly; parentheses stretch it.
                if (inside == 0)
                    sign = 1;
            }
        }

        if (inside == 0)
            return true;
        problem = $"the parentheses of '{text}' do not match";
        return false;
    }

    private static int NumberLength(ReadOnlySpan<char> text)
    {
        int i = 0;
        if (i < text.Length && text[i] is '+' or '-' or '−')
            i++;
        int digits = 0;
        while (i < text.Length && (char.IsAsciiDigit(text[i]) || text[i] == '.'))
        {
            digits += char.IsAsciiDigit(text[i]) ? 1 : 0;
            i++;
        }

        if (digits == 0)
            return 0;
        if (i < text.Length && text[i] is 'e' or 'E')
        {
            int j = i + 1;
            if (j < text.Length && text[j] is '+' or '-' or '−')
                j++;
            int from = j;
            while (j < text.Length && char.IsAsciiDigit(text[j]))
                j++;
            if (j > from)
                i = j;
        }

        return i;
    }

    private static bool IsBreak(char c) => c is ' ' or '·' or '*' or '⋅' or '/' or '(' or ')' or '^' or '²' or '³' or '⁻' or '¹' || (char.IsAsciiDigit(c) && c != '1') || c == '-';

    private static int ReadPower(ReadOnlySpan<char> text, ref int i)
    {
        if (i >= text.Length)
            return 1;
        int sign = 1;
        if (text[i] == '^')
            i++;
        if (i < text.Length && text[i] is '-' or '⁻')
        {
            sign = -1;
            i++;
        }

        if (i >= text.Length)
            return 1;
        int power = text[i] switch
        {
            '¹' or '1' => 1,
            '²' or '2' => 2,
            '³' or '3' => 3,
            '4' => 4,
            _ => 0,
        };
        if (power == 0)
            return 1;
        i++;
        return sign * power;
    }
}
