namespace Fieldwright.Matter.Units;

/// <summary>One unit: its size in SI, its dimension, and whether it takes SI prefixes.</summary>
internal readonly record struct Unit(double Size, Dimension Dimension, bool TakesPrefix);

/// <summary>The units that are read, by symbol and by name, and the SI prefixes.</summary>
/// <source key="SIBrochure2019"/>
internal static class UnitTable
{
    private static readonly Dimension Length = new(1), Mass = new(0, 1), Time = new(0, 0, 1), Current = new(0, 0, 0, 1),
        Temperature = new(0, 0, 0, 0, 1), Luminous = new(0, 0, 0, 0, 0, 1), Angle = new(0, 0, 0, 0, 0, 0, 1),
        Force = new(1, 1, -2), Energy = new(2, 1, -2), Power = new(2, 1, -3), Voltage = new(2, 1, -3, -1), Pressure = new(-1, 1, -2);

    /// <summary>Prefix symbols, largest first, with both signs for micro.</summary>
    public static readonly (string Symbol, string Name, double Factor)[] Prefixes =
    [
        ("Q", "quetta", 1e30), ("R", "ronna", 1e27), ("Y", "yotta", 1e24), ("Z", "zetta", 1e21), ("E", "exa", 1e18), ("P", "peta", 1e15),
        ("T", "tera", 1e12), ("G", "giga", 1e9), ("M", "mega", 1e6), ("k", "kilo", 1e3), ("h", "hecto", 1e2), ("da", "deca", 1e1), ("d", "deci", 1e-1),
        ("c", "centi", 1e-2), ("m", "milli", 1e-3), ("µ", "micro", 1e-6), ("μ", "micro", 1e-6), ("u", "micro", 1e-6), ("n", "nano", 1e-9),
        ("p", "pico", 1e-12), ("f", "femto", 1e-15), ("a", "atto", 1e-18), ("z", "zepto", 1e-21), ("y", "yocto", 1e-24), ("r", "ronto", 1e-27), ("q", "quecto", 1e-30),
    ];

    private static readonly Dictionary<string, Unit> Symbols = new(StringComparer.Ordinal)
    {
        ["m"] = new(1, Length, true), ["g"] = new(1e-3, Mass, true), ["s"] = new(1, Time, true), ["A"] = new(1, Current, true),
        ["K"] = new(1, Temperature, true), ["cd"] = new(1, Luminous, true), ["rad"] = new(1, Angle, true),
        ["Hz"] = new(1, Time.Power(-1), true), ["N"] = new(1, Force, true), ["Pa"] = new(1, Pressure, true), ["J"] = new(1, Energy, true),
        ["W"] = new(1, Power, true), ["VA"] = new(1, Power, true), ["var"] = new(1, Power, true), ["C"] = new(1, Current * Time, true), ["V"] = new(1, Voltage, true),
        ["F"] = new(1, Current * Time / Voltage, true), ["\u03A9"] = new(1, Voltage / Current, true), ["\u2126"] = new(1, Voltage / Current, true),
        ["ohm"] = new(1, Voltage / Current, true), ["Ohm"] = new(1, Voltage / Current, true), ["S"] = new(1, Current / Voltage, true),
        ["Wb"] = new(1, Voltage * Time, true), ["T"] = new(1, Voltage * Time / Length.Power(2), true), ["H"] = new(1, Voltage * Time / Current, true),
        ["lm"] = new(1, Luminous, true), ["lx"] = new(1, Luminous / Length.Power(2), true),
        ["At"] = new(1, Current, true),
        ["L"] = new(1e-3, Length.Power(3), true), ["l"] = new(1e-3, Length.Power(3), true), ["t"] = new(1e3, Mass, false), ["bar"] = new(1e5, Pressure, true),
        ["G"] = new(1e-4, Voltage * Time / Length.Power(2), true), ["eV"] = new(1.602176634e-19, Energy, true),
        ["Wh"] = new(3600, Energy, true), ["Ah"] = new(3600, Current * Time, true),
        ["min"] = new(60, Time, false), ["h"] = new(3600, Time, false), ["d"] = new(86400, Time, false), ["day"] = new(86400, Time, false),
        ["deg"] = new(Math.PI / 180, Angle, false), ["°"] = new(Math.PI / 180, Angle, false), ["rev"] = new(2 * Math.PI, Angle, false),
        ["rpm"] = new(Math.PI / 30, Angle / Time, false),
        ["in"] = new(0.0254, Length, false), ["ft"] = new(0.3048, Length, false), ["lb"] = new(0.45359237, Mass, false),
        ["mmHg"] = new(133.322387415, Pressure, false), ["mH2O"] = new(9806.65, Pressure, false), ["cmH2O"] = new(98.0665, Pressure, false), ["mmH2O"] = new(9.80665, Pressure, false),
        ["%"] = new(1e-2, Dimension.None, false), ["‰"] = new(1e-3, Dimension.None, false), ["ppm"] = new(1e-6, Dimension.None, false),
        ["°C"] = new(1, Temperature, false), ["℃"] = new(1, Temperature, false), ["degC"] = new(1, Temperature, false),
        ["1"] = new(1, Dimension.None, false),
    };

    private static readonly Dictionary<string, string> Names = new(StringComparer.OrdinalIgnoreCase)
    {
        ["metre"] = "m", ["meter"] = "m", ["gram"] = "g", ["gramme"] = "g", ["second"] = "s", ["sec"] = "s", ["ampere"] = "A", ["amp"] = "A", ["kelvin"] = "K",
        ["candela"] = "cd", ["radian"] = "rad", ["hertz"] = "Hz", ["newton"] = "N", ["pascal"] = "Pa", ["joule"] = "J", ["watt"] = "W", ["coulomb"] = "C",
        ["volt"] = "V", ["farad"] = "F", ["ohm"] = "Ω", ["siemens"] = "S", ["weber"] = "Wb", ["tesla"] = "T", ["henry"] = "H", ["lumen"] = "lm", ["lux"] = "lx",
        ["litre"] = "L", ["liter"] = "L", ["tonne"] = "t", ["gauss"] = "G", ["minute"] = "min", ["hour"] = "h", ["degree"] = "deg", ["revolution"] = "rev",
        ["inch"] = "in", ["inches"] = "in", ["foot"] = "ft", ["feet"] = "ft", ["henries"] = "H", ["percent"] = "%", ["turn"] = "1", ["ampere-turn"] = "A", ["celsius"] = "°C",
    };

    /// <summary>Symbols that mean an absolute temperature when they stand alone.</summary>
    public static bool IsCelsius(string word) => word is "°C" or "℃" or "degC" || string.Equals(word, "celsius", StringComparison.OrdinalIgnoreCase);

    /// <summary>Looks a unit up by symbol (case counts) or by name (case does not), with or without a prefix.</summary>
    public static bool TryFind(string word, out Unit unit)
    {
        if (Symbols.TryGetValue(word, out unit) || TryName(word, out unit))
            return true;
        foreach (var (symbol, name, factor) in Prefixes)
        {
            if (word.StartsWith(symbol, StringComparison.Ordinal) && Symbols.TryGetValue(word[symbol.Length..], out unit) && unit.TakesPrefix
                || word.StartsWith(name, StringComparison.OrdinalIgnoreCase) && TryName(word[name.Length..], out unit) && unit.TakesPrefix)
            {
                unit = unit with { Size = unit.Size * factor };
                return true;
            }
        }

        unit = default;
        return false;
    }

    /// <summary>Every symbol that is read, prefixes included, and every name.</summary>
    public static IEnumerable<string> Known =>
        Symbols.Keys.Where(s => s != "1").Concat(Symbols.Where(s => s.Value.TakesPrefix).SelectMany(s => Prefixes.Where(p => p.Factor is >= 1e-12 and <= 1e12).Select(p => p.Symbol + s.Key))).Concat(Names.Keys);

    private static bool TryName(string word, out Unit unit)
    {
        unit = default;
        return Names.TryGetValue(word, out string? symbol) && Symbols.TryGetValue(symbol, out unit)
            || word.Length > 3 && (word[^1] is 's' or 'S') && Names.TryGetValue(word[..^1], out symbol) && Symbols.TryGetValue(symbol, out unit);
    }
}
