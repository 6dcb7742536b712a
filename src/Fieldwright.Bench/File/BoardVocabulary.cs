using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using static Fieldwright.Bench.File.Quantities;

namespace Fieldwright.Bench.File;

/// <summary>What a file says of a board of elements: its words, and the board they describe.</summary>
internal static class BoardVocabulary
{
    private static readonly TextKind Node = new("the name of a node", Vocabulary.NamePattern);
    private static readonly TextKind Matter = new("the name of a material");
    private static readonly QuantityKind Pressure = new("a pressure", "Pa", "20 kPa", Range.Positive(1e8));
    private static readonly QuantityKind Area = new("an area", "m2", "4 cm2", Range.Positive(1e4));
    private static readonly QuantityKind AmpereTurns = new("ampere-turns", "A", "300 A", Range.EitherSign(1e9));
    private static readonly QuantityKind DirectVoltage = Voltage with { Alternating = false };
    private static readonly QuantityKind Power = new("a power", "W", "5 W", Range.EitherSign(1e9));
    private static readonly NumberKind Coefficient = new("a loss coefficient", "0.5", Range.Positive(1e6));

    private static readonly Key[] Ends =
    [
        new("from", Node, "The node it starts at.", Required: true),
        new("to", Node, "The node it ends at.", Required: true),
    ];

    private static readonly Alternative[] Water =
    [
        new("pump", "pump", null, "A pump that lifts the pressure from its first node to its second.",
            new Key("pump", Pressure, "Pressure it makes when nothing flows.", Required: true),
            new Key("open flow", new QuantityKind("a flow", "m3/s", "6 L/min", Range.Positive(100)), "Flow at which its pressure is gone; in between it falls evenly.", Default: "it keeps its pressure at any flow")),
        new("pipe", "pipe", null, "A straight round pipe or hose.",
            new Key("pipe", Size, "Its bore.", Required: true),
            new Key("length", Size, "Its length.", Required: true),
            new Key("roughness", Width, "Height of its roughness.", Default: "0 mm, smooth")),
        new("fitting", "fitting", null, "A valve, bend or other fitting.",
            new Key("fitting", Coefficient, "Pressure lost over ρ v²/2: an open ball valve 0.05, a sharp bend 1, a half-closed gate 2 to 5 (common practice, no source).", Required: true),
            new Key("bore", Size, "Bore its speed is reckoned in.", Required: true)),
        new("nozzle", "nozzle", null, "A nozzle into the open: all the speed of its jet is lost to the board.",
            new Key("nozzle", Size, "Bore of its mouth.", Required: true)),
    ];

    private static readonly Alternative[] Electric =
    [
        new("battery", "battery", null, "A battery that lifts the voltage from its first node to its second.",
            new Key("battery", DirectVoltage, "Its voltage when nothing flows.", Required: true),
            new Key("internal resistance", Resistance, "Resistance inside it.", Default: "0 ohm")),
        new("resistor", "resistor", null, "A resistor.", new Key("resistor", Burden, "Its resistance.", Required: true)),
    ];

    private static readonly Alternative[] Magnetic =
    [
        new("ampere-turns", "ampere-turns", null, "A winding that lifts the magnetic potential from its first node to its second.", new Key("ampere-turns", AmpereTurns, "Turns times current.", Required: true)),
        new("path", "path", null, "A path of flux through matter or air.",
            new Key("path", Size, "Its length.", Required: true),
            new Key("area", Area, "Its section.", Required: true),
            new Key("of", Matter, "What it is made of.", Default: "air")),
        new("magnet", "magnet", null, "A magnet; flux leaves it at its second node.",
            new Key("magnet", Size, "Its length.", Required: true),
            new Key("area", Area, "Its section.", Required: true),
            new Key("of", Matter, "What it is made of: a material with a remanence.", Required: true)),
    ];

    private static readonly Alternative[] Heat =
    [
        new("kept above", "kept above", null, "Something that keeps its second node warmer than its first.", new Key("kept above", new QuantityKind("a temperature difference", "K", "40 K", Range.EitherSign(5000)), "How much warmer.", Required: true)),
        new("heater", "heater", null, "A heater: heat goes from its first node to its second.", new Key("heater", Power, "Its power.", Required: true)),
        new("bar", "bar", null, "A bar that heat goes along.",
            new Key("bar", Size, "Its length.", Required: true),
            new Key("area", Area, "Its section.", Required: true),
            new Key("of", Matter, "What it is made of.", Required: true)),
        new("heat resistance", "heat resistance", null, "Anything else that heat goes through.",
            new Key("heat resistance", new QuantityKind("a heat resistance", "K/W", "8 K/W", Range.Positive(1e9)), "Temperature difference for each watt.", Required: true)),
    ];

    /// <summary>The alternative of the file.</summary>
    public static Alternative Board { get; } = new("board apparatus", "symmetry", "board", "Elements joined at nodes: a board of water, electricity, flux or heat. Only what is joined to what matters.",
        new Key("board", new MappingKind("board", "The board.", [new("carries", new TextKind("what flows on it"), "What flows on it.", Required: true), new("ground", Node, "The node that potentials are counted against: the basin, the negative rail, the hall.", Default: "ground")],
            Of("water", "Water at 20 °C in pumps and pipes.", Water),
            Of("electric", "Direct current in batteries and resistors.", Electric),
            Of("magnetic", "Flux of windings and magnets in steel and air.", Magnetic),
            Of("heat", "Heat in bars; the ground is the hall.", Heat)), "The board.", Required: true),
        new Key("ball on jet", new MappingKind("ball on jet", "A ball that rides on the jet of a nozzle which points up.",
        [
            new("nozzle", new TextKind("the name of a nozzle"), "The nozzle.", Required: true),
            new("radius", Size, "Radius of the ball.", Required: true),
            new("mass", new QuantityKind("a mass", "kg", "2.7 g", Range.Positive(1e3)), "Mass of the ball.", Required: true),
        ]), "A ball on the jet of one of the nozzles."));

    private static Alternative Of(string word, string meaning, Alternative[] elements) => new(word + " board", "carries", word, meaning,
        new Key("elements", new NamedKind("elements, each under its name", new MappingKind(word + " element", $"An element of a board that carries {(word is "electric" ? "electricity" : word is "magnetic" ? "flux" : word)}.", Ends, elements), true), "The elements.", Required: true));

    /// <summary>The board of a file; null when it is another kind of file, or the board is not sound.</summary>
    public static Board? Read(Section file, MaterialsOfFile materials, List<Mistake> mistakes)
    {
        if (file.Inner("board") is not { Alternative: { } kind } section)
            return null;
        void Add(Bench.File.Node node, string finding, string expectation) => mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation));
        var domain = kind.Word switch { "water" => BoardDomain.Water, "electric" => BoardDomain.Electric, "magnetic" => BoardDomain.Magnetic, _ => BoardDomain.Heat };
        string ground = section.Text("ground") ?? "ground";
        var elements = new List<BoardElement>();
        foreach (var (name, value) in section.Entries("elements").Entries)
        {
            if (value is not Section { Whole: true } s || s.Alternative is null)
                continue;
            if (elements.Exists(e => Apparatus.Same(e.Name, name.Text)))
                Add(name, $"a second element '{name.Text}'", "a name of its own");
            else if (Apparatus.Same(s.Text("from")!, s.Text("to")!))
                Add(s.At("to"), $"'{name.Text}' ends where it starts", "two different nodes");
            else if (Element(name.Text, s, materials, Add) is { } element)
                elements.Add(element);
        }

        var board = new Board(domain, ground, elements);
        if (elements.Count > 0 && !board.Nodes.Contains(ground, StringComparer.OrdinalIgnoreCase))
            Add(section.At("ground"), $"no element ends at '{ground}'", "'ground' as the name of one of the nodes: " + Words.Or(board.Nodes));
        if (file.Inner("ball on jet") is { Whole: true } jet)
        {
            var nozzles = elements.OfType<FittingElement>().Where(f => f.IsNozzle).Select(f => f.Name).ToList();
            if (!nozzles.Contains(jet.Text("nozzle")!, StringComparer.OrdinalIgnoreCase))
                mistakes.Add(new Mistake(jet.At("nozzle").Line, jet.At("nozzle").Column, $"there is no nozzle '{Words.Shorten(jet.Text("nozzle")!)}'", nozzles.Count == 0 ? "a nozzle on the board" : Words.Or(nozzles), NearestWord.To(jet.Text("nozzle")!, nozzles)));
            else
                board = board with { Jet = new BallOnJet(jet.Text("nozzle")!, jet.Number("radius", 0), jet.Number("mass", 0)) };
        }

        return board;
    }

    private static BoardElement? Element(string name, Section s, MaterialsOfFile materials, Action<Bench.File.Node, string, string> add)
    {
        string from = s.Text("from")!, to = s.Text("to")!;
        double N(string key) => s.Number(key, 0);
        Material? Of(Func<Material, bool> suits, string needs)
        {
            if (s.Phrase("of") is not { } word)
                return Materials.Air;
            var found = Inputs.FindMaterial(word.Text, materials.Own);
            if (found is null)
                add(word.Node, $"no material is called '{Words.Shorten(word.Text)}'", "a material of the file's own, or a known one");
            else if (!suits(found))
                add(word.Node, $"'{found.Name}' has no {needs}", $"a material with a {needs}");
            return found is not null && suits(found) ? found : null;
        }

        switch (s.Alternative!.Marker)
        {
            case "pump":
                return new DriveElement(name, from, to, N("pump"), s.Number("open flow") is { } open ? N("pump") / open : 0);
            case "battery":
                return new DriveElement(name, from, to, N("battery"), N("internal resistance"));
            case "ampere-turns" or "kept above":
                return new DriveElement(name, from, to, N(s.Alternative.Marker), 0);
            case "heater":
                return new FlowElement(name, from, to, N("heater"));
            case "resistor" or "heat resistance":
                return new StraightElement(name, from, to, N(s.Alternative.Marker));
            case "pipe":
                return new PipeElement(name, from, to, N("pipe"), N("length"), N("roughness"));
            case "fitting":
                return new FittingElement(name, from, to, N("bore"), N("fitting"), false);
            case "nozzle":
                return new FittingElement(name, from, to, N("nozzle"), 1, true);
            case "path":
                return Of(_ => true, "") is { } path ? new BarElement(name, from, to, N("path"), N("area"), path) : null;
            case "magnet":
                return Of(m => m.Remanence > 0, "remanence") is { } magnet ? new MagnetElement(name, from, to, N("magnet"), N("area"), magnet) : null;
            default:
                return Of(m => m.ThermalConductivity > 0, "thermal conductivity") is { } bar ? new BarElement(name, from, to, N("bar"), N("area"), bar) : null;
        }
    }
}

/// <summary>What may be turned on a board.</summary>
internal static class BoardInputs
{
    /// <summary>The name the ball of a jet goes by.</summary>
    public const string Ball = "ball";

    /// <summary>All kinds of input.</summary>
    public static IReadOnlyList<InputRule> All { get; } =
    [
        Of<DriveElement>("pressure", new QuantityKind("a pressure", "Pa", "20 kPa", Range.Positive(1e8)), "Pressure of a pump when nothing flows.", BoardDomain.Water, d => d.Lift, (d, v) => d with { Lift = v, Inner = d.Inner * v / d.Lift }),
        Of<DriveElement>("voltage", Voltage with { Alternating = false }, "Voltage of a battery on a board.", BoardDomain.Electric, d => d.Lift, (d, v) => d with { Lift = v }),
        Of<DriveElement>("internal resistance", Resistance, "Resistance inside a battery on a board.", BoardDomain.Electric, d => d.Inner, (d, v) => d with { Inner = v }),
        Of<DriveElement>("ampere-turns", new QuantityKind("ampere-turns", "A", "300 A", Range.EitherSign(1e9)), "Ampere-turns on a board.", BoardDomain.Magnetic, d => d.Lift, (d, v) => d with { Lift = v }),
        Of<DriveElement>("difference", new QuantityKind("a temperature difference", "K", "40 K", Range.EitherSign(5000)), "How much warmer one node of a board is kept.", BoardDomain.Heat, d => d.Lift, (d, v) => d with { Lift = v }),
        Of<FlowElement>("power", new QuantityKind("a power", "W", "5 W", Range.EitherSign(1e9)), "Power of a heater on a board.", BoardDomain.Heat, f => f.Flow, (f, v) => f with { Flow = v }),
        Of<StraightElement>("resistance", Burden, "Resistance of a resistor on a board.", BoardDomain.Electric, r => r.Resistance, (r, v) => r with { Resistance = v }),
        Of<StraightElement>("heat resistance", new QuantityKind("a heat resistance", "K/W", "8 K/W", Range.Positive(1e9)), "Heat resistance on a board.", BoardDomain.Heat, r => r.Resistance, (r, v) => r with { Resistance = v }),
        Of<PipeElement>("bore", Size, "Bore of a pipe.", null, p => p.Bore, (p, v) => p with { Bore = v }),
        Of<FittingElement>("bore", Size, "Bore of a fitting or nozzle.", null, f => f.Bore, (f, v) => f with { Bore = v }),
        Of<PipeElement>("length", Size, "Length of a pipe.", null, p => p.Length, (p, v) => p with { Length = v }),
        Of<BarElement>("length", Size, "Length of a path or bar on a board.", null, b => b.Length, (b, v) => b with { Length = v }),
        Of<MagnetElement>("length", Size, "Length of a magnet on a board.", null, m => m.Length, (m, v) => m with { Length = v }),
        OfJet("radius", Size, "Radius of the ball on a jet.", j => j.Radius, (j, v) => j with { Radius = v }),
        OfJet("mass", new QuantityKind("a mass", "kg", "2.7 g", Range.Positive(1e3)), "Mass of the ball on a jet.", j => j.Mass, (j, v) => j with { Mass = v }),
    ];

    /// <summary>Names that inputs of a board go by.</summary>
    public static IEnumerable<string> Owners(Board? board) => board is null ? [] : [.. board.Elements.Select(e => e.Name), .. board.Jet is null ? [] : (string[])[Ball]];

    private static InputRule Of<T>(string quantity, ValueKind kind, string meaning, BoardDomain? domain, Func<T, double> get, Func<T, double, T> set) where T : BoardElement =>
        new(quantity, "of", kind, meaning, (a, owner) => a.Board is { } board && (domain is null || board.Domain == domain) && board.Element(owner) is T element
            ? new Slot(get(element), v => a with { Board = board with { Elements = InputRules.Swapped(board.Elements, element, set(element, v)) } }) : null);

    private static InputRule OfJet(string quantity, ValueKind kind, string meaning, Func<BallOnJet, double> get, Func<BallOnJet, double, BallOnJet> set) =>
        new(quantity, "of", kind, meaning, (a, owner) => Apparatus.Same(owner, Ball) && a.Board is { Jet: { } jet } board
            ? new Slot(get(jet), v => a with { Board = board with { Jet = set(jet, v) } }) : null);
}
