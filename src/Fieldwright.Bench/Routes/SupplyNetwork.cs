using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Elements;

namespace Fieldwright.Bench.Routes;

/// <summary>Currents of the windings from their supplies and loads, the apparatus itself standing in as an n-port. Phasors are peak.</summary>
internal static class SupplyNetwork
{
    private const int MostRounds = 200;

    /// <summary>Whether every current is given by the file, so that no impedance is needed to know them.</summary>
    public static bool IsImposed(Apparatus apparatus) =>
        apparatus.Loads.Count == 0 && apparatus.Supplies.All(s => s.Current is not null && (s.Phases > 1 || s.Connection != Connection.Parallel || s.Feeds.Count == 1));

    /// <summary>Currents given by the file, A peak; zero in a winding that nothing feeds.</summary>
    /// <exception cref="RouteFailedException">Some current follows from a voltage or a load.</exception>
    public static IReadOnlyDictionary<string, Complex> ImposedCurrents(Apparatus apparatus)
    {
        if (!IsImposed(apparatus))
            throw new RouteFailedException("The currents follow from voltages and loads and need a route to be known.");
        var currents = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.Zero, StringComparer.OrdinalIgnoreCase);
        foreach (var supply in apparatus.Supplies.SelectMany(s => PhaseSupplies.Of(s, apparatus)))
            for (int i = 0; i < supply.Feeds.Count; i++)
                currents[supply.Feeds[i]] = Sense(apparatus, supply.Feeds[i]) * supply.Current!.Value * SupplyCircuit.Turn(supply, supply.ThreePhase ? i % 3 : 0);
        return currents;
    }

    /// <summary>Currents that supplies and loads drive through the windings.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="impedance">Impedance matrix of the windings, ohm, wire resistance included, in the order of the apparatus.</param>
    /// <exception cref="RouteFailedException">The network has no unique solution, or a lamp does not settle.</exception>
    public static IReadOnlyDictionary<string, Complex> Currents(Apparatus apparatus, Complex[,] impedance)
    {
        if (IsImposed(apparatus))
            return ImposedCurrents(apparatus);
        apparatus = apparatus with { Supplies = [.. apparatus.Supplies.SelectMany(s => PhaseSupplies.Of(s, apparatus))] };
        Complex[] rows = [.. impedance.Cast<Complex>()];
        var limited = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        while (true)
        {
            var found = new SupplyCircuit(apparatus, (name, ends) => new ImpedancePorts(name, ends, rows), limited).Currents();
            var currents = Enumerable.Range(0, found.Length).ToDictionary(i => apparatus.Windings[i].Name, i => found[i], StringComparer.OrdinalIgnoreCase);
            // Each supply that would give more than it can is held at its limit, once.
            var over = apparatus.Supplies.Where(s => s.CurrentLimit is { } most && !limited.Contains(s.Name) && Drawn(apparatus, s, currents) > most * (1 + 1e-9)).ToList();
            if (over.Count == 0)
                return currents;
            limited.UnionWith(over.Select(s => s.Name));
        }
    }

    /// <summary>Whether a supply stands at its current limit rather than at its voltage.</summary>
    public static bool AtLimit(Apparatus apparatus, Supply supply, IReadOnlyDictionary<string, Complex> currents) =>
        supply.CurrentLimit is { } most && Drawn(apparatus, supply, currents) > most * (1 - 1e-6);

    /// <summary>Which of voltage and current limit acts, in words; empty for a supply without a limit.</summary>
    public static string OfLimit(Apparatus apparatus, Supply supply, IReadOnlyDictionary<string, Complex> currents) => supply.CurrentLimit is null ? ""
        : AtLimit(apparatus, supply, currents) ? $"The current limit of '{supply.Name}' acts." : $"The voltage of '{supply.Name}' acts, its current limit does not.";

    /// <summary>Currents at which an apparatus whose impedances change with them and its supplies agree.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="start">Currents to start from, A peak.</param>
    /// <param name="impedance">Impedance matrix, ohm, at given currents.</param>
    /// <param name="tolerance">Largest change of ampere-turns in a round, relative to the largest.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="RouteFailedException">They do not settle.</exception>
    /// <remarks>Relaxed by the rule of Irons and Tuck: the next share of a step follows from how the last two steps differ.</remarks>
    /// <source key="IronsTuck1969"/>
    public static IReadOnlyDictionary<string, Complex> Settle(
        Apparatus apparatus, IReadOnlyDictionary<string, Complex> start, Func<IReadOnlyDictionary<string, Complex>, Complex[,]> impedance, double tolerance, CancellationToken cancellation)
    {
        var currents = start;
        double share = 1;
        Complex[]? last = null;
        for (int round = 0; round < MostRounds; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            var next = Currents(apparatus, impedance(currents));
            var steps = apparatus.Windings.Select(w => w.Turns * (next[w.Name] - currents[w.Name])).ToArray();
            if (steps.Max(s => s.Magnitude) <= tolerance * apparatus.Windings.Max(w => w.Turns * next[w.Name].Magnitude))
                return next;
            if (last is not null)
            {
                double product = 0, square = 0;
                for (int i = 0; i < steps.Length; i++)
                {
                    var difference = steps[i] - last[i];
                    product += (Complex.Conjugate(difference) * last[i]).Real;
                    square += difference.Magnitude * difference.Magnitude;
                }

                share = Math.Clamp(-share * product / square, 0.05, 1.5);
            }

            last = steps;
            currents = next.ToDictionary(c => c.Key, c => currents[c.Key] + share * (c.Value - currents[c.Key]), StringComparer.OrdinalIgnoreCase);
        }

        throw new RouteFailedException("Saturated steel and its supply did not settle on one current.");
    }

    /// <summary>How far the currents move, relative to the largest, when all reactances are off by a relative bar.</summary>
    public static double Spread(Apparatus apparatus, Complex[,] z, IReadOnlyDictionary<string, Complex> currents, double bar)
    {
        var shifted = (Complex[,])z.Clone();
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
                shifted[i, j] = new Complex(z[i, j].Real, z[i, j].Imaginary * (1 + bar));
        return Currents(apparatus, shifted).Max(c => (c.Value - currents[c.Key]).Magnitude) / currents.Values.Max(c => c.Magnitude);
    }

    /// <summary>What a supply has at its terminals, its own resistance left out: largest voltage (between two lines when three-phase) and line current, peak, with real and apparent power.</summary>
    public static Terminals AtTerminals(Apparatus apparatus, Supply supply, OperatingPoint point)
    {
        var z = point.Impedance ?? throw new RouteFailedException("The route gave no impedances.");
        double cycle = apparatus.Frequency > 0 ? 0.5 : 1;
        Complex Across(string name)
        {
            int i = apparatus.IndexOf(apparatus.Winding(name)!);
            Complex voltage = 0;
            for (int j = 0; j < apparatus.Windings.Count; j++)
                voltage += z[i, j] * point.Currents[apparatus.Windings[j].Name];
            return Sense(apparatus, name) * voltage;
        }

        Complex Through(string name) => Sense(apparatus, name) * point.Currents[name];
        if (supply.ThreePhase)
        {
            var phases = SupplyCircuit.Phases(supply);
            Complex[] volts = [.. phases.Select(p => p.Aggregate(Complex.Zero, (sum, n) => sum + Across(n)))], amperes = [.. phases.Select(p => Through(p[0]))];
            bool star = supply.Connection == Connection.Star;
            double line = Enumerable.Range(0, 3).Max(k => (star ? volts[k] - volts[(k + 1) % 3] : volts[k]).Magnitude);
            double drawn = Enumerable.Range(0, 3).Max(k => (star ? amperes[k] : amperes[k] - amperes[(k + 2) % 3]).Magnitude);
            return new(line, drawn, cycle * Enumerable.Range(0, 3).Sum(k => (volts[k] * Complex.Conjugate(amperes[k])).Real), cycle * Math.Sqrt(3) * line * drawn);
        }

        bool series = supply.Connection == Connection.Series;
        var direct = series ? supply.Feeds : [supply.Feeds.First(f => supply.Split is not { } split || !Apparatus.Same(split.Before, f))];
        var total = direct.Aggregate(Complex.Zero, (sum, n) => sum + Across(n));
        var current = series ? Through(supply.Feeds[0]) : supply.Feeds.Aggregate(Complex.Zero, (sum, n) => sum + Through(n));
        return new(total.Magnitude, current.Magnitude, cycle * (total * Complex.Conjugate(current)).Real, cycle * total.Magnitude * current.Magnitude);
    }

    /// <summary>Voltage, power and light (share of rated) of a load at an rms current.</summary>
    public static (double Voltage, double Power, double Light) LoadAt(Load load, double rmsCurrent)
    {
        double voltage = ResistanceAt(load, rmsCurrent) * rmsCurrent;
        double light = load.Kind == LoadKind.FilamentLamp ? SupplyCircuit.Lamp(load).LightAt(voltage) : 0;
        return (voltage, voltage * rmsCurrent, light);
    }

    private static double ResistanceAt(Load load, double rmsCurrent) =>
        load.Kind == LoadKind.FilamentLamp ? SupplyCircuit.Lamp(load).ResistanceAtCurrent(rmsCurrent) : load.Resistance!.Value;

    // Line current of a supply, A peak.
    private static double Drawn(Apparatus apparatus, Supply supply, IReadOnlyDictionary<string, Complex> currents) => supply.Connection == Connection.Parallel
        ? supply.Feeds.Aggregate(Complex.Zero, (sum, n) => sum + Sense(apparatus, n) * currents[n]).Magnitude
        : supply.Feeds.Max(n => currents[n].Magnitude);

    private static double Sense(Apparatus apparatus, string winding) => apparatus.Winding(winding)!.Reversed ? -1 : 1;
}

/// <summary>What a supply has at its terminals. Voltage and current are peak when they alternate.</summary>
/// <param name="Voltage">Largest voltage, V; between two lines when three-phase.</param>
/// <param name="Current">Largest line current, A.</param>
/// <param name="Real">Power, W, mean over a cycle.</param>
/// <param name="Apparent">Voltage times current, VA.</param>
internal readonly record struct Terminals(double Voltage, double Current, double Real, double Apparent);
