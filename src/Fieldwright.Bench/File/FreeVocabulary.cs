using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>What only a free apparatus has: bodies and coils in any attitude, blocks, an iron plane, probes and the foil loop.</summary>
internal static class FreeVocabulary
{
    /// <summary>A modulus of elasticity.</summary>
    public static QuantityKind Elastic { get; } = new("a modulus of elasticity", "Pa", "70 GPa", Range.NotNegative(1e13));

    /// <summary>Directions of magnetisation in the body's own axes.</summary>
    public static DirectionKind Directions { get; } = new(new Dictionary<string, double> { ["up"] = 90, ["down"] = -90, ["along its length"] = 0, ["against its length"] = 180 });

    /// <summary>How a thing stands.</summary>
    public static IReadOnlyList<Key> AttitudeKeys { get; } =
    [
        new("tilted", Angle, "How far its axis leans from the vertical; it is turned about its own centre.", Default: "0 deg, upright"),
        new("towards", Angle, "Where its top leans, from the x axis towards y.", Default: "0 deg, along x"),
        new("turned", Angle, "How far it is turned about its own axis before it is leant over.", Default: "0 deg"),
    ];

    /// <summary>Place and attitude of a coil; its ends along z are those it has upright.</summary>
    public static IReadOnlyList<Key> WindingKeys { get; } =
    [
        new("at", new MappingKind("place of a coil", "Where its centre stands; the height follows from its ends.",
            [new("x", Coordinate, "x of its centre.", Default: "0 mm"), new("y", Coordinate, "y of its centre.", Default: "0 mm")]), "Where its centre stands.", Default: "on the z axis"),
        .. AttitudeKeys,
    ];

    /// <summary>A coil round a rectangle.</summary>
    public static Alternative FrameCoil { get; } = new("rectangular coil", "round opening", null, "A coil round a rectangular opening with rounded corners, a racetrack when the corners meet.",
    [
        new("round opening", new ListKind("two lengths, such as [80 mm, 30 mm]", Size, 2, 2), "Length and width of its opening, along x and y when upright and unturned.", Required: true),
        new("build", Size, "Thickness of the winding outwards from the opening.", Required: true),
        new("corner radius", Width, "Inner radius of its corners.", Default: "0 mm"),
        new("from z", Coordinate, "Its lower end when upright.", Required: true),
        new("to z", Coordinate, "Its upper end when upright.", Required: true),
        .. WindingKeys,
    ]);

    /// <summary>Shapes.</summary>
    public static IReadOnlyList<Alternative> Shapes { get; } =
    [
        new("block", "shape", "block", "A rectangular block.",
            new Key("length", Size, "Its extent along x when upright and unturned.", Required: true), new Key("width", Size, "Its extent along y then.", Required: true), new Key("thickness", Size, "Its extent along its own axis, up when upright.", Required: true)),
        new("pump channel", "shape", "pump channel", "A rectangular channel of liquid metal with an electrode along either side and direct current between them. The liquid flows along its x; pipes of its section go on at either end.",
            new Key("length", Size, "Length of the electrodes, along x unless turned.", Required: true), new Key("width", Size, "Distance of the electrodes, along y then.", Required: true),
            new Key("thickness", Size, "Height of the channel, along the field that drives.", Required: true), new Key("carries", Current with { Alternating = false }, "Direct current, from the electrode of lesser y to the other.", Required: true),
            new Key("wall resistance", Burden, "Resistance of its walls from electrode to electrode.", Default: "walls that insulate")),
        new("iron plane", "shape", "iron plane", "The level top of an ideal slab of iron: flat, without end, of infinite permeability. Its height is that of the surface."),
        new("probe", "shape", "probe", "A place where the field is asked, without matter: made of air."),
        new("foil loop", "shape", "foil loop", "A strip of foil that hangs between two supports at one height, in an upright plane, with direct current through it. Its place is the middle between the supports.",
            new Key("length", Size, "Length of strip between the supports.", Required: true), new Key("width", Size, "Width of the strip.", Required: true), new Key("thickness", Size, "Thickness of the foil.", Required: true),
            new Key("span", Size, "Distance of the supports, along x unless turned.", Required: true), new Key("carries", Current with { Alternating = false }, "Direct current, from the support of lesser x to the other.", Required: true),
            new Key("elastic modulus", Elastic, "Modulus of elasticity of the foil.", Default: "70 GPa, aluminium")),
    ];
}
