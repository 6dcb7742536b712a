using System.Globalization;
using Fieldwright.Matter;
using Fieldwright.Matter.Units;

namespace Fieldwright.Bench.Claims;

/// <summary>Numbers as people read them: in the unit of the measure, to the digit that the error bar allows.</summary>
public sealed class Shown
{
    private const int MostDigits = 7, DigitsWithoutBar = 4, MostDecimals = 12, LongDecimals = 8;
    private readonly double size, zero;

    private Shown(string unit, double size, double zero) => (Unit, this.size, this.zero) = (unit, size, zero);

    /// <summary>The unit, as it is printed.</summary>
    public string Unit { get; }

    // What is smaller than this in its unit is nothing to anybody at a bench; of a share, a hundredth of a millionth.
    private double Nothing => Unit == "%" ? 1e-6 : 1e-9;

    /// <summary>Numbers in a unit.</summary>
    /// <param name="unit">Its symbol; empty for pure numbers.</param>
    /// <exception cref="ArgumentException">The symbol is no unit.</exception>
    public static Shown In(string unit)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return unit switch
        {
            "" => new Shown(unit, 1, 0),
            "%" => new Shown(unit, 0.01, 0),
            "°C" => new Shown(unit, 1, PhysicalConstants.ZeroCelsius),
            _ => SiParser.TryParse("1 " + unit, out var one, out string? problem)
                ? new Shown(unit == "ohm" ? "Ω" : unit.Replace('2', '²').Replace('3', '³'), one.Value, 0)
                : throw new ArgumentException(problem, nameof(unit)),
        };
    }

    /// <summary>An SI value in the unit.</summary>
    /// <param name="si">The value, SI.</param>
    public double Of(double si) => (si - zero) / size;

    /// <summary>An SI difference in the unit.</summary>
    /// <param name="si">The difference, SI.</param>
    public double Difference(double si) => si / size;

    /// <summary>Value and error bar: <c>11.32 ± 0.05 mm</c>; times of more than ten minutes in minutes, of more than two hours in hours. The bar is rounded up to two digits at most, the value to its last place; what is below a billionth in its unit, of per cent a millionth, bar and all, is 0; what would take eight decimals or more is written with a power
    /// of ten for both: <c>(8.8 ± 0.7)e−6 N</c>.</summary>
    /// <param name="value">Value, SI.</param>
    /// <param name="bar">Error bar, SI; zero when the value is exact.</param>
    public string ValueAndBar(double value, double bar)
    {
        if (ForLong(value) is { } longer)
            return longer.ValueAndBar(value, bar);
        double v = Of(value), b = Math.Abs(Difference(bar));
        if (b == 0 && Math.Abs(v) >= Nothing)
            return WithUnit(Digits(v, DigitsWithoutBar));
        if (Math.Abs(v) < Nothing && b < Nothing)
            return WithUnit("0");
        int decimals = Decimals(v, b);
        if (decimals < 0)
        {
            double step = Math.Pow(10, -decimals);
            return WithUnit($"{Fixed(Math.Round(v / step) * step, 0)} ± {Fixed(Math.Ceiling(b / step - 1e-9) * step, 0)}");
        }

        double scale = Math.Pow(10, decimals);
        if (Math.Abs(v) < 1e7 && (decimals < LongDecimals || Math.Max(Math.Abs(v), b) >= 1e-4))
            return WithUnit($"{Fixed(v, decimals)} ± {Fixed(Math.Ceiling(b * scale - 1e-9) / scale, decimals)}");
        int power = (int)Math.Floor(Math.Log10(Math.Max(Math.Abs(v), b)));
        return WithUnit($"({Fixed(v * Math.Pow(10, -power), decimals + power)} ± {Fixed(Math.Ceiling(b * scale - 1e-9) / scale * Math.Pow(10, -power), decimals + power)})e{Fixed(power, 0)}");
    }

    /// <summary>Bounds, rounded outwards to where they differ: <c>between 1.2345 and 1.2351 mH</c>.</summary>
    /// <param name="lower">Lower bound, SI.</param>
    /// <param name="upper">Upper bound, SI; not below the lower one.</param>
    public string Between(double lower, double upper)
    {
        if (ForLong(lower) is { } longer)
            return longer.Between(lower, upper);
        double low = Of(lower), high = Of(upper), width = high - low;
        if (!(width > 0) || Math.Abs(low) >= 1e7)
            return WithUnit($"between {Digits(low, MostDigits)} and {Digits(high, MostDigits)}");
        int decimals = Math.Clamp(1 - (int)Math.Floor(Math.Log10(width)), 0, MostDecimals);
        double scale = Math.Pow(10, decimals);
        return WithUnit($"between {Fixed(Math.Floor(low * scale) / scale, decimals)} and {Fixed(Math.Ceiling(high * scale) / scale, decimals)}");
    }

    /// <summary>A difference, to two or three digits: <c>0.03 mm</c>.</summary>
    /// <param name="difference">Difference, SI; its sign is dropped.</param>
    public string Gap(double difference) => ForLong(difference) is { } longer ? longer.Gap(difference) : WithUnit(Math.Abs(Difference(difference)) is var d && d < Nothing ? "0" : Digits(d, 3));

    /// <summary>Whether a difference is nothing: it prints as 0.</summary>
    /// <param name="difference">Difference, SI.</param>
    public bool IsNothing(double difference) => Math.Abs(Difference(difference)) < Nothing;

    /// <summary>How far something may move a value: <c>0.03 mm</c>; empty where that is below a ten-millionth of it.</summary>
    /// <param name="reach">How far, SI.</param>
    /// <param name="value">The value, SI.</param>
    public string Reach(double reach, double value) => IsNothing(reach) || Math.Abs(reach) < 1e-7 * Math.Abs(value) ? "" : Gap(reach);

    /// <summary>A value to a count of significant digits, with its unit: <c>2.04 m</c>.</summary>
    /// <param name="value">Value, SI.</param>
    /// <param name="digits">How many digits.</param>
    public string Rounded(double value, int digits) => WithUnit(Digits(Of(value), digits));

    /// <summary>A share in per cent: <c>0.3 %</c>.</summary>
    /// <param name="share">The share; its sign is dropped.</param>
    public static string Share(double share) => Math.Abs(share) < 5e-6 ? "below 0.001 %" : Digits(100 * Math.Abs(share), 2) + " %";

    /// <summary>A number to a count of significant digits, without trailing zeros.</summary>
    /// <param name="value">The number.</param>
    /// <param name="digits">How many digits.</param>
    public static string Digits(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value))
            return value == 0 ? "0" : "no number";
        int first = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        if (first is < -5 or > 6)
            return value.ToString("0." + new string('#', digits - 1) + "e0", CultureInfo.InvariantCulture).Replace("-", "−", StringComparison.Ordinal);
        string text = Fixed(value, Math.Max(0, digits - 1 - first));
        return text.Contains('.', StringComparison.Ordinal) ? text.TrimEnd('0').TrimEnd('.') : text;
    }

    // Seconds are for what lasts seconds: beyond ten minutes people read minutes, beyond two hours hours.
    private Shown? ForLong(double value) => Unit != "s" ? null : Math.Abs(Of(value)) switch
    {
        < 600 => null,
        < 7200 => In("min"),
        _ => In("h"),
    };

    // Decimals that show the bar to one digit, or two when it starts with a one; never more digits of the value than make sense.
    private static int Decimals(double value, double bar)
    {
        int first = (int)Math.Floor(Math.Log10(bar) + 1e-12);
        bool two = bar / Math.Pow(10, first) < 1.95;
        int decimals = -first + (two ? 1 : 0);
        int lead = value == 0 ? first : (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return Math.Min(decimals, Math.Max(0, MostDigits - 1 - lead));
    }

    private static string Fixed(double value, int decimals) =>
        Math.Round(value, Math.Min(decimals, 15)).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).Replace("-", "−", StringComparison.Ordinal);

    private string WithUnit(string number) => Unit.Length == 0 ? number : number + " " + Unit;
}
