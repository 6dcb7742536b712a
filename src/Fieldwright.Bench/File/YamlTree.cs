using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace Fieldwright.Bench.File;

/// <summary>Reads YAML into nodes that know their place, within limits of size and depth. Anchors, aliases, tags and second documents are turned away.</summary>
internal sealed class YamlTree
{
    /// <summary>Longest file read, characters.</summary>
    public const int MostCharacters = 1 << 20;

    /// <summary>Deepest nesting read.</summary>
    public const int MostDepth = 16;

    private const int MostNodes = 100_000;

    private readonly List<Mistake> mistakes;
    private readonly Parser parser;
    private int nodes;

    private YamlTree(string text, List<Mistake> mistakes)
    {
        this.mistakes = mistakes;
        parser = new Parser(new StringReader(text));
    }

    /// <summary>The one document of a file; null when there is none that can be read, and then <paramref name="mistakes"/> says why.</summary>
    public static Node? Read(string text, List<Mistake> mistakes)
    {
        if (text.Length > MostCharacters)
        {
            mistakes.Add(new Mistake(1, 1, $"the file holds {Words.Count(text.Length)} characters", $"an apparatus file of at most {Words.Count(MostCharacters)}"));
            return null;
        }

        for (int i = 0; i < text.Length; i++)
            if (char.IsControl(text[i]) && text[i] is not ('\n' or '\r' or '\t' or '\u0085'))
            {
                var (line, column) = PlaceOf(text, i);
                mistakes.Add(new Mistake(line, column, $"a control character (code {Words.Count(text[i])})", "plain text"));
                return null;
            }

        var tree = new YamlTree(text, mistakes);
        try
        {
            return tree.Document();
        }
        catch (Stopped)
        {
            return null;
        }
        catch (YamlException e)
        {
            var (line, column) = e.Start.Line > 0 ? Place(e.Start) : tree.LastPlace();
            mistakes.Add(Unreadable(text, line, column, e.Message));
            return null;
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException or IndexOutOfRangeException or FormatException or OverflowException)
        {
            // The parser answers some unclosed brackets with bare exceptions that carry no place: the last event is the nearest we know.
            var (line, column) = tree.LastPlace();
            mistakes.Add(Unreadable(text, line, column, "something opened here is never closed"));
            return null;
        }
    }

    private static Mistake Unreadable(string text, int line, int column, string reason)
    {
        // The parser may blame the mapping that a tab stands in: the first tab from there on is the culprit.
        string[] lines = text.Split('\n');
        for (int i = line - 1; i < lines.Length && reason.Contains("tab", StringComparison.OrdinalIgnoreCase); i++)
            if (lines[i][..(lines[i].Length - lines[i].TrimStart().Length)].IndexOf('\t', StringComparison.Ordinal) is >= 0 and var tab)
                return new Mistake(i + 1, tab + 1, "a tab at the start of a line", "spaces: YAML is indented with spaces only");
        return new Mistake(line, column, "this is not YAML: " + Words.Shorten(reason.Trim().TrimEnd('.'), 120), "lines of 'key: value', mappings in {…} and lists in […], every bracket and quote closed");
    }

    private Node? Document()
    {
        parser.Consume<StreamStart>();
        if (parser.Accept<StreamEnd>(out _))
        {
            mistakes.Add(new Mistake(1, 1, "the file is empty", "an apparatus: 'apparatus: …', 'symmetry: …' and so on"));
            return null;
        }

        parser.Consume<DocumentStart>();
        var root = Read(0);
        parser.Consume<DocumentEnd>();
        if (parser.Accept<DocumentStart>(out var second))
            Add(second.Start, "a second document begins here", "one apparatus a file");
        return root;
    }

    private Node Read(int depth)
    {
        var start = parser.Current!.Start;
        if (++nodes > MostNodes)
            throw Stop(start, $"the file holds more than {Words.Count(MostNodes)} values", "an apparatus file");
        if (depth > MostDepth)
            throw Stop(start, $"nested more than {Words.Count(MostDepth)} deep", "an apparatus file, which needs a few levels only");
        if (parser.TryConsume<AnchorAlias>(out var alias))
            throw Stop(alias.Start, $"the alias '*{Words.Shorten(alias.Value.Value)}'", "the value itself: anchors and aliases are not used here");
        if (parser.Current is NodeEvent { Anchor.IsEmpty: false } anchored)
            throw Stop(anchored.Start, $"the anchor '&{Words.Shorten(anchored.Anchor.Value)}'", "the value itself: anchors and aliases are not used here");
        if (parser.Current is NodeEvent { Tag.IsEmpty: false } tagged)
            throw Stop(tagged.Start, $"the tag '{Words.Shorten(tagged.Tag.Value)}'", "the value itself: tags are not used here");
        var (line, column) = Place(start);
        if (parser.TryConsume<YamlDotNet.Core.Events.Scalar>(out var scalar))
            return new Scalar(scalar.Value, scalar.Style is not (ScalarStyle.Plain or ScalarStyle.Any), line, column);
        if (parser.TryConsume<SequenceStart>(out _))
        {
            var items = new List<Node>();
            while (!parser.TryConsume<SequenceEnd>(out _))
                items.Add(Read(depth + 1));
            return new Sequence(items, line, column);
        }

        parser.Consume<MappingStart>();
        return ReadMapping(depth, line, column);
    }

    private Mapping ReadMapping(int depth, int line, int column)
    {
        var entries = new List<(Scalar, Node)>();
        var first = new Dictionary<string, Scalar>(StringComparer.Ordinal);
        while (!parser.TryConsume<MappingEnd>(out _))
        {
            var key = Read(depth + 1);
            var value = Read(depth + 1);
            if (key is not Scalar name)
                mistakes.Add(new Mistake(key.Line, key.Column, $"{key.Describe()} used as a key", "a word as the key"));
            else if (first.TryGetValue(name.Text, out var before))
                mistakes.Add(new Mistake(name.Line, name.Column, $"'{Words.Shorten(name.Text)}' is here a second time", $"each key once; the first is in line {Words.Count(before.Line)}"));
            else
            {
                first.Add(name.Text, name);
                entries.Add((name, value));
            }
        }

        return new Mapping(entries, line, column);
    }

    private (int Line, int Column) LastPlace() => parser.Current is { } last ? Place(last.Start) : (1, 1);

    private static (int Line, int Column) Place(Mark mark) => ((int)Math.Max(1, mark.Line), (int)Math.Max(1, mark.Column));

    private static (int Line, int Column) PlaceOf(string text, int index)
    {
        int line = 1 + text.AsSpan(0, index).Count('\n');
        return (line, index - text.LastIndexOf('\n', Math.Max(0, index - 1)));
    }

    private void Add(Mark mark, string finding, string expectation)
    {
        var (line, column) = Place(mark);
        mistakes.Add(new Mistake(line, column, finding, expectation));
    }

    private Stopped Stop(Mark mark, string finding, string expectation)
    {
        Add(mark, finding, expectation);
        return new Stopped();
    }

    /// <summary>Leaves the reading of a file that has been turned away; never seen outside.</summary>
    private sealed class Stopped : Exception;
}
