using Fieldwright.Fields.Assembly;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Static;

/// <summary>The static field: minimum over a of ∫w(|B|) dV − f·a, a convex problem when the BH curve is monotone.</summary>
/// <remarks>Newton's method on the stationarity condition with a line search along the step: the derivative of the energy along the step must fall
/// by half at least, which for a convex energy is always possible. Linear models take one step.</remarks>
internal sealed class StaticSystem : StaticSolution
{
    private const int MostSteps = 60;
    private const double StepTolerance = 1e-10;
    private readonly MeshedModel meshed;
    private readonly MaterialTable materials;
    private readonly double[] load;
    private readonly RealLdl factor;
    private readonly Stiffness stiffness;

    /// <summary>Solves a model, with further sources over the nodes if there are any: ∫J·A_i dV.</summary>
    public StaticSystem(MeshedModel meshed, CancellationToken cancellation, double[]? sources = null)
    {
        this.meshed = meshed;
        materials = new MaterialTable(meshed.Model, meshed.Space);
        WindingCurrents = [.. meshed.Model.Windings.Select(DirectCurrent)];
        ConductorVoltages = [.. meshed.Ports.Conductors.Select((c, p) => DirectVoltage(c, meshed.Ports.Conductance[p]))];
        load = SourceLoad();
        for (var n = 0; n < sources?.Length; n++) load[n] += sources[n];
        Field = new double[meshed.Space.NodeCount];
        stiffness = new Stiffness(meshed);
        factor = RealLdl.Create(meshed.Analysis, stiffness.Tangent(Field));
        Iterate(cancellation);
    }

    public override double[] WindingCurrents { get; }

    public override double[] ConductorVoltages { get; }

    public override double[] Field { get; }

    public override List<double> History { get; } = [];

    public override (double[] Field, double[] Ports) SolveDual(double[] load, double[] portLoad) =>
        (SolveTangent(load), new double[portLoad.Length]);

    public override double[] SolveTangent(double[] loadOverNodes)
    {
        var x = new double[meshed.UnknownCount];
        factor.Solve(NodeVectors.ToUnknowns(meshed, loadOverNodes), x);
        return NodeVectors.ToNodes(meshed, x);
    }

    private void Iterate(CancellationToken cancellation)
    {
        var linear = materials.IsLinear;
        var gradient = Gradient(Field);
        for (var step = 0; step < MostSteps; step++)
        {
            cancellation.ThrowIfCancellationRequested();
            var right = new double[gradient.Length];
            for (var n = 0; n < right.Length; n++) right[n] = -gradient[n];
            var direction = SolveTangent(right);
            var descent = -NodeVectors.Dot(gradient, direction);
            if (!double.IsFinite(descent)) break;
            var scale = Search(direction, descent, linear);
            for (var n = 0; n < Field.Length; n++) Field[n] += scale * direction[n];
            gradient = Gradient(Field);
            if (linear) return;
            // the energy norm of the step against that of the whole field
            var whole = Math.Abs(NodeVectors.Dot(load, Field)) + EnergyNorm(Field);
            var relative = whole > 0 ? Math.Sqrt(Math.Abs(descent) / whole) : 0;
            History.Add(relative);
            factor.Refactor(stiffness.Tangent(Field));
            if (relative < StepTolerance) return;
        }
        throw new FieldNotConvergedException($"The static field did not settle in {MostSteps} Newton steps; the last step was {(History.Count > 0 ? History[^1] : double.NaN).ToString("G3", System.Globalization.CultureInfo.InvariantCulture)} of the field.", History);
    }

    /// <summary>Length along the step where the slope of the energy has fallen to less than half its size: regula falsi on the slope.</summary>
    private double Search(double[] direction, double descent, bool linear)
    {
        if (linear) return 1;
        double low = 0, slopeLow = -descent, high = double.NaN, slopeHigh = 0, scale = 1;
        var trial = new double[Field.Length];
        for (var k = 0; k < 12; k++)
        {
            for (var n = 0; n < trial.Length; n++) trial[n] = Field[n] + (scale * direction[n]);
            var slope = NodeVectors.Dot(Gradient(trial), direction);
            if (Math.Abs(slope) <= 0.5 * descent) return scale;
            if (slope > 0) (high, slopeHigh) = (scale, slope);
            else (low, slopeLow) = (scale, slope);
            scale = double.IsNaN(high) ? 2 * scale : low + ((high - low) * Math.Clamp(-slopeLow / (slopeHigh - slopeLow), 0.1, 0.9));
        }
        return scale;
    }

    private double EnergyNorm(double[] field)
    {
        var sum = 0.0;
        var space = meshed.Space;
        for (var e = 0; e < space.ElementCount; e++)
        {
            var nu = materials.Law(e).Reluctivity(0);
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            var k = meshed.Matrices.Stiffness.AsSpan(e * ElementMatrices.Entries, ElementMatrices.Entries);
            var n = 0;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j <= i; j++)
                    sum += nu * k[n++] * field[nodes[i]] * field[nodes[j]] * (i == j ? 1 : 2);
        }
        return sum;
    }

    /// <summary>Derivative of the energy functional with respect to each node's value.</summary>
    private double[] Gradient(double[] field)
    {
        var g = new double[field.Length];
        for (var n = 0; n < g.Length; n++) g[n] = -load[n];
        stiffness.AddForce(field, g);
        for (var n = 0; n < g.Length; n++)
            if (meshed.DegreeOfFreedom[n] < 0) g[n] = 0;
        return g;
    }

    private double[] SourceLoad()
    {
        var f = MagnetLoad.Of(meshed);
        for (var w = 0; w < WindingCurrents.Length; w++) Add(meshed.Ports.Windings[w], WindingCurrents[w]);
        for (var p = 0; p < ConductorVoltages.Length; p++) Add(meshed.Ports.ConductorLoads[p], ConductorVoltages[p]);
        return f;

        void Add(double[] what, double times)
        {
            if (times == 0) return;
            for (var n = 0; n < f.Length; n++) f[n] += times * what[n];
        }
    }

    /// <summary>Direct current of a winding: static fields induce nothing in it.</summary>
    public static double DirectCurrent(FieldWinding winding) => winding.Drive switch
    {
        ImposedCurrent c => c.Current.Real,
        ImposedVoltage v => v.Voltage.Real / (v.SeriesImpedance.Real + winding.Resistance),
        _ => 0,
    };

    /// <summary>End-to-end direct voltage of a conductor.</summary>
    public static double DirectVoltage(SolidConductor conductor, double conductance) => conductor.Drive switch
    {
        ImposedCurrent c => c.Current.Real / conductance,
        ImposedVoltage v => v.Voltage.Real / (1 + (v.SeriesImpedance.Real * conductance)),
        _ => 0,
    };
}
