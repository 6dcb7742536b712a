using Fieldwright.Fields.Elements;
using Fieldwright.Matter;

namespace Fieldwright.Fields.Assembly;

/// <summary>Laws and constants of the triangles of one model.</summary>
internal sealed class MaterialTable
{
    /// <summary>Room for the reluctivities at the quadrature points of one triangle.</summary>
    public const int PointsStored = 16;

    private static readonly LinearLaw Space = new(1 / PhysicalConstants.MagneticConstant);

    private readonly Dictionary<int, (RegionMatter Matter, ReluctivityLaw Law)> table = [];
    private readonly FieldSpace space;

    public MaterialTable(FieldModel model, FieldSpace space)
    {
        this.space = space;
        table[FieldSpace.ImageRegion] = table[0] = (RegionMatter.Air, Space);
        foreach (var region in model.Parts.Select(p => p.Region))
        {
            var matter = model.MatterOf(region);
            var law = ReluctivityLaw.Of(matter);
            table[region] = (matter, model.Frequency > 0 && !law.IsLinear ? new SinusoidalLaw(law) : law);
        }
    }

    public bool IsLinear => table.Values.All(v => v.Law.IsLinear);

    public RegionMatter Matter(int element) => table[space.Region[element]].Matter;

    public ReluctivityLaw Law(int element) => table[space.Region[element]].Law;

    public double Conductivity(int element) => table[space.Region[element]].Matter.Conductivity;

    /// <summary>Lower triangle of an element's stiffness with a reluctivity of its own at each quadrature point.</summary>
    public static void StiffnessAtPoints(FieldSpace space, int e, ElementValues values, ReadOnlySpan<double> reluctivity, Span<double> k)
    {
        values.Evaluate(space, e, space.TablesFor(e, true, false));
        k.Clear();
        for (var q = 0; q < values.Points; q++)
        {
            var bx = values.Bx.AsSpan(q * ElementTables.Functions, 6);
            var by = values.By.AsSpan(q * ElementTables.Functions, 6);
            var w = values.Weight[q] * reluctivity[q];
            var n = 0;
            for (var i = 0; i < 6; i++)
                for (var j = 0; j <= i; j++)
                    k[n++] += w * ((bx[i] * bx[j]) + (by[i] * by[j]));
        }
    }
}
