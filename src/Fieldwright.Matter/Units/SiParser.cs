using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Fieldwright.Matter.Units;

/// <summary>Reads values with units: <c>65 mm</c>, <c>34 MS/m</c>, <c>10 A/mm²</c>, <c>7850 kg/m3</c>, <c>20 °C</c>.</summary>
/// <remarks>
/// <para>Symbols keep their case (<c>mm</c> is not <c>MM</c>); names (<c>volts</c>, <c>millimetres</c>) do not. Micro is <c>µ</c>, <c>μ</c> or <c>u</c>. Powers are written
/// <c>m²</c>, <c>m^2</c> or <c>m2</c>, products with a space or a dot, quotients with a stroke; what can be read in two ways (<c>W/m K</c>) is refused.</para>
/// <para><c>°C</c> standing alone is a temperature and comes out in K from absolute zero; inside a product or a quotient (<c>J/(kg °C)</c>), and in a tolerance, it is a
/// difference and equals K. A difference alone is therefore written in K.</para>
/// <para>NaN, infinities, numbers too large or too small for a double, and decimal commas are refused. Pure functions; threads may share them.</para>
/// </remarks>
public static partial class SiParser
{
    private const int LongestText = 200;

    /// <summary>Reads a value with its unit; a bare number has no dimension.</summary>
    /// <param name="text">The text.</param>
    /// <param name="quantity">The value, SI, and its dimension.</param>
    /// <param name="problem">What is wrong, as the end of a sentence, with the nearest known unit if there is one; null when nothing is.</param>
    /// <returns>Whether it could be read.</returns>
    public static bool TryParse(string? text, out Quantity quantity, [NotNullWhen(false)] out string? problem)
    {
        quantity = new(double.NaN, Dimension.None);
        string trimmed = text?.Trim() ?? "";
        if (!TryNumber(trimmed, out double number, out int used, out problem))
            return false;
        string unitText = trimmed[used..].Trim();
        if (unitText.Length == 0)
        {
            quantity = new(number, Dimension.None);
            return true;
        }

        if (UnitTable.IsCelsius(unitText))
        {
            if (number < -PhysicalConstants.ZeroCelsius)
            {
                problem = $"{trimmed} lies below absolute zero, -273.15 °C";
                return false;
            }

            quantity = new(number + PhysicalConstants.ZeroCelsius, new(0, 0, 0, 0, 1));
            return true;
        }

        return TryScale(number, unitText, out quantity, out problem);
    }

    /// <summary>Reads a unit alone: <c>A/mm²</c> is 1e6 A/m².</summary>
    /// <param name="text">The unit; <c>°C</c> here is a difference of 1 K.</param>
    /// <param name="unit">Its size in SI and its dimension.</param>
    /// <param name="problem">What is wrong; null when nothing is.</param>
    public static bool TryParseUnit(string? text, out Quantity unit, [NotNullWhen(false)] out string? problem) => TryScale(1, text?.Trim() ?? "", out unit, out problem);

    /// <summary>Reads the number at the start of a text.</summary>
    /// <param name="text">The text, trimmed.</param>
    /// <param name="number">The number.</param>
    /// <param name="used">How many characters it took.</param>
    /// <param name="problem">What is wrong.</param>
    internal static bool TryNumber(string text, out double number, out int used, [NotNullWhen(false)] out string? problem)
    {
        (number, used, problem) = (double.NaN, 0, null);
        if (text.Length == 0)
            problem = "there is nothing to read";
        else if (text.Length > LongestText)
            problem = $"the text is longer than {LongestText} characters";
        if (problem is not null)
            return false;
        var match = NumberForm().Match(text);
        if (!match.Success)
        {
            problem = text.StartsWith("nan", StringComparison.OrdinalIgnoreCase) || text.Contains("inf", StringComparison.OrdinalIgnoreCase) || text[0] == '∞'
                ? "only finite numbers can be used"
                : "a number must come first";
            return false;
        }

        used = match.Length;
        if (used < text.Length && text[used] == ',' && used + 1 < text.Length && char.IsAsciiDigit(text[used + 1]))
            problem = "decimals are written with a point and thousands without a mark";
        else if (used < text.Length && text[used] is '.' or '_')
            problem = "the number cannot be read";
        string digits = match.Groups["m"].Value.Replace('−', '-') + (match.Groups["e"].Success ? "e" + match.Groups["e"].Value.Replace('−', '-') : "");
        if (problem is null && (!double.TryParse(digits, NumberStyles.Float, CultureInfo.InvariantCulture, out number) || !double.IsFinite(number)))
            problem = "the number is too large";
        else if (problem is null && number == 0 && match.Groups["m"].Value.AsSpan().IndexOfAnyInRange('1', '9') >= 0)
            problem = "the number is too small";
        return problem is null;
    }

    /// <summary>Multiplies a number by a unit read from text.</summary>
    /// <param name="number">The number.</param>
    /// <param name="unitText">The unit.</param>
    /// <param name="quantity">Their product.</param>
    /// <param name="problem">What is wrong.</param>
    internal static bool TryScale(double number, string unitText, out Quantity quantity, [NotNullWhen(false)] out string? problem)
    {
        quantity = new(double.NaN, Dimension.None);
        if (!UnitExpression.TryRead(unitText, out double size, out var dimension, out problem))
        {
            problem ??= $"the unit '{unitText}' cannot be read";
            return false;
        }

        double value = number * size;
        if (!double.IsFinite(value) || value == 0 && number != 0)
        {
            problem = value == 0 ? "the value is too small" : "the value is too large";
            return false;
        }

        quantity = new(value, dimension);
        return true;
    }

    [GeneratedRegex(@"^(?<m>[+\-−]?(?:[0-9]+\.?[0-9]*|\.[0-9]+))(?:[eE](?<e>[+\-−]?[0-9]+)|\s*[×x*]\s*10\s*\^?\s*(?<e>[+\-−]?[0-9]+))?", RegexOptions.CultureInvariant)]
    private static partial Regex NumberForm();
}
