using System.Globalization;
using Fieldwright.Matter;
using Fieldwright.Matter.Units;

namespace Fieldwright.Bench.File;

/// <summary>Values with units at the edge: text in, SI out, and back.</summary>
internal static class Units
{
    /// <summary>Reads a value whose dimension is that of a unit.</summary>
    /// <param name="text">The text: <c>65 mm</c>.</param>
    /// <param name="unit">A unit of the dimension expected; empty or % for a bare number or a share.</param>
    /// <param name="value">The value, SI.</param>
    /// <param name="problem">What is wrong, in words; empty when nothing is.</param>
    public static bool TryRead(string text, string unit, out double value, out string problem)
    {
        text = text.Trim();
        problem = "";
        if (unit is "" or "%")
        {
            bool percent = text.EndsWith('%');
            if (double.TryParse(percent ? text[..^1] : text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value))
            {
                value /= percent ? 100 : 1;
                return true;
            }

            problem = $"'{Words.Shorten(text)}' is no {(unit == "%" ? "share" : "number")}";
            return false;
        }

        value = double.NaN;
        if (text.Length > 100 || (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out _) && !text.Any(char.IsAsciiDigit)))
            problem = $"'{Words.Shorten(text)}' is no value with a unit";
        else if (UnitIn(text).Length == 0)
            problem = $"'{Words.Shorten(text)}' has no unit";
        if (problem.Length > 0)
            return false;
        if (!SiParser.TryParse(text, out var quantity, out string? why))
        {
            problem = $"'{Words.Shorten(text)}' cannot be read: {why?.TrimEnd('.')}";
            return false;
        }

        value = quantity.Value;
        if (!double.IsFinite(value))
            problem = $"'{Words.Shorten(text)}' is not a finite number";
        else if (quantity.Dimension != Of(unit).Dimension)
            problem = $"'{Words.Shorten(text)}' has the wrong unit";
        return problem.Length == 0;
    }

    /// <summary>Size of a unit in SI.</summary>
    public static double ValueOf(string unit) => unit switch
    {
        "" => 1,
        "%" => 0.01,
        "°C" => 1,
        _ => Of(unit).Value,
    };

    /// <summary>A value in a unit as people write it.</summary>
    public static string Write(double inUnit, string unit) =>
        inUnit.ToString("0.######", CultureInfo.InvariantCulture) is var number && unit.Length == 0 ? number : $"{number} {unit}";

    /// <summary>An SI value in a unit as people write it, rounded to six digits.</summary>
    public static string WriteSi(double value, string unit)
    {
        double inUnit = unit == "°C" ? value - PhysicalConstants.ZeroCelsius : value / ValueOf(unit);
        string number = inUnit.ToString("G6", CultureInfo.InvariantCulture);
        return unit.Length == 0 ? number : $"{number} {unit}";
    }

    /// <summary>The unit a text ends in; empty when it ends in a number.</summary>
    public static string UnitIn(string text)
    {
        text = text.Trim();
        TakeSwing(ref text);
        int end = text.Length;
        for (int i = text.Length; i > 0; i--)
            if (double.TryParse(text[..i], NumberStyles.Float, CultureInfo.InvariantCulture, out _))
            {
                end = i;
                break;
            }

        return text[end..].Trim();
    }

    /// <summary>Takes <c>peak</c> or <c>rms</c> off the end of a text and says which it was.</summary>
    public static Swing TakeSwing(ref string text)
    {
        foreach (var (word, swing) in new[] { (" peak", Swing.Peak), (" rms", Swing.Rms) })
            if (text.EndsWith(word, StringComparison.OrdinalIgnoreCase))
            {
                text = text[..^word.Length].TrimEnd();
                return swing;
            }

        return Swing.Unsaid;
    }

    private static Quantity Of(string unit) =>
        SiParser.TryParse("1 " + unit, out var quantity, out string? problem) ? quantity : throw new ArgumentException($"'{unit}' is no unit: {problem}", nameof(unit));
}
