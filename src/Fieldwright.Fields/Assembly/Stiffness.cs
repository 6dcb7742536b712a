using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Assembly;

/// <summary>The static operator a ↦ ∂/∂a ∫w(|B(a)|) dV of one mesh and its derivative, linear triangles from stored matrices, others point by point.</summary>
/// <remarks>One instance serves one thread.</remarks>
internal sealed class Stiffness
{
    private const int F = ElementTables.Functions;
    private readonly MeshedModel meshed;
    private readonly MaterialTable materials;
    private readonly ElementValues values = new();

    public Stiffness(MeshedModel meshed)
    {
        this.meshed = meshed;
        materials = new MaterialTable(meshed.Model, meshed.Space);
    }

    public bool IsLinear => materials.IsLinear;

    /// <summary>Adds K(a)·a over the nodes.</summary>
    public void AddForce(double[] field, double[] g)
    {
        var space = meshed.Space;
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
    }

    /// <summary>Values, in the pattern's order, of the derivative of K(a)·a: ν·1 + (dν/dB)·BBᵀ/B at each point.</summary>
    public double[] Tangent(double[] field)
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
                for (var i = 0; i < 6; i++) u[i] = field[space.Triangles[(6 * e) + i]];
                TangentOf(e, law, u, k);
            }
            meshed.Add(result, e, k);
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
}
