using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Builds an apparatus from what was read, piece by piece, so that one broken piece does not hide the mistakes of the others.</summary>
/// <param name="file">The file as read.</param>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed class ApparatusBuilder(Section file, List<Mistake> mistakes)
{
    private readonly Dictionary<string, Scalar> names = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> broken = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>The apparatus of all sound pieces; null when not even its symmetry is known.</summary>
    public Apparatus? Build()
    {
        foreach (string section in (string[])["parts", "windings", "supplies", "loads"])
            foreach (var (name, _) in file.Entries(section).Entries)
                Claim(name);
        if (file.Alternative is not { } alternative)
            return null;
        var materials = new MaterialsOfFile(mistakes);
        materials.ReadAll(file.Entries("materials"));
        var pieces = new PiecesOfFile(materials, mistakes);
        var parts = Whole("parts", pieces.Part, pieces.Glance);
        List<Winding> windings = [.. Whole("windings", pieces.Winding, pieces.Glance).SelectMany(PolyphaseOfFile.PhasesOf)];
        foreach (var phase in windings.Select(w => w.Space).OfType<PhaseSpace>())
            ClaimPhase(phase);
        var apparatus = new Apparatus(
            file.Text("apparatus") ?? "", file.Text("about") ?? "",
            alternative.Word switch { "round" => Layout.Round, "long" => Layout.Long, "flat" => Layout.Flat, "board" => Layout.Board, _ => Layout.Free },
            file.Number("depth"), parts, windings, PolyphaseOfFile.Supplies(Whole("supplies", new SuppliesOfFile(mistakes).Supply), windings, file.Entries("supplies"), mistakes), Whole("loads", PiecesOfFile.Load), [], [], [], [],
            file.Inner("hall")?.Number("temperature") ?? PhysicalConstants.ZeroCelsius + 20,
            [.. file.List("acknowledged cautions").OfType<Phrase>().Select(p => p.Text)],
            materials.Own) { Box = BoxVocabulary.Read(file, mistakes), Board = BoardVocabulary.Read(file, materials, mistakes) };
        foreach (var slip in Sense.Of(apparatus))
        {
            // A coil on a core that is itself wrong, or not there, is spoken of elsewhere.
            if (apparatus.Winding(slip.Owner)?.Space is not LimbSpace limb || apparatus.Part(limb.Core) is not null)
                Add(names[slip.Owner], slip.Finding, slip.Expectation);
            broken.Add(slip.Owner);
        }

        CheckJoins(apparatus);
        broken.UnionWith(pieces.Unsound);
        apparatus = apparatus with { Parts = [.. parts.Where(p => !pieces.Unsound.Contains(p.Name))], Windings = [.. windings.Where(w => !pieces.Unsound.Contains(w.Name))] };
        apparatus = WithDials(apparatus);
        CheckSettings(apparatus);
        apparatus = apparatus with { States = States(apparatus), Doubts = Doubts(apparatus) };
        return apparatus with { Claims = [.. file.List("claims").OfType<Section>().Where(s => s.Whole).Select(s => OfClaim(s, apparatus)).OfType<Claim>()] };
    }

    private void Claim(Scalar name)
    {
        if (Apparatus.Same(name.Text, Names.Hall))
            Add(name, $"the name '{name.Text}'", "another name: this one is the room's");
        else if (!names.TryAdd(name.Text, name))
            Add(name, $"'{name.Text}' is the name of something else already", $"a name of its own; the other is in line {Words.Count(names[name.Text].Line)}");
    }

    // The phases of a winding go by its name and a letter.
    private void ClaimPhase(PhaseSpace phase)
    {
        string name = phase.Of.NameOf(phase.Phase);
        if (!Apparatus.Same(name, phase.Of.Name) && !names.TryAdd(name, names[phase.Of.Name]))
            Add(names[name], $"'{name}' is the name of a phase of '{phase.Of.Name}'", "another name");
    }

    private List<T> Whole<T>(string section, Func<string, Section, T?> read, Action<Section>? glance = null) where T : class
    {
        var pieces = new List<T>();
        foreach (var (name, value) in file.Entries(section).Entries)
            if (value is Section { Whole: true } whole && read(name.Text, whole) is { } piece)
                pieces.Add(piece);
            else
            {
                broken.Add(name.Text);
                if (value is Section { Whole: false } part)
                    glance?.Invoke(part);
            }

        return pieces;
    }

    // Supplies feed windings that are there, each winding has one supply at most, loads hang on windings, and all alternate alike.
    private void CheckJoins(Apparatus apparatus)
    {
        string[] windings = [.. file.Entries("windings").Entries.Select(w => w.Name.Text)];
        var fed = new Dictionary<string, string>(StringComparer.OrdinalIgnoreCase);
        foreach (var (name, value) in file.Entries("supplies").Entries)
            foreach (var winding in (value as Section)?.List("feeds").OfType<Phrase>() ?? [])
                if (!windings.Contains(winding.Text, StringComparer.OrdinalIgnoreCase))
                    Unknown(winding, "winding", windings);
                else if (!fed.TryAdd(winding.Text, name.Text))
                    Add(winding.Node, $"'{winding.Text}' is fed by '{fed[winding.Text]}' already", "one supply for each winding");
        var laden = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        foreach (var (name, value) in file.Entries("loads").Entries)
            if ((value as Section)?.Phrase("on") is { } winding)
            {
                if (!windings.Contains(winding.Text, StringComparer.OrdinalIgnoreCase))
                    Unknown(winding, "winding", windings);
                else if (fed.TryGetValue(winding.Text, out string? supply))
                    Add(winding.Node, $"'{winding.Text}' is fed by '{supply}', so nothing can hang on it", "a winding without a supply");
                else if (!laden.Add(winding.Text))
                    Add(winding.Node, $"a second load on '{winding.Text}'", "one load for each winding");
            }

        foreach (var (_, value) in file.Entries("windings").Entries)
            if ((value as Section)?.Phrase("on") is { } core)
            {
                string[] parts = [.. file.Entries("parts").Entries.Select(p => p.Name.Text)];
                if (!parts.Contains(core.Text, StringComparer.OrdinalIgnoreCase))
                    Unknown(core, "part", parts);
            }

        foreach (var other in apparatus.Supplies.Where(s => s.Frequency != apparatus.Supplies[0].Frequency))
            Add(names[other.Name], $"'{other.Name}' has another frequency than '{apparatus.Supplies[0].Name}'", "one frequency for the whole apparatus");
    }

    private Apparatus WithDials(Apparatus apparatus)
    {
        var dials = new List<Dial>();
        var turned = apparatus;
        foreach (var (key, value) in file.Entries("dials").Entries)
        {
            if (ConcernsBroken(key.Text) || InputNamed(key, apparatus) is not { } name || value is not Section { Whole: true } section)
                continue;
            if (dials.Exists(d => d.Input == name))
            {
                Add(key, $"a second dial for '{name.Text}'", "one dial for each input");
                continue;
            }

            var (rule, slot) = Inputs.Find(name, turned)!.Value;
            if (rule.TakesWord)
            {
                Add(key, $"'{name.Text}' takes a word, so it cannot be turned", "an input with a number; set it in a state instead");
                continue;
            }

            if (Value(name, section.Phrase("from")!, apparatus, false) is not { } from || Value(name, section.Phrase("to")!, apparatus, false) is not { } to)
                continue;
            double? now = slot.Value;
            if (section.Phrase("now") is { } standing)
            {
                if (Value(name, standing, turned, true) is not { } set)
                    continue;
                now = set.Value;
                turned = Inputs.ApplyUnchecked(turned, [set]);
            }

            if (from.Value >= to.Value)
                Add(section.At("from"), $"the dial runs from '{section.Text("from")}' to '{section.Text("to")}'", "'from' below 'to'");
            else if (now is null)
                Add(key, $"nothing says where the dial '{name.Text}' stands", "now: a value between 'from' and 'to'");
            else if (now < from.Value || now > to.Value)
                Add(section.Has("now") ? section.At("now") : key, $"the dial stands at {Inputs.Write(name, now.Value, turned)}", $"a value between {section.Text("from")} and {section.Text("to")}");
            else
                dials.Add(new Dial(name, from.Value, to.Value, now.Value, Units.UnitIn(section.Text("from")!)));
        }

        return turned with { Dials = dials };
    }

    // Only now is it known whether a dial sets the transformer.
    private void CheckSettings(Apparatus apparatus)
    {
        foreach (var supply in apparatus.Supplies)
            if (supply is { Kind: SupplyKind.Mains, Voltage: null, Current: null } && !file.Entries("dials").Entries.Any(d => d.Name.Text.StartsWith("current", StringComparison.Ordinal) && d.Value is not Section { Whole: true }))
                Add(names[supply.Name], $"nothing says what the variable transformer of '{supply.Name}' is set to", "set to: a voltage, or a dial 'current in …' for one of its windings");
    }

    private List<State> States(Apparatus apparatus)
    {
        var states = new List<State>();
        foreach (var (name, value) in file.Entries("states").Entries)
        {
            var settings = new List<Setting>();
            var turned = apparatus;
            foreach (var (key, setting) in (value as Named)?.Entries ?? [])
                if (setting is Phrase phrase && !ConcernsBroken(key.Text) && InputNamed(key, turned) is { } input && Value(input, phrase, turned, true) is { } read)
                {
                    settings.Add(read);
                    turned = Inputs.ApplyUnchecked(turned, [read]);
                }

            states.Add(new State(name.Text, settings));
        }

        return states;
    }

    private List<Doubt> Doubts(Apparatus apparatus)
    {
        var doubts = new List<Doubt>();
        foreach (var (key, value) in file.Entries("doubts").Entries)
        {
            if (value is not Phrase phrase || ConcernsBroken(key.Text) || InputNamed(key, apparatus) is not { } name)
                continue;
            if (Tolerances.Read(name, phrase, apparatus, mistakes) is { } doubt)
                doubts.Add(doubt);
        }

        return doubts;
    }

    private Claim? OfClaim(Section section, Apparatus apparatus)
    {
        var phrase = section.Phrase("measure")!;
        string? state = section.Text("in");
        if (state is not null && !file.Entries("states").Entries.Any(s => Apparatus.Same(s.Name.Text, state)))
        {
            string[] known = [.. file.Entries("states").Entries.Select(s => s.Name.Text)];
            Add(section.At("in"), $"there is no state '{Words.Shorten(state)}'", known.Length == 0 ? "no 'in': the file has no states" : Words.Or(known), NearestWord.To(state, known));
        }

        if (ConcernsBroken(phrase.Text))
            return null;
        var there = apparatus.States.FirstOrDefault(s => Apparatus.Same(s.Name, state ?? "")) is { } found ? Inputs.ApplyUnchecked(apparatus, found.Settings) : apparatus;
        if (!MeasureReader.TryRead(phrase.Text, there, out var measure, out var mistake))
        {
            mistakes.Add(mistake with { Line = phrase.Node.Line, Column = phrase.Node.Column + (phrase.Node is Scalar { Quoted: true } ? 1 : 0) + mistake.Column - 1 });
            return null;
        }

        return Bounds.Read(section, MeasureCatalogue.KindOf(measure, there), apparatus, mistakes) is { } bound ? new Claim(section.Text("say")!, measure, bound, state) : null;
    }

    private InputName? InputNamed(Scalar key, Apparatus apparatus)
    {
        if (Inputs.TryReadName(key.Text, apparatus, out var name, out var mistake))
            return name;
        mistakes.Add(mistake with { Line = key.Line, Column = key.Column });
        return null;
    }

    private Setting? Value(InputName name, Phrase phrase, Apparatus apparatus, bool mustStand)
    {
        if (Inputs.TryReadValue(name, phrase.Text, apparatus, phrase.Node.Line, phrase.Node.Column, mustStand, out var setting, out var mistake))
            return setting;
        mistakes.Add(mistake);
        return null;
    }

    // Whatever speaks of a piece that is itself wrong is left alone: its own mistake comes first.
    private bool ConcernsBroken(string text) =>
        broken.Any(name => (" " + text + " ").Contains(" " + name + " ", StringComparison.OrdinalIgnoreCase));

    private void Unknown(Phrase name, string what, string[] known) => Add(name.Node, $"there is no {what} '{Words.Shorten(name.Text)}'",
        known.Length == 0 ? $"{Words.A(what)}, and this file has none" : Words.Or(known), NearestWord.To(name.Text, known));

    private void Add(Node node, string finding, string expectation, string? nearest = null) =>
        mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation, nearest));
}
