using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Loads;

namespace Fieldwright.Bench.Routes;

/// <summary>Supplies, windings and loads of an apparatus as a network of the circuit room; the windings are one block of ports. Phasors are peak.</summary>
/// <remarks>The first end of winding W is node <c>W+</c>, its second <c>W−</c>; every supply and every load stands between its windings and the reference node.</remarks>
internal sealed class SupplyCircuit
{
    private const string Windings = "(windings)", Ground = Network.Reference;
    private readonly Apparatus apparatus;
    private readonly Network network = new();
    private readonly Dictionary<string, string> joined = new(StringComparer.OrdinalIgnoreCase);
    private readonly IReadOnlySet<string> limited;

    /// <summary>Builds the network.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="block">Makes the element of the windings from its name and its ends, two a winding.</param>
    /// <param name="limited">Supplies that stand at their current limit.</param>
    /// <param name="banks">Whether charged capacitor banks stand in it too, each behind its switch: for a course in time, they drive nothing that lasts.</param>
    public SupplyCircuit(Apparatus apparatus, Func<string, string[], Element> block, IReadOnlySet<string>? limited = null, bool banks = false)
    {
        this.apparatus = apparatus;
        this.limited = limited ?? new HashSet<string>();
        foreach (var supply in apparatus.Supplies.Where(s => banks || s.Kind != SupplyKind.CapacitorBank))
            Feed(supply);
        foreach (var load in apparatus.Loads)
        {
            Join(load.On, "+ " + load.On, Ground);
            network.Add(OfLoad(load, "+ " + load.On));
        }

        foreach (var winding in apparatus.Windings.Where(w => !joined.ContainsKey(w.Name + "+")))
            Join(winding.Name, "+ " + winding.Name, Ground);
        network.Add(block(Windings, [.. apparatus.Windings.SelectMany(w => new[] { joined[w.Name + "+"], joined[w.Name + "-"] })]));
    }

    /// <summary>Currents of the windings, A peak, in the order of the apparatus.</summary>
    /// <exception cref="RouteFailedException">The network has no single answer, or a lamp does not settle.</exception>
    public Complex[] Currents()
    {
        try
        {
            if (apparatus.Frequency > 0)
            {
                var swinging = network.Alternating(apparatus.Frequency);
                return [.. apparatus.Windings.Select((_, i) => swinging.Flow(Windings, i))];
            }

            var steady = network.Steady();
            return [.. apparatus.Windings.Select((_, i) => (Complex)steady.Flow(Windings, i))];
        }
        catch (IllPosedNetworkException e)
        {
            throw new RouteFailedException("Supplies and windings form a network without a single answer: " + e.Message, e);
        }
        catch (NetworkNotConvergedException e)
        {
            throw new RouteFailedException("The lamp's resistance did not settle: " + e.Message, e);
        }
    }

    /// <summary>The course of the currents of the windings from nothing, when the supplies are switched on together: times, s, and currents, A, one list a winding.</summary>
    /// <remarks>An alternating source of no phase starts where it passes zero upwards. A lamp is taken as if its filament followed at once.</remarks>
    /// <param name="duration">How long, s.</param>
    /// <param name="longestStep">Longest step, s; null for a hundredth of it.</param>
    /// <exception cref="RouteFailedException">The network has no single answer, or a step does not settle.</exception>
    public (IReadOnlyList<double> Times, IReadOnlyList<double>[] Currents) SwitchedOn(double duration, double? longestStep = null)
    {
        try
        {
            var course = network.Transient(duration, new TransientOptions(1e-5, longestStep));
            return (course.Times, [.. apparatus.Windings.Select((_, i) => course.Trace(s => s.Flow(Windings, i)))]);
        }
        catch (Exception e) when (e is IllPosedNetworkException or NetworkNotConvergedException)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>Windings of each phase of a three-phase supply, in their order.</summary>
    public static IReadOnlyList<string>[] Phases(Supply supply) => [.. Enumerable.Range(0, 3).Select(k => (IReadOnlyList<string>)[.. supply.Feeds.Where((_, i) => i % 3 == k)])];

    /// <summary>Phasor of unit size of a supply's phase, each a third of a turn behind the one before, or ahead of it when its order is reversed.</summary>
    public static Complex Turn(Supply supply, int phase = 0) => Complex.FromPolarCoordinates(1, supply.PhaseDegrees * Math.PI / 180 - (supply.Backwards ? -1 : 1) * 2 * Math.PI * phase / 3);

    private void Feed(Supply supply)
    {
        if (supply.ThreePhase)
        {
            FeedThree(supply);
            return;
        }

        string top = supply.Name;
        if (supply.Kind == SupplyKind.CapacitorBank)
            Charge(supply, top);
        else
            Drive(supply, supply.Name, top, supply.Voltage, Turn(supply));
        if (supply.Connection == Connection.Series)
        {
            Chain(supply.Name, supply.Feeds, top, Ground);
            return;
        }

        foreach (string name in supply.Feeds)
        {
            string at = top;
            if (supply.Split is { } split && Apparatus.Same(split.Before, name))
                network.Add(new Capacitor(supply.Name + " capacitor", top, at = supply.Name + " behind the capacitor", split.Capacitance));
            Chain(supply.Name, [name], at, Ground);
        }
    }

    private void FeedThree(Supply supply)
    {
        var phases = Phases(supply);
        for (int k = 0; k < 3; k++)
        {
            string line = $"{supply.Name} L{k + 1}";
            bool star = supply.Connection == Connection.Star || supply.Current is not null;
            // Given currents sum to nothing, so that the star point needs no return; given voltages leave it free.
            string far = !star ? $"{supply.Name} L{(k + 1) % 3 + 1}" : supply.Current is null ? supply.Name + " star" : Ground;
            // Lines against their middle: a delta's first phase stands between L1 and L2, a twelfth of a turn ahead of L1, or behind it in reversed order.
            var turn = Turn(supply, k) * (star ? 1 : Complex.FromPolarCoordinates(1, (supply.Backwards ? 1 : -1) * Math.PI / 6));
            Drive(supply, line, line, supply.Voltage / Math.Sqrt(3), turn);
            Chain(line, phases[k], line, far);
        }
    }

    // A source between the reference and a node, behind its own resistance.
    private void Drive(Supply supply, string name, string top, double? voltage, Complex turn)
    {
        double? current = supply.Current ?? (limited.Contains(supply.Name) ? supply.CurrentLimit : null);
        bool direct = apparatus.Frequency == 0;
        if (current is { } given)
        {
            network.Add(new FlowSource(name, Ground, top, direct ? (given * turn).Real : 0, direct ? 0 : given * turn));
            return;
        }

        var open = turn * (voltage ?? throw new RouteFailedException($"'{supply.Name}' has neither a voltage nor a current."));
        string inside = supply.InternalResistance > 0 ? name + " inside" : top;
        double omega = 2 * Math.PI * apparatus.Frequency;
        network.Add(direct ? new PotentialSource(name, inside, Ground, open.Real) : new PotentialSource(name, inside, Ground, t => (open * Complex.FromPolarCoordinates(1, omega * t)).Imaginary, open));
        if (inside != top)
            network.Add(new Resistor(name + " resistance", inside, top, supply.InternalResistance));
    }

    // A charged capacitor behind its own resistance and its switch.
    private void Charge(Supply supply, string top)
    {
        string charged = supply.Name + " charged", behind = supply.InternalResistance > 0 ? supply.Name + " inside" : top;
        network.Add(new Capacitor(supply.Name, charged, Ground, supply.Capacitance!.Value, supply.Voltage!.Value));
        network.Add(supply.Delay > 0 ? new Switch(supply.Name + " switch", charged, behind, false, supply.Delay) : new Switch(supply.Name + " switch", charged, behind, true));
        if (behind != top)
            network.Add(new Resistor(supply.Name + " resistance", behind, top, supply.InternalResistance));
    }

    private void Chain(string prefix, IReadOnlyList<string> windings, string from, string to)
    {
        string at = from;
        for (int i = 0; i < windings.Count; i++)
        {
            string next = i == windings.Count - 1 ? to : $"{prefix} after {windings[i]}";
            if (apparatus.Winding(windings[i])!.Reversed)
                Join(windings[i], next, at);
            else
                Join(windings[i], at, next);
            at = next;
        }
    }

    private void Join(string winding, string first, string second) => (joined[winding + "+"], joined[winding + "-"]) = (first, second);

    private static Element OfLoad(Load load, string node) => load.Kind == LoadKind.FilamentLamp
        ? new LampFilament(load.Name, node, Ground, Lamp(load))
        : new Resistor(load.Name, node, Ground, load.Resistance!.Value);

    internal static FilamentLamp Lamp(Load load) => new(load.RatedVoltage!.Value, load.RatedPower!.Value);
}
