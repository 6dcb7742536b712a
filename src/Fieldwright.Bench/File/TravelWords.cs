using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>Words of apparatus files for travelling fields: polyphase windings and supplies, bodies that run past them.</summary>
internal static class TravelWords
{
    /// <summary>A number of things.</summary>
    public static NumberKind Count { get; } = new("a whole number", "12", new Range(1, 1000, true));

    /// <summary>A speed of either sign.</summary>
    public static QuantityKind Speed { get; } = new("a speed", "m/s", "2 m/s", Range.EitherSign(1e4));

    /// <summary>A turning speed of either sign.</summary>
    public static QuantityKind TurningSpeed { get; } = new("a turning speed", "rad/s", "100 rad/s", Range.EitherSign(1e6));

    /// <summary>A force that is not negative.</summary>
    public static QuantityKind Drag { get; } = new("a force", "N", "0.2 N", Range.NotNegative(1e6));

    /// <summary>Keys that parts have besides.</summary>
    public static Key[] PartKeys { get; } =
    [
        new("speed", Speed, "Steady speed along the travel: along x in a long apparatus, along z in a round one.", Default: "it stands still"),
        new("turning speed", TurningSpeed, "Steady turning about its own axis, counter-clockwise, in a long apparatus.", Default: "it does not turn"),
        new("width across", Size, "Extent along the hidden direction of a long apparatus, within which its currents must close.", Default: "it runs on, and its currents close far away"),
        new("goes with", new TextKind("the name of a part"), "The part it is fixed to; forces on that part count it too.", Default: "it is on its own"),
        new("drag", Drag, "Steady force that holds it back when it moves.", Default: "0 N"),
        new("mouth", Coordinate, "Height at which its underside has left the tube it is thrown up.", Default: "the end of a row of coils; otherwise its own radius above whatever coil or part reaches highest"),
        new("catcher", Drag with { Range = Range.Positive(1e6) }, "Steady force of the catcher that stops it when it has been thrown.", Default: "ten times its weight"),
        new("channel", new MappingKind("channel", "The part is liquid that flows along the travel in a channel of its size, and this is what it feeds.",
        [
            new("pipe length", Width, "Length of round pipe in series.", Default: "0 mm, no pipe"),
            new("pipe bore", Size, "Its bore.", Default: "10 mm"),
            new("fittings", new NumberKind("a loss coefficient", "2.5", Range.NotNegative(1e4)), "Loss coefficients of bends, inlet and outlet together, in heads of the pipe's speed.", Default: "0"),
            new("lift", Width, "Height it is lifted.", Default: "0 mm"),
            new("nozzle bore", Size, "Bore of the nozzle of a fountain.", Default: "no nozzle"),
        ]), "That it is liquid in a channel.", Default: "no liquid"),
    ];

    /// <summary>A cylinder seen along its axis.</summary>
    public static Alternative Cylinder { get; } = new("cylinder", "shape", "cylinder", "A round bar or tube seen along its axis.",
        new Key("radius", Size, "Its outer radius.", Required: true), new Key("bore", Width, "Radius of its bore.", Default: "0 mm, solid"));

    /// <summary>Iron with slots in it.</summary>
    public static Alternative ToothedCore { get; } = new("toothed core", "shape", "toothed core", "A core of iron with teeth between the slots of the track winding that lies in it. The slots open at the face of the core that they reach.",
        new Key("width", Size, "Its extent along x; a tooth more than the slots at either end.", Required: true), new Key("thickness", Size, "Its extent along y, slots and yoke.", Required: true));

    /// <summary>Keys that supplies have besides.</summary>
    public static Key[] SupplyKeys { get; } =
    [
        new("phase order", new ChoiceKind("forward", "reversed"), "Order in which the phases of a star or delta follow one another; reversed when two leads are changed over.", Default: "forward"),
    ];

    private static readonly Key Phases = new("phases", new NumberKind("a number of phases", "3", new Range(1, 15, true)), "Number of phases: 1, 2 or odd.", Required: true);

    private static readonly Key Reversed = new("reversed coils", new ListKind("a list of coils by number, such as [3, 7]", Count, 0, 200), "Coils that are joined the wrong way round, counted from one along the travel.", Default: "none");

    private static readonly Key[] BeltKeys =
    [
        Phases,
        new("slots a pole and phase", Count, "Slots side by side that hold the same phase.", Default: "1"),
        new("coil span", Count, "Slots from one side of a coil to the other.", Default: "a pole pitch"),
        new("layers", new ChoiceKind("double", "single"), "Whether each slot holds two coil sides, one over the other, or one.", Default: "double"),
        Reversed,
        new("end length", Width, "Length of wire that crosses over at either end of a turn.", Default: "the distance of its two sides"),
    ];

    /// <summary>A flat row of slots.</summary>
    public static Alternative FlatRow { get; } = new("track winding", "slots", null, "A polyphase winding laid in slots side by side along x. `turns` are those of each coil; its phases go by its name and a letter, `track a`, `track b` …",
    [
        new("slots", Count, "Number of slots.", Required: true),
        new("slot pitch", Size, "Distance of neighbouring slots.", Required: true),
        new("slot width", Size, "Width of a slot along x.", Required: true),
        new("slot height", Size, "Height of a slot along y.", Required: true),
        new("x", Coordinate, "x of the middle of the row.", Default: "0 mm"),
        new("y", Coordinate, "y of the middle of the slots.", Default: "0 mm"),
        .. BeltKeys,
    ]);

    /// <summary>Sectors round a centre.</summary>
    public static Alternative RingRow { get; } = new("stator winding", "sectors", null, "A polyphase winding in sectors round a centre. `turns` are those of each coil.",
    [
        new("sectors", Count, "Number of sectors.", Required: true),
        new("sector angle", Angle, "Angle that each sector takes.", Required: true),
        new("inner radius", Size, "Inner radius of the sectors.", Required: true),
        new("outer radius", Size, "Outer radius of the sectors.", Required: true),
        new("first at", Angle, "Where the middle of the first sector lies, from the x axis towards y.", Default: "0 deg"),
        new("x", Coordinate, "x of the centre.", Default: "0 mm"),
        new("y", Coordinate, "y of the centre.", Default: "0 mm"),
        .. BeltKeys,
    ]);

    /// <summary>Round coils in a row along the axis.</summary>
    public static Alternative TubeRow { get; } = new("row of coils", "coils", null, "Round coils in a row along the axis, as round a launching tube. `turns` are those of each coil.",
        new Key("coils", Count, "Number of coils.", Required: true),
        new Key("coil pitch", Size, "Distance of neighbouring coils.", Required: true),
        new Key("coil length", Size, "Length of each coil along the axis.", Required: true),
        new Key("inner radius", Size, "Their inner radius.", Required: true),
        new Key("build", Size, "Their thickness.", Required: true),
        new Key("from z", Coordinate, "Lower end of the lowest coil.", Default: "0 mm"),
        Phases,
        new Key("coils a pole and phase", Count, "Neighbouring coils that belong to the same phase.", Default: "1"),
        Reversed);
}
