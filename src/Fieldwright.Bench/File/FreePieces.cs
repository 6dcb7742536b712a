using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Builds what only a free apparatus has.</summary>
internal static class FreePieces
{
    // Aluminium, from memory (c).
    private const double ElasticOfAluminium = 70e9;

    /// <summary>How a thing stands.</summary>
    public static Attitude Attitude(Section s) => new(Degrees(s, "tilted"), Degrees(s, "towards"), Degrees(s, "turned"));

    /// <summary>A shape of its own; null for the others.</summary>
    public static Shape? Shape(Section s) => s.Alternative!.Word switch
    {
        "block" => new BlockShape(s.Number("length", 0), s.Number("width", 0), s.Number("thickness", 0)),
        "pump channel" => new PumpChannelShape(s.Number("length", 0), s.Number("width", 0), s.Number("thickness", 0), s.Number("carries", 0), s.Number("wall resistance")),
        "iron plane" => new IronPlaneShape(),
        "probe" => new ProbeShape(),
        "foil loop" => new FoilLoopShape(s.Number("length", 0), s.Number("width", 0), s.Number("thickness", 0), s.Number("span", 0), s.Number("carries", 0), s.Number("elastic modulus", ElasticOfAluminium)),
        _ => null,
    };

    /// <summary>A round coil in its place.</summary>
    public static RoundSpace Placed(RoundSpace space, Section s) =>
        space with { X = s.Inner("at")?.Number("x") ?? 0, Y = s.Inner("at")?.Number("y") ?? 0, Attitude = Attitude(s) };

    /// <summary>A coil round a rectangle.</summary>
    public static FrameSpace Frame(Section s)
    {
        var (length, width) = s.Pair("round opening");
        return new FrameSpace(length, width, s.Number("corner radius", 0), s.Number("build", 0), s.Number("from z", 0), s.Number("to z", 0),
            s.Inner("at")?.Number("x") ?? 0, s.Inner("at")?.Number("y") ?? 0, Attitude(s));
    }

    private static double Degrees(Section s, string key) => s.Number(key, 0) * 180 / Math.PI;
}
