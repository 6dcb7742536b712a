using System.Diagnostics.CodeAnalysis;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;

namespace Fieldwright.Bench.File;

/// <summary>An input of an apparatus: what may be turned, doubted, set in a state or asked about.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Value">Where it stands, SI, alternating currents and voltages peak; null when the file leaves it open or it takes a word.</param>
/// <param name="Word">The word it stands at, for an input that takes one; otherwise null.</param>
/// <param name="Unit">The unit people read it in; empty for a bare number or a word.</param>
/// <param name="Meaning">One sentence on it.</param>
public sealed record Input(InputName Name, double? Value, string? Word, string Unit, string Meaning);

/// <summary>Inputs by name: which there are, reading them, and applying settings.</summary>
public static class Inputs
{
    /// <summary>Every input of an apparatus, dials or not.</summary>
    /// <param name="apparatus">The apparatus.</param>
    public static IReadOnlyList<Input> Of(Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return [.. Owners(apparatus).SelectMany(owner => InputRules.All.Select(rule => (owner, rule, Slot: rule.Find(apparatus, owner))))
            .Where(i => i.Slot is not null)
            .Select(i => new Input(i.rule.Of(i.owner), i.Slot!.Value, i.rule.TakesWord ? apparatus.Part(i.owner)?.Material.Name : null, i.rule.ShownUnit, i.rule.Meaning))];
    }

    /// <summary>The apparatus with settings applied one after another; the one given is not changed.</summary>
    /// <param name="apparatus">The apparatus, which makes sense as it is.</param>
    /// <param name="settings">The settings.</param>
    /// <exception cref="ArgumentException">An input is not one of this apparatus, a value is not allowed, or the apparatus makes no sense with it.</exception>
    public static Apparatus Apply(Apparatus apparatus, IEnumerable<Setting> settings)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(settings);
        var turned = ApplyUnchecked(apparatus, settings);
        if (Sense.Of(turned, apparatus) is [var slip, ..])
            throw new ArgumentException($"{slip.Finding}; expected {slip.Expectation}", nameof(settings));
        return turned;
    }

    /// <summary>Reads a setting such as <c>current in inner=18 A</c>.</summary>
    /// <param name="text">The text.</param>
    /// <param name="apparatus">The apparatus it is for.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="mistake">What is wrong; its column counts within the text.</param>
    /// <returns>Whether it could be read and makes sense.</returns>
    public static bool TryRead(string text, Apparatus apparatus, [NotNullWhen(true)] out Setting? setting, [NotNullWhen(false)] out Mistake? mistake)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(apparatus);
        setting = null;
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals < 0)
        {
            mistake = new Mistake(1, 1, $"'{Words.Shorten(text)}' sets nothing", "an input, an equals sign and a value, such as current in inner=18 A");
            return false;
        }

        return TryReadName(text[..equals], apparatus, out var name, out mistake)
            && TryReadValue(name, text[(equals + 1)..], apparatus, 1, equals + 2, true, out setting, out mistake);
    }

    /// <summary>Reads the name of an input such as <c>gap in core</c>.</summary>
    /// <param name="text">The text.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    /// <param name="name">The name, as people write it.</param>
    /// <param name="mistake">What is wrong; its column counts within the text.</param>
    /// <returns>Whether the apparatus has that input.</returns>
    public static bool TryReadName(string text, Apparatus apparatus, [NotNullWhen(true)] out InputName? name, [NotNullWhen(false)] out Mistake? mistake)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(apparatus);
        string[] words = text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        int link = Array.FindIndex(words, w => w is "of" or "in");
        if (link <= 0 || link == words.Length - 1)
        {
            name = null;
            mistake = new Mistake(1, 1, $"'{Words.Shorten(text)}' names no input", "an input and whose it is, such as current in inner or height of disc");
            return false;
        }

        return TryName(string.Join(' ', words[..link]), string.Join(' ', words[(link + 1)..]), apparatus, out name, out mistake);
    }

    /// <summary>A value of an input as people write it, with its unit; alternating currents and voltages as rms.</summary>
    /// <param name="input">The input.</param>
    /// <param name="value">The value, SI, alternating values peak.</param>
    /// <param name="apparatus">The apparatus it belongs to.</param>
    public static string Write(InputName input, double value, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        var (rule, slot) = Find(input, apparatus) ?? throw NotThere(input);
        string unit = apparatus.Dials.FirstOrDefault(d => Apparatus.Same(d.Input.Text, input.Text))?.Unit ?? rule.ShownUnit;
        return Units.WriteSi(slot.Swings ? value / Math.Sqrt(2) : value, unit);
    }

    internal static Apparatus ApplyUnchecked(Apparatus apparatus, IEnumerable<Setting> settings)
    {
        var turned = apparatus;
        foreach (var setting in settings)
        {
            var (rule, slot) = Find(setting.Input, turned) ?? throw NotThere(setting.Input);
            if (rule.TakesWord)
                turned = OfMaterial(turned, setting);
            else if (rule.Range.Holds(setting.Value / (slot.Swings ? Math.Sqrt(2) : 1) / Units.ValueOf(rule.Unit)))
                turned = slot.With(setting.Value);
            else
                throw new ArgumentOutOfRangeException(nameof(settings), setting.Value, $"'{setting.Input.Text}' must be {rule.Kind.Expectation} within its range");
        }

        return turned;
    }

    internal static bool TryName(string quantity, string owner, Apparatus apparatus, [NotNullWhen(true)] out InputName? name, [NotNullWhen(false)] out Mistake? mistake)
    {
        (name, mistake) = (null, null);
        var owners = Owners(apparatus).ToList();
        string? known = owners.Find(o => Apparatus.Same(o, owner));
        var named = InputRules.All.Where(r => Apparatus.Same(r.Quantity, quantity)).ToList();
        if (known is null)
            mistake = new Mistake(1, 1, $"there is no '{Words.Shorten(owner)}' in this apparatus", Words.Or(owners), NearestWord.To(owner, owners));
        else if (named.Find(r => r.Find(apparatus, known) is not null) is { } rule)
            name = rule.Of(known);
        else
        {
            var its = InputRules.All.Where(r => r.Find(apparatus, known) is not null).Select(r => r.Of(known).Text).ToList();
            string? near = NearestWord.To(quantity, InputRules.All.Where(r => r.Find(apparatus, known) is not null).Select(r => r.Quantity));
            mistake = new Mistake(1, 1, $"'{known}' has no input '{Words.Shorten(quantity)}'", its.Count == 0 ? "another owner: nothing of it can be turned" : Words.Or(its),
                near is null ? null : its[InputRules.All.Where(r => r.Find(apparatus, known) is not null).ToList().FindIndex(r => r.Quantity == near)]);
        }

        return name is not null;
    }

    internal static bool TryReadValue(
        InputName name, string text, Apparatus apparatus, int line, int column, bool mustStand,
        [NotNullWhen(true)] out Setting? setting, [NotNullWhen(false)] out Mistake? mistake)
    {
        (setting, mistake) = (null, null);
        var (rule, slot) = Find(name, apparatus) ?? throw NotThere(name);
        text = text.Trim();
        if (rule.TakesWord)
        {
            if (FindMaterial(text, apparatus.Materials) is { } material)
                setting = new Setting(name, double.NaN, material.Name);
            else
                mistake = UnknownMaterial(text, apparatus.Materials, line, column);
            return setting is not null && (!mustStand || Makes(setting, apparatus, line, column, out mistake));
        }

        string bare = text;
        var swing = slot.Swings ? Units.TakeSwing(ref bare) : Swing.Unsaid;
        if (!Units.TryRead(bare, rule.Unit, out double value, out string problem))
        {
            mistake = new Mistake(line, column, problem, rule.Kind.Expectation);
            return false;
        }

        if (!rule.Range.Holds(value / Units.ValueOf(rule.Unit)))
        {
            mistake = new Mistake(line, column, $"'{Words.Shorten(text)}' is not allowed for {name.Text}", $"{rule.Kind.Expectation}, {Between(rule)}");
            return false;
        }

        setting = new Setting(name, slot.Swings && swing != Swing.Peak ? value * Math.Sqrt(2) : value);
        return !mustStand || Makes(setting, apparatus, line, column, out mistake);
    }

    internal static (InputRule Rule, Slot Slot)? Find(InputName name, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(name);
        foreach (var rule in InputRules.All)
            if (Apparatus.Same(rule.Quantity, name.Quantity) && rule.Find(apparatus, name.Owner) is { } slot)
                return (rule, slot);
        return null;
    }

    internal static IEnumerable<string> Owners(Apparatus apparatus) =>
        [.. apparatus.Parts.Select(p => p.Name), .. apparatus.Windings.Select(w => w.Name), .. apparatus.Polyphases().Where(p => p.Phases > 1).Select(p => p.Name), .. apparatus.Supplies.Select(s => s.Name), .. apparatus.Loads.Select(l => l.Name), .. apparatus.Box is null ? [] : BoxInputs.Owners, .. BoardInputs.Owners(apparatus.Board), Names.Hall];

    internal static Mistake UnknownMaterial(string text, IEnumerable<Material> own, int line, int column) => new(
        line, column, $"no material is called '{Words.Shorten(text)}'", "a material of the file's own, or a known one such as copper, aluminium 1050 or mild steel",
        NearestWord.To(text, own.Concat(Materials.All).Select(m => m.Name)));

    internal static Material? FindMaterial(string name, IEnumerable<Material> own) => own.FirstOrDefault(m => Apparatus.Same(m.Name, name)) ?? Materials.Find(name);

    private static bool Makes(Setting setting, Apparatus apparatus, int line, int column, [NotNullWhen(false)] out Mistake? mistake)
    {
        mistake = null;
        var slips = Sense.Of(ApplyUnchecked(apparatus, [setting]));
        if (slips.Count == 0)
            return true;
        // What made no sense before is not this setting's fault.
        var before = Sense.Of(apparatus).Select(s => s.Finding).ToHashSet();
        if (slips.FirstOrDefault(s => !before.Contains(s.Finding)) is { } slip)
            mistake = new Mistake(line, column, $"with this {slip.Finding}", slip.Expectation);
        return mistake is null;
    }

    private static Apparatus OfMaterial(Apparatus apparatus, Setting setting)
    {
        var part = apparatus.Part(setting.Input.Owner)!;
        var material = FindMaterial(setting.Word ?? "", apparatus.Materials) ?? throw new ArgumentException($"No material is called '{setting.Word}'.", nameof(setting));
        return apparatus with { Parts = [.. apparatus.Parts.Select(p => ReferenceEquals(p, part) ? p with { Material = material } : p)] };
    }

    private static string Between(InputRule rule) =>
        $"{(rule.Range.LeastAllowed ? "at least" : "above")} {Units.Write(rule.Range.Least, rule.Unit)} and at most {Units.Write(rule.Range.Most, rule.Unit)}";

    private static ArgumentException NotThere(InputName input) => new($"The apparatus has no input '{input.Text}'.", nameof(input));
}
