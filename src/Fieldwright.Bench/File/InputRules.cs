using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Every kind of input there is, stated once.</summary>
internal static class InputRules
{
    /// <summary>Quantity that takes a material's name.</summary>
    public const string MaterialWord = "material";

    private static readonly NumberKind Turns = new("a number of turns", "960", Range.Positive(1e6));

    /// <summary>All kinds, in the order they are listed to people.</summary>
    public static IReadOnlyList<InputRule> All { get; } =
    [
        new("current", "in", Quantities.Current, "Current in a winding, rms when it alternates; sets a current source, or a variable transformer.", CurrentIn),
        Supply("voltage", Quantities.Voltage, "Voltage of a supply at the windings, rms when it alternates.", true,
            s => s.Kind == SupplyKind.Current ? null : (s.Voltage, v => s with { Voltage = v, Current = null })),
        Supply("frequency", Quantities.Frequency with { Range = Range.Positive(1e6) }, "Frequency of an alternating supply.", false, s => s.Frequency > 0 ? (s.Frequency, v => s with { Frequency = v }) : null),
        Supply("phase", Quantities.Angle, "Phase of a supply; positive leads.", false, s => s.Frequency > 0 ? (s.PhaseDegrees * Degree, v => s with { PhaseDegrees = v / Degree }) : null),
        Supply("internal resistance", Quantities.Resistance, "Resistance inside a supply.", false, s => s.Kind == SupplyKind.Current ? null : (s.InternalResistance, v => s with { InternalResistance = v })),
        Supply("current limit", Quantities.Current with { Range = Range.Positive(1e6) }, "Current that a supply gives at most, rms when it alternates.", true, s => s.CurrentLimit is { } most ? (most, v => s with { CurrentLimit = v }) : null),
        Supply("capacitance", Quantities.Capacitance, "Capacitance of a capacitor bank, or of the capacitor that splits a phase.", false,
            s => s.Capacitance is { } bank ? (bank, v => s with { Capacitance = v }) : s.Split is { } split ? (split.Capacitance, v => s with { Split = split with { Capacitance = v } }) : null),
        Supply("delay", new QuantityKind("a time", "s", "4 ms", Range.NotNegative(1e3)), "Time at which a capacitor bank is fired.", false, s => s.Capacitance is not null ? (s.Delay, v => s with { Delay = v }) : null),
        Part("height", Quantities.Coordinate, "Height of a part: z of its underside.", (a, p) => a.Layout == Layout.Long ? null : (p.Place.Z, v => p with { Place = p.Place with { Z = v } })),
        Part("x", Quantities.Coordinate, "x of the centre of a part.", (a, p) => a.Layout == Layout.Round ? null : (p.Place.X, v => p with { Place = p.Place with { X = v } })),
        Part("y", Quantities.Coordinate, "y of the centre of a part.", (a, p) => a.Layout == Layout.Round ? null : (p.Place.Y, v => p with { Place = p.Place with { Y = v } })),
        Size<CoreShape>("gap", Quantities.Width, "Width of the cut of a core.", c => c.Gap, (c, v) => c with { Gap = v }, "in"),
        Size<DiscShape>("radius", Quantities.Size, "Radius of a disc or a bar.", d => d.Radius, (d, v) => d with { Radius = v }),
        Size<BallShape>("radius", Quantities.Size, "Radius of a ball.", b => b.Radius, (b, v) => b with { Radius = v }),
        Size<BallShape>("wall", Quantities.Size, "Wall thickness of a hollow ball.", b => b.Wall, (b, v) => b with { Wall = v }),
        Size<RingShape>("inner radius", Quantities.Size, "Inner radius of a ring or tube.", r => r.InnerRadius, (r, v) => r with { InnerRadius = v }),
        Size<RingShape>("outer radius", Quantities.Size, "Outer radius of a ring or tube.", r => r.OuterRadius, (r, v) => r with { OuterRadius = v }),
        Size<CoreShape>("inner radius", Quantities.Size, "Inner radius of a core.", c => c.InnerRadius, (c, v) => c with { InnerRadius = v }),
        Size<CoreShape>("outer radius", Quantities.Size, "Outer radius of a core.", c => c.OuterRadius, (c, v) => c with { OuterRadius = v }),
        Size<DiscShape>("thickness", Quantities.Size, "Thickness of a disc.", d => d.Called == "bar" ? null : d.Thickness, (d, v) => d with { Thickness = v }),
        Size<DiscShape>("length", Quantities.Size, "Length of a round bar.", d => d.Called == "bar" ? d.Thickness : null, (d, v) => d with { Thickness = v }),
        Size<RingShape>("thickness", Quantities.Size, "Thickness of a ring.", r => r.IsTube ? null : r.Height, (r, v) => r with { Height = v }),
        Size<RingShape>("length", Quantities.Size, "Length of a tube.", r => r.IsTube ? r.Height : null, (r, v) => r with { Height = v }),
        Size<RectangleShape>("width", Quantities.Size, "Width of a plate, bar or sheet.", r => r.Width, (r, v) => r with { Width = v }),
        Size<RectangleShape>("thickness", Quantities.Size, "Thickness of a plate, bar or sheet.", r => r.Height, (r, v) => r with { Height = v }),
        new(MaterialWord, "of", new TextKind("the name of a material, such as aluminium 1050"), "What a part is made of.", (a, owner) => a.Part(owner) is { } p ? new Slot(null, _ => a) : null),
        Part("mass", new QuantityKind("a mass", "kg", "107 g", Range.Positive(1e6)), "Mass of a part.", (a, p) => (p.Mass, v => p with { Mass = v })),
        Matter("conductivity", Quantities.Conductivity with { Range = Range.Positive(1e9) }, "Conductivity of a part at 20 °C.", m => m.Conductivity > 0 ? m.Conductivity : null, (m, v) => m with { Conductivity = v }),
        Matter("relative permeability", new NumberKind("a relative permeability", "1000", new Range(0.5, 1e7, true)), "Relative permeability of a part without a magnetisation curve.",
            m => m.Curve is null ? m.RelativePermeability : null, (m, v) => m with { RelativePermeability = v }),
        Matter("remanence", new QuantityKind("a remanence", "T", "1.2 T", Range.Positive(3)), "Remanence of a magnet.", m => m.Remanence > 0 ? m.Remanence : null, (m, v) => m with { Remanence = v }),
        Matter("density", new QuantityKind("a density", "kg/m3", "2700 kg/m3", Range.Positive(1e5)), "Density of a part.", m => m.Density, (m, v) => m with { Density = v }),
        Matter("specific heat", new QuantityKind("a specific heat", "J/(kg K)", "900 J/(kg K)", Range.Positive(1e5)), "Specific heat of a part.", m => m.SpecificHeat, (m, v) => m with { SpecificHeat = v }),
        Part("stacking factor", new NumberKind("a stacking factor", "0.95", new Range(0.3, 1, true)), "Share of a laminated section that is metal.", (_, p) => p.Laminated ? (p.StackingFactor, v => p with { StackingFactor = v }) : null),
        Winding("turns", Turns, "Turns of a winding.", w => (w.Turns, v => w with { Turns = v })),
        Winding("inner radius", Quantities.Size, "Inner radius of a round coil.", w => w.Space is RoundSpace s ? (s.InnerRadius, v => w with { Space = s with { InnerRadius = v } }) : null),
        Winding("outer radius", Quantities.Size, "Outer radius of a round coil.", w => w.Space is RoundSpace s ? (s.OuterRadius, v => w with { Space = s with { OuterRadius = v } }) : null),
        Winding("length", Quantities.Size, "Length of a coil along its limb.", w => w.Space is LimbSpace s ? (s.Length, v => w with { Space = s with { Length = v } }) : null),
        Winding("clearance", Quantities.Width, "Clearance between limb and wire.", w => w.Space is LimbSpace s ? (s.Clearance, v => w with { Space = s with { Clearance = v } }) : null),
        .. FreeInputs.All,
        new("resistance", "of", Quantities.Burden, "Resistance of a resistor or meter.", (a, owner) => a.Load(owner) is { Resistance: { } r } load
            ? new Slot(r, v => a with { Loads = Swapped(a.Loads, load, load with { Resistance = v }) }) : null),
        .. TravelInputs.All,
        new("temperature", "of", Quantities.Temperature, "Temperature of the hall.", (a, owner) => Apparatus.Same(owner, Names.Hall) ? new Slot(a.Ambient, v => a with { Ambient = v }) : null),
        .. BoxInputs.All,
        .. BoardInputs.All,
    ];

    private static double Degree => Math.PI / 180;

    // One current belongs to a winding only when it is alone on its supply or in series with the rest.
    private static Slot? CurrentIn(Apparatus apparatus, string owner)
    {
        if (apparatus.SupplyOf(owner) is not { } supply || apparatus.Winding(owner) is null || (supply.Connection == Connection.Parallel && supply.Feeds.Count > 1))
            return null;
        return supply.Kind == SupplyKind.Current || supply.Through == "variable transformer"
            ? new Slot(supply.Current, v => apparatus with { Supplies = Swapped(apparatus.Supplies, supply, supply with { Current = v }) }, supply.Frequency > 0)
            : null;
    }

    private static InputRule Supply(string quantity, QuantityKind kind, string meaning, bool swings, Func<Supply, (double?, Func<double, Supply>)?> at) =>
        new(quantity, "of", kind, meaning, (a, owner) => a.Supply(owner) is { } supply && at(supply) is var (value, with)
            ? new Slot(value, v => a with { Supplies = Swapped(a.Supplies, supply, with(v)) }, swings && supply.Frequency > 0) : null);

    internal static InputRule Part(string quantity, ValueKind kind, string meaning, Func<Apparatus, Part, (double?, Func<double, Part>)?> at, string link = "of") =>
        new(quantity, link, kind, meaning, (a, owner) => a.Part(owner) is { } part && at(a, part) is var (value, with)
            ? new Slot(value, v => a with { Parts = Swapped(a.Parts, part, with(v)) }) : null);

    internal static InputRule Size<TShape>(string quantity, QuantityKind kind, string meaning, Func<TShape, double?> get, Func<TShape, double, TShape> set, string link = "of")
        where TShape : Shape =>
        Part(quantity, kind, meaning, (_, p) => p.Shape is TShape shape && get(shape) is { } value ? (value, v => p with { Shape = set(shape, v) }) : null, link);

    private static InputRule Matter(string quantity, ValueKind kind, string meaning, Func<Material, double?> get, Func<Material, double, Material> set) =>
        Part(quantity, kind, meaning, (_, p) => get(p.Material) is { } value ? (value, v => p with { Material = set(p.Material, v) }) : null);

    internal static InputRule Winding(string quantity, ValueKind kind, string meaning, Func<Winding, (double?, Func<double, Winding>)?> at) =>
        new(quantity, "of", kind, meaning, (a, owner) => a.Winding(owner) is { } winding && at(winding) is var (value, with)
            ? new Slot(value, v => a with { Windings = Swapped(a.Windings, winding, with(v)) }) : null);

    internal static IReadOnlyList<T> Swapped<T>(IReadOnlyList<T> all, T old, T fresh) where T : class =>
        [.. all.Select(x => ReferenceEquals(x, old) ? fresh : x)];
}
