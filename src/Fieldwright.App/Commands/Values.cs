using Fieldwright.Bench.File;
using Fieldwright.Matter.Units;

namespace Fieldwright.App.Commands;

/// <summary>Values with units among the options of a call.</summary>
internal static class Values
{
    /// <summary>A value above zero, SI.</summary>
    /// <param name="text">The text: <c>24 V</c>.</param>
    /// <param name="unit">A unit of the dimension expected.</param>
    /// <param name="option">The option, for the mistake.</param>
    /// <exception cref="WrongCallException">It is no such value.</exception>
    public static double Read(string text, string unit, string option)
    {
        if (SiParser.TryParse(text.Trim(), out var value, out string? problem) && SiParser.TryParse("1 " + unit, out var one, out _) && value.Dimension == one.Dimension && value.Value > 0 && double.IsFinite(value.Value))
            return value.Value;
        throw new WrongCallException($"{option} \"{text}\"", [new Mistake(1, 1, problem?.TrimEnd('.') ?? $"'{text}' is not a value above zero in {unit}", $"a value such as 20 {unit}")]);
    }
}
