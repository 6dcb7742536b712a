namespace Fieldwright.Bench.File;

/// <summary>What a value in an apparatus file may be. The reader's checks, the published schema and the reference page all follow from these.</summary>
internal abstract record ValueKind
{
    /// <summary>What was expected, for messages and the reference page: <c>a length such as 65 mm</c>.</summary>
    public abstract string Expectation { get; }
}

/// <summary>Words of the writer's own, or a phrase that is looked into later with the whole apparatus at hand.</summary>
/// <param name="What">What is expected.</param>
/// <param name="Pattern">A pattern that every such text matches, for the schema; null for any text.</param>
/// <param name="MayBeNumber">Whether it may be a bare number, which other readers of YAML do not take for a text.</param>
internal sealed record TextKind(string What, string? Pattern = null, bool MayBeNumber = false) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => What;
}

/// <summary>One of a few words.</summary>
/// <param name="Choices">The words.</param>
internal sealed record ChoiceKind(params IReadOnlyList<string> Choices) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => Words.Or(Choices);
}

/// <summary>Which numbers are allowed.</summary>
/// <param name="Least">Least, in the unit of the kind.</param>
/// <param name="Most">Greatest.</param>
/// <param name="LeastAllowed">Whether the least itself is allowed.</param>
internal readonly record struct Range(double Least, double Most, bool LeastAllowed)
{
    /// <summary>Above zero, up to a sensible limit.</summary>
    public static Range Positive(double most) => new(0, most, false);

    /// <summary>Zero or more, up to a sensible limit.</summary>
    public static Range NotNegative(double most) => new(0, most, true);

    /// <summary>Either sign, up to a sensible size.</summary>
    public static Range EitherSign(double most) => new(-most, most, true);

    /// <summary>Whether a number lies in it; NaN never does.</summary>
    public bool Holds(double value) => value <= Most && (LeastAllowed ? value >= Least : value > Least);
}

/// <summary>A number with its unit.</summary>
/// <param name="What">What it is, with its article: <c>a length</c>.</param>
/// <param name="Unit">A unit of the dimension expected; the range is stated in it.</param>
/// <param name="Example">An example: <c>65 mm</c>.</param>
/// <param name="Range">Which numbers are allowed.</param>
/// <param name="Alternating">Whether rms and peak are told apart when it alternates.</param>
internal sealed record QuantityKind(string What, string Unit, string Example, Range Range, bool Alternating = false) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => $"{What} such as {Example}";
}

/// <summary>A bare number.</summary>
/// <param name="What">What it is.</param>
/// <param name="Example">An example.</param>
/// <param name="Range">Which numbers are allowed.</param>
internal sealed record NumberKind(string What, string Example, Range Range) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => $"{What} such as {Example}";
}

/// <summary>A direction: one of a few words, or an angle.</summary>
/// <param name="Named">Words with the degrees they stand for.</param>
internal sealed record DirectionKind(IReadOnlyDictionary<string, double> Named) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => $"{string.Join(", ", Named.Keys)} or an angle such as 30 deg";
}

/// <summary>A list, each item of the same kind.</summary>
/// <param name="What">What it is.</param>
/// <param name="Item">Kind of its items.</param>
/// <param name="Least">Fewest items.</param>
/// <param name="Most">Most items.</param>
/// <param name="OneAlone">Whether a single item may stand without brackets.</param>
internal sealed record ListKind(string What, ValueKind Item, int Least, int Most, bool OneAlone = false) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => What;
}

/// <summary>A mapping whose keys the writer makes up (names) or builds from names (inputs).</summary>
/// <param name="What">What it is: <c>parts, each under its name</c>.</param>
/// <param name="Item">Kind of each value.</param>
/// <param name="Names">Whether the keys are new names; otherwise they are looked into later.</param>
internal sealed record NamedKind(string What, ValueKind Item, bool Names) : ValueKind
{
    /// <summary>Most entries of one mapping; a bench holds fewer things, and bodies are held against one another in pairs.</summary>
    public const int Most = 200;

    /// <inheritdoc/>
    public override string Expectation => What;
}

/// <summary>A word, or a mapping in its place.</summary>
/// <param name="Word">Kind of the word.</param>
/// <param name="InPlace">Kind of the mapping.</param>
internal sealed record EitherKind(TextKind Word, MappingKind InPlace) : ValueKind
{
    /// <inheritdoc/>
    public override string Expectation => $"{Word.Expectation}, or {Words.A(InPlace.Name)} given in place";
}

/// <summary>A mapping of known keys, some of which belong to one alternative only.</summary>
/// <param name="Name">What the mapping describes: <c>part</c>.</param>
/// <param name="Meaning">A sentence on it.</param>
/// <param name="Keys">Keys that every alternative has.</param>
/// <param name="Alternatives">The alternatives; empty when there are none.</param>
internal sealed record MappingKind(string Name, string Meaning, IReadOnlyList<Key> Keys, params IReadOnlyList<Alternative> Alternatives) : ValueKind
{
    /// <summary>Keys of earlier files, with what is written now.</summary>
    public IReadOnlyDictionary<string, string> Replaced { get; init; } = new Dictionary<string, string>();

    /// <inheritdoc/>
    public override string Expectation => $"a mapping with {string.Join(", ", Keys.Concat(Alternatives.SelectMany(a => a.Keys)).Select(k => k.Name).Distinct())}";
}

/// <summary>A key of a mapping.</summary>
/// <param name="Name">The key.</param>
/// <param name="Kind">What its value may be.</param>
/// <param name="Meaning">A sentence on it.</param>
/// <param name="Required">Whether it must be there.</param>
/// <param name="Default">What holds when it is not there; null when nothing does.</param>
internal sealed record Key(string Name, ValueKind Kind, string Meaning, bool Required = false, string? Default = null);

/// <summary>One way a mapping may go on, known by a key that only it has, or by a word under a key that all have.</summary>
/// <param name="Name">What it is: <c>disc</c>.</param>
/// <param name="Marker">The key that tells.</param>
/// <param name="Word">The word under that key; null when the key's presence tells.</param>
/// <param name="Meaning">A sentence on it.</param>
/// <param name="Keys">Keys of this alternative.</param>
internal sealed record Alternative(string Name, string Marker, string? Word, string Meaning, params IReadOnlyList<Key> Keys);
