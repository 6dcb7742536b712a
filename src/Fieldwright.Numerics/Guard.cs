using System.Globalization;
using System.Numerics;
using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics;

/// <summary>Checks on arguments at an interface: each returns the value it was given, or throws naming the parameter, the value and what was allowed. NaN never passes.</summary>
public static class Guard
{
    /// <summary>Lets only a finite number above zero through.</summary>
    /// <param name="value">The number to check.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <returns><paramref name="value"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is zero, negative, infinite or NaN.</exception>
    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        double.IsFinite(value) && value > 0 ? value : throw Outside(name, value, "positive and finite");

    /// <summary>Lets only a whole number above zero through.</summary>
    /// <inheritdoc cref="Positive(double, string)"/>
    public static int Positive(int value, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        value > 0 ? value : throw Outside(name, value, "positive");

    /// <summary>Lets only a finite number of zero or more through.</summary>
    /// <param name="value">The number to check.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <returns><paramref name="value"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is negative, infinite or NaN.</exception>
    public static double NotNegative(double value, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        double.IsFinite(value) && value >= 0 ? value : throw Outside(name, value, "zero or more, and finite");

    /// <summary>Lets only a whole number of zero or more through.</summary>
    /// <inheritdoc cref="NotNegative(double, string)"/>
    public static int NotNegative(int value, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        value >= 0 ? value : throw Outside(name, value, "zero or more");

    /// <summary>Lets only a finite number through.</summary>
    /// <param name="value">The number to check.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <returns><paramref name="value"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is infinite or NaN.</exception>
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        double.IsFinite(value) ? value : throw Outside(name, value, "finite");

    /// <summary>Lets only numbers through whose every entry is finite.</summary>
    /// <param name="values">The numbers to check.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <exception cref="ArgumentOutOfRangeException">An entry is infinite or NaN; the message gives its index.</exception>
    public static void Finite(ReadOnlySpan<double> values, [CallerArgumentExpression(nameof(values))] string name = "values")
    {
        // v − v is zero where v is finite, and NaN where it is not: many at a time, and the place is looked for only when there is one.
        var i = 0;
        var sum = Vector<double>.Zero;
        for (; i + Vector<double>.Count <= values.Length; i += Vector<double>.Count)
        {
            var v = new Vector<double>(values[i..]);
            sum += v - v;
        }
        if (Vector.Sum(sum) != 0)
            i = 0;
        for (; i < values.Length; i++)
            if (!double.IsFinite(values[i]))
                throw Outside(string.Create(CultureInfo.InvariantCulture, $"{name}[{i}]"), values[i], "finite");
    }

    /// <summary>Lets only a number inside a closed interval through.</summary>
    /// <param name="value">The number to check.</param>
    /// <param name="least">The least value allowed.</param>
    /// <param name="most">The greatest value allowed.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <returns><paramref name="value"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The value is outside the interval or NaN.</exception>
    public static double InRange(double value, double least, double most, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        value >= least && value <= most ? value
            : throw Outside(name, value, string.Create(CultureInfo.InvariantCulture, $"between {least:R} and {most:R}"));

    /// <summary>Lets only a whole number inside a closed interval through.</summary>
    /// <inheritdoc cref="InRange(double, double, double, string)"/>
    public static int InRange(int value, int least, int most, [CallerArgumentExpression(nameof(value))] string name = "value") =>
        value >= least && value <= most ? value
            : throw Outside(name, value, string.Create(CultureInfo.InvariantCulture, $"between {least} and {most}"));

    /// <summary>Lets only a list of the expected length through.</summary>
    /// <param name="length">The length found.</param>
    /// <param name="expected">The length wanted.</param>
    /// <param name="name">The parameter's name; filled in by the compiler.</param>
    /// <exception cref="ArgumentException">The lengths differ.</exception>
    public static void Length(int length, long expected, [CallerArgumentExpression(nameof(length))] string name = "length")
    {
        if (length != expected)
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"has {length} entries where {expected} are expected"), name);
    }

    private static ArgumentOutOfRangeException Outside(string name, object value, string allowed) =>
        new(name, value, string.Create(CultureInfo.InvariantCulture, $"must be {allowed}; it is {value}"));
}
