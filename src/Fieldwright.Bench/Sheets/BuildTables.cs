using System.Globalization;
using Fieldwright.Bench.Analogues;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Windings;
using Fieldwright.Matter;
using Fieldwright.Matter.Windings;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Sheets;

/// <summary>What to make, to wind, to connect and to buy. Positions are those of the balloons in the drawing: parts first, then windings, in file order.</summary>
internal static class BuildTables
{
    // Wire that goes to lead-outs and waste.
    private const double Spare = 1.1;

    /// <summary>The tables that have rows.</summary>
    public static IReadOnlyList<SheetTable> Of(WorstOf worst) =>
        [.. new[] { Parts(worst.Apparatus), Windings(worst.Apparatus), CoilTable.Of(worst.Apparatus), Supplies(worst), Dials(worst.Apparatus), ProtectionTable.Of(worst), Bill(worst) }.Where(t => t.Rows.Count > 0)];

    private static SheetTable Box(ParticleBox box)
    {
        var rows = new List<IReadOnlyList<string>>();
        void Row(string part, string sizes, string mass) => rows.Add([Position(rows.Count), part, sizes, mass]);
        Row(box.IsJoined ? "channel" : "box", Text($"{ShapeWords.Mm(box.Width)} {(box.IsJoined ? "once round " : "")}× {ShapeWords.Mm(box.Height)} inside, one disc deep, {(box.IsOpen ? "open" : "closed")} at the top, leaning {box.Tilt * 180 / Math.PI:0.#}° from flat"), "");
        Row(Text($"{box.Discs.Count:0} discs"), Text($"Ø {ShapeWords.Mm(2 * box.Discs.Radius)}, each alike{(box.Discs.Moment > 0 ? FormattableString.Invariant($", magnets of {box.Discs.Moment:0.###} A m² standing the same way up") : "")}"), Mass(box.Discs.Mass) + " each");
        if (box.Large is { } large)
            Row("large disc", Text($"Ø {ShapeWords.Mm(2 * large.Radius)}"), Mass(large.Mass));
        if (box.Lid is { } lid)
            Row("lid", Text($"{ShapeWords.Mm(box.Width)} wide, sliding, starts at {ShapeWords.Mm(lid.Height)}, pressed with {lid.Load:0.##} N"), Mass(lid.Mass));
        if (box.Floor is { } floor)
            Row("floor", Text($"shakes ± {ShapeWords.Mm(floor.Amplitude)} at {floor.Frequency:0.#} Hz{(floor.Speed == 0 ? "" : FormattableString.Invariant($", its surface travels at {1000 * floor.Speed:0.#} mm/s"))}"), "");
        return new SheetTable("What to make", ["", "part", "sizes in mm", "mass"], rows, "");
    }

    private static SheetTable Elements(Apparatus apparatus, Board board)
    {
        var words = DomainWords.Of(board.Domain);
        var told = LikenessStudy.Of(apparatus, null, words, words).Counterparts;
        var rows = board.Elements.Select((e, i) => (IReadOnlyList<string>)[e.Name, told[i].Is, e.From, e.To]).ToList();
        if (board.Jet is { } jet)
            rows.Add(["ball", Text($"Ø {ShapeWords.Mm(2 * jet.Radius)}, {Mass(jet.Mass)}"), "rides on " + jet.Nozzle, ""]);
        return new SheetTable("What to make", ["element", "what", "from", "to"], rows, Text($"'{board.Ground}' is where {words.Potential} counts from."));
    }

    private static SheetTable Parts(Apparatus apparatus) => apparatus.Box is { } box ? Box(box) : apparatus.Board is { } board ? Elements(apparatus, board) : new(
        "What to make",
        ["", "part", "shape and sizes", "where", "of", "mass", "moves"],
        [.. apparatus.Parts.Select((p, i) => (IReadOnlyList<string>)
        [
            Position(i), p.Name, ShapeWords.Of(p.Shape) + (p.Across is { } across ? Text($", {ShapeWords.Mm(across)} across") : ""), ShapeWords.Where(apparatus, p), p.Material.Name + (p.Laminated ? Text($", sheets, {100 * p.StackingFactor:0} % metal") : ""),
            p.Shape is IronPlaneShape or ProbeShape ? "" : Floats.MassIsKnown(p) ? Mass(Floats.Mass(p, apparatus.Depth)) : "not known", Moves(p),
        ])],
        (apparatus.Layout == Layout.Long && apparatus.Depth is { } depth ? Text($"Everything is {1e3 * depth:0.##} mm deep behind the page unless it says how far it reaches across. ") : "")
            + (apparatus.Parts.Any(p => p.Magnetised is not null) ? "Mark the north face of every magnet before it goes in." : ""));

    private static SheetTable Windings(Apparatus apparatus) => new(
        "What to wind",
        ["", "winding", "turns", "wire", "space", "layers", "length", "mass", "cold", "hot", "class"],
        [.. apparatus.Windings.Select((w, i) => Row(apparatus, w, apparatus.Parts.Count + i))],
        Text($"Layers are reckoned square; cold is at {Celsius(apparatus.Ambient):0} °C, hot at the limit of the class. Wind every coil the same way round and mark start S and finish F: a reversed one is turned round by its leads, as the wiring shows. Nominal wire may lie 2 % off (common practice, no source)."));

    private static IReadOnlyList<string> Row(Apparatus apparatus, Winding winding, int position)
    {
        double cold = Warming.Resistance(winding, apparatus), limit = InsulationClasses.Limit(winding.ThermalClass);
        double hot = cold * winding.Wire.Metal.ResistivityAt(limit) / winding.Wire.Metal.ResistivityAt(apparatus.Ambient);
        double length = Warming.WireLength(winding, apparatus);
        double section = winding.Wire.Twist * winding.Wire.Section;
        return
        [
            Position(position), winding.Name, winding.Space is PhaseSpace row ? Text($"{row.Of.CoilsOf(row.Phase)} × {winding.Turns:0.##}") : Text($"{winding.Turns:0.##}"), winding.Wire.Text, ShapeWords.Space(winding.Space), Layers(winding), Text($"{length:0.0} m"),
            winding.Wire.Metal.Density is { } density ? Mass(length * section * density) : "", Ohms(cold), Ohms(hot), winding.ThermalClass,
        ];
    }

    private static string Layers(Winding winding)
    {
        var (build, length) = WindingMeasures.Space(winding);
        var conductor = WindingMeasures.Conductor(winding);
        double room = WindingAnalysis.RoomIn(conductor, build, length);
        // What does not fit even nested is refused with the file.
        if (winding.Turns > room)
            return Text($"nested ({room:0} fit square)");
        var analysis = WindingAnalysis.In(conductor, winding.Turns, build, length, 1);
        return Text($"{analysis.Layers} of {analysis.TurnsPerLayer}");
    }

    private static SheetTable Supplies(WorstOf worst) => new(
        "What to set",
        ["supply", "source", "setting", "current", "power", "feeds"],
        [.. worst.Apparatus.Supplies.Select(s => (IReadOnlyList<string>)
        [
            s.Name, SupplyWords.Source(s), SupplyWords.Setting(worst, s),
            SupplyWords.Current(worst, s), SupplyWords.Power(worst, s), SupplyWords.Feeds(worst.Apparatus, s),
        ])],
        (worst.States.Count > 1 ? "The most over all states. " : "") + "Alternating values are rms." + (worst.Apparatus.Supplies.Any(s => s.ThreePhase) ? " Three-phase voltages are between two lines, currents those of a line." : ""));

    private static SheetTable Dials(Apparatus apparatus)
    {
        var inputs = apparatus.States.SelectMany(s => s.Settings).Select(s => s.Input).Concat(apparatus.Dials.Select(d => d.Input)).DistinctBy(i => i.Text, StringComparer.OrdinalIgnoreCase);
        string Written(Setting? s) => s is null ? "" : s.Word ?? File.Inputs.Write(s.Input, s.Value, apparatus);
        return new SheetTable(
            "What to turn",
            ["input", "turns from", "to", .. apparatus.States.Count == 0 ? ["stands at"] : apparatus.States.Select(s => s.Name)],
            [.. inputs.Select(input => Row(input, apparatus.Dials.FirstOrDefault(d => Apparatus.Same(d.Input.Text, input.Text))))],
            "");

        IReadOnlyList<string> Row(InputName input, Dial? dial) =>
        [
            input.Text, dial is null ? "" : File.Inputs.Write(input, dial.From, apparatus), dial is null ? "" : File.Inputs.Write(input, dial.To, apparatus),
            .. apparatus.States.Count == 0 ? [dial is null ? "" : File.Inputs.Write(input, dial.Now, apparatus)]
                : apparatus.States.Select(s => Written(s.Settings.FirstOrDefault(x => Apparatus.Same(x.Input.Text, input.Text)))),
        ];
    }

    private static SheetTable Bill(WorstOf worst)
    {
        var apparatus = worst.Apparatus;
        var rows = new List<IReadOnlyList<string>>();
        rows.AddRange(apparatus.Parts.Where(p => p.Shape is not ProbeShape).GroupBy(p => p.Material.Name).Select(g => (IReadOnlyList<string>)
            [g.Key, string.Join(", ", g.Select(p => Text($"{p.Name}: {ShapeWords.Of(p.Shape)}"))),
             g.All(Floats.MassIsKnown) ? Mass(g.Sum(p => Floats.Mass(p, apparatus.Depth))) : "not known"]));
        rows.AddRange(apparatus.Windings.GroupBy(w => w.Wire.Text).Select(g =>
        {
            var wire = g.First().Wire;
            // Litz is bought as a bundle, strands side by side as so many lengths of one wire.
            double length = Spare * g.Sum(w => Warming.WireLength(w, apparatus)), lengths = wire.Twist > 1 ? 1 : wire.Strands;
            double mass = length * wire.Twist * wire.Section * (wire.Metal.Density ?? 0);
            return (IReadOnlyList<string>)[g.Key.StartsWith("litz", StringComparison.Ordinal) ? g.Key : "wire " + g.Key, Text($"{Math.Ceiling(lengths * length):0} m for {string.Join(", ", Called(g))}, a tenth to spare"), mass > 0 ? Mass(mass) : ""];
        }));
        rows.AddRange(apparatus.Loads.Select(l => (IReadOnlyList<string>)[l.Name, LoadWords(l), ""]));
        rows.AddRange(apparatus.Supplies.SelectMany(s => SupplyWords.ToBuy(worst, s)).Select(b => (IReadOnlyList<string>)[b.Item, b.For, ""]));
        foreach (var channel in apparatus.Parts.Where(p => p.Shape is PumpChannelShape { Carries: not 0 }))
            rows.Add(["direct-current source", Text($"for '{channel.Name}', {Math.Abs(((PumpChannelShape)channel.Shape).Carries):0.#} A at a few volts, with bolted leads"), ""]);
        if (apparatus.Board is { Domain: BoardDomain.Water } water)
            rows.AddRange(Hoses(water));
        if (apparatus.Parts.Any(p => p.Shape is FoilLoopShape))
            rows.Add(["direct-current source", Text($"for the foil, {apparatus.Parts.Select(p => p.Shape).OfType<FoilLoopShape>().Max(f => Math.Abs(f.Carries)):0.#} A or more, with a push-button"), ""]);
        return new SheetTable("What to buy", ["item", "for", "mass"], rows, "");
    }

    private static IEnumerable<IReadOnlyList<string>> Hoses(Board board)
    {
        foreach (var bore in board.Elements.OfType<PipeElement>().GroupBy(p => p.Bore))
            yield return [Text($"tube of {ShapeWords.Mm(bore.Key)} mm bore"), Text($"{Spare * bore.Sum(p => p.Length):0.0#} m for {string.Join(", ", bore.Select(p => p.Name))}, a tenth to spare"), ""];
        foreach (var drive in board.Elements.OfType<DriveElement>())
            yield return [drive.Name, Text($"pump of {1e-3 * drive.Lift:0.#} kPa, or a tank raised to {Water.Head(drive.Lift):0.0#} m"), ""];
    }

    private static string LoadWords(Load load) => load.Kind switch
    {
        LoadKind.FilamentLamp => Text($"filament lamp {load.RatedVoltage:0.##} V {load.RatedPower:0.##} W on {load.On}"),
        LoadKind.Meter => Text($"meter of {load.Resistance:0.###} Ω on {load.On}"),
        _ => Text($"resistor of {load.Resistance:0.###} Ω on {load.On}"),
    };

    private static string Moves(Part part) => part.GoesWith is { } lead ? "with " + lead : part.Freedom switch
    {
        Freedom.UpAndDown => "up and down",
        Freedom.Sideways => "sideways",
        Freedom.Freely => "freely",
        Freedom.Turning => "turns",
        _ => part.Channel is not null ? "flows" : "fixed",
    };

    private static string Position(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static string Mass(double kilograms) => kilograms < 1 ? Text($"{1e3 * kilograms:0.#} g") : Text($"{kilograms:0.00} kg");

    private static string Ohms(double ohms) => ohms < 1 ? Text($"{1e3 * ohms:0.#} mΩ") : Text($"{ohms:0.00} Ω");
}
