using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.File;

/// <summary>Where an input of one owner stands, and the apparatus with it set otherwise.</summary>
/// <param name="Value">Where it stands, SI, alternating values peak; null when the file leaves it open.</param>
/// <param name="With">The apparatus with another value.</param>
/// <param name="Swings">Whether it alternates, so that people read it as rms.</param>
internal sealed record Slot(double? Value, Func<double, Apparatus> With, bool Swings = false);

/// <summary>A kind of input: its words, what it may be, and how it is found in an apparatus.</summary>
/// <param name="Quantity">What it is: <c>current</c>, <c>height</c> …</param>
/// <param name="Link">The word that joins it to its owner.</param>
/// <param name="Kind">What it may be; a text for an input that takes a word.</param>
/// <param name="Meaning">One sentence on it.</param>
/// <param name="Find">Where it stands for an owner; null when that owner has no such input.</param>
internal sealed record InputRule(string Quantity, string Link, ValueKind Kind, string Meaning, Func<Apparatus, string, Slot?> Find)
{
    /// <summary>Whether it takes a word, a material's name, instead of a number.</summary>
    public bool TakesWord => Kind is TextKind;

    /// <summary>The unit people read it in; empty for a bare number.</summary>
    public string ShownUnit => Kind is QuantityKind quantity ? Units.UnitIn(quantity.Example) : "";

    /// <summary>The unit its range is stated in; empty for a bare number.</summary>
    public string Unit => Kind is QuantityKind quantity ? quantity.Unit : "";

    /// <summary>Which numbers are allowed, in that unit.</summary>
    public Range Range => Kind switch
    {
        QuantityKind quantity => quantity.Range,
        NumberKind number => number.Range,
        _ => Range.EitherSign(double.MaxValue),
    };

    /// <summary>The input of one owner, as people write it.</summary>
    public InputName Of(string owner) => new(Quantity, owner, $"{Quantity} {Link} {owner}");
}
