namespace Fieldwright.Bench.File;

/// <summary>A value that was read and is of the kind expected.</summary>
/// <param name="Node">Where it was read.</param>
internal abstract record Found(Node Node);

/// <summary>A word, a name or a phrase.</summary>
/// <param name="Node">Where it was read.</param>
/// <param name="Text">The text, blanks at its ends taken off.</param>
internal sealed record Phrase(Node Node, string Text) : Found(Node);

/// <summary>How an alternating value was written.</summary>
internal enum Swing
{
    /// <summary>Nothing was said: rms.</summary>
    Unsaid,

    /// <summary>As rms.</summary>
    Rms,

    /// <summary>As peak.</summary>
    Peak,
}

/// <summary>A number, SI when it has a unit.</summary>
/// <param name="Node">Where it was read.</param>
/// <param name="Value">The number as written; an alternating value is not yet made peak.</param>
/// <param name="Swing">How an alternating value was written.</param>
internal sealed record Amount(Node Node, double Value, Swing Swing = Swing.Unsaid) : Found(Node);

/// <summary>A list; an item that was wrong is null.</summary>
/// <param name="Node">Where it was read.</param>
/// <param name="Values">The items.</param>
internal sealed record Items(Node Node, IReadOnlyList<Found?> Values) : Found(Node)
{
    /// <summary>Whether every item is right.</summary>
    public bool Whole => Values.All(v => v is not (null or Section { Whole: false }));
}

/// <summary>A mapping under names or inputs; a value that was wrong is null.</summary>
/// <param name="Node">Where it was read.</param>
/// <param name="Entries">Names and values, in file order.</param>
internal sealed record Named(Node Node, IReadOnlyList<(Scalar Name, Found? Value)> Entries) : Found(Node)
{
    /// <summary>No entries at all, for a key that is not there.</summary>
    public static Named None { get; } = new(new Mapping([], 1, 1), []);
}

/// <summary>A mapping of known keys.</summary>
/// <param name="Node">Where it was read.</param>
/// <param name="Alternative">Which of its alternatives it is; null when it has none, or when none was recognised.</param>
/// <param name="Values">The values that were there and right.</param>
/// <param name="Whole">Whether nothing in it was wrong or missing.</param>
internal sealed record Section(Node Node, Alternative? Alternative, IReadOnlyDictionary<string, Found> Values, bool Whole) : Found(Node)
{
    /// <summary>Whether a key was there.</summary>
    public bool Has(string key) => Values.ContainsKey(key);

    /// <summary>Where a key's value stands; the section itself when it is not there.</summary>
    public Node At(string key) => Values.TryGetValue(key, out var found) ? found.Node : Node;

    /// <summary>The number under a key.</summary>
    public double? Number(string key) => (Values.GetValueOrDefault(key) as Amount)?.Value;

    /// <summary>The number under a key that is required, or has a fallback.</summary>
    public double Number(string key, double fallback) => Number(key) ?? fallback;

    /// <summary>The amount under a key.</summary>
    public Amount? Amount(string key) => Values.GetValueOrDefault(key) as Amount;

    /// <summary>The text under a key.</summary>
    public string? Text(string key) => (Values.GetValueOrDefault(key) as Phrase)?.Text;

    /// <summary>The phrase under a key, with its place.</summary>
    public Phrase? Phrase(string key) => Values.GetValueOrDefault(key) as Phrase;

    /// <summary>The section under a key.</summary>
    public Section? Inner(string key) => Values.GetValueOrDefault(key) as Section;

    /// <summary>The list under a key.</summary>
    public IReadOnlyList<Found?> List(string key) => (Values.GetValueOrDefault(key) as Items)?.Values ?? [];

    /// <summary>Two numbers under a key.</summary>
    public (double First, double Second) Pair(string key) => (((Amount)List(key)[0]!).Value, ((Amount)List(key)[1]!).Value);

    /// <summary>The named entries under a key; none when it is not there.</summary>
    public Named Entries(string key) => Values.GetValueOrDefault(key) as Named ?? Named.None;
}
