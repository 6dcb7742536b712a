using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields.Static;

/// <summary>The static field: minimum over a of ∫w(|B|) dV − f·a, a convex problem when the BH curve is monotone.</summary>
/// <remarks>Newton's method on the stationarity condition with a line search along the step: the derivative of the energy along the step must fall
/// by half at least, which for a convex energy is always possible. Linear models take one step.</remarks>
internal sealed class StaticSystem : StaticSolution
{
    private const int MostSteps = 60;
    private const double StepTolerance = 1e-10;
    private const int F = ElementTables.Functions;

    private readonly MeshedModel meshed;
    private readonly MaterialTable materials;
    private readonly double[] load;
    private readonly RealLdl factor;
    private readonly ElementValues values = new();

    public StaticSystem(MeshedModel meshed, CancellationToken cancellation)
    {
        this.meshed = meshed;
        materials = new MaterialTable(meshed.Model, meshed.Space);
        WindingCurrents = [.. meshed.Model.Windings.Select(DirectCurrent)];
        ConductorVoltages = [.. meshed.Ports.Conductors.Select((c, p) => DirectVoltage(c, meshed.Ports.Conductance[p]))];
        load = SourceLoad();
        Field = new double[meshed.Space.NodeCount];
        factor = RealLdl.Create(meshed.Analysis, Tangent());
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
            factor.Refactor(Tangent());
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
        var space = meshed.Space;
        var g = new double[field.Length];
        for (var n = 0; n < g.Length; n++) g[n] = -load[n];
        Span<double> u = stackalloc double[6];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var i = 0; i < 6; i++) u[i] = field[nodes[i]];
            var law = materials.Law(e);
            if (law.IsLinear)
            {
                var nu = law.Reluctivity(0);
                var k = meshed.Matrices.Stiffness.AsSpan(e * ElementMatrices.Entries, ElementMatrices.Entries);
                var n = 0;
                for (var i = 0; i < 6; i++)
                {
                    for (var j = 0; j < i; j++, n++)
                    {
                        g[nodes[i]] += nu * k[n] * u[j];
                        g[nodes[j]] += nu * k[n] * u[i];
                    }
                    g[nodes[i]] += nu * k[n++] * u[i];
                }
                continue;
            }
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var (bx, by) = FluxDensity(q, u);
                var w = values.Weight[q] * law.Reluctivity(double.Hypot(bx, by));
                for (var i = 0; i < 6; i++) g[nodes[i]] += w * ((bx * values.Bx[(q * F) + i]) + (by * values.By[(q * F) + i]));
            }
        }
        if (meshed.Model.Symmetry == Symmetry.Long) g[space.InfinityNode] = 0;
        return g;
    }

    /// <summary>Values of the second derivative: ν·I + (dν/dB)·BBᵀ/B at each point.</summary>
    private double[] Tangent()
    {
        var space = meshed.Space;
        var result = new double[meshed.Pattern.RowIndices.Length];
        Span<double> u = stackalloc double[6];
        Span<double> k = stackalloc double[ElementMatrices.Entries];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var law = materials.Law(e);
            var row = e * ElementMatrices.Entries;
            if (law.IsLinear)
            {
                var nu = law.Reluctivity(0);
                for (var i = 0; i < ElementMatrices.Entries; i++) k[i] = nu * meshed.Matrices.Stiffness[row + i];
            }
            else
            {
                for (var i = 0; i < 6; i++) u[i] = Field[space.Triangles[(6 * e) + i]];
                TangentOf(e, law, u, k);
            }
            for (var i = 0; i < ElementMatrices.Entries; i++)
                if (meshed.Scatter[row + i] >= 0) result[meshed.Scatter[row + i]] += k[i];
        }
        return result;
    }

    private void TangentOf(int e, ReluctivityLaw law, ReadOnlySpan<double> u, Span<double> k)
    {
        values.Evaluate(meshed.Space, e, meshed.Space.TablesFor(e, true, false));
        k.Clear();
        for (var q = 0; q < values.Points; q++)
        {
            var (bx, by) = FluxDensity(q, u);
            var b = double.Hypot(bx, by);
            var nu = law.Reluctivity(b);
            var along = b > 0 ? (law.DifferentialReluctivity(b) - nu) / (b * b) : 0;
            double xx = nu + (along * bx * bx), xy = along * bx * by, yy = nu + (along * by * by);
            var n = 0;
            for (var i = 0; i < 6; i++)
            {
                double ix = values.Bx[(q * F) + i], iy = values.By[(q * F) + i];
                var hx = values.Weight[q] * ((xx * ix) + (xy * iy));
                var hy = values.Weight[q] * ((xy * ix) + (yy * iy));
                for (var j = 0; j <= i; j++) k[n++] += (hx * values.Bx[(q * F) + j]) + (hy * values.By[(q * F) + j]);
            }
        }
    }

    private (double X, double Y) FluxDensity(int q, ReadOnlySpan<double> u)
    {
        double x = 0, y = 0;
        for (var i = 0; i < 6; i++)
        {
            x += u[i] * values.Bx[(q * F) + i];
            y += u[i] * values.By[(q * F) + i];
        }
        return (x, y);
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

    private static double DirectVoltage(SolidConductor conductor, double conductance) => conductor.Drive switch
    {
        ImposedCurrent c => c.Current.Real / conductance,
        ImposedVoltage v => v.Voltage.Real / (1 + (v.SeriesImpedance.Real * conductance)),
        _ => 0,
    };
}
