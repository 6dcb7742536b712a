using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What a board of elements does to people: water beside electricity, hot nodes, live nodes.</summary>
internal static class BoardHazards
{
    // Dry hands on bare parts; what stands in water has less.
    private const double DryDirect = 60;

    /// <summary>Water on a board.</summary>
    public static IEnumerable<Caution> Water(WorstOf worst)
    {
        if (worst.Apparatus.Board is not { Domain: BoardDomain.Water })
            yield break;
        double pressure = worst.Apparatus.Board.Nodes.Select(n => worst.Most("pressure", SubjectKind.Node, n) ?? 0).DefaultIfEmpty(0).Max();
        yield return new Caution(
            "water and electricity",
            Text($"The board holds water under up to {1e-3 * pressure:0.#} kPa: hoses slip off, jets spatter, and a pump stands beside it."),
            "12 V alternating or 30 V direct at most where wet hands reach", "IEC 60598-1:2008, clause 8.2.3, for luminaires", 'a',
            "Run the pump from a safety supply, keep sockets and meters above and away from the water, clip every hose, and mop the floor before people walk on it.",
            false);
    }

    /// <summary>Nodes of a board of heat that burn a hand.</summary>
    public static IEnumerable<Caution> Hot(WorstOf worst)
    {
        var limit = TouchLimits.BurnsInAMinute;
        if (worst.Apparatus.Board is not { Domain: BoardDomain.Heat } board)
            yield break;
        foreach (string node in board.Nodes)
            if (worst.Most("temperature", SubjectKind.Node, node) is { } hottest && hottest > limit.Value)
                yield return new Caution(
                    "hot node " + node,
                    Text($"'{node}' stands at {hottest - PhysicalConstants.ZeroCelsius:0} °C when all has settled."),
                    Text($"{limit.Value - PhysicalConstants.ZeroCelsius:0} °C for a touch of one minute, bare metal"),
                    limit.Document, limit.Grade,
                    "Cover it, say that it is hot, and let it cool before it is moved.",
                    false);
    }

    /// <summary>Nodes of an electric board above what bare hands may touch.</summary>
    public static IEnumerable<Caution> Live(WorstOf worst)
    {
        if (worst.Apparatus.Board is not { Domain: BoardDomain.Electric } board)
            yield break;
        double most = board.Nodes.Select(n => Math.Abs(worst.Most("voltage", SubjectKind.Node, n) ?? 0)).DefaultIfEmpty(0).Max();
        if (most > DryDirect)
            yield return new Caution(
                "live board", Text($"Bare joints of the board stand at up to {most:0} V."), Text($"{DryDirect:0} V direct on bare parts that dry hands reach"),
                "IEC 60598-1:2008, clause 8.2.3, for luminaires", 'a', "Take a lower voltage, or cover every joint.", false);
    }
}
