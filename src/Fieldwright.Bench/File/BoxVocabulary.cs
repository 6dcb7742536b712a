using Fieldwright.Bench.Model;
using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>What a file says of a flat box of discs: its words, and the box they describe.</summary>
internal static class BoxVocabulary
{
    private static readonly QuantityKind Speed = new("a speed", "m/s", "200 mm/s", Range.NotNegative(1000));
    private static readonly QuantityKind Mass = new("a mass", "kg", "2 g", Range.Positive(1e6));
    private static readonly QuantityKind Force = new("a force", "N", "20 mN", Range.NotNegative(1e6));
    private static readonly NumberKind Share = new("a share", "0.95", Range.NotNegative(1));

    // All pairs of magnets are counted, so that a box of many takes long.
    private const int MostMagnets = 1000;

    /// <summary>A magnetic moment that may be zero.</summary>
    internal static readonly QuantityKind Moment = new("a magnetic moment", "A m2", "0.3 A m2", Range.NotNegative(100));

    /// <summary>The alternative of the file.</summary>
    public static Alternative Flat { get; } = new("flat apparatus", "symmetry", "flat", "A flat box of discs seen from the front, x to the right and y up; it may lean.",
        new Key("box", new MappingKind("box", "The box.",
        [
            new("width", Size, "Its inner width.", Required: true),
            new("height", Size, "Its inner height; with a lid the room the lid may rise in.", Required: true),
            new("tilt", Angle with { Range = new Range(0, 90, true) }, "How far it leans: 0 deg lies flat, 90 deg stands upright.", Default: "0 deg"),
            new("top", new ChoiceKind("closed", "open"), "Whether discs can leave at the top.", Default: "closed"),
            new("sides", new ChoiceKind("walls", "joined"), "What stands left and right: walls; or joined, as in a channel that runs round into itself, where what leaves at one side comes in at the other and the width is once round.", Default: "walls"),
            new("restitution", Share, "Share of the speed that walls, floor and lid give back.", Default: "1"),
            new("grip", Share, "Share of the sideways slip that one touch of the top or lid takes away.", Default: "0"),
        ]), "The box.", Required: true),
        new Key("discs", new MappingKind("discs", "The discs, all alike.",
        [
            new("count", new NumberKind("a number of discs", "120", Range.Positive(20000)), "How many.", Required: true),
            new("radius", Size, "Their radius.", Required: true),
            new("mass", Mass, "Mass of each.", Required: true),
            new("rms speed", Speed with { Range = Range.Positive(1000) }, "Speed they start with, root of the mean square.", Required: true),
            new("restitution", Share, "Share of the approach speed that a meeting of two gives back.", Default: "1"),
            new("moment", Moment, "Magnetic moment of each, standing square to the box and all the same way up: they repel. A magnet of volume V and remanence B has B V/μ₀.", Default: "0 A m2"),
        ]), "The discs.", Required: true),
        new Key("large disc", new MappingKind("large disc", "One large disc among the small ones.", [new("radius", Size, "Its radius.", Required: true), new("mass", Mass, "Its mass.", Required: true)]), "A large disc among them."),
        new Key("floor", new MappingKind("floor", "A floor that moves.",
        [
            new("amplitude", Width, "Amplitude of its shaking.", Required: true),
            new("frequency", Frequency with { Range = Range.Positive(1e4) }, "Frequency of its shaking.", Required: true),
            new("travels", Speed with { Range = Range.EitherSign(1000) }, "Speed at which its surface travels sideways.", Default: "0 m/s"),
            new("grip", Share, "Share of the sideways slip that one touch takes away.", Default: "0"),
        ]), "The floor, when it moves."),
        new Key("lid", new MappingKind("lid", "A lid that slides up and down without friction.",
        [
            new("mass", Mass, "Its mass.", Required: true),
            new("load", Force, "Force that presses it besides its own weight.", Default: "0 N"),
            new("starts at", Size, "Height it starts at.", Default: "the height of the box"),
        ]), "The lid."));

    /// <summary>The box of a file; null when it is another kind of file, or the box is not sound.</summary>
    public static ParticleBox? Read(Section file, List<Mistake> mistakes)
    {
        if (file.Inner("box") is not { Whole: true } box || file.Inner("discs") is not { Whole: true } discs)
            return null;
        static BoxFloor Floor(Section s) => new(s.Number("amplitude", 0), s.Number("frequency", 0), s.Number("travels", 0), s.Number("grip", 0));
        double height = box.Number("height", 0);
        var made = new ParticleBox(
            box.Number("width", 0), height, box.Number("tilt", 0), box.Text("top") == "open", box.Number("restitution", 1),
            new BoxDiscs(discs.Number("count", 0), discs.Number("radius", 0), discs.Number("mass", 0), discs.Number("rms speed", 0), discs.Number("restitution", 1), discs.Number("moment", 0)),
            file.Inner("large disc") is { Whole: true } large ? new BoxLarge(large.Number("radius", 0), large.Number("mass", 0)) : null,
            file.Inner("floor") is { Whole: true } floor ? Floor(floor) : null,
            file.Inner("lid") is { Whole: true } lid ? new BoxLid(lid.Number("mass", 0), lid.Number("load", 0), lid.Number("starts at", height)) : null,
            box.Text("sides") == "joined", box.Number("grip", 0));
        if (discs.Number("count", 0) != Math.Floor(discs.Number("count", 0)))
            mistakes.Add(new Mistake(discs.At("count").Line, discs.At("count").Column, "discs come in whole numbers", "a number of discs such as 120"));
        else if (made.Discs is { Moment: > 0, Count: > MostMagnets })
            mistakes.Add(new Mistake(discs.At("count").Line, discs.At("count").Column, "so many discs that repel take too long: every pair of them is counted", $"{MostMagnets} or fewer"));
        else if (Routes.BoxRun.Problem(made) is { } problem)
            mistakes.Add(new Mistake(box.Node.Line, box.Node.Column, problem, "discs that fit in, and a lid or an open top, not both"));
        return made;
    }
}

/// <summary>What may be turned in a flat box.</summary>
internal static class BoxInputs
{
    /// <summary>Names that inputs of a box go by.</summary>
    public static IReadOnlyList<string> Owners { get; } = ["box", "discs", "floor", "lid"];

    /// <summary>All kinds of input.</summary>
    public static IReadOnlyList<InputRule> All { get; } =
    [
        Of("tilt", "box", Angle with { Range = new Range(0, 90, true) }, "How far the box leans.", b => b.Tilt, (b, v) => b with { Tilt = v }),
        Of("width", "box", Size, "Inner width of the box.", b => b.Width, (b, v) => b with { Width = v }),
        Of("height", "box", Size, "Inner height of the box.", b => b.Height, (b, v) => b with { Height = v }),
        Of("restitution", "box", Share, "Share of the speed that walls, floor and lid give back.", b => b.WallRestitution, (b, v) => b with { WallRestitution = v }),
        Of("grip", "box", Share, "Share of the sideways slip that one touch of the top or lid takes away.", b => b.Grip, (b, v) => b with { Grip = v }),
        Of("count", "discs", new NumberKind("a number of discs", "120", Range.Positive(20000)), "How many discs.", b => b.Discs.Count, (b, v) => b with { Discs = b.Discs with { Count = Math.Round(v) } }),
        Of("radius", "discs", Size, "Radius of the discs.", b => b.Discs.Radius, (b, v) => b with { Discs = b.Discs with { Radius = v } }),
        Of("mass", "discs", new QuantityKind("a mass", "kg", "2 g", Range.Positive(1e6)), "Mass of each disc.", b => b.Discs.Mass, (b, v) => b with { Discs = b.Discs with { Mass = v } }),
        Of("rms speed", "discs", new QuantityKind("a speed", "m/s", "200 mm/s", Range.Positive(1000)), "Speed the discs start with.", b => b.Discs.RmsSpeed, (b, v) => b with { Discs = b.Discs with { RmsSpeed = v } }),
        Of("restitution", "discs", Share, "Share of the approach speed that a meeting of two discs gives back.", b => b.Discs.Restitution, (b, v) => b with { Discs = b.Discs with { Restitution = v } }),
        Of("moment", "discs", BoxVocabulary.Moment, "Magnetic moment of each disc.", b => b.Discs.Moment, (b, v) => b with { Discs = b.Discs with { Moment = v } }),
        Of("amplitude", "floor", Width, "Amplitude of the floor's shaking.", b => b.Floor?.Amplitude, (b, v) => b with { Floor = b.Floor! with { Amplitude = v } }),
        Of("frequency", "floor", Frequency with { Range = Range.Positive(1e4) }, "Frequency of the floor's shaking.", b => b.Floor?.Frequency, (b, v) => b with { Floor = b.Floor! with { Frequency = v } }),
        Of("speed", "floor", new QuantityKind("a speed", "m/s", "200 mm/s", Range.EitherSign(1000)), "Speed at which the floor's surface travels.", b => b.Floor?.Speed, (b, v) => b with { Floor = b.Floor! with { Speed = v } }),
        Of("grip", "floor", Share, "Share of the sideways slip that one touch of the floor takes away.", b => b.Floor?.Grip, (b, v) => b with { Floor = b.Floor! with { Grip = v } }),
        Of("load", "lid", new QuantityKind("a force", "N", "20 mN", Range.NotNegative(1e6)), "Force that presses the lid besides its weight.", b => b.Lid?.Load, (b, v) => b with { Lid = b.Lid! with { Load = v } }),
        Of("mass", "lid", new QuantityKind("a mass", "kg", "2 g", Range.Positive(1e6)), "Mass of the lid.", b => b.Lid?.Mass, (b, v) => b with { Lid = b.Lid! with { Mass = v } }),
    ];

    private static NumberKind Share => new("a share", "0.95", Range.NotNegative(1));

    private static InputRule Of(string quantity, string whose, ValueKind kind, string meaning, Func<ParticleBox, double?> get, Func<ParticleBox, double, ParticleBox> set) =>
        new(quantity, "of", kind, meaning, (a, owner) => Apparatus.Same(owner, whose) && a.Box is { } box && get(box) is { } value ? new Slot(value, v => a with { Box = set(box, v) }) : null);
}
