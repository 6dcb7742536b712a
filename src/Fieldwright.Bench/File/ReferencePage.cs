using System.Text;
using Fieldwright.Bench.Claims;

namespace Fieldwright.Bench.File;

/// <summary>The reference page of apparatus files, written from the same vocabulary as the reader.</summary>
public static class ReferencePage
{
    /// <summary>The page, as Markdown with a line feed at its end.</summary>
    public static string Write()
    {
        var page = new StringBuilder();
        page.Append(Introduction);
        var done = new HashSet<MappingKind>(ReferenceEqualityComparer.Instance);
        WriteMapping(page, Vocabulary.File, "", done);
        WriteInputs(page);
        WriteMeasures(page);
        return page.ToString().TrimEnd('\n') + "\n";
    }

    private const string Introduction =
        """
        # The apparatus file

        This page is written from the program's own vocabulary; the same one checks every file and makes `apparatus.schema.json`.

        One YAML file holds one apparatus. Every value carries its unit (`65 mm`, `34 MS/m`, `20 °C`), in any spelling the SI knows. Alternating currents and
        voltages are rms unless `peak` is written behind them (`20 A peak`). Anchors, aliases and tags are not used. Names are your own: letters, digits, spaces
        and hyphens, beginning with a letter, without the words of, on, in, at, after, and, across, from, through, which join the words of measures. No two parts,
        windings, supplies or loads share a name; upper and lower case do not tell names apart.

        z points up in a round apparatus, and the place of a part there is the height of its underside. In a long apparatus x points right and y up in the
        cross-section, and the place of a part is its centre.


        """;

    private static void WriteMapping(StringBuilder page, MappingKind kind, string context, HashSet<MappingKind> done)
    {
        if (!done.Add(kind))
            return;
        page.Append(FormattableString.Invariant($"## {Title(kind.Name)}{(kind.Name is "part" or "winding" or "place" ? context : "")}\n\n{kind.Meaning}\n\n"));
        WriteKeys(page, kind.Keys.Where(k => kind.Alternatives.All(a => a.Word is null || a.Marker != k.Name)).ToList());
        foreach (var alternative in kind.Alternatives)
        {
            string marker = alternative.Word is null ? $"with `{alternative.Marker}`" : $"`{alternative.Marker}: {alternative.Word}`";
            page.Append(FormattableString.Invariant($"**{char.ToUpperInvariant(alternative.Name[0])}{alternative.Name[1..]}** ({marker}). {alternative.Meaning}\n\n"));
            WriteKeys(page, alternative.Keys);
        }

        foreach (var key in kind.Keys)
            WriteInner(page, key.Kind, context, done);
        foreach (var alternative in kind.Alternatives)
            foreach (var key in alternative.Keys)
                WriteInner(page, key.Kind, ReferenceEquals(kind, Vocabulary.File) ? $" of a {alternative.Name}" : context, done);
    }

    private static void WriteInner(StringBuilder page, ValueKind kind, string context, HashSet<MappingKind> done)
    {
        switch (kind)
        {
            case MappingKind mapping:
                WriteMapping(page, mapping, context, done);
                break;
            case NamedKind named:
                WriteInner(page, named.Item, context, done);
                break;
            case ListKind list:
                WriteInner(page, list.Item, context, done);
                break;
            case EitherKind either:
                WriteInner(page, either.InPlace, context, done);
                break;
        }
    }

    private static void WriteKeys(StringBuilder page, IReadOnlyList<Key> keys)
    {
        if (keys.Count == 0)
            return;
        page.Append("| key | value | meaning | when left out |\n|---|---|---|---|\n");
        foreach (var key in keys)
            page.Append(FormattableString.Invariant($"| `{key.Name}` | {Value(key.Kind)} | {key.Meaning} | {(key.Required ? "**must be there**" : key.Default ?? "")} |\n"));
        page.Append('\n');
    }

    private static void WriteInputs(StringBuilder page)
    {
        page.Append(
            """
            ## Inputs

            What dials turn, states set, doubts blur and measures fix (`lift on disc at height 5 mm`). Each is written with whose it is: `current in inner`.

            | input | value | meaning |
            |---|---|---|

            """);
        foreach (var same in InputRules.All.GroupBy(r => $"{r.Quantity} {r.Link}"))
            page.Append(FormattableString.Invariant($"| `{same.Key} …` | {Value(same.First().Kind)} | {string.Join(' ', same.Select(r => r.Meaning))} |\n"));
        page.Append('\n');
    }

    private static void WriteMeasures(StringBuilder page)
    {
        page.Append(
            """
            ## Measures

            What can be asked and claimed. Behind a measure may stand `at INPUT VALUE` (an input of the thing asked about, or with its owner: `at current in inner 18 A`),
            `at rest` (the floating part where it comes to rest) and, where the table says so, `after TIME`.

            | measure | unit | meaning |
            |---|---|---|

            """);
        foreach (var kind in MeasureCatalogue.Kinds)
            page.Append(FormattableString.Invariant($"| `{kind.Write(Subject(kind.Subject), kind.Subject == SubjectKind.TwoWindings ? "WINDING" : null, "TIME")}` | {kind.Unit} | {kind.Meaning} |\n"));
        page.Append('\n');
    }

    private static string Subject(SubjectKind kind) => kind switch
    {
        SubjectKind.Part => "PART",
        SubjectKind.Supply => "SUPPLY",
        SubjectKind.Load => "LOAD",
        SubjectKind.Element => "ELEMENT",
        SubjectKind.Node => "NODE",
        _ => "WINDING",
    };

    private static string Value(ValueKind kind) => kind is MappingKind mapping ? $"{Words.A(mapping.Name)}, see below" : kind.Expectation;

    private static string Title(string name) => char.ToUpperInvariant(name[0]) + name[1..];
}
