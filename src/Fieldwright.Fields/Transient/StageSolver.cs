using Fieldwright.Fields.Assembly;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Transient;

/// <summary>Solves the implicit equations of one stage on one mesh: the field with its circuits by Newton's method, the places of the bodies round it.</summary>
internal sealed class StageSolver(TransientModel model, TransientMesh mesh, double relativeError)
{
    private const int MostNewton = 30;
    private const int MostPlaces = 12;
    private const double NewtonTolerance = 1e-8;
    private readonly double[] reach = [.. model.Bodies.Select(b => Clearance.Reach(model, b))];
    private RealLdl? factor;
    private BorderedSystem<double>? bordered;
    private (int Version, double Tau) factored = (-1, 0);
    private double[] operatorValues = [], stiffness = [];

    public KeptLayout Layout { get; } = new(mesh.Base.UnknownCount, mesh.Ports.Free.Length, mesh.Ports.Conductance.Length, model.Bodies.Count);

    /// <summary>Sizes a body's error of place is measured by, m.</summary>
    public double Reach(int body) => reach[body];

    /// <summary>The stage whose conserved quantities are known + τ·rate; null if a mesh would be too flat, or Newton's method or the places do not settle.</summary>
    /// <param name="time">Time of the stage.</param>
    /// <param name="tau">Implicit share of the step, s.</param>
    /// <param name="known">Conserved quantities so far.</param>
    /// <param name="knownA">The same combination of the field's unknowns.</param>
    /// <param name="guess">A stage near by.</param>
    /// <param name="held">Whether each body rests on a stop.</param>
    public TransientStage? Solve(double time, double tau, double[] known, double[] knownA, TransientStage guess, bool[] held)
    {
        var forces = guess.Forces;
        double[]? placed = null, a = null, ports = null;
        for (var round = 0; ; round++)
        {
            var (places, speeds) = Move(tau, known, forces, held);
            if (placed is not null)
            {
                var worst = 0.0;
                for (var b = 0; b < places.Length; b++) worst = Math.Max(worst, Math.Abs(places[b] - placed[b]) / reach[b]);
                if (worst <= 0.1 * relativeError) return Finish(time, tau, known, knownA, a!, ports!, places, speeds, forces);
            }
            if (round == MostPlaces || !mesh.TryPlace(places)) return null;
            placed = places;
            if (!TrySolveField(time, tau, known, a ?? guess.A, out a, out ports)) return null;
            forces = Forces(a, [.. a.Select((v, i) => (v - knownA[i]) / tau)], Currents(time, ports), ports);
        }
    }

    /// <summary>Error of a step, relative to what is allowed, from the error of what is conserved: solved with the stage's own rows, so that stiff parts do not count.</summary>
    public double ErrorOf(double[] error, double tau, ref double largestEnergy, double[] a, double largestKinetic)
    {
        var n = Layout.Unknowns;
        double[] f = new double[n], g = new double[mesh.Ports.Count], e = new double[n], y = new double[g.Length];
        for (var i = 0; i < n; i++) f[i] = error[i] / tau;
        for (var c = 0; c < Layout.Circuits; c++)
            g[c] = -error[Layout.Linkage + c] + (mesh.Ports.Circuits[mesh.Ports.Free[c]].Capacitance is { } capacity ? tau * error[Layout.Charge + c] / capacity : 0);
        for (var p = 0; p < Layout.Conductors; p++) g[Layout.Circuits + p] = -error[Layout.Conductor + p];
        SolveRows(f, g, e, y);
        largestEnergy = Math.Max(largestEnergy, NodeVectors.Dot(a, mesh.Times(stiffness, a)));
        var ratio = largestEnergy > 0 ? Math.Sqrt(Math.Max(0, NodeVectors.Dot(e, mesh.Times(stiffness, e))) / largestEnergy) : 0;
        for (var b = 0; b < Layout.Bodies; b++)
        {
            var scale = Math.Max(largestKinetic, 1e-4 * largestEnergy);
            ratio = Math.Max(ratio, Math.Abs(error[Layout.Place + b]) / reach[b]);
            if (scale > 0) ratio = Math.Max(ratio, Math.Sqrt(0.5 * model.Bodies[b].Mass / scale) * Math.Abs(error[Layout.Speed + b]));
        }
        return ratio / relativeError;
    }

    public double[] Nodes(double[] unknowns) => NodeVectors.ToNodes(mesh.Base, unknowns);

    public TransientField Field(TransientStage stage, double time) => new(
        mesh.Placed, Nodes(stage.A), Nodes(stage.Rate), mesh.Ports.WindingCurrents(stage.Currents, model.Field.Windings.Count), stage.Voltages, time);

    /// <summary>Forces on the bodies where the mesh has them now.</summary>
    public double[] Forces(double[] a, double[] rate, double[] currents, double[] ports)
    {
        if (Layout.Bodies == 0) return [];
        var field = new TransientField(mesh.Placed, Nodes(a), Nodes(rate), mesh.Ports.WindingCurrents(currents, model.Field.Windings.Count), ports[Layout.Circuits..], 0);
        return [.. Enumerable.Range(0, Layout.Bodies).Select(b => model.Bodies[b].ForceFromCurrents ? FromCurrents(field, b) : mesh.Force(field, b))];
    }

    private double FromCurrents(TransientField field, int body)
    {
        var (force, direction) = (field.CurrentForce(model.Bodies[body].Regions), mesh.Direction(body));
        return (force.X * direction.X) + (force.Y * direction.Y);
    }

    private (double[] Places, double[] Speeds) Move(double tau, double[] known, double[] forces, bool[] held)
    {
        double[] places = new double[Layout.Bodies], speeds = new double[Layout.Bodies];
        for (var b = 0; b < places.Length; b++)
        {
            var body = model.Bodies[b];
            speeds[b] = held[b] ? 0 : known[Layout.Speed + b] + (tau * (forces[b] + body.SteadyForce) / body.Mass);
            places[b] = known[Layout.Place + b] + (tau * speeds[b]);
        }
        return (places, speeds);
    }

    private TransientStage Finish(double time, double tau, double[] known, double[] knownA, double[] a, double[] ports, double[] places, double[] speeds, double[] forces)
    {
        var currents = Currents(time, ports);
        var kept = new double[Layout.Count];
        mesh.Times(mesh.Mass, a).CopyTo(kept, 0);
        for (var c = 0; c < Layout.Circuits; c++)
        {
            var k = mesh.Ports.Free[c];
            kept[Layout.Linkage + c] = NodeVectors.Dot(mesh.Ports.Loads[k], a) + (mesh.Ports.Circuits[k].Inductance * currents[k]);
            kept[Layout.Charge + c] = known[Layout.Charge + c] + (tau * currents[k]);
        }
        for (var p = 0; p < Layout.Conductors; p++) kept[Layout.Conductor + p] = NodeVectors.Dot(mesh.Ports.ConductorLoads[p], a);
        places.CopyTo(kept, Layout.Place);
        speeds.CopyTo(kept, Layout.Speed);
        double[] rate = new double[a.Length], keptRate = new double[kept.Length];
        for (var i = 0; i < rate.Length; i++) rate[i] = (a[i] - knownA[i]) / tau;
        for (var i = 0; i < kept.Length; i++) keptRate[i] = (kept[i] - known[i]) / tau;
        return new(a, rate, currents, ports[Layout.Circuits..], kept, keptRate, forces);
    }

    private double[] Currents(double time, double[] ports)
    {
        var currents = new double[mesh.Ports.Circuits.Count];
        foreach (var k in mesh.Ports.Held) currents[k] = mesh.Ports.Circuits[k].Current!(time);
        for (var c = 0; c < Layout.Circuits; c++) currents[mesh.Ports.Free[c]] = ports[c];
        return currents;
    }

    private bool TrySolveField(double time, double tau, double[] known, double[] guess, out double[] a, out double[] ports)
    {
        var n = Layout.Unknowns;
        double[] f = (double[])mesh.Magnets.Clone(), g = new double[mesh.Ports.Count];
        for (var i = 0; i < n; i++) f[i] += known[i] / tau;
        foreach (var k in mesh.Ports.Held)
        {
            var current = mesh.Ports.Circuits[k].Current!(time);
            for (var i = 0; i < n; i++) f[i] += current * mesh.Ports.Loads[k][i];
        }
        for (var c = 0; c < Layout.Circuits; c++)
        {
            var k = mesh.Ports.Free[c];
            g[c] = -known[Layout.Linkage + c] - (tau * mesh.Ports.Voltage(k, time))
                + (mesh.Ports.Circuits[k].Capacitance is { } capacity ? tau * known[Layout.Charge + c] / capacity : 0);
        }
        for (var p = 0; p < Layout.Conductors; p++)
            g[Layout.Circuits + p] = (tau * (mesh.Ports.ConductorCurrents[p]?.Invoke(time) ?? 0)) - known[Layout.Conductor + p];
        a = new double[n];
        ports = new double[g.Length];
        if (mesh.Operator.IsLinear)
        {
            Factor(tau, guess);
            SolveRows(f, g, a, ports);
            return true;
        }
        return TryNewton(tau, f, g, guess, a, ports);
    }

    /// <summary>Newton's method on a convex functional of the field (circuits and conductors eliminated); a step is shortened until its slope has fallen by half.</summary>
    private bool TryNewton(double tau, double[] f, double[] g, double[] guess, double[] a, double[] ports)
    {
        guess.CopyTo(a, 0);
        double[] zero = new double[g.Length], step = new double[a.Length], portStep = new double[g.Length];
        for (var newton = 0; newton < MostNewton; newton++)
        {
            Factor(tau, a);
            // from rows linear in the ports: the first step makes the border exact, later ones keep it
            var residual = Residual(tau, f, a, ports);
            double[] right = [.. residual.Select(r => -r)];
            double[] border = newton == 0 ? BorderResidual(tau, g, a, ports) : zero;
            SolveRows(right, border, step, portStep);
            var descent = -NodeVectors.Dot(residual, step);
            if (!double.IsFinite(descent)) return false;
            var share = newton == 0 ? 1 : Search(tau, f, a, ports, step, portStep, descent);
            for (var i = 0; i < a.Length; i++) a[i] += share * step[i];
            for (var p = 0; p < ports.Length; p++) ports[p] += share * portStep[p];
            var size = NodeVectors.Dot(a, mesh.Times(operatorValues, a));
            var change = share * share * NodeVectors.Dot(step, mesh.Times(operatorValues, step));
            if (size == 0 || change <= NewtonTolerance * NewtonTolerance * size) return true;
        }
        return false;
    }

    private double Search(double tau, double[] f, double[] a, double[] ports, double[] step, double[] portStep, double descent)
    {
        double low = 0, slopeLow = -descent, high = double.NaN, slopeHigh = 0, share = 1;
        double[] trial = new double[a.Length], portTrial = new double[ports.Length];
        for (var k = 0; k < 10; k++)
        {
            for (var i = 0; i < trial.Length; i++) trial[i] = a[i] + (share * step[i]);
            for (var p = 0; p < ports.Length; p++) portTrial[p] = ports[p] + (share * portStep[p]);
            var slope = NodeVectors.Dot(Residual(tau, f, trial, portTrial), step);
            if (Math.Abs(slope) <= 0.5 * Math.Abs(descent)) return share;
            if (slope > 0) (high, slopeHigh) = (share, slope);
            else (low, slopeLow) = (share, slope);
            share = double.IsNaN(high) ? 2 * share : low + ((high - low) * Math.Clamp(-slopeLow / (slopeHigh - slopeLow), 0.1, 0.9));
        }
        return share;
    }

    /// <summary>K(a)·a + M·a/τ + B·ports − f.</summary>
    private double[] Residual(double tau, double[] f, double[] a, double[] ports)
    {
        var nodes = new double[mesh.Base.Space.NodeCount];
        mesh.Operator.AddForce(Nodes(a), nodes);
        var r = NodeVectors.ToUnknowns(mesh.Base, nodes);
        var mass = mesh.Times(mesh.Mass, a);
        for (var i = 0; i < r.Length; i++) r[i] += (mass[i] / tau) - f[i];
        for (var p = 0; p < ports.Length; p++)
            for (var i = 0; i < r.Length; i++) r[i] += ports[p] * mesh.Ports.Border[(p * r.Length) + i];
        return r;
    }

    private double[] BorderResidual(double tau, double[] g, double[] a, double[] ports)
    {
        var result = (double[])g.Clone();
        var corner = mesh.Ports.Corner(tau);
        for (var p = 0; p < result.Length; p++)
        {
            for (var i = 0; i < a.Length; i++) result[p] -= mesh.Ports.Border[(p * a.Length) + i] * a[i];
            for (var q = 0; q < result.Length; q++) result[p] -= corner[(q * result.Length) + p] * ports[q];
        }
        return result;
    }

    private void Factor(double tau, double[] a)
    {
        var key = (mesh.Version, tau);
        if (mesh.Operator.IsLinear && factored == key) return;
        stiffness = mesh.Tangent(Nodes(a));
        operatorValues = new double[stiffness.Length];
        for (var i = 0; i < operatorValues.Length; i++) operatorValues[i] = stiffness[i] + (mesh.Mass[i] / tau);
        if (factor is null) factor = RealLdl.Create(mesh.Base.Analysis, operatorValues);
        else factor.Refactor(operatorValues);
        bordered = mesh.Ports.Count > 0 ? BorderedSystem.Create(factor, mesh.Ports.Border, [], mesh.Ports.Corner(tau)) : null;
        factored = key;
    }

    private void SolveRows(double[] f, double[] g, double[] a, double[] ports)
    {
        if (bordered is null) factor!.Solve(f, a);
        else bordered.Solve(f, g, a, ports);
    }
}
