using System.Globalization;
using System.Text.RegularExpressions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Studies;

/// <summary>An apparatus file at another size: every value that goes with the size is changed where it stands, so that order and comments stay.</summary>
internal sealed partial class ScaledFile
{
    private readonly record struct Edit(int Line, int Column, string Old, string Fresh);

    private readonly Apparatus apparatus;
    private readonly SizeLaw law;
    private readonly List<Edit> edits = [];
    private readonly List<string> notes = [];
    private string supply = "";

    private ScaledFile(Apparatus apparatus, SizeLaw law) => (this.apparatus, this.law) = (apparatus, law);

    /// <summary>The text of the scaled file, and what must be known about it.</summary>
    /// <param name="text">The text of the file, which must be right.</param>
    /// <param name="name">Its name, for the comment at the head.</param>
    /// <param name="apparatus">What it describes.</param>
    /// <param name="law">How everything goes with the size.</param>
    public static (string Text, IReadOnlyList<string> Notes) Of(string text, string name, Apparatus apparatus, SizeLaw law)
    {
        var root = (Mapping)YamlTree.Read(text, [])!;
        var file = new ScaledFile(apparatus, law);
        foreach (var (key, value) in root.Entries)
            file.Section(key.Text, value);
        string times = law.Factor.ToString("G6", CultureInfo.InvariantCulture);
        string head = $"# {name} made {times} times the size in every length; kept: {string.Join(", ", law.Asked)}. Comments are those of the original.\n";
        return (head + file.Apply(text), file.notes);
    }

    private void Section(string key, Node value)
    {
        switch (key)
        {
            case "apparatus" when value is Scalar name:
                string times = law.Factor.ToString("G4", CultureInfo.InvariantCulture);
                Replace(name, name.Text.Trim() + $" at {times} times the size");
                break;
            case "materials" or "hall" or "about":
                break;
            case "dials" when value is Mapping dials:
                foreach (var (input, dial) in dials.Entries)
                    if (dial is Mapping stops)
                        foreach (var stop in stops.Entries.Select(e => e.Value).OfType<Scalar>())
                            Input(input.Text, stop);
                break;
            case "states" when value is Mapping states:
                foreach (var (input, setting) in states.Entries.Select(s => s.Value).OfType<Mapping>().SelectMany(s => s.Entries))
                    if (setting is Scalar scalar)
                        Input(input.Text, scalar);
                break;
            case "doubts" when value is Mapping doubts:
                foreach (var (input, doubt) in doubts.Entries)
                    if (doubt is Scalar scalar && !scalar.Text.TrimEnd().EndsWith('%'))
                        Input(input.Text, scalar);
                break;
            case "claims" when value is Sequence claims:
                foreach (var claim in claims.Items.OfType<Mapping>())
                    Claim(claim);
                break;
            default:
                if (Keys(Vocabulary.File, null).FirstOrDefault(k => k.Name == key) is { } known)
                    Visit(known.Kind, value, key);
                break;
        }
    }

    private void Visit(ValueKind kind, Node node, string key)
    {
        switch (kind, node)
        {
            case (EitherKind, _):
                break;
            case (MappingKind mapping, Mapping its):
                var keys = Keys(mapping, its).ToList();
                foreach (var (name, value) in its.Entries)
                    if (keys.Find(k => k.Name == name.Text) is { } known && !StaysAsItIs(mapping, its, name.Text))
                        Visit(known.Kind, value, name.Text);
                break;
            case (NamedKind named, Mapping its):
                foreach (var (name, value) in its.Entries)
                {
                    supply = name.Text;
                    Visit(named.Item, value, name.Text);
                }

                break;
            case (ListKind list, Sequence its):
                foreach (var item in its.Items)
                    Visit(list.Item, item, key);
                break;
            case (ListKind list, Scalar):
                Visit(list.Item, node, key);
                break;
            case (QuantityKind quantity, Scalar scalar):
                Replace(scalar, Times(scalar.Text, law.FactorOf(quantity.Unit)));
                break;
            case (TextKind, Scalar scalar) when key == "wire" && apparatus.Winding(supply) is { } winding:
                var (text, share) = ScaledWire.Of(winding.Wire, law.Factor);
                if (Math.Abs(share - 1) > 0.02)
                    notes.Add(string.Create(CultureInfo.InvariantCulture, $"The wire of '{winding.Name}' comes in sizes: {text} has {100 * share:0} % of the section in proportion."));
                Replace(scalar, text);
                break;
        }
    }

    // The socket in the wall does not grow with the apparatus; what hangs behind a transformer may.
    private bool StaysAsItIs(MappingKind kind, Mapping node, string key)
    {
        if (kind.Name != "supply" || node["mains"] is null)
            return false;
        if (key == "mains" && node["through"] is not null)
            return true;
        if (key == "mains" && law.FactorOf("V") != 1)
            notes.Add($"'{supply}' must give another voltage than the socket does: a transformer is needed.");
        if (key == "frequency" && law.FactorOf("Hz") != 1)
            notes.Add($"'{supply}' must give another frequency than the socket does: a frequency converter of that power is needed.");
        return false;
    }

    private void Input(string input, Scalar value)
    {
        if (Inputs.TryReadName(input, apparatus, out var name, out _) && Inputs.Find(name, apparatus) is var (rule, _) && !rule.TakesWord)
            Replace(value, Times(value.Text, law.FactorOf(rule.Unit)));
    }

    private void Claim(Mapping claim)
    {
        if (claim["measure"] is not Scalar measure)
            return;
        var there = apparatus.States.FirstOrDefault(s => Apparatus.Same(s.Name, claim.TextOf("in") ?? "")) is { } state ? Inputs.ApplyUnchecked(apparatus, state.Settings) : apparatus;
        if (!MeasureReader.TryRead(measure.Text, there, out var read, out _))
            return;
        Replace(measure, WithConditions(measure.Text));
        double factor = BoundFactor(MeasureCatalogue.KindOf(read, there));
        foreach (string bound in (string[])["at least", "at most", "between", "about", "within"])
            foreach (var value in claim[bound] is Sequence pair ? pair.Items : claim[bound] is { } one ? [one] : [])
                if (value is Scalar scalar && !(bound == "within" && scalar.Text.TrimEnd().EndsWith('%')))
                    Replace(scalar, Times(scalar.Text, factor));
    }

    /// <summary>What a claim's bound is multiplied by: lengths, forces, stiffness, swings, fluxes and inductances are taken in proportion; what fingers, sockets,
    /// insulation and lamps set (temperatures, voltages, currents, powers, shares) stays as it was said.</summary>
    private double BoundFactor(MeasureKind kind) => kind.Unit is "mm" or "m" or "N" or "N/m" or "N m" or "ms" or "s" or "Wb" or "µWb" or "T" or "mH" or "H" ? law.FactorOf(kind.Unit) : 1;

    // 'after 30 s' is a time on the audience's clock and stays; what follows 'at' are inputs.
    private string WithConditions(string text)
    {
        int at = text.IndexOf(" at ", StringComparison.Ordinal);
        return at < 0 ? text : text[..at] + Amounts().Replace(text[at..], m => m.Groups["before"].Value == "after " ? m.Value
            : m.Groups["before"].Value + Times(m.Groups["amount"].Value, law.FactorOf(m.Groups["unit"].Value)));
    }

    private static IEnumerable<Key> Keys(MappingKind kind, Mapping? node) =>
        kind.Alternatives.Where(a => node is null || (a.Word is { } word ? node.TextOf(a.Marker) == word : node[a.Marker] is not null)).SelectMany(a => a.Keys).Concat(kind.Keys);

    // The number is changed; sign of tolerance, unit and what is said behind it stay.
    private static string Times(string text, double factor)
    {
        if (factor == 1)
            return text;
        string trimmed = text.Trim();
        var match = Number().Match(trimmed);
        if (!match.Success || trimmed.Length == match.Length)
            return text;
        double value = double.Parse(match.Groups["number"].Value, NumberStyles.Float, CultureInfo.InvariantCulture) * factor;
        return match.Groups["sign"].Value + value.ToString("G6", CultureInfo.InvariantCulture) + trimmed[match.Length..];
    }

    private void Replace(Scalar scalar, string fresh)
    {
        if (fresh != scalar.Text)
            edits.Add(new Edit(scalar.Line, scalar.Column + (scalar.Quoted ? 1 : 0), scalar.Text, fresh));
    }

    private string Apply(string text)
    {
        string[] lines = text.Split('\n');
        foreach (var edit in edits.OrderByDescending(e => e.Line).ThenByDescending(e => e.Column))
        {
            string line = lines[edit.Line - 1];
            int at = edit.Column - 1;
            if (string.CompareOrdinal(line, at, edit.Old, 0, edit.Old.Length) != 0)
                throw new InvalidOperationException($"Line {edit.Line.ToString(CultureInfo.InvariantCulture)}: '{Words.Shorten(edit.Old)}' is written over several lines or with escapes and cannot be changed in place; write it plainly.");
            lines[edit.Line - 1] = line[..at] + edit.Fresh + line[(at + edit.Old.Length)..];
        }

        return string.Join('\n', lines);
    }

    [GeneratedRegex(@"^(?<sign>(±|\+/-|\+-)\s*)?(?<number>[+-]?\d*\.?\d+([eE][+-]?\d+)?)", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Number();

    [GeneratedRegex(@"(?<before>after )?(?<amount>(?<![\w.])[+-]?\d*\.?\d+([eE][+-]?\d+)?\s*(?<unit>[^\s\d]+))", RegexOptions.CultureInvariant | RegexOptions.ExplicitCapture)]
    private static partial Regex Amounts();
}
