using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Cautions;

/// <summary>Numbers as cautions say them: few digits, rounded to the careful side where it matters.</summary>
internal static class InWords
{
    /// <summary>A text with its numbers written the same way everywhere.</summary>
    public static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    /// <summary>A time: <c>12 s</c>, <c>3 min</c>, <c>2 h</c>.</summary>
    public static string Time(double seconds) => seconds switch
    {
        < 10 => Text($"{seconds:0.#} s"),
        < 120 => Text($"{seconds:0} s"),
        < 7200 => Text($"{seconds / 60:0} min"),
        < 2 * 86400 => Text($"{seconds / 3600:0} h"),
        _ => "days",
    };

    /// <summary>A temperature in degrees Celsius without its unit.</summary>
    public static double Celsius(double kelvin) => kelvin - PhysicalConstants.ZeroCelsius;

    /// <summary>Names in a row: <c>'a', 'b' and 'c'</c>.</summary>
    public static string Names(IReadOnlyList<string> names) => names.Count == 1
        ? $"'{names[0]}'"
        : string.Join(", ", names.Take(names.Count - 1).Select(n => $"'{n}'")) + $" and '{names[^1]}'";

    /// <summary>Windings in a row, the phases of one polyphase winding under its own name: <c>track</c> for <c>track a</c>, <c>track b</c>, <c>track c</c>.</summary>
    public static IReadOnlyList<string> Called(IEnumerable<Winding> windings)
    {
        var all = windings.ToList();
        return [.. all.Select(w => w.Space is PhaseSpace { Of: { Phases: > 1 } whole } && Enumerable.Range(0, whole.Phases).All(p => all.Exists(a => a.Name == whole.NameOf(p))) ? whole.Name : w.Name).Distinct()];
    }

    /// <summary>A field: <c>200 µT</c>, <c>0.5 mT</c>, <c>1.2 T</c>.</summary>
    public static string Field(double tesla) => tesla switch
    {
        < 4.9e-4 => Text($"{tesla * 1e6:0.#} µT"),
        < 0.1 => Text($"{tesla * 1e3:0.#} mT"),
        _ => Text($"{tesla:0.##} T"),
    };

    /// <summary>A distance, rounded up to a hand's breadth of ten centimetres, or to a centimetre when short.</summary>
    public static string Distance(double metres) => metres < 0.5
        ? Text($"{Math.Ceiling(metres * 100):0} cm")
        : Text($"{Math.Ceiling(metres * 10) / 10:0.0} m");

    /// <summary>The less trusted of two grades.</summary>
    public static char Worse(char a, char b) => a > b ? a : b;
}
