using System.Numerics;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Loads;
using MathNet.Numerics.LinearAlgebra.Complex;

namespace Fieldwright.Bench.Routes;

/// <summary>Currents of the windings from their supplies and loads, the apparatus itself standing in as an n-port. Phasors are peak.</summary>
internal static class SupplyNetwork
{
    private const int MostRounds = 200;

    /// <summary>Whether every current is given by the file, so that no impedance is needed to know them.</summary>
    public static bool IsImposed(Apparatus apparatus) =>
        apparatus.Loads.Count == 0 && apparatus.Supplies.All(s => s.Current is not null && (s.Connection == Connection.Series || s.Feeds.Count == 1));

    /// <summary>Currents given by the file, A peak; zero in a winding that nothing feeds.</summary>
    /// <exception cref="RouteFailedException">Some current follows from a voltage or a load.</exception>
    public static IReadOnlyDictionary<string, Complex> ImposedCurrents(Apparatus apparatus)
    {
        if (!IsImposed(apparatus))
            throw new RouteFailedException("The currents follow from voltages and loads and need a route to be known.");
        var currents = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.Zero, StringComparer.OrdinalIgnoreCase);
        foreach (var supply in apparatus.Supplies)
            foreach (string name in supply.Feeds)
                currents[name] = Sense(apparatus, name) * Complex.FromPolarCoordinates(supply.Current!.Value, supply.PhaseDegrees * Math.PI / 180);
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
        var lamps = apparatus.Loads.ToDictionary(l => l.Name, l => ColdStart(l), StringComparer.OrdinalIgnoreCase);
        double root = apparatus.Frequency > 0 ? Math.Sqrt(2) : 1;
        for (int round = 0; round < MostRounds; round++)
        {
            var currents = Solve(apparatus, impedance, lamps);
            double change = 0;
            foreach (var load in apparatus.Loads)
            {
                double resistance = ResistanceAt(load, currents[load.On].Magnitude / root);
                change = Math.Max(change, Math.Abs(resistance / lamps[load.Name] - 1));
                // Half a step: a filament's resistance rises with its current, so full steps would swing.
                lamps[load.Name] = Math.Sqrt(lamps[load.Name] * resistance);
            }

            if (change < 1e-10)
                return currents;
        }

        throw new RouteFailedException("The lamp's resistance did not settle.");
    }

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

    /// <summary>Voltage and current at the terminals of a supply, peak phasors, its own resistance left out.</summary>
    public static (Complex Voltage, Complex Current) AtTerminals(Apparatus apparatus, Supply supply, OperatingPoint point)
    {
        var z = point.Impedance ?? throw new RouteFailedException("The route gave no impedances.");
        Complex total = 0, current = 0;
        foreach (string name in supply.Feeds)
        {
            int i = apparatus.IndexOf(apparatus.Winding(name)!);
            double sense = Sense(apparatus, name);
            Complex voltage = 0;
            for (int j = 0; j < apparatus.Windings.Count; j++)
                voltage += z[i, j] * point.Currents[apparatus.Windings[j].Name];
            if (supply.Connection == Connection.Series)
                (total, current) = (total + sense * voltage, sense * point.Currents[name]);
            else
                (total, current) = (sense * voltage, current + sense * point.Currents[name]);
        }

        return (total, current);
    }

    /// <summary>Voltage, power and light (share of rated) of a load at an rms current.</summary>
    public static (double Voltage, double Power, double Light) LoadAt(Load load, double rmsCurrent)
    {
        double voltage = ResistanceAt(load, rmsCurrent) * rmsCurrent;
        double light = load.Kind == LoadKind.FilamentLamp ? Lamp(load).LightAt(voltage) : 0;
        return (voltage, voltage * rmsCurrent, light);
    }

    private static double ResistanceAt(Load load, double rmsCurrent) =>
        load.Kind == LoadKind.FilamentLamp ? Lamp(load).ResistanceAtCurrent(rmsCurrent) : load.Resistance!.Value;

    private static double ColdStart(Load load) =>
        load.Kind == LoadKind.FilamentLamp ? load.RatedVoltage!.Value * load.RatedVoltage.Value / load.RatedPower!.Value : load.Resistance!.Value;

    private static FilamentLamp Lamp(Load load) => new(load.RatedVoltage!.Value, load.RatedPower!.Value);

    // Unknown: one current a winding. Rows: a winding on a supply, on a load, or open.
    private static Dictionary<string, Complex> Solve(Apparatus apparatus, Complex[,] z, Dictionary<string, double> loads)
    {
        int n = apparatus.Windings.Count;
        var a = new DenseMatrix(n, n);
        var b = new DenseVector(n);
        void AddVoltage(int row, int winding, Complex factor)
        {
            for (int j = 0; j < n; j++)
                a[row, j] += factor * z[winding, j];
        }

        for (int i = 0; i < n; i++)
        {
            var winding = apparatus.Windings[i];
            var load = apparatus.Loads.FirstOrDefault(l => Apparatus.Same(l.On, winding.Name));
            var supply = apparatus.SupplyOf(winding.Name);
            if (supply is null)
            {
                // V + R I = 0 through its load; I = 0 when nothing hangs on it.
                if (load is null)
                    a[i, i] = 1;
                else
                {
                    AddVoltage(i, i, 1);
                    a[i, i] += loads[load.Name];
                }

                continue;
            }

            int first = apparatus.IndexOf(apparatus.Winding(supply.Feeds[0])!);
            double sense = Sense(apparatus, winding.Name), firstSense = Sense(apparatus, supply.Feeds[0]);
            var phase = Complex.FromPolarCoordinates(1, supply.PhaseDegrees * Math.PI / 180);
            if (i != first)
            {
                if (supply.Connection == Connection.Series)
                    (a[i, i], a[i, first]) = (sense, -firstSense);
                else
                {
                    AddVoltage(i, i, sense);
                    AddVoltage(i, first, -firstSense);
                }

                continue;
            }

            bool series = supply.Connection == Connection.Series;
            if (supply.Current is { } current)
            {
                foreach (int k in Fed(apparatus, supply))
                    if (!series || k == first)
                        a[i, k] += Sense(apparatus, apparatus.Windings[k].Name);
                b[i] = current * phase;
                continue;
            }

            foreach (int k in Fed(apparatus, supply))
            {
                double s = Sense(apparatus, apparatus.Windings[k].Name);
                if (series || k == first)
                    AddVoltage(i, k, s);
                if (!series || k == first)
                    a[i, k] += s * supply.InternalResistance;
            }

            b[i] = (supply.Voltage ?? throw new RouteFailedException($"'{supply.Name}' has neither a voltage nor a current.")) * phase;
        }

        var x = a.Solve(b);
        if (x.Any(v => !double.IsFinite(v.Real) || !double.IsFinite(v.Imaginary)))
            throw new RouteFailedException("Supplies and windings form a network without a unique solution: a loop of voltage sources, or a winding without resistance.");
        return Enumerable.Range(0, n).ToDictionary(i => apparatus.Windings[i].Name, i => x[i], StringComparer.OrdinalIgnoreCase);
    }

    private static IEnumerable<int> Fed(Apparatus apparatus, Supply supply) => supply.Feeds.Select(f => apparatus.IndexOf(apparatus.Winding(f)!));

    private static double Sense(Apparatus apparatus, string winding) => apparatus.Winding(winding)!.Reversed ? -1 : 1;
}
