using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Magnetic;

namespace Fieldwright.Bench.Analogues;

/// <summary>A circuit found in an apparatus.</summary>
/// <param name="Board">The circuit as a board of elements at its working point.</param>
/// <param name="Leaks">Share of the flow that goes astray, where that is known; otherwise null.</param>
/// <param name="Remarks">What must be known about it.</param>
internal sealed record FoundCircuit(Board Board, double? Leaks, IReadOnlyList<string> Remarks);

/// <summary>The circuits of an apparatus: the board it is, or those of its flux, its current and its heat.</summary>
internal static class CircuitsOf
{
    private const string Ground = "ground";

    /// <summary>The domains in which an apparatus has a circuit, the one to begin with first.</summary>
    public static IReadOnlyList<BoardDomain> Domains(Apparatus apparatus) => apparatus.Board is { } board ? [board.Domain]
        : apparatus.Windings.Count == 0 || apparatus.Supplies.Count == 0 ? []
        : [BoardDomain.Magnetic, BoardDomain.Electric, BoardDomain.Heat];

    /// <summary>The circuit of an apparatus in a domain.</summary>
    /// <exception cref="RouteFailedException">It could not be found.</exception>
    public static FoundCircuit Find(Apparatus apparatus, string? state, BoardDomain domain, CancellationToken cancellation)
    {
        if (apparatus.Board is not null)
            return new FoundCircuit(Circumstances.Of(apparatus, state, []).Apparatus.Board!, null, []);
        var shown = Circumstances.Of(apparatus, state, []).Apparatus;
        // A ring is drawn with the currents of its own route, so that everything on the board fits together.
        bool ring = domain == BoardDomain.Magnetic && new CircuitRoute().Serves(shown) != Wanted.None;
        var panel = new RoutePanel(shown, 0.01, cancellation, ring ? RouteName.Circuit : null);
        var currents = panel.CurrentsIn(null) ?? throw new RouteFailedException("No route knows the currents of this apparatus.");
        var found = domain switch
        {
            BoardDomain.Magnetic => ring ? OfRing(shown, currents) : InOpenAir(shown, currents, panel),
            BoardDomain.Electric => OfSupply(shown, currents, panel),
            _ => OfHeat(shown, currents),
        };
        return found.Board.Elements.Count > 1 ? found : throw new RouteFailedException("Nothing flows in this circuit.");
    }

    // Seen once round: what all windings together drive, the steel, the gap, and what leaks past it.
    private static FoundCircuit OfRing(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents)
    {
        var ring = CircuitRoute.StateOf(apparatus, currents);
        double most = ring.Fluxes.Max(f => f.Magnitude), least = ring.Fluxes.Min(f => f.Magnitude), iron = ring.IronAmpereTurns, gap = ring.GapAmpereTurns;
        if (!(most > 0))
            throw new RouteFailedException("There is no flux.");
        var elements = new List<BoardElement>
        {
            new DriveElement(apparatus.Windings.Count > 1 ? "windings" : apparatus.Windings[0].Name, Ground, "a", iron + gap, 0),
            new StraightElement("steel", "a", gap > 0 ? "b" : Ground, iron / most),
        };
        if (gap > 0)
        {
            elements.Add(new StraightElement("gap", "b", Ground, gap / least));
            if (most - least > 1e-6 * most)
                elements.Add(new StraightElement("leakage", "b", Ground, gap / (most - least)));
        }

        List<string> remarks = ["Lumped from the circuit route: the steel holds its mean reluctance at this flux, and what leaks is gathered in one element beside the gap."];
        if (apparatus.Frequency > 0)
            remarks.Add("Peak values of an alternating flux; all windings are taken together, the current of a loaded one counted against the one that feeds it.");
        return new FoundCircuit(new Board(BoardDomain.Magnetic, Ground, elements), ring.LeakageShare, remarks);
    }

    // Without a ring a winding sees one reluctance: its turns squared over its inductance.
    private static FoundCircuit InOpenAir(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, RoutePanel panel)
    {
        var fed = apparatus.Windings.Where(w => currents.TryGetValue(w.Name, out var i) && i.Magnitude > 0).MaxBy(w => currents[w.Name].Magnitude * w.Turns)
            ?? throw new RouteFailedException("No current flows, so there is no flux.");
        var answer = Asked(panel, $"reluctance seen by {fed.Name}", apparatus);
        return new FoundCircuit(new Board(BoardDomain.Magnetic, Ground,
        [
            new DriveElement(fed.Name, Ground, "a", currents[fed.Name].Magnitude * fed.Turns, 0),
            new StraightElement("air all round", "a", Ground, answer.Value),
        ]), 1, [$"Only '{fed.Name}', the strongest winding, is drawn, as if alone; its flux goes through air on every side, so that one reluctance is all a circuit can say of it."]);
    }

    // What of the voltage is in step with the current: resistance, and what other windings and metal take through the field.
    private static FoundCircuit OfSupply(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents, RoutePanel panel)
    {
        var supply = apparatus.Supplies[0];
        double root = apparatus.Frequency > 0 ? Math.Sqrt(2) : 1;
        double current = Asked(panel, $"current from {supply.Name}", apparatus).Value, power = Asked(panel, $"power from {supply.Name}", apparatus).Value;
        if (!(current > 0))
            throw new RouteFailedException("No current flows.");
        bool series = supply.Connection == Connection.Series || supply.Feeds.Count == 1;
        var elements = new List<BoardElement>();
        double wire = 0;
        string node = "a";
        foreach (string name in supply.Feeds)
        {
            var winding = apparatus.Winding(name)!;
            double its = currents[winding.Name].Magnitude / root, resistance = Warming.Resistance(winding, apparatus);
            wire += its * its * resistance;
            string next = series ? "after " + winding.Name : Ground;
            elements.Add(new StraightElement("wire of " + winding.Name, node, next, resistance));
            node = series ? next : "a";
        }

        double taken = (power - wire) / (current * current);
        var remarks = new List<string>();
        if (series && taken * current * current > 1e-3 * power)
            elements.Add(new StraightElement("taken through the field", node, Ground, taken));
        else if (series)
            elements[^1] = elements[^1] with { To = Ground };
        if (apparatus.Frequency > 0)
            remarks.Add("Rms values. Only what is in step with the current is drawn; the voltage of inductance, a quarter cycle ahead, has no place in a circuit of resistances.");
        if (apparatus.Supplies.Count > 1)
            remarks.Add($"Only '{supply.Name}' is drawn.");
        var drawn = new Board(BoardDomain.Electric, Ground, elements);
        double across = series ? power / current : elements.Count > 0 ? wire / current : 0;
        return new FoundCircuit(drawn with { Elements = [new DriveElement(supply.Name, Ground, "a", across, 0), .. elements] }, null, remarks);
    }

    private static FoundCircuit OfHeat(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents)
    {
        double root = apparatus.Frequency > 0 ? Math.Sqrt(2) : 1;
        var rms = apparatus.Windings.ToDictionary(w => w.Name, w => currents[w.Name].Magnitude / root, StringComparer.OrdinalIgnoreCase);
        var settled = new HeatNetwork(apparatus, new HeatInput(rms, new Dictionary<string, double>()), Cooling.AsReckoned).Steady();
        var elements = new List<BoardElement>();
        foreach (var winding in apparatus.Windings.Where(w => rms[w.Name] > 0))
        {
            double rise = settled[winding.Name] - apparatus.Ambient;
            var copper = winding.Wire.Metal;
            double heat = rms[winding.Name] * rms[winding.Name] * Warming.Resistance(winding, apparatus) * copper.ResistivityAt(settled[winding.Name]) / copper.ResistivityAt(apparatus.Ambient);
            elements.Add(new FlowElement("heat of " + winding.Name, Ground, winding.Name, heat));
            elements.Add(new StraightElement("cooling of " + winding.Name, winding.Name, Ground, rise / heat));
        }

        return new FoundCircuit(new Board(BoardDomain.Heat, Ground, elements), null,
            ["When all has settled, which may be long after the insulation is gone: see the cautions for how long it may be on. Each winding's cooling is one resistance at its settled temperature."]);
    }

    private static Answer Asked(RoutePanel panel, string text, Apparatus apparatus) =>
        MeasureReader.TryRead(text, apparatus, out var measure, out var mistake)
            ? panel.Cheapest(measure, null) is { Leading: { } answer } ? answer : throw new RouteFailedException($"No route could answer '{text}'.")
            : throw new RouteFailedException(mistake.Finding);
}
