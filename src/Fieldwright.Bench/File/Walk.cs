using System.Globalization;
using System.Text.RegularExpressions;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Holds nodes against the vocabulary: what is right comes back as values, what is wrong is added to the mistakes.</summary>
/// <param name="mistakes">Where mistakes are gathered.</param>
internal sealed partial class Walk(List<Mistake> mistakes)
{
    /// <summary>Reads a node as one kind of value; null when it is none, and then a mistake says so. A section comes back even when parts of it are wrong.</summary>
    public Found? Read(ValueKind kind, Node node) => kind switch
    {
        MappingKind mapping => Mapping(mapping, node),
        NamedKind named => Named(named, node),
        ListKind list => List(list, node),
        EitherKind either => node is Mapping ? Mapping(either.InPlace, node) : Single(either, node),
        _ => Single(kind, node),
    };

    private Section? Mapping(MappingKind kind, Node node)
    {
        if (node is not Mapping mapping)
            return Wrong<Section>(node, node.Describe() + $" where {Words.A(kind.Name)} is described", kind.Expectation);
        int before = mistakes.Count;
        var alternative = Choose(kind, mapping);
        var keys = kind.Keys.Concat(alternative?.Keys ?? (IEnumerable<Key>)[]).ToList();
        string called = alternative?.Name ?? kind.Name;
        var values = new Dictionary<string, Found>(StringComparer.Ordinal);
        foreach (var (name, value) in mapping.Entries)
        {
            if (keys.Find(k => k.Name == name.Text) is { } key)
            {
                if (Read(key.Kind, value) is { } found)
                    values[name.Text] = found;
            }
            else
                Unknown(kind, alternative, keys, called, name);
        }

        foreach (var key in keys.Where(k => k.Required && mapping[k.Name] is null && !kind.Alternatives.Any(a => a.Marker == k.Name)))
            Add(node, $"'{key.Name}' is missing from {Words.A(called)}", $"{key.Name}: {key.Kind.Expectation}");
        return new Section(node, alternative, values, mistakes.Count == before);
    }

    private Alternative? Choose(MappingKind kind, Mapping mapping)
    {
        if (kind.Alternatives.Count == 0)
            return null;
        if (kind.Alternatives[0].Word is not null)
        {
            string marker = kind.Alternatives[0].Marker;
            var choices = kind.Alternatives.Select(a => a.Word!).ToList();
            if (mapping[marker] is not { } node)
            {
                Add(mapping, $"'{marker}' is missing from {Words.A(kind.Name)}", $"{marker}: {Words.Or(choices)}");
                return null;
            }

            string? word = (node as Scalar)?.Text;
            var chosen = kind.Alternatives.FirstOrDefault(a => a.Word == word);
            if (chosen is null)
                Add(node, $"{node.Describe()} is no {marker} that is known here", Words.Or(choices), word is null ? null : NearestWord.To(word, choices));
            return chosen;
        }

        var there = mapping.Entries.Select(e => (e.Key, Alternative: kind.Alternatives.FirstOrDefault(a => a.Marker == e.Key.Text))).Where(e => e.Alternative is not null).ToList();
        if (there.Count == 0)
        {
            var markers = kind.Alternatives.Select(a => a.Marker).ToList();
            string? near = mapping.Entries.Where(e => kind.Keys.All(k => k.Name != e.Key.Text)).Select(e => NearestWord.To(e.Key.Text, markers)).FirstOrDefault(n => n is not null);
            Add(mapping, $"nothing here says which kind of {kind.Name} it is", Words.Or(markers.Select(m => $"'{m}'")), near);
            return null;
        }

        if (there.Count > 1)
            Add(there[1].Key, $"both '{there[0].Key.Text}' and '{there[1].Key.Text}'", "one of them only");
        return there[0].Alternative;
    }

    private void Unknown(MappingKind kind, Alternative? alternative, List<Key> keys, string called, Scalar name)
    {
        if (kind.Replaced.TryGetValue(name.Text, out string? now))
        {
            Add(name, $"'{name.Text}' is no key of {Words.A(kind.Name)} any more", now);
            return;
        }

        if (kind.Alternatives.FirstOrDefault(a => a != alternative && a.Keys.Any(k => k.Name == name.Text)) is { } other)
        {
            // Without an alternative the mistake is that none was recognised, which is said already.
            if (alternative is not null && kind.Alternatives.All(a => a.Marker != name.Text))
                Add(name, $"'{name.Text}' is a key of {Words.A(other.Name)}, not of {Words.A(called)}", Words.Or(keys.Select(k => k.Name)), NearestWord.To(name.Text, keys.Select(k => k.Name)));
            return;
        }

        var known = alternative is null ? keys.Concat(kind.Alternatives.SelectMany(a => a.Keys)).ToList() : keys;
        Add(name, $"'{Words.Shorten(name.Text)}' is no key of {Words.A(called)}", Words.Or(known.Select(k => k.Name).Distinct()), NearestWord.To(name.Text, known.Select(k => k.Name)));
    }

    private Named? Named(NamedKind kind, Node node)
    {
        if (node is Scalar { IsEmpty: true })
            return new Named(node, []);
        if (node is not Mapping mapping)
            return Wrong<Named>(node, node.Describe(), kind.Expectation);
        if (mapping.Entries.Count > NamedKind.Most)
            return Wrong<Named>(node, $"{Words.Count(mapping.Entries.Count)} entries", $"{Words.Count(NamedKind.Most)} at most");
        var entries = new List<(Scalar, Found?)>();
        foreach (var (name, value) in mapping.Entries)
        {
            bool sound = !kind.Names || IsName(name);
            var found = Read(kind.Item, value);
            if (sound)
                entries.Add((name, found));
        }

        return new Named(node, entries);
    }

    private bool IsName(Scalar name)
    {
        string? joining = name.Text.Split(' ').FirstOrDefault(w => Names.Joining.Contains(w));
        if (joining is null && name.Text.Length <= 60 && NameForm().IsMatch(name.Text))
            return true;
        Add(name, joining is null ? $"'{Words.Shorten(name.Text)}' cannot be a name" : $"a name with the word '{joining}' in it",
            joining is null ? "a name of at most 60 letters, digits, spaces and hyphens that begins with a letter" : $"a name without {Words.Or(Names.Joining)}, which join the words of measures");
        return false;
    }

    private Items? List(ListKind kind, Node node)
    {
        var nodes = node switch
        {
            Sequence sequence => sequence.Items,
            Scalar { IsEmpty: false } when kind.OneAlone => [node],
            Scalar { IsEmpty: true } when kind.Least == 0 => [],
            _ => null,
        };
        if (nodes is null)
            return Wrong<Items>(node, node.Describe(), kind.Expectation);
        if (nodes.Count < kind.Least || nodes.Count > kind.Most)
            return Wrong<Items>(node, node.Describe(), kind.Expectation);
        var items = new Items(node, [.. nodes.Select(n => Read(kind.Item, n))]);
        return items.Whole || kind.Item is MappingKind ? items : null;
    }

    private Found? Single(ValueKind kind, Node node)
    {
        if (node is not Scalar scalar || scalar.IsEmpty)
            return Wrong<Found>(node, node.Describe(), kind.Expectation);
        string text = scalar.Text.Trim();
        switch (kind)
        {
            case ChoiceKind choice:
                return choice.Choices.Contains(text) ? new Phrase(node, text) : Wrong<Found>(node, node.Describe(), choice.Expectation, NearestWord.To(text, choice.Choices));
            case NumberKind number:
                if (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double bare))
                    return Wrong<Found>(node, node.Describe() + " is no bare number", number.Expectation);
                return InRange(node, bare, number.Range, number.What, "") ? new Amount(node, bare) : null;
            case QuantityKind quantity:
                return Quantity(quantity, scalar, text);
            case DirectionKind direction:
                if (direction.Named.TryGetValue(text, out double degrees))
                    return new Amount(node, degrees);
                if (!Units.TryRead(text, "deg", out double angle, out _))
                    return Wrong<Found>(node, node.Describe(), direction.Expectation, NearestWord.To(text, direction.Named.Keys));
                return new Amount(node, angle * 180 / Math.PI);
            case TextKind { Pattern: { } pattern } when !Regex.IsMatch(text, pattern, RegexOptions.CultureInvariant):
                return Wrong<Found>(node, node.Describe(), kind.Expectation);
            default:
                return text.Length == 0 ? Wrong<Found>(node, "an empty text", kind.Expectation) : new Phrase(node, text);
        }
    }

    private Amount? Quantity(QuantityKind kind, Scalar node, string text)
    {
        var swing = kind.Alternating ? Units.TakeSwing(ref text) : Swing.Unsaid;
        if (!Units.TryRead(text, kind.Unit, out double value, out string problem))
            return Wrong<Amount>(node, problem, kind.Expectation);
        double unit = Units.ValueOf(kind.Unit);
        return InRange(node, value / unit, kind.Range, kind.What, kind.Unit) ? new Amount(node, value, swing) : null;
    }

    private bool InRange(Node node, double value, Range range, string what, string unit)
    {
        if (range.Holds(value))
            return true;
        string wanted = value <= range.Least
            ? range.Least == 0 ? (range.LeastAllowed ? $"{what} of zero or more" : $"{what} above zero") : $"{what} of at least {Units.Write(range.Least, unit)}"
            : $"{what} of at most {Units.Write(range.Most, unit)}";
        Add(node, node.Describe() + (double.IsFinite(value) ? value == 0 ? " is zero" : value <= range.Least ? (value < 0 && range.Least == 0 ? " is negative" : " is too small") : " is out of all proportion" : " is not a finite number"), wanted);
        return false;
    }

    [GeneratedRegex(Vocabulary.NamePattern, RegexOptions.CultureInvariant)]
    private static partial Regex NameForm();

    private T? Wrong<T>(Node node, string finding, string expectation, string? nearest = null) where T : Found
    {
        Add(node, finding, expectation, nearest);
        return null;
    }

    private void Add(Node node, string finding, string expectation, string? nearest = null) =>
        mistakes.Add(new Mistake(node.Line, node.Column, finding, expectation, nearest));
}
