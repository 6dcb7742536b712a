using System.Diagnostics.CodeAnalysis;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Bench.Travelling;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>Reads measures as people write them: <c>lift on disc at height 5 mm</c>, <c>hottest winding after 30 s</c>.</summary>
public static class MeasureReader
{
    // A measure cut up: its words with the column each starts at.
    private readonly record struct Word(string Text, int Column);

    /// <summary>Reads a measure.</summary>
    /// <param name="text">The text.</param>
    /// <param name="apparatus">The apparatus it is asked of.</param>
    /// <param name="measure">The measure.</param>
    /// <param name="mistake">What is wrong; its column counts within the text.</param>
    /// <returns>Whether it could be read and means something for this apparatus.</returns>
    public static bool TryRead(string text, Apparatus apparatus, [NotNullWhen(true)] out Measure? measure, [NotNullWhen(false)] out Mistake? mistake)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(apparatus);
        measure = null;
        var words = Split(text);
        if (words.Count is 0 or > 100)
        {
            mistake = new Mistake(1, 1, words.Count == 0 ? "no measure was given" : "a measure of more than a hundred words", "a measure such as " + Example(apparatus));
            return false;
        }

        var kinds = MeasureCatalogue.Kinds.Where(k => StartsWith(words, Head(k))).ToList();
        if (kinds.Count == 0)
        {
            mistake = UnknownKind(words, apparatus);
            return false;
        }

        int headLength = kinds.Max(k => Head(k).Length);
        kinds = [.. kinds.Where(k => Head(k).Length == headLength)];
        int end = headLength;
        while (end < words.Count && words[end].Text is not ("at" or "after"))
            end++;
        return TrySubject(words[headLength..end], kinds, apparatus, out var kind, out string? subject, out string? other, out mistake)
            && TrySuffixes(words[end..], kind, subject, apparatus, out var conditions, out double? after, out bool atRest, out mistake)
            && MeansSomething(kind, subject, after, apparatus, out mistake)
            && Made(new Measure(kind.Name, subject, other, conditions, after, atRest, string.Join(' ', words.Select(w => w.Text))), out measure);
    }

    private static bool TrySubject(
        List<Word> words, List<MeasureKind> kinds, Apparatus apparatus,
        [NotNullWhen(true)] out MeasureKind? kind, out string? subject, out string? other, [NotNullWhen(false)] out Mistake? mistake)
    {
        (kind, subject, other, mistake) = (null, null, null, null);
        string text = Join(words);
        int column = words.Count > 0 ? words[0].Column : 1;
        if (kinds[0].Subject == SubjectKind.Nothing)
        {
            kind = kinds[0];
            if (words.Count > 0)
                mistake = new Mistake(1, column, $"'{Words.Shorten(text)}' after '{kind.Name}'", kind.NeedsTime ? "after and a time, such as after 30 s" : "nothing more");
            return mistake is null;
        }

        var candidates = kinds.SelectMany(k => MeasureCatalogue.Subjects(k.Subject, apparatus)).Distinct().ToList();
        string what = Words.Or(kinds.Select(k => Owner(k.Subject)).Distinct());
        if (kinds[0].Subject == SubjectKind.TwoWindings)
        {
            int and = words.FindIndex(w => w.Text == "and");
            string first = Join(words.Take(Math.Max(and, 0))), second = Join(words.Skip(and + 1));
            subject = Match(candidates, first);
            other = Match(candidates, second);
            if (and < 0)
                mistake = new Mistake(1, column, $"'{Words.Shorten(text)}' where two windings are asked for", "two windings joined by 'and'");
            else if (subject is null || other is null)
                mistake = Unknown(subject is null ? first : second, column, candidates, what, kinds[0], apparatus);
            else if (subject == other)
                mistake = new Mistake(1, column, $"'{subject}' twice", "two different windings");
            kind = kinds[0];
            return mistake is null;
        }

        subject = Match(candidates, text);
        string? found = subject;
        kind = kinds.Find(k => found is not null && MeasureCatalogue.Subjects(k.Subject, apparatus).Contains(found));
        if (kind is null)
            mistake = Unknown(text, column, candidates, what, kinds[0], apparatus);
        return kind is not null;
    }

    private static bool TrySuffixes(
        List<Word> words, MeasureKind kind, string? subject, Apparatus apparatus,
        out IReadOnlyList<Setting> conditions, out double? after, out bool atRest, [NotNullWhen(false)] out Mistake? mistake)
    {
        var settings = new List<Setting>();
        (conditions, after, atRest, mistake) = (settings, null, false, null);
        var turned = apparatus;
        for (int i = 0; i < words.Count;)
        {
            int next = words.FindIndex(i + 1, w => w.Text is "at" or "after");
            var piece = words[i..(next < 0 ? words.Count : next)];
            i += piece.Count;
            int column = piece[0].Column;
            if (piece[0].Text == "after")
            {
                if (!Units.TryRead(Join(piece.Skip(1)), "s", out double time, out string problem) || !(time >= 0 && time <= 1e9) || after is not null)
                {
                    mistake = new Mistake(1, column, after is not null ? "a second 'after'" : problem.Length > 0 ? problem : "a time that makes no sense", "a time of zero or more, such as after 30 s");
                    return false;
                }

                after = time;
            }
            else if (piece is [_, { Text: "rest" }])
                atRest = true;
            else if (TryCondition(piece, subject, turned, out var setting, out mistake))
            {
                settings.Add(setting);
                turned = Inputs.ApplyUnchecked(turned, [setting]);
            }
            else
                return false;
        }

        if (kind.NeedsTime && after is null)
            mistake = new Mistake(1, 1, $"'{kind.Name}' without a time", "after and a time, such as after 30 s");
        return mistake is null;
    }

    // at QUANTITY [of|in OWNER] VALUE
    private static bool TryCondition(List<Word> piece, string? subject, Apparatus apparatus, [NotNullWhen(true)] out Setting? setting, [NotNullWhen(false)] out Mistake? mistake)
    {
        setting = null;
        int column = piece[0].Column;
        var rest = piece[1..];
        var rule = InputRules.All.Where(r => StartsWith(rest, r.Quantity.Split(' '))).MaxBy(r => r.Quantity.Length);
        if (rule is null)
        {
            var quantities = InputRules.All.Select(r => r.Quantity).Distinct().ToList();
            mistake = new Mistake(1, column, $"'{Words.Shorten(Join(piece))}' sets no input", "at and an input with its value, such as at height 5 mm, or at rest", NearestWord.To(rest.Count > 0 ? rest[0].Text : "", [.. quantities, "rest"]));
            return false;
        }

        rest = rest[rule.Quantity.Split(' ').Length..];
        string? owner = subject;
        if (rest.Count > 0 && rest[0].Text is "of" or "in")
        {
            var after = rest[1..];
            owner = Inputs.Owners(apparatus).Where(o => StartsWith(after, o.Split(' '))).MaxBy(o => o.Length);
            if (owner is null)
            {
                mistake = new Mistake(1, column, $"there is no '{Words.Shorten(after.Count > 0 ? after[0].Text : "")}' in this apparatus", Words.Or(Inputs.Owners(apparatus)), after.Count > 0 ? NearestWord.To(after[0].Text, Inputs.Owners(apparatus)) : null);
                return false;
            }

            rest = after[owner.Split(' ').Length..];
        }

        if (owner is null)
        {
            mistake = new Mistake(1, column, $"'{rule.Quantity}' without saying whose", $"{rule.Quantity} {rule.Link} and a name");
            return false;
        }

        if (!Inputs.TryName(rule.Quantity, owner, apparatus, out var name, out mistake))
        {
            mistake = mistake with { Column = column };
            return false;
        }

        return Inputs.TryReadValue(name, Join(rest), apparatus, 1, rest.Count > 0 ? rest[0].Column : column, true, out setting, out mistake);
    }

    // What no apparatus of this make could answer is a mistake of the file, not of a route.
    private static bool MeansSomething(MeasureKind kind, string? subject, double? after, Apparatus apparatus, [NotNullWhen(false)] out Mistake? mistake)
    {
        mistake = null;
        var family = Routes.MeasureFamily.Of(kind);
        if (after is not null && !kind.NeedsTime)
            mistake = new Mistake(1, 1, $"'{kind.Name}' with a time", "no 'after': it does not change with time here");
        else if (family is not null)
            mistake = family.Missing(kind, subject, apparatus) is { } missing ? new Mistake(1, 1, $"{kind.Name}{(subject is null ? "" : $" {kind.Link} '{subject}'")}, which means nothing here", missing) : null;
        else if (kind.Subject == SubjectKind.Part && apparatus.Part(subject!) is { } part)
        {
            if (kind.Name is "rest height" or "vertical stiffness" or "swing period" or "height" or "speed" && part.Freedom is not (Freedom.UpAndDown or Freedom.Freely))
                mistake = new Mistake(1, 1, $"{kind.Name} of '{part.Name}', which is not free to move up and down", $"'moves: up and down' on '{part.Name}'");
            else if (TravelMeasures.MakesSense(kind, part, apparatus) == false)
                mistake = new Mistake(1, 1, $"{kind.Name} {kind.Link} '{part.Name}'", TravelMeasures.Asks(kind));
            else if (kind.Name is "flux" or "flux density" or "pull across gap" && part.Shape is not CoreShape)
                mistake = new Mistake(1, 1, $"{kind.Name} in '{part.Name}', which is {Words.A(part.Shape.Word)}", "a core");
            else if (FreeMeasures.Suits(kind, part, apparatus) == false)
                mistake = new Mistake(1, 1, $"{kind.Name} {kind.Link} '{part.Name}', which is {Words.A(part.Shape.Word)}{(part.Freedom == Freedom.Fixed ? " that is fixed" : "")}", "a part for which it means something: " + kind.Meaning);
        }
        else if (kind.Name is "current" or "copper loss" && kind.Subject == SubjectKind.Winding
            && apparatus.SupplyOf(subject!) is null && !apparatus.Loads.Any(l => Apparatus.Same(l.On, subject!)))
            mistake = new Mistake(1, 1, $"{kind.Name} {kind.Link} '{subject}', which nothing feeds and on which nothing hangs", "a supply that feeds it, or a load on it");
        else if (kind.Name is "brightness" && apparatus.Load(subject!)!.Kind != LoadKind.FilamentLamp)
            mistake = new Mistake(1, 1, $"brightness of '{subject}', which is no lamp", "a filament lamp");
        if (GasMeasures.Kinds.Contains(kind))
            mistake = Routes.BoxRun.Has(kind.Name, apparatus.Box) ? null
                : new Mistake(1, 1, $"{kind.Name} of an apparatus that has none", apparatus.Box is null ? "an apparatus whose symmetry is flat" : GasMeasures.NeedsOf(kind.Name));
        else if (mistake is null && kind.Name is not ("weight" or "resistance" or "inductance" or "mutual inductance" or "coupling") && family?.StandsAlone(kind) != true && apparatus.Supplies.Count == 0 && apparatus.Parts.All(p => p.Magnetised is null && p.Shape is not FoilLoopShape))
            mistake = new Mistake(1, 1, $"{kind.Name} where nothing drives the windings", "a supply, or a magnet");
        return mistake is null;
    }

    private static Mistake UnknownKind(List<Word> words, Apparatus apparatus)
    {
        string[] links = [.. MeasureCatalogue.Kinds.Select(k => k.Link).Where(l => l.Length > 0).Distinct()];
        int link = words.FindIndex(w => links.Contains(w.Text));
        string name = Join(link > 0 ? words.Take(link) : words);
        var same = MeasureCatalogue.Kinds.Where(k => k.Name == name).ToList();
        if (same.Count > 0)
            return new Mistake(1, link > 0 ? words[link].Column : 1, link > 0 ? $"'{name} {words[link].Text}'" : $"'{name}' of nothing",
                Words.Or(same.Select(k => $"'{k.Name} {k.Link}' and {Words.A(Owner(k.Subject))}")), same.Count == 1 ? $"{name} {same[0].Link}" : null);
        string? near = NearestWord.To(name, MeasureCatalogue.Kinds.Select(k => k.Name).Distinct());
        return new Mistake(1, 1, $"no measure is called '{Words.Shorten(name)}'", "a measure such as " + Example(apparatus), near);
    }

    private static Mistake Unknown(string text, int column, List<string> candidates, string what, MeasureKind kind, Apparatus apparatus)
    {
        string? known = Match([.. Inputs.Owners(apparatus)], text);
        string asked = $"{kind.Name} is asked {kind.Link} {Words.A(what)}";
        string choices = candidates.Count == 0 ? $"{Words.A(what)}, and this apparatus has none" : Words.Or(candidates);
        return known is null
            ? new Mistake(1, column, text.Length == 0 ? $"{kind.Name} {kind.Link} nothing" : $"there is no {what} '{Words.Shorten(text)}'", choices, NearestWord.To(text, candidates))
            : new Mistake(1, column, $"'{known}' is no {what}: {asked}", choices);
    }

    private static string Example(Apparatus apparatus)
    {
        var kind = MeasureCatalogue.Kinds.FirstOrDefault(k => k.Subject is SubjectKind.Part or SubjectKind.Winding && MeasureCatalogue.Subjects(k.Subject, apparatus).Any());
        return kind is null ? "hottest winding after 30 s" : kind.Write(MeasureCatalogue.Subjects(kind.Subject, apparatus).First());
    }

    private static string Owner(SubjectKind kind) => kind switch
    {
        SubjectKind.Part => "part",
        SubjectKind.Supply => "supply",
        SubjectKind.Load => "load",
        SubjectKind.Element => "element",
        SubjectKind.Node => "node",
        _ => "winding",
    };

    private static List<Word> Split(string text)
    {
        var words = new List<Word>();
        for (int i = 0; i < text.Length;)
        {
            if (char.IsWhiteSpace(text[i]))
            {
                i++;
                continue;
            }

            int start = i;
            while (i < text.Length && !char.IsWhiteSpace(text[i]))
                i++;
            words.Add(new Word(text[start..i], start + 1));
        }

        return words;
    }

    private static string[] Head(MeasureKind kind) => (kind.Name + (kind.Link.Length > 0 ? " " + kind.Link : "")).Split(' ');

    private static bool StartsWith(List<Word> words, string[] head) =>
        words.Count >= head.Length && head.Select((h, i) => Apparatus.Same(h, words[i].Text)).All(same => same);

    private static string Join(IEnumerable<Word> words) => string.Join(' ', words.Select(w => w.Text));

    private static string? Match(List<string> names, string text) => names.Find(n => Apparatus.Same(n, text));

    private static bool Made(Measure made, [NotNullWhen(true)] out Measure? measure)
    {
        measure = made;
        return true;
    }
}
