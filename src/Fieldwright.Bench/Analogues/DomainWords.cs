using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Analogues;

/// <summary>The vocabulary of one domain: the same network in its words and units.</summary>
/// <param name="Domain">The domain.</param>
/// <param name="Word">The word it is asked for by.</param>
/// <param name="Carries">What flows, in a sentence.</param>
/// <param name="Potential">What drives.</param>
/// <param name="PotentialUnit">Its unit.</param>
/// <param name="Flow">What flows.</param>
/// <param name="FlowUnit">Its unit.</param>
/// <param name="Resistance">What hinders.</param>
/// <param name="ResistanceUnit">Its unit.</param>
/// <param name="Drive">What lifts the potential.</param>
/// <param name="Ground">What potentials are counted against.</param>
public sealed record DomainWords(BoardDomain Domain, string Word, string Carries, string Potential, string PotentialUnit, string Flow, string FlowUnit, string Resistance, string ResistanceUnit, string Drive, string Ground)
{
    /// <summary>All four.</summary>
    public static IReadOnlyList<DomainWords> All { get; } =
    [
        new(BoardDomain.Water, "water", "water", "pressure", "kPa", "flow", "mL/s", "hydraulic resistance", "Pa s/mL", "pump", "basin"),
        new(BoardDomain.Electric, "electric", "electricity", "voltage", "V", "current", "mA", "resistance", "ohm", "battery", "negative rail"),
        new(BoardDomain.Magnetic, "magnetic", "flux", "magnetomotive force", "A", "flux", "µWb", "reluctance", "MA/Wb", "ampere-turns", "joint of the ring"),
        new(BoardDomain.Heat, "heat", "heat", "temperature difference", "K", "heat flow", "W", "heat resistance", "K/W", "warm plate", "hall"),
    ];

    /// <summary>A flow in words, in a unit of its size.</summary>
    public string FlowText(double si, int digits = 3) => Text(si, FlowUnit == "mA" && Math.Abs(si) >= 1 ? "A" : FlowUnit, digits);

    /// <summary>A potential or a drop in words, in a unit of its size.</summary>
    public string PotentialText(double si, int digits = 3) => Text(si, PotentialUnit == "kPa" && Math.Abs(si) < 1000 ? "Pa" : PotentialUnit, digits);

    /// <summary>A number and its unit, which stay on one line.</summary>
    internal static string Text(double si, string unit, int digits = 3) => Claims.Shown.Digits(Claims.Shown.In(unit).Of(si), digits) + "\u00a0" + Claims.Shown.In(unit).Unit;

    /// <summary>The words of a domain.</summary>
    public static DomainWords Of(BoardDomain domain) => All.First(d => d.Domain == domain);

    /// <summary>The domain of a word, or null.</summary>
    public static DomainWords? Find(string word) => All.FirstOrDefault(d => Apparatus.Same(d.Word, word));
}
