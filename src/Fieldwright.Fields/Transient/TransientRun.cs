using System.Numerics;
using Fieldwright.Fields.Assembly;

namespace Fieldwright.Fields.Transient;

/// <summary>A transient on its way: takes steps, judges and refuses them, makes new meshes, lets bodies land, and keeps the books of energy.</summary>
internal sealed class TransientRun
{
    /// <summary>A fresh start takes two steps of the implicit Euler rule, each this share of the step to come: they damp what does not fit at once.</summary>
    private const double StartShare = 1e-3;

    private readonly TransientModel model;
    private readonly TransientOptions options;
    private readonly CancellationToken cancellation;
    private readonly List<TransientStep> steps = [];
    private readonly double firstStep, largestStep;
    private readonly bool[] held;
    private TransientMesh mesh;
    private StageSolver solver;
    private TransientStage now;
    private double time, largestEnergy, largestKinetic, fieldAtStart, circuitAtStart, kineticAtStart;
    private EnergyBalance books;
    private int refused, meshes = 1;

    public TransientRun(TransientModel model, TransientOptions options, CancellationToken cancellation)
    {
        (this.model, this.options, this.cancellation) = (model, options, cancellation);
        firstStep = options.FirstStep > 0 ? options.FirstStep : 1e-3 * options.End;
        largestStep = options.LargestStep > 0 ? options.LargestStep : options.End / 50;
        held = new bool[model.Bodies.Count];
        mesh = new TransientMesh(model, new double[held.Length], options.Fineness, cancellation);
        solver = new StageSolver(model, mesh, options.RelativeError);
        now = AtRest();
        Hold();
        fieldAtStart = FieldEnergy();
        circuitAtStart = CircuitEnergy();
        kineticAtStart = KineticEnergy();
        Note();
    }

    public TransientSolution Follow(Action<TransientField>? observe)
    {
        var h = Math.Min(firstStep, largestStep);
        double[] stops = [.. options.Breaks.Where(t => t > 0 && t < options.End).Order(), options.End];
        StartAfresh(Math.Min(h, stops[0]));
        observe?.Invoke(solver.Field(now, time));
        foreach (var stop in stops)
        {
            while (time < stop * (1 - 1e-12))
            {
                cancellation.ThrowIfCancellationRequested();
                if (steps.Count + refused > options.MostSteps) throw new FieldNotConvergedException($"The transient needs more than {options.MostSteps} steps; it has reached {time:G4} s.", []);
                var left = stop - time;
                if (options.FixedStep)
                {
                    if (!TryStep(left < 1.5 * firstStep ? left : firstStep, out _)) throw Unsettled(firstStep);
                }
                else
                {
                    h = Math.Min(largestStep, Take(h >= left ? left : h > 0.5 * left ? 0.5 * left : h, h));
                }
                observe?.Invoke(solver.Field(now, time));
                if (options.Until?.Invoke(steps[^1]) == true) return new TransientSolution(model, steps, solver.Field(now, time), refused, meshes);
            }
            if (stop < options.End) StartAfresh(h = Math.Min(firstStep, h));
        }
        return new TransientSolution(model, steps, solver.Field(now, time), refused, meshes);
    }

    /// <summary>Takes one step, shortened until it is good enough; gives the length of the next.</summary>
    private double Take(double step, double wished)
    {
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            if (step < 1e-9 * firstStep) throw Unsettled(step);
            if (!TryStep(step, out var ratio))
            {
                refused++;
                step *= ratio > 1 ? Math.Min(0.8, TrBdf2.NextStep(ratio)) : 0.5;
                continue;
            }
            var factor = TrBdf2.NextStep(ratio);
            // a step kept as it is keeps its factor
            return factor is > 0.95 and < 1.3 ? Math.Max(step, wished) : step < 0.99 * wished && factor > 1 ? wished : step * factor;
        }
    }

    /// <summary>One step, taken if it is good; false if it must be shorter (ratio above 1 when its error says so).</summary>
    private bool TryStep(double h, out double ratio)
    {
        ratio = 0;
        var before = now;
        var (middle, end) = Stages(h);
        if (end is null)
        {
            // the air may only need new triangles, where the bodies are now
            if (model.Bodies.Count == 0) return false;
            MeshAnew(h);
            before = now;
            (middle, end) = Stages(h);
            if (end is null) return false;
        }
        var error = new double[solver.Layout.Count];
        for (var i = 0; i < error.Length; i++)
            error[i] = h * ((TrBdf2.ErrorWeights[0] * before.KeptRate[i]) + (TrBdf2.ErrorWeights[1] * middle!.KeptRate[i]) + (TrBdf2.ErrorWeights[2] * end.KeptRate[i]));
        ratio = solver.ErrorOf(error, h * TrBdf2.Diagonal, ref largestEnergy, end.A, largestKinetic);
        if (ratio > 1 && !options.FixedStep) return false;
        if (Overshoots(end, h, out var share) && !options.FixedStep)
        {
            refused++;
            return TryStep(share * h, out ratio);
        }
        Account(h, TrBdf2.Weights, (before, time), (middle!, time + (TrBdf2.Middle * h)), (end, time + h));
        now = end;
        time += h;
        Land();
        Note();
        return true;
    }

    private (TransientStage? Middle, TransientStage? End) Stages(double h)
    {
        var tau = h * TrBdf2.Diagonal;
        var middle = solver.Solve(time + (TrBdf2.Middle * h), tau, Sum(now.Kept, (tau, now.KeptRate)), Sum(now.A, (tau, now.Rate)), now, held);
        if (middle is null) return (null, null);
        var (w0, w1) = (h * TrBdf2.Weights[0], h * TrBdf2.Weights[1]);
        var end = solver.Solve(time + h, tau, Sum(now.Kept, (w0, now.KeptRate), (w1, middle.KeptRate)), Sum(now.A, (w0, now.Rate), (w1, middle.Rate)), middle, held);
        return (middle, end);
    }

    private void StartAfresh(double h)
    {
        var step = StartShare * h;
        for (var k = 0; k < 2; k++)
        {
            var next = solver.Solve(time + step, step, now.Kept, now.A, now, held) ?? throw Unsettled(step);
            if (k == 1) Account(2 * step, [1], (next, time + step));
            now = next;
            time += step;
        }
        Hold();
    }

    /// <summary>New triangles with the bodies where they are; the currents are carried over.</summary>
    private void MeshAnew(double h)
    {
        // a refused stage may have left the bodies elsewhere
        if (!mesh.TryPlace(now.Kept[solver.Layout.Place..solver.Layout.Speed])) throw Unsettled(h);
        var before = Residual();
        var (from, nodes, kept, currents, voltages, forces) = (mesh.Placed, solver.Nodes(now.A), now.Kept, now.Currents, now.Voltages, now.Forces);
        var old = solver.Layout;
        mesh = new TransientMesh(model, [.. Enumerable.Range(0, held.Length).Select(b => kept[old.Place + b])], options.Fineness, cancellation);
        solver = new StageSolver(model, mesh, options.RelativeError);
        var layout = solver.Layout;
        var carried = new double[layout.Count];
        mesh.Project(from, nodes).CopyTo(carried, 0);
        kept.AsSpan(old.Unknowns).CopyTo(carried.AsSpan(layout.Unknowns));
        now = new(new double[layout.Unknowns], new double[layout.Unknowns], currents, voltages, carried, new double[layout.Count], forces);
        meshes++;
        StartAfresh(h);
        books = books with { Remeshing = books.Remeshing + Residual() - before };
    }

    private TransientStage AtRest()
    {
        var layout = solver.Layout;
        var kept = new double[layout.Count];
        var currents = new double[model.Circuits.Count];
        for (var k = 0; k < currents.Length; k++) currents[k] = model.Circuits[k].Current?.Invoke(0) ?? model.Circuits[k].InitialCurrent;
        var a = StaticStart(currents);
        mesh.Times(mesh.Mass, a).CopyTo(kept, 0);
        for (var c = 0; c < layout.Circuits; c++)
        {
            var k = mesh.Ports.Free[c];
            var circuit = model.Circuits[k];
            kept[layout.Linkage + c] = NodeVectors.Dot(mesh.Ports.Loads[k], a) + (circuit.Inductance * currents[k]);
            kept[layout.Charge + c] = circuit.Capacitance is { } capacity ? -capacity * circuit.CapacitorVoltage : 0;
        }
        for (var p = 0; p < layout.Conductors; p++) kept[layout.Conductor + p] = NodeVectors.Dot(mesh.Ports.ConductorLoads[p], a);
        for (var b = 0; b < layout.Bodies; b++) kept[layout.Speed + b] = model.Bodies[b].Speed;
        var voltages = new double[layout.Conductors];
        for (var p = 0; p < voltages.Length; p++) voltages[p] = (mesh.Ports.ConductorCurrents[p]?.Invoke(0) ?? 0) / mesh.Ports.Conductance[p];
        double[] ports = [.. new double[layout.Circuits], .. voltages];
        return new(a, new double[a.Length], currents, voltages, kept, new double[layout.Count], solver.Forces(a, new double[a.Length], currents, ports));
    }

    /// <summary>The static field of the currents and magnets at t = 0.</summary>
    private double[] StaticStart(double[] currents)
    {
        var windings = mesh.Ports.WindingCurrents(currents, model.Field.Windings.Count);
        var field = mesh.Base.Model with
        {
            Windings = [.. model.Field.Windings.Select((w, i) => w with { Drive = new ImposedCurrent(windings[i]) })],
            Conductors = [.. model.Field.Conductors.Select(c => c with
            {
                Drive = model.ConductorCurrents.TryGetValue(c.Name, out var current) ? new ImposedCurrent(new Complex(current(0), 0)) : new OpenCircuit(),
            })],
        };
        return NodeVectors.ToUnknowns(mesh.Base, StaticField.Solve(mesh.Base.With(field), cancellation).System.Field);
    }

    /// <summary>Whether a body has gone through its stop, and the share of the step at which it meets it.</summary>
    private bool Overshoots(TransientStage end, double h, out double share)
    {
        share = 1;
        var layout = solver.Layout;
        for (var b = 0; b < held.Length; b++)
        {
            if (held[b]) continue;
            double from = now.Kept[layout.Place + b], to = end.Kept[layout.Place + b], speed = now.Kept[layout.Speed + b];
            var stop = to < model.Bodies[b].LowestDisplacement ? model.Bodies[b].LowestDisplacement : model.Bodies[b].HighestDisplacement;
            if (to >= model.Bodies[b].LowestDisplacement && to <= model.Bodies[b].HighestDisplacement) continue;
            if (Math.Abs(to - stop) <= 1e-3 * options.RelativeError * solver.Reach(b)) continue;
            // place as a parabola through where it was, its speed there and where it came to
            double bend = to - from - (speed * h), rise = speed * h, gap = stop - from;
            var root = Math.Abs(bend) < 1e-12 * Math.Abs(rise) ? gap / rise : (2 * gap) / (rise + (Math.Sign(gap == 0 ? rise : gap) * Math.Sqrt(Math.Max(0, (rise * rise) + (4 * bend * gap)))));
            share = Math.Min(share, Math.Clamp(root, 1e-3, 0.999));
        }
        return share < 1;
    }

    /// <summary>Bodies that have come to a stop lose their speed there.</summary>
    private void Land()
    {
        var layout = solver.Layout;
        var landed = false;
        for (var b = 0; b < held.Length; b++)
        {
            var body = model.Bodies[b];
            double place = now.Kept[layout.Place + b], speed = now.Kept[layout.Speed + b];
            if (held[b] || (place > body.LowestDisplacement && place < body.HighestDisplacement)) continue;
            var low = place <= body.LowestDisplacement;
            var stop = low ? body.LowestDisplacement : body.HighestDisplacement;
            if (low ? speed > 0 : speed < 0) continue;
            var lost = 0.5 * body.Mass * speed * speed * (1 - (body.Restitution * body.Restitution));
            // a body that would only tremble stays
            var back = Math.Abs(body.Restitution * speed) * largestStep < 1e-6 * solver.Reach(b) ? 0 : -body.Restitution * speed;
            if (back == 0) lost = 0.5 * body.Mass * speed * speed;
            now.Kept[layout.Place + b] = stop;
            now.Kept[layout.Speed + b] = back;
            now.KeptRate[layout.Place + b] = back;
            books = books with { Impact = books.Impact + lost };
            landed = true;
        }
        if (landed || Array.Exists(held, x => x)) Hold();
    }

    /// <summary>Which bodies rest: on a stop, without speed, and pressed against it.</summary>
    private void Hold()
    {
        var layout = solver.Layout;
        for (var b = 0; b < held.Length; b++)
        {
            var body = model.Bodies[b];
            var push = now.Forces[b] + body.SteadyForce;
            var place = now.Kept[layout.Place + b];
            held[b] = now.Kept[layout.Speed + b] == 0 && ((place <= body.LowestDisplacement && push <= 0) || (place >= body.HighestDisplacement && push >= 0));
            now.KeptRate[layout.Place + b] = now.Kept[layout.Speed + b];
            now.KeptRate[layout.Speed + b] = held[b] ? 0 : push / body.Mass;
        }
    }

    private void Account(double h, double[] weights, params (TransientStage Stage, double Time)[] stages)
    {
        for (var s = 0; s < stages.Length; s++)
        {
            var (stage, at) = stages[s];
            var w = h * weights[s];
            books = books with
            {
                Delivered = books.Delivered + (w * Delivered(stage, at)),
                SolidHeat = books.SolidHeat + (w * SolidHeat(stage)),
                WireHeat = books.WireHeat + (w * mesh.Ports.WireHeat(stage.Currents)),
            };
        }
    }

    private double Delivered(TransientStage stage, double at)
    {
        var sum = 0.0;
        for (var k = 0; k < stage.Currents.Length; k++) sum += stage.Currents[k] * Voltage(k, stage, at);
        for (var p = 0; p < stage.Voltages.Length; p++) sum += stage.Voltages[p] * (mesh.Ports.ConductorCurrents[p]?.Invoke(at) ?? 0);
        return sum;
    }

    private double Voltage(int k, TransientStage stage, double at) => model.Circuits[k].Current is null
        ? mesh.Ports.Voltage(k, at)
        : mesh.Ports.HeldVoltage(k, stage.Currents, NodeVectors.Dot(mesh.Ports.Loads[k], stage.Rate));

    private double SolidHeat(TransientStage stage)
    {
        var sum = NodeVectors.Dot(stage.Rate, mesh.Times(mesh.Mass, stage.Rate));
        for (var p = 0; p < stage.Voltages.Length; p++)
        {
            var v = stage.Voltages[p];
            sum += (mesh.Ports.Conductance[p] * v * v) - (2 * v * NodeVectors.Dot(mesh.Ports.ConductorLoads[p], stage.Rate));
        }
        return sum;
    }

    private double FieldEnergy() => solver.Field(now, time).Energy;

    private double CircuitEnergy()
    {
        var sum = 0.0;
        for (var c = 0; c < mesh.Ports.Free.Length; c++)
        {
            var k = mesh.Ports.Free[c];
            sum += 0.5 * model.Circuits[k].Inductance * now.Currents[k] * now.Currents[k];
            if (model.Circuits[k].Capacitance is { } capacity) sum += 0.5 * now.Kept[solver.Layout.Charge + c] * now.Kept[solver.Layout.Charge + c] / capacity;
        }
        return sum;
    }

    private double KineticEnergy()
    {
        var sum = 0.0;
        for (var b = 0; b < held.Length; b++) sum += 0.5 * model.Bodies[b].Mass * now.Kept[solver.Layout.Speed + b] * now.Kept[solver.Layout.Speed + b];
        return sum;
    }

    private double Residual()
    {
        UpdateBooks();
        return books.Residual;
    }

    private void UpdateBooks()
    {
        var potential = 0.0;
        for (var b = 0; b < held.Length; b++) potential -= model.Bodies[b].SteadyForce * now.Kept[solver.Layout.Place + b];
        books = books with
        {
            Field = FieldEnergy() - fieldAtStart,
            Circuit = CircuitEnergy() - circuitAtStart,
            Kinetic = KineticEnergy() - kineticAtStart,
            Potential = potential,
        };
    }

    private void Note()
    {
        UpdateBooks();
        largestKinetic = Math.Max(largestKinetic, KineticEnergy());
        CheckNetCurrent();
        var layout = solver.Layout;
        steps.Add(new(
            time,
            now.Currents,
            [.. Enumerable.Range(0, model.Circuits.Count).Select(k => Voltage(k, now, time))],
            [.. mesh.Base.Ports.Windings.Select(w => NodeVectors.Dot(NodeVectors.ToUnknowns(mesh.Base, w), now.A))],
            now.Voltages,
            now.Kept[layout.Place..layout.Speed],
            now.Kept[layout.Speed..layout.Count],
            now.Forces,
            SolidHeat(now),
            books));
    }

    private void CheckNetCurrent()
    {
        if (model.Field.Symmetry == Symmetry.Round) return;
        double net = 0, gross = 0;
        var windings = mesh.Ports.WindingCurrents(now.Currents, model.Field.Windings.Count);
        for (var w = 0; w < windings.Length; w++)
            foreach (var side in model.Field.Windings[w].Sides) Count(side.Turns * windings[w]);
        foreach (var current in mesh.Ports.ConductorCurrents) Count(current?.Invoke(time) ?? 0);
        if (Math.Abs(net) > 1e-6 * gross) throw new NetCurrentException(Math.Abs(net));

        void Count(double current)
        {
            net += current;
            gross += Math.Abs(current);
        }
    }

    private FieldNotConvergedException Unsettled(double step) => new($"The transient does not settle at {time:G4} s, even with a step of {step:G3} s.", []);

    private static double[] Sum(double[] start, params ReadOnlySpan<(double Times, double[] What)> terms)
    {
        var result = (double[])start.Clone();
        foreach (var (times, what) in terms)
            for (var i = 0; i < result.Length; i++) result[i] += times * what[i];
        return result;
    }
}
