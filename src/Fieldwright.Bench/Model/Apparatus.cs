using Fieldwright.Matter;

namespace Fieldwright.Bench.Model;

/// <summary>How the apparatus is laid out in space.</summary>
public enum Layout
{
    /// <summary>Everything is round about the z axis; positions are (r, z).</summary>
    Round,

    /// <summary>Everything runs along one direction for a given depth; positions are (x, y) in the cross-section.</summary>
    Long,

    /// <summary>Bodies stand anywhere in space round coils that share the z axis; positions are (x, y, z).</summary>
    Free,

    /// <summary>A flat box of discs; positions are (x, y).</summary>
    Flat,

    /// <summary>Elements joined at nodes; nothing has a place.</summary>
    Board,
}

/// <summary>One thing on the bench, as its file describes it: matter, windings, supplies, loads, dials, doubts and claims. Immutable; SI throughout.</summary>
/// <param name="Name">What it is called in front of people.</param>
/// <param name="About">A sentence or two on what it shows; may be empty.</param>
/// <param name="Layout">How it is laid out in space.</param>
/// <param name="Depth">Length along the hidden direction of a long apparatus, m; null when round or free.</param>
/// <param name="Parts">Bodies of matter, in file order.</param>
/// <param name="Windings">Coils of wire, in file order.</param>
/// <param name="Supplies">What drives the windings.</param>
/// <param name="Loads">What windings drive: lamps, meters, resistors.</param>
/// <param name="Dials">Inputs a person may turn.</param>
/// <param name="States">Named sets of settings, in showing order; empty when the apparatus has one state only.</param>
/// <param name="Doubts">Stated tolerances of inputs.</param>
/// <param name="Claims">What is said to the audience, with a bound.</param>
/// <param name="Ambient">Temperature of the hall, K.</param>
/// <param name="Acknowledged">Names of cautions that the owner has read and answered for.</param>
/// <param name="OwnMaterials">Materials of the file's own, which a setting may name; null when there are none.</param>
public sealed record Apparatus(
    string Name,
    string About,
    Layout Layout,
    double? Depth,
    IReadOnlyList<Part> Parts,
    IReadOnlyList<Winding> Windings,
    IReadOnlyList<Supply> Supplies,
    IReadOnlyList<Load> Loads,
    IReadOnlyList<Dial> Dials,
    IReadOnlyList<State> States,
    IReadOnlyList<Doubt> Doubts,
    IReadOnlyList<Claim> Claims,
    double Ambient,
    IReadOnlyList<string> Acknowledged,
    IReadOnlyList<Material>? OwnMaterials = null)
{
    /// <summary>Its name as a title, with the state it is seen in.</summary>
    /// <param name="state">Name of the state; null for as the file says.</param>
    public string Titled(string? state) => state is null ? Name : $"{Name}: {state}";

    /// <summary>The box of discs of a flat apparatus; null otherwise.</summary>
    public ParticleBox? Box { get; init; }

    /// <summary>The elements of a board; null otherwise.</summary>
    public Board? Board { get; init; }

    /// <summary>Materials of the file's own, in file order.</summary>
    public IReadOnlyList<Material> Materials => OwnMaterials ?? [];

    /// <summary>The part of that name, or null.</summary>
    public Part? Part(string name) => Parts.FirstOrDefault(p => Same(p.Name, name));

    /// <summary>The winding of that name, or null.</summary>
    public Winding? Winding(string name) => Windings.FirstOrDefault(w => Same(w.Name, name));

    /// <summary>The supply of that name, or null.</summary>
    public Supply? Supply(string name) => Supplies.FirstOrDefault(s => Same(s.Name, name));

    /// <summary>The load of that name, or null.</summary>
    public Load? Load(string name) => Loads.FirstOrDefault(l => Same(l.Name, name));

    /// <summary>The supply that feeds a winding, or null when nothing does.</summary>
    public Supply? SupplyOf(string winding) => Supplies.FirstOrDefault(s => s.Feeds.Any(w => Same(w, winding)));

    /// <summary>Frequency of the supplies, Hz; 0 for direct current.</summary>
    public double Frequency => Supplies.Count == 0 ? 0 : Supplies.Max(s => s.Frequency);

    /// <summary>Place of a winding in the order of the apparatus.</summary>
    public int IndexOf(Winding winding)
    {
        for (int i = 0; i < Windings.Count; i++)
            if (ReferenceEquals(Windings[i], winding))
                return i;
        throw new ArgumentException("The winding belongs to another apparatus.", nameof(winding));
    }

    /// <summary>Names are compared without regard to case.</summary>
    internal static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
}

/// <summary>A named set of settings that the show steps through, such as <c>gap in core = 2 mm</c>.</summary>
/// <param name="Name">What the state is called.</param>
/// <param name="Settings">The dials it sets, in file order.</param>
public sealed record State(string Name, IReadOnlyList<Setting> Settings);

/// <summary>One input and the value it is given.</summary>
/// <param name="Input">Which input.</param>
/// <param name="Value">Its value in SI; NaN when <paramref name="Word"/> is used instead.</param>
/// <param name="Word">A word, for inputs that take one (a material's name); otherwise null.</param>
public sealed record Setting(InputName Input, double Value, string? Word = null);

/// <summary>An input by what it is and whose it is: <c>current in inner</c>, <c>gap in core</c>, <c>conductivity of disc</c>.</summary>
/// <param name="Quantity">What it is: <c>current</c>, <c>height</c>, <c>gap</c>, <c>material</c> …</param>
/// <param name="Owner">The part, winding, supply or load it belongs to.</param>
/// <param name="Text">The name as people write it.</param>
public sealed record InputName(string Quantity, string Owner, string Text)
{
    /// <inheritdoc/>
    public override string ToString() => Text;
}

/// <summary>An input a person may turn, with its range.</summary>
/// <param name="Input">Which input.</param>
/// <param name="From">Lowest value, SI.</param>
/// <param name="To">Highest value, SI.</param>
/// <param name="Now">Where it stands, SI.</param>
/// <param name="Unit">The unit people read it in.</param>
public sealed record Dial(InputName Input, double From, double To, double Now, string Unit);

/// <summary>A stated tolerance of an input.</summary>
/// <param name="Input">Which input.</param>
/// <param name="Absolute">Half-width in SI, or null when relative.</param>
/// <param name="Relative">Half-width as a fraction of the value, or null when absolute.</param>
public sealed record Doubt(InputName Input, double? Absolute, double? Relative);
