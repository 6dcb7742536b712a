using Fieldwright.Bench.Model;
using static Fieldwright.Bench.File.InputRules;

namespace Fieldwright.Bench.File;

/// <summary>Inputs of places, attitudes and sizes in a free apparatus; all of them are there whether the file names them or not.</summary>
internal static class FreeInputs
{
    private const double Degree = Math.PI / 180;

    /// <summary>All of them.</summary>
    public static IReadOnlyList<InputRule> All { get; } =
    [
        Turn("tilt", "How far the axis of a part or coil leans from the vertical.", a => a.Tilt, (a, v) => a with { Tilt = v }),
        TurnOfWinding("tilt", "", a => a.Tilt, (a, v) => a with { Tilt = v }),
        Turn("bearing", "Where its top leans, from the x axis towards y.", a => a.Towards, (a, v) => a with { Towards = v }),
        TurnOfWinding("bearing", "", a => a.Towards, (a, v) => a with { Towards = v }),
        Turn("turn", "How far it is turned about its own axis before it is leant over.", a => a.Turned, (a, v) => a with { Turned = v }),
        TurnOfWinding("turn", "", a => a.Turned, (a, v) => a with { Turned = v }),
        OfWinding("x", Quantities.Coordinate, "x of the centre of a coil.", w => w switch { RoundSpace r => r.X, FrameSpace f => f.X, _ => null }, (w, v) => w is RoundSpace r ? r with { X = v } : (FrameSpace)w with { X = v }),
        OfWinding("y", Quantities.Coordinate, "y of the centre of a coil.", w => w switch { RoundSpace r => r.Y, FrameSpace f => f.Y, _ => null }, (w, v) => w is RoundSpace r ? r with { Y = v } : (FrameSpace)w with { Y = v }),
        Winding("height", Quantities.Coordinate, "Height of a round or rectangular coil: its lower end when upright.", w => w.Space switch
        {
            RoundSpace r => (r.FromZ, v => w with { Space = r with { FromZ = v, ToZ = v + r.ToZ - r.FromZ } }),
            FrameSpace f => (f.FromZ, v => w with { Space = f with { FromZ = v, ToZ = v + f.ToZ - f.FromZ } }),
            _ => null,
        }),
        Winding("extent", Quantities.Size, "Extent of a round or rectangular coil along its axis.", w => w.Space switch
        {
            RoundSpace r => (r.ToZ - r.FromZ, v => w with { Space = r with { ToZ = r.FromZ + v } }),
            FrameSpace f => (f.ToZ - f.FromZ, v => w with { Space = f with { ToZ = f.FromZ + v } }),
            _ => null,
        }),
        Frame("length", "Length of the opening of a rectangular coil.", Quantities.Size, f => f.Length, (f, v) => f with { Length = v }),
        Frame("width", "Width of the opening of a rectangular coil.", Quantities.Size, f => f.Width, (f, v) => f with { Width = v }),
        Frame("corner radius", "Inner radius of the corners of a rectangular coil.", Quantities.Width, f => f.CornerRadius, (f, v) => f with { CornerRadius = v }),
        Frame("build", "Thickness of a rectangular coil off its opening.", Quantities.Size, f => f.Build, (f, v) => f with { Build = v }),
        Size<BlockShape>("length", Quantities.Size, "Length of a block.", b => b.Length, (b, v) => b with { Length = v }),
        Size<BlockShape>("width", Quantities.Size, "Width of a block.", b => b.Width, (b, v) => b with { Width = v }),
        Size<BlockShape>("thickness", Quantities.Size, "Thickness of a block.", b => b.Thickness, (b, v) => b with { Thickness = v }),
        Size<PumpChannelShape>("length", Quantities.Size, "Length of the electrodes of a pump channel.", c => c.Length, (c, v) => c with { Length = v }),
        Size<PumpChannelShape>("width", Quantities.Size, "Distance of the electrodes of a pump channel.", c => c.Width, (c, v) => c with { Width = v }),
        Size<PumpChannelShape>("thickness", Quantities.Size, "Height of a pump channel.", c => c.Thickness, (c, v) => c with { Thickness = v }),
        Size<PumpChannelShape>("current", Quantities.Current with { Alternating = false }, "Direct current across a pump channel.", c => c.Carries, (c, v) => c with { Carries = v }, "in"),
        Size<FoilLoopShape>("length", Quantities.Size, "Length of a strip of foil.", f => f.Length, (f, v) => f with { Length = v }),
        Size<FoilLoopShape>("width", Quantities.Size, "Width of a strip of foil.", f => f.Width, (f, v) => f with { Width = v }),
        Size<FoilLoopShape>("thickness", Quantities.Size, "Thickness of a foil.", f => f.Thickness, (f, v) => f with { Thickness = v }),
        Size<FoilLoopShape>("span", Quantities.Size, "Distance of the supports of a foil loop.", f => f.Span, (f, v) => f with { Span = v }),
        Size<FoilLoopShape>("current", Quantities.Current with { Alternating = false }, "Direct current in a foil loop.", f => f.Carries, (f, v) => f with { Carries = v }, "in"),
        Size<FoilLoopShape>("elastic modulus", FreeVocabulary.Elastic, "Modulus of elasticity of a foil.", f => f.Elastic, (f, v) => f with { Elastic = v }),
    ];

    private static InputRule Turn(string quantity, string meaning, Func<Attitude, double> get, Func<Attitude, double, Attitude> set) =>
        Part(quantity, Quantities.Angle, meaning, (a, p) => a.Layout == Layout.Free && p.Shape is not (IronPlaneShape or ProbeShape or BallShape)
            ? (get(p.Attitude) * Degree, v => p with { Attitude = set(p.Attitude, v / Degree) }) : null);

    private static InputRule TurnOfWinding(string quantity, string meaning, Func<Attitude, double> get, Func<Attitude, double, Attitude> set) =>
        OfWinding(quantity, Quantities.Angle, meaning, w => w switch { RoundSpace r => get(r.Attitude) * Degree, FrameSpace f => get(f.Attitude) * Degree, _ => null },
            (w, v) => w is RoundSpace r ? r with { Attitude = set(r.Attitude, v / Degree) } : (FrameSpace)w with { Attitude = set(((FrameSpace)w).Attitude, v / Degree) });

    private static InputRule Frame(string quantity, string meaning, QuantityKind kind, Func<FrameSpace, double> get, Func<FrameSpace, double, FrameSpace> set) =>
        Winding(quantity, kind, meaning, w => w.Space is FrameSpace f ? (get(f), v => w with { Space = set(f, v) }) : null);

    // Only in a free apparatus: elsewhere coils stand on the axis.
    private static InputRule OfWinding(string quantity, QuantityKind kind, string meaning, Func<WindingSpace, double?> get, Func<WindingSpace, double, WindingSpace> set) =>
        new(quantity, "of", kind, meaning, (a, owner) => a.Layout == Layout.Free && a.Winding(owner) is { } w && get(w.Space) is { } value
            ? new Slot(value, v => a with { Windings = [.. a.Windings.Select(o => ReferenceEquals(o, w) ? w with { Space = set(w.Space, v) } : o)] }) : null);
}
