using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Motion;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Harmonic;

/// <summary>The factored harmonic field together with its windings and conductors.</summary>
/// <remarks>
/// With a the unknowns, I the currents of voltage-driven windings, V the end-to-end voltages of conductors, C and m_p the terms of steady motion (zero
/// at rest) and κ = jω,
/// <code>
///  (K + jωM + C)·a − Σ c_w I_w − Σ s_p V_p       = b_a
///  −c_wᵀ·a − (Z_w/κ)·I_w                         = −E_w/κ        from E = Z·I + jω·cᵀa
///  −(s_p − m_p/κ)ᵀ·a + (G_p/κ)·V_p (+ V_p/(κ Z_p)) = I_p/κ or E_p/(κ Z_p)   from I = G·V − jω·sᵀa + mᵀa
/// </code>
/// At rest the system is complex symmetric, so dual problems use the same rows; with motion they use the transposed ones. The field block is factored
/// once (moving conductors by <see cref="Krylov"/> on that factor); the ports are a Schur complement of their own number. At ω = 0, for conductors moving in a
/// static field, κ = 1 and what is multiplied by jω is gone.
/// </remarks>
internal sealed class HarmonicSystem
{
    private readonly MeshedModel meshed;
    private readonly ComplexLdl factor;
    private readonly MotionTerm? motion;
    private readonly Complex jOmega;
    private readonly Complex kappa;

    /// <summary>c_w and s_p: columns of the ports.</summary>
    private readonly double[][] loads;

    /// <summary>Rows of the ports, without their sign.</summary>
    private readonly Complex[][] rows;

    /// <summary>Field of one ampere or one volt at each port, and the same under the transposed rows; solved when first wanted.</summary>
    private readonly Complex[]?[] responses;
    private readonly Complex[]?[] transposedResponses;
    private readonly Complex[] diagonal;
    private readonly List<int> free = [];

    /// <summary>Assembles and factors.</summary>
    /// <param name="meshed">The model on its mesh.</param>
    /// <param name="reluctivity">Reluctivity at each quadrature point of nonlinear triangles; not read for linear ones.</param>
    public HarmonicSystem(MeshedModel meshed, double[] reluctivity)
        : this(meshed, Factor(meshed, reluctivity), MotionTerm.Of(meshed), null)
    {
    }

    private HarmonicSystem(MeshedModel meshed, ComplexLdl factor, MotionTerm? motion, Complex[]?[]? known)
    {
        this.meshed = meshed;
        this.factor = factor;
        this.motion = motion;
        var model = meshed.Model;
        jOmega = new(0, model.AngularFrequency);
        kappa = model.AngularFrequency > 0 ? jOmega : 1;
        WindingCount = model.Windings.Count;
        loads = [.. meshed.Ports.Windings, .. meshed.Ports.ConductorLoads];
        rows = [.. loads.Select((load, k) => RowOf(load, k - WindingCount))];
        diagonal = new Complex[loads.Length];
        for (var k = 0; k < loads.Length; k++) SetDiagonal(model, k);
        responses = known ?? new Complex[loads.Length][];
        transposedResponses = new Complex[loads.Length][];
        if (known is null && motion is null) SolveAllPorts();
    }

    private int WindingCount { get; }

    /// <summary>The same factor and responses under other drives.</summary>
    public HarmonicSystem Redriven(MeshedModel changed) => new(changed, factor, motion, responses);

    /// <summary>The field and the port quantities under the model's own drives.</summary>
    /// <param name="sources">Loads over the nodes besides those of the ports (magnets in a static field); null for none.</param>
    /// <returns>Field over the nodes, and winding currents followed by conductor voltages.</returns>
    public (Complex[] Field, Complex[] Ports) SolveDriven(Complex[]? sources = null)
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
                case ImposedCurrent c: right[k] = c.Current / kappa; break;
                case ImposedVoltage v when k < WindingCount: right[k] = -v.Voltage / kappa; break;
                case ImposedVoltage v when v.SeriesImpedance == 0: known[k] = v.Voltage; break;
                case ImposedVoltage v: right[k] = v.Voltage / (kappa * v.SeriesImpedance); break;
            }
        }
        var field = Superpose(known, sources);
        var ports = CloseInPlace(field, right, free, transposed: false);
        for (var k = 0; k < loads.Length; k++) ports[k] += known[k];
        return (field, ports);
    }

    /// <summary>Solves the field block alone, every port dead.</summary>
    public Complex[] SolveField(Complex[] load, bool transposed = false)
    {
        var right = NodeVectors.ToUnknowns(meshed, load);
        return NodeVectors.ToNodes(meshed, motion is null
            ? SolveAtRest(right)
            : Krylov.Solve(SolveAtRest, x => motion.Multiply(x, transposed), right));
    }

    /// <summary>Solves the transposed rows: load over the nodes, and one entry a port (unused where the port is held). For dual problems.</summary>
    public (Complex[] Field, Complex[] Ports) SolveDual(Complex[] load, Complex[] portLoad)
    {
        var field = SolveField(load, transposed: true);
        return (field, CloseInPlace(field, portLoad, free, transposed: motion is not null));
    }

    /// <summary>Impedances between windings, Ω, their own resistance included and with every conductor as the model drives it (dead sources).</summary>
    public Complex[,] Impedances()
    {
        var n = WindingCount;
        var z = new Complex[n, n];
        var conductors = free.Where(k => k >= n).ToList();
        for (var j = 0; j < n; j++)
        {
            var field = (Complex[])Response(j, transposed: false).Clone();
            CloseInPlace(field, new Complex[loads.Length], conductors, transposed: false);
            for (var i = 0; i < n; i++) z[i, j] = jOmega * NodeVectors.Dot(loads[i], field);
            z[j, j] += meshed.Model.Windings[j].Resistance;
        }
        return z;
    }

    /// <summary>Row of a port as the factor of −a: c_w·jω/κ, or (jω·s_p − m_p)/κ.</summary>
    private Complex[] RowOf(double[] load, int conductor)
    {
        var row = new Complex[load.Length];
        for (var n = 0; n < row.Length; n++) row[n] = jOmega / kappa * load[n];
        if (conductor >= 0 && motion is not null)
            for (var n = 0; n < row.Length; n++) row[n] -= motion.NetCurrentRows[conductor][n] / kappa;
        return row;
    }

    private void SetDiagonal(FieldModel model, int k)
    {
        if (k < WindingCount)
        {
            if (model.Windings[k].Drive is not ImposedVoltage v) return;
            diagonal[k] = -(v.SeriesImpedance + model.Windings[k].Resistance) / kappa;
        }
        else
        {
            diagonal[k] = meshed.Ports.Conductance[k - WindingCount] / kappa;
            if (meshed.Ports.Conductors[k - WindingCount].Drive is ImposedVoltage v)
            {
                if (v.SeriesImpedance == 0) return;
                diagonal[k] += 1 / (kappa * v.SeriesImpedance);
            }
        }
        free.Add(k);
    }

    private Complex[] SolveAtRest(Complex[] right)
    {
        var x = new Complex[right.Length];
        factor.Solve(right, x);
        return x;
    }

    private Complex[] CloseInPlace(Complex[] field, Complex[] right, List<int> open, bool transposed)
    {
        var ports = new Complex[loads.Length];
        if (open.Count == 0) return ports;
        var columns = open.ToDictionary(k => k, k => Response(k, transposed));
        var m = new Complex[open.Count, open.Count];
        var b = new Complex[open.Count];
        for (var i = 0; i < open.Count; i++)
        {
            b[i] = right[open[i]] + DotRow(open[i], field, transposed);
            for (var j = 0; j < open.Count; j++) m[i, j] = -DotRow(open[i], columns[open[j]], transposed);
            m[i, i] += diagonal[open[i]];
        }
        SmallSystem.SolveInPlace(m, b);
        for (var i = 0; i < open.Count; i++)
        {
            ports[open[i]] = b[i];
            Add(field, columns[open[i]], b[i]);
        }
        return ports;
    }

    private Complex DotRow(int k, Complex[] field, bool transposed)
    {
        if (transposed || (motion is null && jOmega != 0)) return NodeVectors.Dot(loads[k], field);
        Complex sum = 0;
        for (var n = 0; n < field.Length; n++) sum += rows[k][n] * field[n];
        return sum;
    }

    /// <summary>The field of known port quantities and other sources: of ready responses at rest, as one problem with motion.</summary>
    private Complex[] Superpose(Complex[] known, Complex[]? sources)
    {
        if (motion is null)
        {
            var field = sources is null ? new Complex[meshed.Space.NodeCount] : SolveField(sources);
            for (var k = 0; k < loads.Length; k++) Add(field, Response(k, transposed: false), known[k]);
            return field;
        }
        var load = sources is null ? new Complex[meshed.Space.NodeCount] : (Complex[])sources.Clone();
        for (var k = 0; k < loads.Length; k++)
            for (var n = 0; n < load.Length; n++) load[n] += known[k] * loads[k][n];
        return SolveField(load);
    }

    private Complex[] Response(int k, bool transposed)
    {
        if (!transposed) return responses[k] ??= SolveField([.. loads[k].Select(v => new Complex(v, 0))]);
        return transposedResponses[k] ??= SolveField(rows[k], transposed: true);
    }

    private void SolveAllPorts()
    {
        var n = meshed.UnknownCount;
        if (loads.Length == 0) return;
        var right = new Complex[(long)n * loads.Length];
        var x = new Complex[right.Length];
        for (var k = 0; k < loads.Length; k++)
        {
            var unknowns = NodeVectors.ToUnknowns(meshed, loads[k]);
            for (var i = 0; i < n; i++) right[(k * n) + i] = unknowns[i];
        }
        factor.Solve(right, x, loads.Length);
        for (var k = 0; k < loads.Length; k++) responses[k] = NodeVectors.ToNodes(meshed, x.AsSpan(k * n, n));
    }

    private static ComplexLdl Factor(MeshedModel meshed, double[] reluctivity)
    {
        var (real, imaginary) = Assemble(meshed, reluctivity);
        return ComplexLdl.Create(meshed.Analysis, real, imaginary);
    }

    private static (double[] Real, double[] Imaginary) Assemble(MeshedModel meshed, double[] pointReluctivity)
    {
        var (space, matrices) = (meshed.Space, meshed.Matrices);
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
            meshed.Add(real, e, k);
            if (sigma != 0) meshed.Add(imaginary, e, matrices.Mass.AsSpan(row, ElementMatrices.Entries), sigma);
        }
        return (real, imaginary);
    }

    private static void Add(Complex[] to, Complex[] what, Complex times)
    {
        if (times == 0) return;
        for (var i = 0; i < to.Length; i++) to[i] += times * what[i];
    }
}
