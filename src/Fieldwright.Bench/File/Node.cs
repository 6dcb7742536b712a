namespace Fieldwright.Bench.File;

/// <summary>A piece of a YAML file and where it starts.</summary>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
internal abstract record Node(int Line, int Column)
{
    /// <summary>What it is, for messages.</summary>
    public abstract string Describe();
}

/// <summary>A single value as written.</summary>
/// <param name="Text">The value, quotes taken off.</param>
/// <param name="Quoted">Whether it stood in quotes or in a block.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
internal sealed record Scalar(string Text, bool Quoted, int Line, int Column) : Node(Line, Column)
{
    /// <summary>Whether nothing was written.</summary>
    public bool IsEmpty => !Quoted && Text is "" or "~" or "null";

    /// <inheritdoc/>
    public override string Describe() => IsEmpty ? "nothing" : $"'{Words.Shorten(Text)}'";
}

/// <summary>A list.</summary>
/// <param name="Items">Its items.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
internal sealed record Sequence(IReadOnlyList<Node> Items, int Line, int Column) : Node(Line, Column)
{
    /// <inheritdoc/>
    public override string Describe() => Items.Count == 1 ? "a list of one item" : $"a list of {Words.Count(Items.Count)} items";
}

/// <summary>A mapping of keys to values, in file order; no key twice.</summary>
/// <param name="Entries">Keys and values.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
internal sealed record Mapping(IReadOnlyList<(Scalar Key, Node Value)> Entries, int Line, int Column) : Node(Line, Column)
{
    /// <inheritdoc/>
    public override string Describe() => "a mapping of keys to values";

    /// <summary>The value of a key, or null.</summary>
    public Node? this[string key] => Entries.FirstOrDefault(e => e.Key.Text == key).Value;

    /// <summary>The text of a key's single value, or null.</summary>
    public string? TextOf(string key) => (this[key] as Scalar)?.Text;
}
