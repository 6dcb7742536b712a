using Fieldwright.Fields.Elements;
using Fieldwright.Matter;

namespace Fieldwright.Fields.Assembly;

/// <summary>Laws and constants of the triangles of one model.</summary>
internal sealed class MaterialTable
{
    /// <summary>Room for the reluctivities at the quadrature points of one triangle.</summary>
    public const int PointsStored = 16;

    private static readonly LinearLaw Space = new(1 / PhysicalConstants.MagneticConstant);

    private readonly FieldSpace space;
    private readonly RegionMatter[] matter;
    private readonly ReluctivityLaw[] laws;
    private readonly double[] conductivity;
    private readonly RigidMotion?[] motion;

    public MaterialTable(FieldModel model, FieldSpace space)
    {
        this.space = space;
        matter = [.. space.Regions.Select(r => r > 0 ? model.MatterOf(r) : RegionMatter.Air)];
        laws = [.. matter.Select((m, i) => space.Regions[i] > 0 ? ReluctivityLaw.Of(m, model.Frequency > 0) : Space)];
        conductivity = [.. matter.Select(m => m.Conductivity)];
        motion = [.. space.Regions.Select((r, i) => conductivity[i] > 0 ? model.Motion.GetValueOrDefault(r) : null)];
    }

    public bool IsLinear => laws.All(l => l.IsLinear);

    public RegionMatter Matter(int element) => matter[space.RegionIndex[element]];

    public ReluctivityLaw Law(int element) => laws[space.RegionIndex[element]];

    public double Conductivity(int element) => conductivity[space.RegionIndex[element]];

    /// <summary>Motion of the conducting matter in a triangle, or null if it stands still.</summary>
    public RigidMotion? Motion(int element) => motion[space.RegionIndex[element]];

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
