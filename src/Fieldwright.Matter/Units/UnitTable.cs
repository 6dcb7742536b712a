namespace Fieldwright.Matter.Units;

/// <summary>Units by symbol, with their size in SI, dimension, and whether decimal prefixes may stand before them.</summary>
internal static class UnitTable
{
    private static readonly Dimension Volt = new(2, 1, -3, -1), Ohm = new(2, 1, -3, -2), Newton = new(1, 1, -2), Joule = new(2, 1, -2), Watt = new(2, 1, -3);

    /// <summary>Symbol to size, dimension, and whether prefixes are allowed.</summary>
    public static IReadOnlyDictionary<string, (double Size, Dimension Dimension, bool Prefixes)> Units { get; } =
        new Dictionary<string, (double, Dimension, bool)>(StringComparer.Ordinal)
        {
            ["m"] = (1, new(1), true), ["g"] = (1e-3, new(0, 1), true), ["s"] = (1, new(0, 0, 1), true), ["A"] = (1, new(0, 0, 0, 1), true), ["K"] = (1, new(0, 0, 0, 0, 1), true),
            ["Hz"] = (1, new(0, 0, -1), true), ["N"] = (1, Newton, true), ["Pa"] = (1, new(-1, 1, -2), true), ["J"] = (1, Joule, true), ["W"] = (1, Watt, true),
            ["V"] = (1, Volt, true), ["ohm"] = (1, Ohm, true), ["\u2126"] = (1, Ohm, true), ["\u03a9"] = (1, Ohm, true), ["S"] = (1, Ohm.Power(-1), true),
            ["F"] = (1, new(-2, -1, 4, 2), true), ["H"] = (1, new(2, 1, -2, -2), true), ["Wb"] = (1, new(2, 1, -2, -1), true), ["T"] = (1, new(0, 1, -2, -1), true),
            ["C"] = (1, new(0, 0, 1, 1), true), ["VA"] = (1, Watt, true), ["l"] = (1e-3, new(3), true), ["L"] = (1e-3, new(3), true),
            ["min"] = (60, new(0, 0, 1), false), ["h"] = (3600, new(0, 0, 1), false), ["bar"] = (1e5, new(-1, 1, -2), true), ["t"] = (1000, new(0, 1), false),
            ["deg"] = (Math.PI / 180, default, false), ["°"] = (Math.PI / 180, default, false), ["rad"] = (1, default, true), ["rev"] = (2 * Math.PI, default, false),
            ["rpm"] = (2 * Math.PI / 60, new(0, 0, -1), false), ["%"] = (0.01, default, false), ["ppm"] = (1e-6, default, false), ["1"] = (1, default, false),
            ["turns"] = (1, default, false), ["turn"] = (1, default, false),
        };

    /// <summary>Decimal prefixes.</summary>
    public static IReadOnlyDictionary<char, double> Prefixes { get; } = new Dictionary<char, double>
    {
        ['p'] = 1e-12, ['n'] = 1e-9, ['u'] = 1e-6, ['µ'] = 1e-6, ['μ'] = 1e-6, ['m'] = 1e-3, ['c'] = 1e-2, ['d'] = 0.1, ['h'] = 100, ['k'] = 1e3, ['M'] = 1e6, ['G'] = 1e9, ['T'] = 1e12,
    };

    /// <summary>The unit of a symbol, prefix allowed; a whole symbol wins over prefix and symbol (<c>min</c>, <c>Pa</c>).</summary>
    public static bool TryFind(ReadOnlySpan<char> symbol, out double size, out Dimension dimension)
    {
        string text = symbol.ToString();
        if (Units.TryGetValue(text, out var unit))
        {
            (size, dimension) = (unit.Size, unit.Dimension);
            return true;
        }

        if (text.Length > 1 && Prefixes.TryGetValue(text[0], out double factor) && Units.TryGetValue(text[1..], out unit) && unit.Prefixes)
        {
            (size, dimension) = (factor * unit.Size, unit.Dimension);
            return true;
        }

        (size, dimension) = (double.NaN, default);
        return false;
    }
}
