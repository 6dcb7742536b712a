using System.Numerics;
using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Motion;

/// <summary>The term −∫σ (v×B(a))·A_i dV that steady motion adds to the rows of the field: real, and skew for a closed flow.</summary>
internal sealed class MotionTerm
{
    private const int F = ElementTables.Functions;
    private readonly int[] dofs;
    private readonly double[] blocks;
    private readonly int order;

    private MotionTerm(MeshedModel meshed, List<int> elements)
    {
        var (space, model) = (meshed.Space, meshed.Model);
        order = meshed.UnknownCount;
        dofs = new int[6 * elements.Count];
        blocks = new double[36 * elements.Count];
        NetCurrentRows = [.. meshed.Ports.Conductors.Select(_ => new double[space.NodeCount])];
        var values = new ElementValues();
        for (var k = 0; k < elements.Count; k++)
        {
            var e = elements[k];
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var i = 0; i < 6; i++) dofs[(6 * k) + i] = meshed.DegreeOfFreedom[nodes[i]];
            var motion = model.Motion[space.Region[e]];
            var sigma = model.MatterOf(space.Region[e]).Conductivity;
            var row = meshed.Ports.ConductorOf(e) is >= 0 and var p ? NetCurrentRows[p] : null;
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
            {
                var v = motion.At(values.X[q], values.Y[q]);
                for (var j = 0; j < 6; j++)
                {
                    var electric = values.Weight[q] * sigma * Electromotive(model.Symmetry, v, values.Bx[(q * F) + j], values.By[(q * F) + j]);
                    if (row is not null) row[nodes[j]] += electric / model.Depth;
                    for (var i = 0; i < 6; i++)
                    {
                        var sign = meshed.Signs is { } signs ? signs[nodes[i]] * signs[nodes[j]] : 1;
                        blocks[(36 * k) + (6 * i) + j] -= sign * electric * values.A[(q * F) + i];
                    }
                }
            }
        }
    }

    /// <summary>∫σ(v×B_j) dS of each conductor, over the nodes: what motion adds to its net current.</summary>
    public double[][] NetCurrentRows { get; }

    /// <summary>The term of a model, or null if nothing that conducts moves.</summary>
    public static MotionTerm? Of(MeshedModel meshed)
    {
        var (space, model) = (meshed.Space, meshed.Model);
        if (model.Motion.Count == 0) return null;
        var moving = new List<int>();
        for (var e = 0; e < space.InsideCount; e++)
            if (model.Motion.ContainsKey(space.Region[e]) && model.MatterOf(space.Region[e]).Conductivity > 0) moving.Add(e);
        return moving.Count == 0 ? null : new(meshed, moving);
    }

    /// <summary>(v×B) along the current direction: v_x B_y − v_y B_x when long, v_z B_r − v_r B_z when round.</summary>
    public static double Electromotive(Symmetry symmetry, PlaneVector v, double bx, double by) =>
        symmetry == Symmetry.Round ? (v.Y * bx) - (v.X * by) : (v.X * by) - (v.Y * bx);

    /// <summary>The same for phasors.</summary>
    public static Complex Electromotive(Symmetry symmetry, PlaneVector v, Complex bx, Complex by) =>
        symmetry == Symmetry.Round ? (v.Y * bx) - (v.X * by) : (v.X * by) - (v.Y * bx);

    /// <summary>C·x, or its transpose times x, over the unknowns.</summary>
    public Complex[] Multiply(Complex[] x, bool transposed)
    {
        var y = new Complex[order];
        Span<Complex> local = stackalloc Complex[6];
        for (var k = 0; k < dofs.Length / 6; k++)
        {
            for (var i = 0; i < 6; i++) local[i] = dofs[(6 * k) + i] >= 0 ? x[dofs[(6 * k) + i]] : 0;
            for (var i = 0; i < 6; i++)
            {
                var row = dofs[(6 * k) + i];
                if (row < 0) continue;
                Complex sum = 0;
                for (var j = 0; j < 6; j++) sum += blocks[(36 * k) + (transposed ? (6 * j) + i : (6 * i) + j)] * local[j];
                y[row] += sum;
            }
        }
        return y;
    }
}
