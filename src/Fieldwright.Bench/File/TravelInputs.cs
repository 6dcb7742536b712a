using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Inputs of travelling fields: polyphase windings as wholes, speeds, slip and width across.</summary>
internal static class TravelInputs
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<InputRule> All { get; } =
    [
        new("current", "in", Quantities.Current, "Current a phase in a polyphase winding, rms; sets a current source.", CurrentIn),
        Whole("turns", new NumberKind("a number of turns", "960", Range.Positive(1e6)), "Turns of each coil of a polyphase winding.", w => w.Turns, (w, v) => w with { Turns = v }),
        Of<FlatRow>("slot pitch", Quantities.Size, "Distance of neighbouring slots.", r => r.SlotPitch, (r, v) => r with { SlotPitch = v }),
        Of<FlatRow>("slot width", Quantities.Size, "Width of the slots of a track winding.", r => r.SlotWidth, (r, v) => r with { SlotWidth = v }),
        Of<FlatRow>("slot height", Quantities.Size, "Height of the slots of a track winding.", r => r.SlotHeight, (r, v) => r with { SlotHeight = v }),
        Of<FlatRow>("y", Quantities.Coordinate, "y of the middle of a track winding.", r => r.Y, (r, v) => r with { Y = v }),
        Of<RingRow>("inner radius", Quantities.Size, "Inner radius of a stator winding.", r => r.InnerRadius, (r, v) => r with { InnerRadius = v }),
        Of<RingRow>("outer radius", Quantities.Size, "Outer radius of a stator winding.", r => r.OuterRadius, (r, v) => r with { OuterRadius = v }),
        Of<TubeRow>("coil pitch", Quantities.Size, "Distance of neighbouring coils of a row.", r => r.CoilPitch, (r, v) => r with { CoilPitch = v }),
        Of<TubeRow>("coil length", Quantities.Size, "Length of each coil of a row.", r => r.CoilLength, (r, v) => r with { CoilLength = v }),
        Of<TubeRow>("inner radius", Quantities.Size, "Inner radius of a row of coils.", r => r.InnerRadius, (r, v) => r with { InnerRadius = v }),
        Part("radius", Quantities.Size, "Radius of a cylinder.", (_, p) => p.Shape is CylinderShape c ? (c.Radius, v => p with { Shape = c with { Radius = v } }) : null),
        Part("bore", Quantities.Width, "Radius of the bore of a cylinder.", (_, p) => p.Shape is CylinderShape { Bore: > 0 } c ? (c.Bore, v => p with { Shape = c with { Bore = v } }) : null),
        Part("speed", TravelWords.Speed, "Steady speed of a part along the travel.", (_, p) => Translates(p) ? (p.Speed, v => p with { Speed = v }) : null),
        Part("turning speed", TravelWords.TurningSpeed, "Steady turning speed of a cylinder.", (_, p) => Turns(p) ? (p.TurningSpeed, v => p with { TurningSpeed = v }) : null),
        Part("slip", new NumberKind("a slip", "0.2", Range.EitherSign(100)), "Share by which a part lags behind the field: 1 at standstill, 0 at the speed of the field.", Slip),
        Part("flow", new QuantityKind("a flow", "m3/s", "6 L/min", Range.EitherSign(1)), "Flow of liquid in a channel.", (a, p) => p is { Channel: not null, Shape: RectangleShape r } && (p.Across ?? a.Depth) is { } w
            ? (p.Speed * w * r.Height, v => p with { Speed = v / (w * r.Height) }) : null),
        Part("lift", Quantities.Width, "Height that a channel's liquid is lifted.", (_, p) => p.Channel is { } c ? (c.Lift, v => p with { Channel = c with { Lift = v } }) : null),
        Part("nozzle bore", Quantities.Size, "Bore of a channel's nozzle.", (_, p) => p.Channel is { NozzleBore: { } bore } c ? (bore, v => p with { Channel = c with { NozzleBore = v } }) : null),
        Part("width across", Quantities.Size, "Extent of a part along the hidden direction.", (_, p) => p.Across is { } width ? (width, v => p with { Across = v }) : null),
        Part("mouth", Quantities.Coordinate, "Height at which a thrown part has left its tube.", (_, p) => p.Freedom == Freedom.UpAndDown ? (p.Mouth, v => p with { Mouth = v }) : null),
        Part("catcher", TravelWords.Drag, "Steady force of the catcher that stops a thrown part.", (_, p) => p.Catcher is { } force ? (force, v => p with { Catcher = v }) : null),
        Part("drag", TravelWords.Drag, "Steady force that holds a part back when it moves.", (_, p) => Translates(p) ? (p.Drag, v => p with { Drag = v }) : null),
    ];

    private static bool Translates(Part part) => part.GoesWith is null && part.Shape is not CylinderShape && (part.Freedom != Freedom.Fixed || part.Speed != 0 || part.Channel is not null);

    private static bool Turns(Part part) => part.GoesWith is null && part.Shape is CylinderShape && (part.Freedom == Freedom.Turning || part.TurningSpeed != 0);

    private static (double?, Func<double, Part>)? Slip(Apparatus apparatus, Part part)
    {
        if (apparatus.FieldSpeed() is not { } field)
            return null;
        if (Translates(part) && apparatus.Polyphases()[0].Row is not RingRow)
            return (1 - part.Speed / field, v => part with { Speed = (1 - v) * field });
        if (Turns(part) && apparatus.Polyphases()[0].Row is RingRow)
            return (1 - part.TurningSpeed / field, v => part with { TurningSpeed = (1 - v) * field });
        return null;
    }

    // All windings of one polyphase supply carry its current, each phase its own.
    private static Slot? CurrentIn(Apparatus apparatus, string owner)
    {
        var winding = apparatus.Polyphases().FirstOrDefault(p => p.Phases > 1 && Apparatus.Same(p.Name, owner));
        if (winding is null || apparatus.SupplyOf(winding.NameOf(0)) is not { Kind: SupplyKind.Current } supply)
            return null;
        return new Slot(supply.Current, v => apparatus with { Supplies = InputRules.Swapped(apparatus.Supplies, supply, supply with { Current = v }) }, supply.Frequency > 0);
    }

    private static InputRule Of<TRow>(string quantity, QuantityKind kind, string meaning, Func<TRow, double> get, Func<TRow, double, TRow> set) where TRow : Row =>
        Whole(quantity, kind, meaning, w => w.Space is PhaseSpace { Of.Row: TRow row } ? get(row) : null,
            (w, v) => w.Space is PhaseSpace { Of: { Row: TRow row } of } space ? w with { Space = space with { Of = of with { Row = set(row, v) } } } : w);

    private static InputRule Whole(string quantity, ValueKind kind, string meaning, Func<Winding, double?> get, Func<Winding, double, Winding> set) =>
        new(quantity, "of", kind, meaning, (a, owner) =>
        {
            bool Mine(Winding w) => w.Space is PhaseSpace { Of: var of } && Apparatus.Same(of.Name, owner);
            return a.Windings.FirstOrDefault(Mine) is { } first && get(first) is { } value
                ? new Slot(value, v => a with { Windings = [.. a.Windings.Select(w => Mine(w) ? set(w, v) : w)] }) : null;
        });

    private static InputRule Part(string quantity, ValueKind kind, string meaning, Func<Apparatus, Part, (double?, Func<double, Part>)?> at) =>
        new(quantity, "of", kind, meaning, (a, owner) => a.Part(owner) is { } part && at(a, part) is var (value, with)
            ? new Slot(value, v => a with { Parts = InputRules.Swapped(a.Parts, part, with(v)) }) : null);
}
