using System.Diagnostics.CodeAnalysis;

namespace Fieldwright.Matter.Units;

/// <summary>A value with a stated tolerance: <c>34 ± 2 MS/m</c>, <c>34 MS/m ± 5 %</c>, <c>± 5 %</c>.</summary>
/// <param name="Centre">The value in SI; null when only the tolerance was stated.</param>
/// <param name="Tolerance">Half-width, not negative: in SI, or as a share of the value when <paramref name="IsRelative"/>.</param>
/// <param name="IsRelative">Whether the tolerance was stated in per cent of the value.</param>
/// <param name="Dimension">Dimension of the value and of an absolute tolerance; a bare number for a relative tolerance without a value.</param>
public readonly record struct TolerancedQuantity(double? Centre, double Tolerance, bool IsRelative, Dimension Dimension)
{
    private static readonly Dimension Temperature = new(0, 0, 0, 0, 1);

    /// <summary>Half-width of the tolerance about a value, SI.</summary>
    /// <param name="value">The value it belongs to, SI.</param>
    public double HalfWidth(double value) => IsRelative ? Math.Abs(value) * Tolerance : Tolerance;

    /// <summary>Reads a tolerance with or without its value; <c>±</c> may be written <c>+-</c> or <c>+/-</c>.</summary>
    /// <param name="text">The text. In a tolerance °C is a difference.</param>
    /// <param name="stated">What it says.</param>
    /// <param name="problem">What is wrong; null when nothing is.</param>
    public static bool TryParse(string? text, out TolerancedQuantity stated, [NotNullWhen(false)] out string? problem)
    {
        stated = default;
        string all = (text ?? "").Trim().Replace("+/-", "±", StringComparison.Ordinal).Replace("+-", "±", StringComparison.Ordinal);
        int sign = all.IndexOf('±', StringComparison.Ordinal);
        if (sign < 0)
        {
            problem = "the sign ± is missing";
            return false;
        }

        string before = all[..sign].Trim(), after = all[(sign + 1)..].Trim();
        if (!SiParser.TryNumber(after, out double width, out int used, out problem))
            return false;
        if (width < 0)
        {
            problem = "a tolerance is not negative";
            return false;
        }

        string widthUnit = after[used..].Trim();
        bool relative = widthUnit == "%";
        if (before.Length == 0)
        {
            if (!TryWidth(width, widthUnit, out var alone, out problem))
                return false;
            stated = new(null, alone.Value, relative, alone.Dimension);
            return true;
        }

        // "34 ± 2 MS/m": the unit stands once, behind both.
        if (!SiParser.TryNumber(before, out _, out int usedBefore, out problem))
            return false;
        bool shared = before[usedBefore..].Trim().Length == 0 && !relative;
        if (!SiParser.TryParse(shared ? $"{before} {widthUnit}" : before, out var centre, out problem) || !TryWidth(width, widthUnit, out var half, out problem))
            return false;
        if (!relative && half.Dimension != centre.Dimension)
        {
            problem = $"the value and its tolerance differ in unit ({Shown(centre.Dimension)} and {Shown(half.Dimension)})";
            return false;
        }

        stated = new(centre.Value, half.Value, relative, centre.Dimension);
        return true;
    }

    private static bool TryWidth(double width, string unit, out Quantity half, [NotNullWhen(false)] out string? problem)
    {
        problem = null;
        half = new(width, UnitTable.IsCelsius(unit) ? Temperature : Dimension.None);
        return unit.Length == 0 || UnitTable.IsCelsius(unit) || SiParser.TryScale(width, unit, out half, out problem);
    }

    private static string Shown(Dimension dimension) => dimension == Dimension.None ? "a bare number" : dimension.ToString();
}
