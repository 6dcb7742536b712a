using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Harmonic;

/// <summary>The factored harmonic field together with its windings and conductors, as one complex symmetric system.</summary>
/// <remarks>
/// With a the unknowns, I the currents of voltage-driven windings and V the end-to-end voltages of conductors,
/// <code>
///  (K + jωM)·a − Σ c_w I_w − Σ s_p V_p           = b_a
///  −c_wᵀ·a − (Z_w/jω)·I_w                        = −E_w/jω        from E = Z·I + jω·cᵀa
///  −s_pᵀ·a + (G_p/jω)·V_p (+ V_p/(jω Z_p))       = I_p/jω or E_p/(jω Z_p)   from I = G·V − jω·sᵀa
/// </code>
/// The field block is factored once; the ports are a Schur complement of their own number. Dual problems use the same rows.
/// </remarks>
internal sealed class HarmonicSystem
{
    private readonly MeshedModel meshed;
    private readonly ComplexLdl factor;
    private readonly double[][] loads;
    private readonly Complex[][] responses;
    private readonly Complex[] diagonal;
    private readonly List<int> free = [];
    private readonly Complex jOmega;

    /// <summary>Assembles and factors.</summary>
    /// <param name="meshed">The model on its mesh.</param>
    /// <param name="reluctivity">Reluctivity at each quadrature point of nonlinear triangles; not read for linear ones.</param>
    public HarmonicSystem(MeshedModel meshed, double[] reluctivity)
        : this(meshed, Factor(meshed, reluctivity), null)
    {
    }

    private HarmonicSystem(MeshedModel meshed, ComplexLdl factor, Complex[][]? known)
    {
        this.meshed = meshed;
        this.factor = factor;
        var model = meshed.Model;
        jOmega = new(0, model.AngularFrequency);
        WindingCount = model.Windings.Count;
        loads = [.. meshed.Ports.Windings, .. meshed.Ports.ConductorLoads];
        responses = known ?? new Complex[loads.Length][];
        diagonal = new Complex[loads.Length];
        if (known is null) SolvePorts();
        for (var k = 0; k < loads.Length; k++)
        {
            if (k < WindingCount)
            {
                if (model.Windings[k].Drive is not ImposedVoltage v) continue;
                diagonal[k] = -(v.SeriesImpedance + model.Windings[k].Resistance) / jOmega;
                free.Add(k);
            }
            else
            {
                var p = k - WindingCount;
                diagonal[k] = meshed.Ports.Conductance[p] / jOmega;
                if (meshed.Ports.Conductors[p].Drive is ImposedVoltage v)
                {
                    if (v.SeriesImpedance == 0) continue;
                    diagonal[k] += 1 / (jOmega * v.SeriesImpedance);
                }
                free.Add(k);
            }
        }
    }

    private int WindingCount { get; }

    /// <summary>The same factor and responses under other drives.</summary>
    public HarmonicSystem Redriven(MeshedModel changed) => new(changed, factor, responses);

    /// <summary>The field and the port quantities under the model's own drives.</summary>
    /// <returns>Field over the nodes, and winding currents followed by conductor voltages.</returns>
    public (Complex[] Field, Complex[] Ports) SolveDriven()
    {
        var model = meshed.Model;
        var known = new Complex[loads.Length];
        var right = new Complex[loads.Length];
        for (var k = 0; k < loads.Length; k++)
        {
            var drive = k < WindingCount ? model.Windings[k].Drive : meshed.Ports.Conductors[k - WindingCount].Drive;
            switch (drive)
            {
                case ImposedCurrent c when k < WindingCount: known[k] = c.Current; break;
                case ImposedCurrent c: right[k] = c.Current / jOmega; break;
                case ImposedVoltage v when k < WindingCount: right[k] = -v.Voltage / jOmega; break;
                case ImposedVoltage v when v.SeriesImpedance == 0: known[k] = v.Voltage; break;
                case ImposedVoltage v: right[k] = v.Voltage / (jOmega * v.SeriesImpedance); break;
            }
        }
        var field = new Complex[meshed.Space.NodeCount];
        for (var k = 0; k < loads.Length; k++) Add(field, responses[k], known[k]);
        var ports = CloseInPlace(field, right);
        for (var k = 0; k < loads.Length; k++) ports[k] += known[k];
        return (field, ports);
    }

    /// <summary>Solves the field block alone, every port dead.</summary>
    public Complex[] SolveField(Complex[] load)
    {
        var x = new Complex[meshed.UnknownCount];
        factor.Solve(NodeVectors.ToUnknowns(meshed, load), x);
        return NodeVectors.ToNodes(meshed, x);
    }

    /// <summary>Solves the same rows for a given right-hand side: load over the nodes, and one entry a port (unused where the port is held).</summary>
    public (Complex[] Field, Complex[] Ports) Solve(Complex[] load, Complex[] portLoad)
    {
        var field = SolveField(load);
        return (field, CloseInPlace(field, portLoad));
    }

    /// <summary>Impedances between windings, Ω, their own resistance included and with every conductor as the model drives it (dead sources).</summary>
    public Complex[,] Impedances()
    {
        var n = WindingCount;
        var z = new Complex[n, n];
        var conductors = free.Where(k => k >= n).ToList();
        for (var j = 0; j < n; j++)
        {
            var field = (Complex[])responses[j].Clone();
            CloseInPlace(field, new Complex[loads.Length], conductors);
            for (var i = 0; i < n; i++) z[i, j] = jOmega * NodeVectors.Dot(loads[i], field);
            z[j, j] += meshed.Model.Windings[j].Resistance;
        }
        return z;
    }

    private Complex[] CloseInPlace(Complex[] field, Complex[] right) => CloseInPlace(field, right, free);

    private Complex[] CloseInPlace(Complex[] field, Complex[] right, List<int> open)
    {
        var ports = new Complex[loads.Length];
        if (open.Count == 0) return ports;
        var m = new Complex[open.Count, open.Count];
        var b = new Complex[open.Count];
        for (var i = 0; i < open.Count; i++)
        {
            var load = loads[open[i]];
            b[i] = right[open[i]] + NodeVectors.Dot(load, field);
            for (var j = 0; j < open.Count; j++) m[i, j] = -NodeVectors.Dot(load, responses[open[j]]);
            m[i, i] += diagonal[open[i]];
        }
        SmallSystem.SolveInPlace(m, b);
        for (var i = 0; i < open.Count; i++)
        {
            ports[open[i]] = b[i];
            Add(field, responses[open[i]], b[i]);
        }
        return ports;
    }

    private void SolvePorts()
    {
        var n = meshed.UnknownCount;
        var count = loads.Length;
        if (count == 0) return;
        var right = new Complex[(long)n * count];
        var x = new Complex[(long)n * count];
        for (var k = 0; k < count; k++)
        {
            var unknowns = NodeVectors.ToUnknowns(meshed, loads[k]);
            for (var i = 0; i < n; i++) right[(k * n) + i] = unknowns[i];
        }
        factor.Solve(right, x, count);
        for (var k = 0; k < count; k++) responses[k] = NodeVectors.ToNodes(meshed, x.AsSpan(k * n, n));
    }

    private static ComplexLdl Factor(MeshedModel meshed, double[] reluctivity)
    {
        var (real, imaginary) = Assemble(meshed, reluctivity);
        return ComplexLdl.Create(meshed.Analysis, real, imaginary);
    }

    private static (double[] Real, double[] Imaginary) Assemble(MeshedModel meshed, double[] pointReluctivity)
    {
        var (space, matrices, scatter) = (meshed.Space, meshed.Matrices, meshed.Scatter);
        var size = meshed.Pattern.RowIndices.Length;
        double[] real = new double[size], imaginary = new double[size];
        var omega = meshed.Model.AngularFrequency;
        var materials = new MaterialTable(meshed.Model, space);
        var values = new ElementValues();
        Span<double> k = stackalloc double[ElementMatrices.Entries];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var row = e * ElementMatrices.Entries;
            var sigma = omega * materials.Conductivity(e);
            var law = materials.Law(e);
            if (law.IsLinear)
            {
                var nu = law.Reluctivity(0);
                for (var i = 0; i < ElementMatrices.Entries; i++) k[i] = nu * matrices.Stiffness[row + i];
            }
            else
            {
                MaterialTable.StiffnessAtPoints(space, e, values, pointReluctivity.AsSpan(e * MaterialTable.PointsStored), k);
            }
            for (var i = 0; i < ElementMatrices.Entries; i++)
            {
                var target = scatter[row + i];
                if (target < 0) continue;
                real[target] += k[i];
                imaginary[target] += sigma * matrices.Mass[row + i];
            }
        }
        return (real, imaginary);
    }

    private static void Add(Complex[] to, Complex[] what, Complex times)
    {
        if (times == 0) return;
        for (var i = 0; i < to.Length; i++) to[i] += times * what[i];
    }
}
