using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Assembly;

/// <summary>What the magnets of a model put on the right-hand side: ∫ν·Remanence·B_i dV over the nodes.</summary>
internal static class MagnetLoad
{
    private const int F = ElementTables.Functions;

    public static double[] Of(MeshedModel meshed)
    {
        var space = meshed.Space;
        var load = new double[space.NodeCount];
        var materials = new MaterialTable(meshed.Model, space);
        var values = new ElementValues();
        for (var e = 0; e < space.InsideCount; e++)
        {
            var matter = materials.Matter(e);
            if (!matter.IsMagnet) continue;
            var nu = materials.Law(e).Reluctivity(0);
            values.Evaluate(space, e, space.TablesFor(e, true, false));
            for (var q = 0; q < values.Points; q++)
                for (var i = 0; i < 6; i++)
                    load[space.Triangles[(6 * e) + i]] += values.Weight[q] * nu
                        * ((matter.Remanence.X * values.Bx[(q * F) + i]) + (matter.Remanence.Y * values.By[(q * F) + i]));
        }
        return load;
    }
}
