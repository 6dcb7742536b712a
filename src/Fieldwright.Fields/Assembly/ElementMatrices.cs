using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Assembly;

/// <summary>Element matrices for unit reluctivity and unit conductivity, kept so that a turned dial costs no integration.</summary>
/// <remarks>Lower triangles row by row: entry (i, j ≤ i) of element e is [21·e + i(i+1)/2 + j]. Image triangles on the rim carry the rim term.</remarks>
internal sealed class ElementMatrices
{
    public const int Entries = 21;
    private const int F = ElementTables.Functions;

    private int folded = -1;

    private ElementMatrices(ElementMatrices other)
    {
        Stiffness = (double[])other.Stiffness.Clone();
        Area = (double[])other.Area.Clone();
        (Mass, Load) = (other.Mass, other.Load);
    }

    private ElementMatrices(int elements)
    {
        Stiffness = new double[Entries * elements];
        Mass = new double[Entries * elements];
        Load = new double[6 * elements];
        Area = new double[elements];
    }

    public double[] Stiffness { get; }

    public double[] Mass { get; }

    /// <summary>∫A_i dV of the six functions; Wb/A per unit of turn density.</summary>
    public double[] Load { get; }

    /// <summary>Plane area of each triangle, m².</summary>
    public double[] Area { get; }

    public static ElementMatrices Build(FieldSpace space)
    {
        var all = new ElementMatrices(space.ElementCount);
        Parallel.ForEach(System.Collections.Concurrent.Partitioner.Create(0, space.ElementCount), range =>
        {
            var values = new ElementValues();
            for (var e = range.Item1; e < range.Item2; e++) all.Integrate(space, e, values);
        });
        if (all.folded >= 0) throw new InvalidOperationException($"Triangle {all.folded} of the mesh is folded or flat.");
        Span<double> rim = stackalloc double[ElementTables.Functions * (ElementTables.Functions + 1) / 2];
        foreach (var (element, edge) in space.RimEdges)
        {
            RimTerm.Evaluate(space, element, edge, rim);
            for (var k = 0; k < Entries; k++) all.Stiffness[(Entries * element) + k] += rim[k];
        }
        return all;
    }

    /// <summary>The same matrices with some triangles of air integrated anew where their nodes are now.</summary>
    public ElementMatrices With(FieldSpace space, IReadOnlyList<int> stretched)
    {
        var result = new ElementMatrices(this);
        var values = new ElementValues();
        foreach (var e in stretched)
        {
            result.Stiffness.AsSpan(Entries * e, Entries).Clear();
            result.Area[e] = 0;
            result.Integrate(space, e, values);
        }
        if (result.folded >= 0) throw new InvalidOperationException($"Triangle {result.folded} of the mesh is folded or flat.");
        return result;
    }

    private void Integrate(FieldSpace space, int e, ElementValues values)
    {
        var filled = space.Region[e] > 0;
        values.Evaluate(space, e, space.TablesFor(e, filled, false));
        var k = Stiffness.AsSpan(Entries * e, Entries);
        var m = Mass.AsSpan(Entries * e, Entries);
        for (var q = 0; q < values.Points; q++)
        {
            var bx = values.Bx.AsSpan(q * F, 6);
            var by = values.By.AsSpan(q * F, 6);
            var w = values.Weight[q];
            if (!(w > 0)) folded = e;
            var n = 0;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j <= i; j++)
                    k[n++] += w * ((bx[i] * bx[j]) + (by[i] * by[j]));
            Area[e] += w / (space.Symmetry == Symmetry.Round ? 2 * Math.PI * values.X[q] : space.Depth);
            if (!filled) continue;
            var a = values.A.AsSpan(q * F, 6);
            n = 0;
            for (var i = 0; i < 6; i++)
            {
                Load[(6 * e) + i] += w * a[i];
                for (var j = 0; j <= i; j++) m[n++] += w * a[i] * a[j];
            }
        }
    }
}
