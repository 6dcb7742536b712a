using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Builds parts, windings and loads, each from its own section.</summary>
/// <param name="materials">Materials by name.</param>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed class PiecesOfFile(MaterialsOfFile materials, List<Mistake> mistakes)
{
    private static readonly double RootTwo = Math.Sqrt(2);

    // Finer than any wire, so that its turns fit wherever a coil may stand.
    private static readonly WireChoice Hair = new(1e-6, 1e-6, new Material(""), 1, "");
    private readonly HashSet<string> unsound = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Names of the pieces whose matter or wire is not sound. They are built all the same, so that their places and sizes are looked at too.</summary>
    public IReadOnlyCollection<string> Unsound => unsound;

    /// <summary>What can be said of a piece that lacks something, or has something that cannot be read: whether its matter or wire is known.</summary>
    public void Glance(Section s)
    {
        if (s.Values.TryGetValue("of", out var matter) && matter is Phrase)
            materials.Of("", matter);
        if (s.Values.TryGetValue("wire", out var wire) && wire is Phrase phrase)
            WireReader.Read(phrase, materials.Own, mistakes);
    }

    /// <summary>A part.</summary>
    public Part Part(string name, Section s)
    {
        var known = materials.Of(name, s.Values["of"]);
        var material = known ?? new Material(name);
        if (known is null)
            unsound.Add(name);
        var at = s.Inner("at");
        if (s.Has("magnetised") && known is { Remanence: 0 })
        {
            Add(s.At("of"), $"'{material.Name}' has no remanence, so '{name}' is no magnet", "a magnet material, or no 'magnetised'");
            unsound.Add(name);
        }

        return new Part(
            name, Shape(s), new Place(at?.Number("x") ?? 0, at?.Number("y") ?? 0, at?.Number("z") ?? 0), material,
            s.Text("moves") switch { "up and down" => Freedom.UpAndDown, "sideways" => Freedom.Sideways, "freely" => Freedom.Freely, "turning" => Freedom.Turning, _ => Freedom.Fixed },
            s.Number("mass"), s.Has("laminated"), s.Inner("laminated")?.Number("stacking factor") ?? 1, s.Number("magnetised"), FreePieces.Attitude(s)) {
            Emissivity = s.Number("emissivity"), Speed = s.Number("speed", 0), TurningSpeed = s.Number("turning speed", 0), Across = s.Number("width across"), GoesWith = s.Text("goes with"),
            Drag = s.Number("drag", 0), Mouth = s.Number("mouth"), Catcher = s.Number("catcher"), Channel = s.Inner("channel") is { } channel ? PolyphaseOfFile.Channel(channel) : null,
        };
    }

    /// <summary>A winding.</summary>
    public Winding Winding(string name, Section s)
    {
        var wire = WireReader.Read(s.Phrase("wire")!, materials.Own, mistakes);
        if (wire is null)
            unsound.Add(name);
        return new Winding(name, s.Number("turns")!.Value, wire ?? Hair, PolyphaseOfFile.Space(name, s) ?? Space(s), s.Text("sense") == "reversed", s.Text("insulation") ?? "B");
    }

    /// <summary>A load; always sound by itself.</summary>
    public static Load? Load(string name, Section s) => s.Alternative!.Marker switch
    {
        "filament lamp" => Rms(s.Amount("filament lamp")!) is var rated ? new Load(name, LoadKind.FilamentLamp, s.Text("on")!, null, rated, s.Number("power")) : null,
        "resistor" => new Load(name, LoadKind.Resistor, s.Text("on")!, s.Number("resistor"), null, null),
        _ => new Load(name, LoadKind.Meter, s.Text("on")!, s.Number("meter"), null, null),
    };

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
            "cylinder" => new CylinderShape(N("radius"), s.Number("bore", 0)),
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
