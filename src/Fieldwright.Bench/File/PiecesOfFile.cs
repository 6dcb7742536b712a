using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Builds parts, windings, supplies and loads, each from its own section.</summary>
/// <param name="materials">Materials by name.</param>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed class PiecesOfFile(MaterialsOfFile materials, List<Mistake> mistakes)
{
    private static readonly double RootTwo = Math.Sqrt(2);

    /// <summary>A part; null when its matter is not sound.</summary>
    public Part? Part(string name, Section s)
    {
        if (materials.Of(name, s.Values["of"]) is not { } material)
            return null;
        var at = s.Inner("at");
        if (s.Has("magnetised") && material.Remanence == 0)
        {
            Add(s.At("of"), $"'{material.Name}' has no remanence, so '{name}' is no magnet", "a magnet material, or no 'magnetised'");
            return null;
        }

        return new Part(
            name, Shape(s), new Place(at?.Number("x") ?? 0, at?.Number("y") ?? 0, at?.Number("z") ?? 0), material,
            s.Text("moves") switch { "up and down" => Freedom.UpAndDown, "sideways" => Freedom.Sideways, "freely" => Freedom.Freely, _ => Freedom.Fixed },
            s.Number("mass"), s.Has("laminated"), s.Inner("laminated")?.Number("stacking factor") ?? 1, s.Number("magnetised"), FreePieces.Attitude(s));
    }

    /// <summary>A winding; null when its wire is not sound.</summary>
    public Winding? Winding(string name, Section s) =>
        WireReader.Read(s.Phrase("wire")!, materials.Own, mistakes) is { } wire
            ? new Winding(name, s.Number("turns")!.Value, wire, Space(s), s.Text("sense") == "reversed", s.Text("insulation") ?? "B")
            : null;

    /// <summary>A supply; null when its pieces contradict one another.</summary>
    public Supply? Supply(string name, Section s)
    {
        string[] feeds = [.. s.List("feeds").OfType<Phrase>().Select(p => p.Text)];
        var connection = s.Text("connection") == "parallel" ? Connection.Parallel : Connection.Series;
        double phase = s.Number("phase", 0) * 180 / Math.PI, resistance = s.Number("internal resistance", 0);
        switch (s.Alternative!.Marker)
        {
            case "battery":
                return Peak(s, "battery", 0) is { } emf ? new Supply(name, SupplyKind.Battery, null, emf, null, 0, phase, resistance, null, null, feeds, connection) : null;
            case "current":
                double frequency = s.Number("frequency", 0);
                return Peak(s, "current", frequency) is { } current ? new Supply(name, SupplyKind.Current, current, null, null, frequency, phase, 0, null, null, feeds, connection) : null;
            default:
                return Mains(s) is var (line, volts)
                    ? new Supply(name, SupplyKind.Mains, null, volts, s.Has("through") ? line : null, s.Number("frequency")!.Value, phase, resistance, s.Text("through"), s.Text("breaker"), feeds, connection)
                    : null;
        }
    }

    /// <summary>A load; always sound by itself.</summary>
    public static Load? Load(string name, Section s) => s.Alternative!.Marker switch
    {
        "filament lamp" => Rms(s.Amount("filament lamp")!) is var rated ? new Load(name, LoadKind.FilamentLamp, s.Text("on")!, null, rated, s.Number("power")) : null,
        "resistor" => new Load(name, LoadKind.Resistor, s.Text("on")!, s.Number("resistor"), null, null),
        _ => new Load(name, LoadKind.Meter, s.Text("on")!, s.Number("meter"), null, null),
    };

    private (double Line, double? Volts)? Mains(Section s)
    {
        double frequency = s.Number("frequency")!.Value;
        string? through = s.Text("through");
        int before = mistakes.Count;
        if (frequency == 0)
            Add(s.At("frequency"), "mains of 0 Hz", "a frequency such as 50 Hz; direct current comes from a battery");
        if (s.Has("set to") && through != "variable transformer")
            Add(s.At("set to"), "'set to' without a variable transformer", "through: variable transformer");
        if (s.Has("giving") != (through == "safety transformer"))
            Add(s.At("giving"), s.Has("giving") ? "'giving' without a safety transformer" : "nothing says what voltage the safety transformer gives", s.Has("giving") ? "through: safety transformer" : "giving: a voltage such as 24 V");
        if (mistakes.Count > before || Peak(s, "mains", frequency) is not { } line)
            return null;
        return through switch
        {
            "variable transformer" => (line, s.Has("set to") ? Peak(s, "set to", frequency) : null),
            "safety transformer" => (line, Peak(s, "giving", frequency)),
            _ => (line, line),
        };
    }

    // Alternating values are rms unless peak is written; inside they are peak. Direct ones are neither.
    private double? Peak(Section s, string key, double frequency)
    {
        var amount = s.Amount(key)!;
        if (frequency > 0)
            return amount.Swing == Swing.Peak ? amount.Value : amount.Value * RootTwo;
        if (amount.Swing == Swing.Unsaid)
            return amount.Value;
        Add(amount.Node, $"{amount.Node.Describe()} of direct current", "a value without rms or peak, or a frequency beside it");
        return null;
    }

    private static double Rms(Amount amount) => amount.Swing == Swing.Peak ? amount.Value / RootTwo : amount.Value;

    private static Shape Shape(Section s)
    {
        double N(string key) => s.Number(key)!.Value;
        string word = s.Alternative!.Word!;
        return word switch
        {
            "ring" => new RingShape(N("inner radius"), N("outer radius"), N("thickness")),
            "tube" => new RingShape(N("inner radius"), N("outer radius"), N("length"), true),
            "ball" => new BallShape(N("radius"), s.Number("wall")),
            "core" => new CoreShape(N("inner radius"), N("outer radius"), s.Number("gap", 0), s.Number("gap at", 0) * 180 / Math.PI),
            "outline" => new OutlineShape([.. s.List("corners").Cast<Section>().Select(Corner)]),
            _ when FreePieces.Shape(s) is { } free => free,
            _ when s.Has("radius") => new DiscShape(N("radius"), word == "bar" ? N("length") : N("thickness"), word),
            _ => new RectangleShape(N("width"), N("thickness"), word),
        };
    }

    private static Corner Corner(Section s)
    {
        var (x, y) = s.Pair("at");
        return new Corner(x, y, s.Has("arc about") ? s.Pair("arc about") : null, s.Text("arc runs") != "clockwise");
    }

    private static WindingSpace Space(Section s)
    {
        double N(string key) => s.Number(key)!.Value;
        switch (s.Alternative!.Marker)
        {
            case "between radii":
                var (inner, outer) = s.Pair("between radii");
                return FreePieces.Placed(new RoundSpace(inner, outer, N("from z"), N("to z")), s);
            case "round opening":
                return FreePieces.Frame(s);
            case "on":
                return new LimbSpace(s.Text("on")!, N("centred at") * 180 / Math.PI, N("length"), N("build"), s.Number("clearance", 0));
            default:
                return new TwoSides(Side(s.Inner("out")!), Side(s.Inner("into")!));
        }
    }

    private static Box Side(Section s) => new(s.Number("x", 0), s.Number("y", 0), s.Number("width", 0), s.Number("height", 0));

    private void Add(Node node, string finding, string expectation) => mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation));
}
