using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>A supply of two, five or more phases as single ones, a phase each, whose star point a return wire holds. Three phases need none and stand in the network as one.</summary>
internal static class PhaseSupplies
{
    /// <summary>The single-phase supplies that a supply is made of; itself when it has one phase.</summary>
    public static IEnumerable<Supply> Of(Supply supply, Apparatus apparatus)
    {
        if (supply.Phases is 1 or 3)
            return [supply];
        return supply.Feeds.Select(name => (Name: name, Space: apparatus.Winding(name)?.Space as PhaseSpace)).GroupBy(f => f.Space?.Phase ?? 0).Select(phase => supply with
        {
            Name = $"{supply.Name} {(char)('a' + phase.Key)}",
            Phases = 1,
            Connection = Connection.Series,
            Feeds = [.. phase.Select(f => f.Name)],
            PhaseDegrees = supply.PhaseDegrees - (supply.Backwards ? -1 : 1) * (phase.First().Space?.Of.Lag(phase.Key) ?? 0) * 180 / Math.PI,
        });
    }
}
