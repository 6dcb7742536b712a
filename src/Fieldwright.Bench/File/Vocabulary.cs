using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>The language of apparatus files, stated once: every mapping, its keys, their kinds, units, defaults and meaning.</summary>
internal static class Vocabulary
{
    /// <summary>Pattern of a name: letters first, then letters, digits, spaces, hyphens and underscores.</summary>
    public const string NamePattern = @"^\p{L}[\p{L}\p{N} _'-]*$";

    private static readonly TextKind Sentence = new("a sentence");
    private static readonly TextKind Name = new("the name of a thing of this apparatus");
    private static readonly TextKind InputValue = new("a value of that input with its unit, such as 20 A, or a word where the input takes one", MayBeNumber: true);

    /// <summary>Matter given in place.</summary>
    public static MappingKind Material { get; } = new("material", "Matter given in place. What is not stated is not known, and answers that need it say so.",
    [
        new("conductivity", Conductivity, "Electrical conductivity at 20 °C; leave it out for an insulator."),
        new("resistivity", Resistivity, "Electrical resistivity at 20 °C, instead of the conductivity."),
        new("temperature coefficient", new QuantityKind("a temperature coefficient", "1/K", "0.0039 1/K", Range.EitherSign(1)), "Relative rise of the resistivity per kelvin at 20 °C.", Default: "0 1/K"),
        new("relative permeability", new NumberKind("a relative permeability", "1000", new Range(0.5, 1e7, true)), "Permeability over that of free space, when it does not depend on the field.", Default: "1"),
        new("magnetisation curve", MagnetisationCurve, "Flux density against field strength of a steel, instead of a relative permeability."),
        new("remanence", new QuantityKind("a remanence", "T", "1.2 T", Range.Positive(3)), "Flux density of a magnet at no field strength."),
        new("recoil permeability", new NumberKind("a recoil permeability", "1.05", new Range(1, 100, true)), "Slope of a magnet's recoil line over the permeability of free space.", Default: "1.05"),
        new("knee", new QuantityKind("a field strength", "A/m", "600 kA/m", Range.Positive(1e7)), "Demagnetising field strength at the knee of a magnet's curve as hot as it will be, beyond which it loses strength for good; the field route says when it is passed."),
        new("density", new QuantityKind("a density", "kg/m3", "2700 kg/m3", Range.Positive(1e5)), "Mass over volume."),
        new("specific heat", new QuantityKind("a specific heat", "J/(kg K)", "900 J/(kg K)", Range.Positive(1e5)), "Heat to warm a kilogram by a kelvin."),
        new("thermal conductivity", new QuantityKind("a thermal conductivity", "W/(m K)", "237 W/(m K)", Range.Positive(1e5)), "Heat flow over section and temperature gradient."),
        new("melting point", Temperature, "Temperature at which it melts."),
    ]);

    private static readonly EitherKind MaterialOrName = new(new TextKind("the name of a material, such as aluminium 1050"), Material);

    private static readonly Key[] PartKeys =
    [
        new("of", MaterialOrName, "What it is made of: a material known by name, one of the file's own, or one given in place.", Required: true),
        new("moves", new ChoiceKind("up and down", "sideways", "freely", "turning"), "How it is free to move.", Default: "it is fixed"),
        new("emissivity", new NumberKind("an emissivity", "0.1", new Range(0.01, 1, true)), "Share of a black body's radiation that its surface gives off: 0.05 to 0.2 for bare metal, 0.9 for paint.", Default: "0.1 for bare good conductors, 0.3 for bare steel, 0.9 for the rest"),
        new("mass", new QuantityKind("a mass", "kg", "107 g", Range.Positive(1e6)), "Its mass, when it was weighed.", Default: "volume times density"),
        new("laminated", new MappingKind("lamination", "Built of insulated sheets: no current flows round in it.",
            [new("stacking factor", new NumberKind("a stacking factor", "0.95", new Range(0.3, 1, true)), "Share of the section that is metal.", Required: true)]), "That it is built of insulated sheets.", Default: "solid"),
        .. TravelWords.PartKeys,
    ];

    private static readonly Alternative OutlineShape = new("outline", "shape", "outline", "An outline of lines and arcs, relative to the part's place.",
        new Key("corners", new ListKind("a list of three corners or more, each such as {at: [10 mm, 0 mm]}", new MappingKind("corner", "A corner of an outline.",
        [
            new("at", new ListKind("two lengths, such as [10 mm, 0 mm]", Coordinate, 2, 2), "Its place: r and z in a round apparatus, x and y in a long one.", Required: true),
            new("arc about", new ListKind("two lengths, such as [0 mm, 0 mm]", Coordinate, 2, 2), "Centre of the arc to the next corner.", Default: "a straight edge"),
            new("arc runs", new ChoiceKind("counter-clockwise", "clockwise"), "Which way that arc runs.", Default: "counter-clockwise"),
        ]), 3, 500), "Its corners, in order.", Required: true));

    private static readonly Alternative[] RoundShapes =
    [
        new("disc", "shape", "disc", "A round plate on the axis.", Length("radius", "Its radius."), Length("thickness", "Its extent along z.")),
        new("plate", "shape", "plate", "A round plate on the axis; the same as a disc.", Length("radius", "Its radius."), Length("thickness", "Its extent along z.")),
        new("sheet", "shape", "sheet", "A thin round sheet on the axis.", Length("radius", "Its radius."), Length("thickness", "Its extent along z.")),
        new("bar", "shape", "bar", "A round bar along the axis.", Length("radius", "Its radius."), Length("length", "Its extent along z.")),
        new("ring", "shape", "ring", "A flat ring about the axis.", Length("inner radius", "Radius of its hole."), Length("outer radius", "Radius of its rim."), Length("thickness", "Its extent along z.")),
        new("tube", "shape", "tube", "A tube about the axis.", Length("inner radius", "Radius of its bore."), Length("outer radius", "Radius of its outside."), Length("length", "Its extent along z.")),
        new("ball", "shape", "ball", "A ball on the axis.", Length("radius", "Its outer radius."), Length("wall", "Thickness of its wall, when it is hollow.", required: false, fallback: "solid")),
    ];

    private static readonly Alternative[] LongShapes =
    [
        new("plate", "shape", "plate", "A plate seen end on.", Length("width", "Its extent along x."), Length("thickness", "Its extent along y.")),
        new("bar", "shape", "bar", "A bar seen end on.", Length("width", "Its extent along x."), Length("thickness", "Its extent along y.")),
        new("sheet", "shape", "sheet", "A thin sheet seen end on.", Length("width", "Its extent along x."), Length("thickness", "Its extent along y.")),
        TravelWords.Cylinder,
        TravelWords.ToothedCore,
        new("core", "shape", "core", "A ring of steel seen along its axis, closed or cut by one gap.", Length("inner radius", "Radius of its window."), Length("outer radius", "Radius of its outside."),
            new Key("gap", Width, "Width of the cut, whose faces are parallel.", Default: "0 mm, closed"),
            new Key("gap at", Angle, "Where the cut lies, from the x axis towards y.", Default: "0 deg")),
    ];

    private static readonly DirectionKind RoundDirections = new(new Dictionary<string, double> { ["up"] = 90, ["down"] = -90, ["outwards"] = 0, ["inwards"] = 180 });
    private static readonly DirectionKind LongDirections = new(new Dictionary<string, double> { ["up"] = 90, ["down"] = -90, ["right"] = 0, ["left"] = 180 });

    private static readonly Key[] WindingKeys =
    [
        new("turns", new NumberKind("a number of turns", "960", Range.Positive(1e6)), "Number of turns.", Required: true),
        new("wire", new TextKind("a wire such as 0.8 mm grade 1, 1 mm grade 2 aluminium 1050, or 3 x 0.5 mm grade 1"),
            "The wire: diameter of the bare conductor, grade of the enamel (1 or 2, IEC 60317; none: bare), metal (copper unless said), strands in parallel.", Required: true),
        new("sense", new ChoiceKind("forward", "reversed"), "Its sense against the others of its supply.", Default: "forward"),
        new("insulation", new ChoiceKind("Y", "A", "E", "B", "F", "H", "N", "R", "250"), "Thermal class of its insulation (IEC 60085).", Default: "B"),
    ];

    private static readonly Alternative RoundCoil = new("round coil", "between radii", null, "A coil about the z axis, of rectangular section.",
        new Key("between radii", new ListKind("two lengths, such as [20 mm, 40 mm]", Size, 2, 2), "Its inner and outer radius.", Required: true),
        new Key("from z", Coordinate, "Its lower end.", Required: true),
        new Key("to z", Coordinate, "Its upper end.", Required: true));

    private static readonly MappingKind SideKind = new("side", "One straight side of a long coil: a rectangle.",
    [
        new("x", Coordinate, "x of its centre.", Required: true),
        new("y", Coordinate, "y of its centre.", Required: true),
        Length("width", "Its extent along x."),
        Length("height", "Its extent along y."),
    ]);

    private static readonly Alternative LimbCoil = new("coil on a limb", "on", null, "A coil wound round the limb of a core.",
        new Key("on", Name with { What = "the name of a core" }, "The core it is wound on.", Required: true),
        new Key("centred at", Angle, "Where its middle lies along the ring, from the x axis towards y.", Required: true),
        Length("length", "Its length along the limb, at the mean radius."),
        Length("build", "Its thickness off the limb."),
        new Key("clearance", Width, "Former and insulation between limb and wire.", Default: "0 mm"));

    private static readonly Alternative StraightCoil = new("coil of two straight sides", "out", null, "A long coil: its current comes out of the page in one rectangle and goes into it in the other.",
        new Key("out", SideKind, "The side whose current comes out of the page.", Required: true),
        new Key("into", SideKind, "The side whose current goes into the page.", Required: true));

    private static readonly MappingKind Load = new("load", "What a winding drives.",
    [
        new("on", Name with { What = "the name of a winding" }, "The winding it hangs on.", Required: true),
    ],
        new Alternative("filament lamp", "filament lamp", null, "A filament lamp.",
            new Key("filament lamp", Voltage, "Its rated voltage, rms.", Required: true),
            new Key("power", new QuantityKind("a power", "W", "3 W", Range.Positive(1e6)), "Its rated power.", Required: true)),
        new Alternative("resistor", "resistor", null, "A resistor.", new Key("resistor", Burden, "Its resistance.", Required: true)),
        new Alternative("meter", "meter", null, "A meter with its own resistance.", new Key("meter", Burden, "Its resistance.", Required: true)));

    private static readonly MappingKind Dial = new("dial", "An input a person may turn. Where a dial stands overrides the value stated elsewhere.",
    [
        new("from", InputValue, "Its lowest value.", Required: true),
        new("to", InputValue, "Its highest value.", Required: true),
        new("now", InputValue, "Where it stands.", Default: "the value stated elsewhere in the file"),
    ]);

    private static readonly TextKind BoundValue = new("a value with the unit of the measure, such as 8 mm");

    private static readonly MappingKind Claim = new("claim", "What is said to the audience, the measure that decides it, and the bound it must keep.",
    [
        new("say", Sentence, "The sentence.", Required: true),
        new("measure", new TextKind("a measure such as lift on disc at height 5 mm"), "The measure that decides it.", Required: true),
        new("in", new TextKind("the name of a state"), "The state it is said in.", Default: "the apparatus as it stands"),
    ],
        new Alternative("claim with at least", "at least", null, "A lower bound.", new Key("at least", BoundValue, "The least it may be.", Required: true)),
        new Alternative("claim with at most", "at most", null, "An upper bound.", new Key("at most", BoundValue, "The most it may be.", Required: true)),
        new Alternative("claim with between", "between", null, "Both.", new Key("between", new ListKind("two values, such as [8 mm, 12 mm]", BoundValue, 2, 2), "The least and the most.", Required: true)),
        new Alternative("claim with about", "about", null, "A value and how far off it may be.",
            new Key("about", BoundValue, "The value.", Required: true),
            new Key("within", new TextKind("how far off it may be, such as 2 mm or 5 %"), "How far off it may be, as a value or as a share.", Required: true)));

    private static readonly Key[] FileKeys =
    [
        new("apparatus", new TextKind("the name of the apparatus"), "What it is called in front of people.", Required: true),
        new("symmetry", new TextKind("how it is laid out in space"), "How it is laid out in space.", Required: true),
        new("about", Sentence, "A sentence or two on what it shows."),
        new("hall", new MappingKind("hall", "The room it stands in.", [new("temperature", Temperature, "Temperature of the hall.", Default: "20 °C")]), "The room it stands in."),
        new("materials", new NamedKind("materials of the file's own, each under its name", Material, true), "Materials of the file's own, by name."),
        new("supplies", new NamedKind("supplies, each under its name", SupplyVocabulary.Supply, true), "What drives the windings, by name."),
        new("loads", new NamedKind("loads, each under its name", Load, true), "What windings drive, by name."),
        new("dials", new NamedKind("dials, each under the input it turns, such as current in inner", Dial, false), "Inputs a person may turn."),
        new("states", new NamedKind("states, each under its name", new NamedKind("inputs with the value they take, such as {gap in core: 2 mm}", InputValue, false), true), "Named sets of settings, in showing order."),
        new("doubts", new NamedKind("inputs with their tolerance, such as {conductivity of disc: ± 5 %}", new TextKind("a tolerance such as ± 5 % or ± 2 MS/m"), false), "Stated tolerances of inputs."),
        new("claims", new ListKind("a list of claims", Claim, 0, 200), "What is said to the audience, with its bounds."),
        new("acknowledged cautions", new ListKind("a list of names of cautions", new TextKind("the name of a caution"), 0, 200), "Cautions that the owner has read and answered for; they are printed all the same."),
    ];

    /// <summary>The whole file.</summary>
    public static MappingKind File { get; } = new("apparatus file", "One apparatus and its claims. Keys may come in any order. Every value carries its unit.", FileKeys,
        new Alternative("round apparatus", "symmetry", "round", "Everything is round about the z axis; z points up.",
            Parts(new MappingKind("part", "A body of matter in a round apparatus.", PartKeysAt(["z"], RoundDirections), [.. RoundShapes, OutlineShape])),
            Windings(RoundCoil, TravelWords.TubeRow)),
        new Alternative("long apparatus", "symmetry", "long", "Everything runs along one direction for a given depth; the file describes the cross-section, x to the right and y up.",
            new Key("depth", Size, "Length along the hidden direction.", Required: true),
            Parts(new MappingKind("part", "A body of matter in a long apparatus.", PartKeysAt(["x", "y"], LongDirections), [.. LongShapes, OutlineShape])),
            Windings(LimbCoil, StraightCoil, TravelWords.FlatRow, TravelWords.RingRow)),
        new Alternative("free apparatus", "symmetry", "free", "Bodies, magnets and coils stand anywhere in space, each in any attitude.",
            Parts(new MappingKind("part", "A body of matter anywhere in space.", [.. PartKeysAt(["x", "y", "z"], FreeVocabulary.Directions), .. FreeVocabulary.AttitudeKeys], [.. RoundShapes, .. FreeVocabulary.Shapes])),
            Windings(RoundCoil with { Meaning = "A coil of rectangular section round its own axis.", Keys = [.. RoundCoil.Keys, .. FreeVocabulary.WindingKeys] }, FreeVocabulary.FrameCoil)),
        BoxVocabulary.Flat,
        BoardVocabulary.Board);

    private static Key Length(string name, string meaning, bool required = true, string? fallback = null) => new(name, Size, meaning, required, fallback);

    private static Key Parts(MappingKind part) => new("parts", new NamedKind("parts, each under its name", part, true), "Bodies of matter, by name.");

    private static Key Windings(params Alternative[] spaces) =>
        new("windings", new NamedKind("windings, each under its name", new MappingKind("winding", "A coil of real wire in a place.", WindingKeys, spaces), true), "Coils of wire, by name.");

    private static Key[] PartKeysAt(string[] axes, DirectionKind directions) =>
    [
        new("shape", new TextKind("the word for its shape"), "Its shape.", Required: true),
        new("at", new MappingKind("place", "Where it stands.", [.. axes.Select(a => new Key(a, Coordinate, a == "z" ? "Height of its underside." : $"{a} of its centre.", Default: "0 mm"))]), "Where it stands.", Default: "at the origin"),
        .. PartKeys,
        new("magnetised", directions, "Direction of its magnetisation, when it is a magnet.", Default: "no magnet"),
    ];
}
