using System.Globalization;
using Fieldwright.Numerics;

namespace Fieldwright.Matter.Units;

/// <summary>Writes SI values for people: a fitting prefix, and no more digits than the error bar allows.</summary>
public static class SiFormat
{
    private static readonly (Dimension Dimension, string Unit)[] Preferred =
    [
        .. new[]
        {
            "m", "g", "s", "A", "K", "cd", "rad", "Hz", "N", "Pa", "J", "W", "C", "V", "F", "Ω", "S", "Wb", "T", "lx", "m²", "m³", "m/s", "m/s²", "rad/s", "kg/m³",
            "N/m", "A/m", "A/m²", "S/m", "Ω m", "V/m", "H", "H/m", "W/m²", "W/m³", "W/(m K)", "J/(kg K)", "J/K", "K/W", "1/K", "K/s", "A m²", "Pa s", "m²/s", "m³/s", "kg/m", "T/m", "Ω/m", "A² s",
        }.Select(unit => (SiParser.TryParseUnit(unit, out var q, out string? problem) ? q.Dimension : throw new InvalidOperationException(problem), unit)),
    ];

    /// <summary>Writes a value with three digits: <c>3.29 mm</c>, <c>1.05 N</c>, <c>34 MS/m</c>.</summary>
    /// <param name="value">The value, SI; finite.</param>
    /// <param name="dimension">Its dimension. A torque has that of an energy: name the unit to have N m.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    public static string Write(double value, Dimension dimension) => Write(value, UnitOf(dimension));

    /// <summary>Writes a value in a unit, a prefix chosen for it.</summary>
    /// <param name="value">The value, SI; finite.</param>
    /// <param name="unit">A unit such as <c>N m</c> or <c>A/m²</c>; a prefix goes in front where the first factor is a bare symbol of power one.</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite.</exception>
    /// <exception cref="ArgumentException">The unit is not known.</exception>
    public static string Write(double value, string unit)
    {
        Guard.Finite(value);
        var (shown, size) = Prefixed(value, unit);
        return Join(Significant(value / size, 3), shown);
    }

    /// <summary>Writes a value with its error bar, the digits of both cut to the bar: <c>11.05 ± 0.02 mm</c>.</summary>
    /// <param name="value">The value, SI; finite.</param>
    /// <param name="bar">Half-width of the error bar, SI; not negative. Rounded up to one digit, to two where the first is a 1. Zero writes the value alone.</param>
    /// <param name="dimension">Their dimension.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the bar is negative.</exception>
    public static string Write(double value, double bar, Dimension dimension) => Write(value, bar, UnitOf(dimension));

    /// <summary>Writes a value with its error bar in a unit.</summary>
    /// <param name="value">The value, SI; finite.</param>
    /// <param name="bar">Half-width of the error bar, SI; not negative.</param>
    /// <param name="unit">The unit, as in <see cref="Write(double, string)"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or the bar is negative.</exception>
    /// <exception cref="ArgumentException">The unit is not known.</exception>
    public static string Write(double value, double bar, string unit)
    {
        Guard.Finite(value);
        Guard.NotNegative(bar);
        if (bar == 0)
            return Write(value, unit);
        var (shown, size) = Prefixed(Math.Max(Math.Abs(value), bar), unit);
        double x = value / size, b = bar / size;
        int exponent = (int)Math.Floor(Math.Log10(b));
        int decimals = (b / Math.Pow(10, exponent) < 2 ? 1 : 0) - exponent;
        double step = Math.Pow(10, -decimals);
        b = Math.Ceiling(b / step - 1e-9) * step;
        decimals = Math.Clamp(decimals, 0, 15);
        string form = "F" + decimals.ToString(CultureInfo.InvariantCulture);
        if (step > 1)
            x = Math.Round(x / step) * step;
        return Join($"{x.ToString(form, CultureInfo.InvariantCulture)} ± {b.ToString(form, CultureInfo.InvariantCulture)}", shown);
    }

    /// <summary>The unit in which a dimension is written: <c>N</c>, <c>A/m²</c>, or a product of base units.</summary>
    /// <param name="dimension">The dimension.</param>
    public static string UnitOf(Dimension dimension)
    {
        if (dimension == Dimension.None)
            return "";
        foreach (var (known, unit) in Preferred)
            if (known == dimension)
                return unit;
        return dimension.ToString();
    }

    private static string Join(string number, string unit) => unit.Length == 0 ? number : unit is "%" ? number + " %" : $"{number} {unit}";

    private static string Significant(double x, int digits)
    {
        if (x == 0)
            return "0";
        double rounded = double.Parse(x.ToString("E" + (digits - 1).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        int exponent = (int)Math.Floor(Math.Log10(Math.Abs(rounded)) + 1e-12);
        if (exponent is < -5 or > 8)
            return rounded.ToString("0.##e+0", CultureInfo.InvariantCulture);
        return rounded.ToString("F" + Math.Max(0, digits - 1 - exponent).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    // A prefix is set where the number then lies from 1 to 1000; a unit that takes none, or has one already, stays as it is.
    private static (string Unit, double Size) Prefixed(double value, string unit)
    {
        if (unit.Length == 0)
            return ("", 1);
        if (unit == "kg")
            unit = "g";
        double size = SiParser.TryParseUnit(unit, out var q, out string? problem) ? q.Value : throw new ArgumentException(problem, nameof(unit));
        int end = 0;
        while (end < unit.Length && char.IsLetter(unit[end]))
            end++;
        string first = unit[..end];
        bool simple = (end == unit.Length || unit[end] is ' ' or '/' or '·') && UnitTable.TryFind(first, out var u) && u.TakesPrefix && (u.Size == 1 && first != "kg" || first == "g");
        double inUnit = Math.Abs(value / size);
        if (!simple || inUnit == 0 || first is "K" or "rad")
            return (unit, size);
        foreach (var (symbol, factor) in new[] { ("T", 1e12), ("G", 1e9), ("M", 1e6), ("k", 1e3), ("", 1.0), ("m", 1e-3), ("µ", 1e-6), ("n", 1e-9), ("p", 1e-12) })
        {
            // Rounding to three digits must not push 999.7 up to 1000. Mass ends at the kilogram.
            if (first == "g" && factor > 1e3 || inUnit < factor * 0.9995 && factor > 1e-12)
                continue;
            return (symbol + unit, size * factor);
        }

        return (unit, size);
    }
}
