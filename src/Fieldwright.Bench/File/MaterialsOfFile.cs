using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Builds the materials that a file gives itself, by name or in place.</summary>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed class MaterialsOfFile(List<Mistake> mistakes)
{
    private readonly List<Material> own = [];
    private readonly HashSet<string> named = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The file's own materials that are sound.</summary>
    public IReadOnlyList<Material> Own => own;

    /// <summary>Reads all materials under <c>materials:</c>.</summary>
    public void ReadAll(Named entries)
    {
        foreach (var (name, value) in entries.Entries)
        {
            named.Add(name.Text);
            if (Materials.Find(name.Text) is not null)
                Add(name, $"'{name.Text}' is the name of a known material", "another name, so that nobody takes one for the other");
            else if (own.Exists(m => Model.Apparatus.Same(m.Name, name.Text)))
                Add(name, $"'{name.Text}' is the name of another material already", "a name of its own");
            else if (value is Section { Whole: true } section && Read(name.Text, section) is { } material)
                own.Add(material);
        }
    }

    /// <summary>The material a part is made of; null when there is none such, and then a mistake says so, here or where the material is given.</summary>
    public Material? Of(string part, Found found)
    {
        if (found is Section section)
            return section.Whole ? Read(part + "'s own", section) : null;
        string name = ((Phrase)found).Text;
        var material = Inputs.FindMaterial(name, own);
        if (material is null && !named.Contains(name))
            mistakes.Add(Inputs.UnknownMaterial(name, own, found.Node.Line, found.Node.Column));
        return material;
    }

    private Material? Read(string name, Section section)
    {
        int before = mistakes.Count;
        if (section.Has("conductivity") && section.Has("resistivity"))
            Add(section.At("resistivity"), "both a conductivity and a resistivity", "one of them only");
        if (section.Has("relative permeability") && section.Has("magnetisation curve"))
            Add(section.At("magnetisation curve"), "both a relative permeability and a magnetisation curve", "one of them only");
        if (section.Has("remanence") && (section.Has("relative permeability") || section.Has("magnetisation curve")))
            Add(section.At("remanence"), "a remanence beside a permeability or a magnetisation curve", "a recoil permeability beside the remanence");
        if (section.Has("recoil permeability") && !section.Has("remanence"))
            Add(section.At("recoil permeability"), "a recoil permeability without a remanence", "a remanence, or a relative permeability");
        if (section.Has("knee") && !section.Has("remanence"))
            Add(section.At("knee"), "a knee without a remanence", "a remanence beside it, for only magnets have one");
        var curve = section.Inner("magnetisation curve") is { } table ? Curve(name, table) : null;
        return mistakes.Count > before ? null : new Material(name)
        {
            Conductivity = section.Number("conductivity") ?? (section.Number("resistivity") is { } resistivity ? 1 / resistivity : 0),
            TemperatureCoefficient = section.Number("temperature coefficient", 0),
            RelativePermeability = section.Has("remanence") ? section.Number("recoil permeability", 1.05) : section.Number("relative permeability", 1),
            Curve = curve,
            Remanence = section.Number("remanence", 0),
            Knee = section.Number("knee"),
            Density = section.Number("density"),
            SpecificHeat = section.Number("specific heat"),
            ThermalConductivity = section.Number("thermal conductivity"),
            MeltingPoint = section.Number("melting point"),
        };
    }

    private BhCurve? Curve(string name, Section table)
    {
        double? Unit(string key, string unit)
        {
            var phrase = table.Phrase(key)!;
            if (Units.TryRead("1 " + phrase.Text, unit, out double size, out _))
                return size;
            Add(phrase.Node, $"'{Words.Shorten(phrase.Text)}' is no unit of {key}", $"a unit such as {unit}");
            return null;
        }

        if (Unit("field strength", "A/m") is not { } h || Unit("flux density", "T") is not { } b)
            return null;
        var points = table.List("points").Cast<Items>().Select(p => (H: ((Amount)p.Values[0]!).Value * h, B: ((Amount)p.Values[1]!).Value * b, p.Node)).ToList();
        for (int i = 1; i < points.Count; i++)
            if (points[i].H <= points[i - 1].H || points[i].B <= points[i - 1].B)
            {
                Add(points[i].Node, "a point that does not lie above the one before it", "field strength and flux density that both rise from point to point");
                return null;
            }

        try
        {
            return BhCurve.Create(name, [.. points.Select(p => p.H)], [.. points.Select(p => p.B)]);
        }
        catch (ArgumentException)
        {
            Add(table.At("points"), "a magnetisation curve that cannot be used", "two points at least besides the origin, rising from it");
            return null;
        }
    }

    private void Add(Node node, string finding, string expectation) => mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation));
}
