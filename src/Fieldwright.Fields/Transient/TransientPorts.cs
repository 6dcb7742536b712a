using Fieldwright.Fields.Assembly;
using Fieldwright.Numerics;

namespace Fieldwright.Fields.Transient;

/// <summary>Circuits and solid conductors of a transient as rows and columns round the field's unknowns.</summary>
/// <remarks>
/// With a the unknowns, c_k the grip of circuit k (its windings with their senses), s_p that of conductor p, τ the implicit share of a step and a tilde on what is known of
/// Λ = cᵀa + L·J, of the charge q and of sᵀa when a stage starts,
/// <code>
///  (K + M/τ)·a − Σ c_k J_k − Σ s_p V_p       = f + (Ma)~/τ
///  −c_kᵀ·a − (L_k + τR + τ²/C_k)·J_k         = −Λ~ − τe + τq~/C        from dΛ/dt = e − R·J − q/C, dq/dt = J
///  −s_pᵀ·a + τG_p·V_p                        = τI_p − (sᵀa)~           from I = G·V − d(sᵀa)/dt
/// </code>
/// which is symmetric.
/// </remarks>
internal sealed class TransientPorts
{
    private readonly double[,] resistance;

    public TransientPorts(TransientModel model, MeshedModel meshed)
    {
        Circuits = model.Circuits;
        var names = model.Field.Windings.Select(w => w.Name).ToList();
        var n = meshed.UnknownCount;
        Loads = new double[Circuits.Count][];
        Turns = new double[Circuits.Count][];
        resistance = new double[Circuits.Count, Circuits.Count];
        for (var k = 0; k < Circuits.Count; k++)
        {
            Loads[k] = new double[n];
            Turns[k] = new double[names.Count];
            resistance[k, k] = Circuits[k].Resistance;
            foreach (var (winding, sense) in Circuits[k].Windings)
            {
                var w = names.IndexOf(winding);
                Turns[k][w] = sense;
                resistance[k, k] += model.Field.Windings[w].Resistance;
                var grip = NodeVectors.ToUnknowns(meshed, meshed.Ports.Windings[w]);
                for (var i = 0; i < n; i++) Loads[k][i] += sense * grip[i];
            }
        }
        foreach (var shared in model.Shared)
        {
            int a = IndexOf(shared.First), b = IndexOf(shared.Second);
            foreach (var (i, j) in new[] { (a, a), (a, b), (b, a), (b, b) }) resistance[i, j] += shared.Resistance;
        }
        Free = [.. Enumerable.Range(0, Circuits.Count).Where(k => Circuits[k].Current is null)];
        Held = [.. Enumerable.Range(0, Circuits.Count).Where(k => Circuits[k].Current is not null)];
        ConductorLoads = [.. meshed.Ports.ConductorLoads.Select(s => NodeVectors.ToUnknowns(meshed, s))];
        Conductance = meshed.Ports.Conductance;
        ConductorCurrents = [.. meshed.Ports.Conductors.Select(c => model.ConductorCurrents.GetValueOrDefault(c.Name))];
        Border = new double[n * (Free.Length + Conductance.Length)];
        for (var f = 0; f < Free.Length; f++)
            for (var i = 0; i < n; i++) Border[(f * n) + i] = -Loads[Free[f]][i];
        for (var p = 0; p < Conductance.Length; p++)
            for (var i = 0; i < n; i++) Border[((Free.Length + p) * n) + i] = -ConductorLoads[p][i];

        int IndexOf(string name) => Enumerable.Range(0, Circuits.Count).First(k => Circuits[k].Name == name);
    }

    public IReadOnlyList<WindingCircuit> Circuits { get; }

    /// <summary>c_k over the unknowns.</summary>
    public double[][] Loads { get; }

    /// <summary>Sense of each winding in each circuit, zero where it has no part.</summary>
    public double[][] Turns { get; }

    /// <summary>Circuits fed by a voltage, and by a current.</summary>
    public int[] Free { get; }

    public int[] Held { get; }

    public double[][] ConductorLoads { get; }

    public double[] Conductance { get; }

    public Func<double, double>?[] ConductorCurrents { get; }

    /// <summary>Columns of the border.</summary>
    public double[] Border { get; }

    public int Count => Free.Length + Conductance.Length;

    public double[] Corner(double tau)
    {
        var d = new double[Count * Count];
        for (var f = 0; f < Free.Length; f++)
        {
            var circuit = Circuits[Free[f]];
            for (var g = 0; g < Free.Length; g++) d[(f * Count) + g] = -tau * resistance[Free[f], Free[g]];
            d[(f * Count) + f] -= circuit.Inductance + (circuit.Capacitance is { } c ? tau * tau / c : 0);
        }
        for (var p = 0; p < Conductance.Length; p++) d[((Free.Length + p) * Count) + Free.Length + p] = tau * Conductance[p];
        return d;
    }

    /// <summary>Heat in all circuits, W, for their currents.</summary>
    public double WireHeat(double[] currents)
    {
        var sum = 0.0;
        for (var k = 0; k < currents.Length; k++)
            for (var l = 0; l < currents.Length; l++) sum += currents[k] * resistance[k, l] * currents[l];
        return sum;
    }

    /// <summary>Voltage the source of a circuit with a held current must give, V.</summary>
    public double HeldVoltage(int k, double[] currents, double linkageRate)
    {
        var sum = linkageRate;
        for (var l = 0; l < currents.Length; l++) sum += resistance[k, l] * currents[l];
        return sum;
    }

    public double Voltage(int k, double time) => Circuits[k].Voltage?.Invoke(time) ?? 0;

    /// <summary>Current of each winding.</summary>
    public double[] WindingCurrents(double[] circuitCurrents, int windings)
    {
        var result = new double[windings];
        for (var k = 0; k < circuitCurrents.Length; k++)
            for (var w = 0; w < windings; w++) result[w] += Turns[k][w] * circuitCurrents[k];
        return result;
    }

    /// <summary>What is wrong with a model's circuits, bodies and conductors is refused here.</summary>
    public static void Check(TransientModel model)
    {
        var field = model.Field;
        field.Check();
        if (field.Frequency != 0) throw new ArgumentException("A transient is followed in a model without a frequency.", nameof(model));
        if (field.Edges is not null) throw new ArgumentException("A piece of a row is solved at rest or in steady motion, not followed in time.", nameof(model));
        if (field.Motion.Count > 0) throw new ArgumentException("Bodies of a transient move by themselves; leave steady motion out.", nameof(model));
        Guard.NotNegative(model.ResolvedFrequency, nameof(model.ResolvedFrequency));
        var used = new HashSet<string>();
        foreach (var circuit in model.Circuits)
        {
            foreach (var (winding, sense) in circuit.Windings)
            {
                if (field.Windings.All(w => w.Name != winding)) throw new ArgumentException($"Circuit {circuit.Name} names winding {winding}, which is not there.", nameof(model));
                if (!used.Add(winding)) throw new ArgumentException($"Winding {winding} belongs to two circuits.", nameof(model));
                if (Math.Abs(sense) != 1) throw new ArgumentException($"Circuit {circuit.Name}: the sense of a winding is +1 or −1.", nameof(model));
            }
            Guard.NotNegative(circuit.Resistance, $"{circuit.Name}: {nameof(circuit.Resistance)}");
            Guard.NotNegative(circuit.Inductance, $"{circuit.Name}: {nameof(circuit.Inductance)}");
            if (circuit.Capacitance is { } c) Guard.Positive(c, $"{circuit.Name}: {nameof(circuit.Capacitance)}");
            if (circuit.Current is not null && (circuit.Voltage is not null || circuit.Capacitance is not null || circuit.Inductance != 0))
                throw new ArgumentException($"Circuit {circuit.Name} is fed by a current: no voltage, capacitor or inductance changes it.", nameof(model));
        }
        foreach (var shared in model.Shared)
        {
            Guard.NotNegative(shared.Resistance, nameof(shared.Resistance));
            foreach (var name in new[] { shared.First, shared.Second })
                if (model.Circuits.FirstOrDefault(c => c.Name == name) is not { Current: null })
                    throw new ArgumentException($"A shared resistance names {name}, which is no circuit fed by its voltage.", nameof(model));
        }
        foreach (var name in model.ConductorCurrents.Keys)
            if (field.Conductors.All(c => c.Name != name)) throw new ArgumentException($"A current is given for {name}, which is no solid conductor of the model.", nameof(model));
        foreach (var body in model.Bodies)
        {
            Guard.Positive(body.Mass, $"{body.Name}: {nameof(body.Mass)}");
            Guard.Finite(body.SteadyForce, $"{body.Name}: {nameof(body.SteadyForce)}");
            Guard.Finite(body.Speed, $"{body.Name}: {nameof(body.Speed)}");
            Guard.InRange(body.Restitution, 0, 0.999, $"{body.Name}: {nameof(body.Restitution)}");
            if (!(body.LowestDisplacement <= 0 && body.HighestDisplacement >= 0)) throw new ArgumentException($"{body.Name} starts beyond one of its stops.", nameof(model));
            if (Math.Abs(body.Direction.Magnitude - 1) > 1e-9) throw new ArgumentException($"{body.Name}: the direction of motion is a unit vector.", nameof(model));
        }
    }
}
