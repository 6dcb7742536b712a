namespace Fieldwright.Bench.Pictures;

/// <summary>The colours of a picture: a darkened hall with a lit bench, or ink on paper.</summary>
/// <remarks>Warm and cool differ in lightness as well as in hue and never stand without their · and ×.</remarks>
public sealed record Palette
{
    /// <summary>Light on dark.</summary>
    public static Palette Hall { get; } = new()
    {
        IsDark = true,
        Sheet = Hex(0x0b0e13),
        StageRim = Hex(0x10151c),
        StageLit = Hex(0x1d2632),
        StageEdge = Hex(0x2c3643),
        FluxLine = Hex(0xe3ecf8),
        WashLow = Hex(0x1d232d),
        WashHigh = Hex(0x949bb0),
        Matter = Hex(0x39424e),
        Hatch = Hex(0xaab5c2),
        Edge = Hex(0xcdd6e0),
        Text = Hex(0xf0f4f9),
        QuietText = Hex(0xa3afbd),
        Leader = Hex(0x8b98a8),
        Warm = Hex(0xffb454),
        Cool = Hex(0x58a6ff),
        MarkInk = Hex(0x0b0e13),
    };

    /// <summary>Dark on light, for print.</summary>
    public static Palette Paper { get; } = new()
    {
        IsDark = false,
        Sheet = Hex(0xffffff),
        StageRim = Hex(0xf6f6f3),
        StageLit = Hex(0xfbfbf9),
        StageEdge = Hex(0xd2d2cc),
        FluxLine = Hex(0x26333f),
        WashLow = Hex(0xfafaf8),
        WashHigh = Hex(0xa9aec4),
        Matter = Hex(0xe6e6e0),
        Hatch = Hex(0x6c6f70),
        Edge = Hex(0x2e3236),
        Text = Hex(0x14171a),
        QuietText = Hex(0x565d64),
        Leader = Hex(0x7a8087),
        Warm = Hex(0xf2a03d),
        Cool = Hex(0x4d8fd6),
        MarkInk = Hex(0x14171a),
    };

    /// <summary>Whether it is light on dark.</summary>
    public required bool IsDark { get; init; }

    /// <summary>The sheet round the stage.</summary>
    public required Ink Sheet { get; init; }

    /// <summary>The stage where no light falls.</summary>
    public required Ink StageRim { get; init; }

    /// <summary>The stage where it is lit.</summary>
    public required Ink StageLit { get; init; }

    /// <summary>The frame of the stage.</summary>
    public required Ink StageEdge { get; init; }

    /// <summary>Lines of flux.</summary>
    public required Ink FluxLine { get; init; }

    /// <summary>The wash where the field is weak.</summary>
    public required Ink WashLow { get; init; }

    /// <summary>The wash where it is strong.</summary>
    public required Ink WashHigh { get; init; }

    /// <summary>Matter.</summary>
    public required Ink Matter { get; init; }

    /// <summary>Hatching of matter.</summary>
    public required Ink Hatch { get; init; }

    /// <summary>Outlines.</summary>
    public required Ink Edge { get; init; }

    /// <summary>Text.</summary>
    public required Ink Text { get; init; }

    /// <summary>Text that may be passed over.</summary>
    public required Ink QuietText { get; init; }

    /// <summary>Leaders from names to things.</summary>
    public required Ink Leader { get; init; }

    /// <summary>Current towards the reader.</summary>
    public required Ink Warm { get; init; }

    /// <summary>Current away from the reader.</summary>
    public required Ink Cool { get; init; }

    /// <summary>The · and × on a glowing section.</summary>
    public required Ink MarkInk { get; init; }

    /// <summary>The wash of field strength: perceptually even from low to high.</summary>
    /// <param name="share">0 to 1.</param>
    public Ink Wash(double share) => Mix(WashLow, WashHigh, Math.Clamp(share, 0, 1));

    /// <summary>A colour between two, a step of the share being an even step to the eye: straight lines in OKLab.</summary>
    /// <source key="Ottosson2020" />
    public static Ink Mix(Ink a, Ink b, double share)
    {
        var (l, u, v) = ToLab(a);
        var (l2, u2, v2) = ToLab(b);
        return FromLab(l + share * (l2 - l), u + share * (u2 - u), v + share * (v2 - v), a.Opacity + share * (b.Opacity - a.Opacity));
    }

    private static (double L, double A, double B) ToLab(Ink ink)
    {
        double r = Linear(ink.Red), g = Linear(ink.Green), b = Linear(ink.Blue);
        double l = Math.Cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
        double m = Math.Cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
        double s = Math.Cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
        return (
            0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s,
            1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * s,
            0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * s);
    }

    private static Ink FromLab(double lightness, double a, double b, double opacity)
    {
        double l = Cube(lightness + 0.3963377774 * a + 0.2158037573 * b);
        double m = Cube(lightness - 0.1055613458 * a - 0.0638541728 * b);
        double s = Cube(lightness - 0.0894841775 * a - 1.2914855480 * b);
        return new Ink(
            Byte(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
            Byte(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
            Byte(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s),
            opacity);
    }

    private static double Cube(double x) => x * x * x;

    private static double Linear(byte code)
    {
        double c = code / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    }

    private static byte Byte(double linear)
    {
        double c = linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055;
        return (byte)Math.Clamp(Math.Round(255 * c), 0, 255);
    }

    private static Ink Hex(int rgb) => new((byte)(rgb >> 16), (byte)(rgb >> 8), (byte)rgb);
}
