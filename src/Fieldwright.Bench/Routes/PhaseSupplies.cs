using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>A polyphase supply as single ones, a phase each, all joined to one star point.</summary>
/// <remarks>The star point is taken as held by a fourth wire, so that phases share no voltage; a track's end effect would else make its star point wander a little.</remarks>
internal static class PhaseSupplies
{
    /// <summary>The single-phase supplies that a supply is made of; itself when it has one phase.</summary>
    public static IEnumerable<Supply> Of(Supply supply, Apparatus apparatus)
    {
        if (supply.Phases == 1)
            return [supply];
        return supply.Feeds.Select(name => (Name: name, Space: apparatus.Winding(name)?.Space as PhaseSpace)).GroupBy(f => f.Space?.Phase ?? 0).Select(phase => supply with
        {
            Name = $"{supply.Name} {(char)('a' + phase.Key)}",
            Phases = 1,
            Feeds = [.. phase.Select(f => f.Name)],
            PhaseDegrees = supply.PhaseDegrees - (supply.Backwards ? -1 : 1) * (phase.First().Space?.Of.Lag(phase.Key) ?? 0) * 180 / Math.PI,
        });
    }
}
