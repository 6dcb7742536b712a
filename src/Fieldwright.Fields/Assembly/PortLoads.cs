using Fieldwright.Fields.Elements;
using Fieldwright.Numerics;

namespace Fieldwright.Fields.Assembly;

/// <summary>How windings and solid conductors grip the field: one vector over the nodes for each.</summary>
/// <remarks>
/// Winding w with turn density t: c_w = ∫ t·A_i dV, so K·a = Σ c_w·I_w and the linkage is c_wᵀa. Conductor p of a long model: s_p = ∫ (σ/depth)·A_i dV,
/// so with J = σ(−∂A/∂t + V_p/depth) the load is s_p·V_p and the net current G_p·V_p − s_pᵀ·∂a/∂t, G_p = σ·area/depth.
/// </remarks>
internal sealed class PortLoads
{
    private readonly FieldSpace space;
    private readonly double[][] turnDensity;
    private readonly int[] conductorOf;

    public PortLoads(MeshedModel meshed)
    {
        var (model, space, matrices) = (meshed.Model, meshed.Space, meshed.Matrices);
        for (var e = 0; e < space.InsideCount; e++)
            RegionArea[space.Region[e]] = RegionArea.GetValueOrDefault(space.Region[e]) + matrices.Area[e];
        Windings = new double[model.Windings.Count][];
        turnDensity = new double[model.Windings.Count][];
        this.space = space;
        for (var w = 0; w < Windings.Length; w++)
        {
            var density = new Dictionary<int, double>();
            foreach (var side in model.Windings[w].Sides)
                density[side.Region] = density.GetValueOrDefault(side.Region) + (side.Turns / AreaOf(side.Region));
            turnDensity[w] = [.. space.Regions.Select(r => density.GetValueOrDefault(r))];
            Windings[w] = Gather(space, matrices, density);
        }
        Conductors = model.Symmetry == Symmetry.Long ? ListConductors(model) : [];
        conductorOf = new int[space.Regions.Length];
        Array.Fill(conductorOf, -1);
        ConductorLoads = new double[Conductors.Count][];
        Conductance = new double[Conductors.Count];
        for (var p = 0; p < Conductors.Count; p++)
        {
            var density = new Dictionary<int, double>();
            foreach (var region in Conductors[p].Regions)
            {
                var sigma = model.MatterOf(region).Conductivity;
                density[region] = sigma / model.Depth;
                Conductance[p] += sigma * AreaOf(region) / model.Depth;
                conductorOf[Array.IndexOf(space.Regions, region)] = p;
            }
            ConductorLoads[p] = Gather(space, matrices, density);
        }
    }

    /// <summary>Plane area of each region, m².</summary>
    public Dictionary<int, double> RegionArea { get; } = [];

    /// <summary>c_w over the nodes.</summary>
    public double[][] Windings { get; }

    /// <summary>Turns of a winding per m² in a triangle.</summary>
    public double TurnDensity(int winding, int element) => turnDensity[winding][space.RegionIndex[element]];

    /// <summary>Turns of a winding per m² in a region, by its place in <see cref="FieldSpace.Regions"/>.</summary>
    public double TurnDensityOf(int winding, int regionIndex) => turnDensity[winding][regionIndex];

    /// <summary>Conductors of a long model, the named ones and then each other conducting region by itself with no net current; but none where a region runs on beyond an edge at which the sign turns.</summary>
    public IReadOnlyList<SolidConductor> Conductors { get; }

    /// <summary>Index of the conductor a triangle belongs to, or −1.</summary>
    public int ConductorOf(int element) => conductorOf[space.RegionIndex[element]];

    /// <summary>s_p over the nodes.</summary>
    public double[][] ConductorLoads { get; }

    /// <summary>G_p, S.</summary>
    public double[] Conductance { get; }


    private double AreaOf(int region) => RegionArea.TryGetValue(region, out var area)
        ? area
        : throw new ArgumentException($"Region {region} has no triangles: no outline carries that number, or others cover it.");

    private static List<SolidConductor> ListConductors(FieldModel model)
    {
        var list = model.Conductors.Where(c => c.Regions.Any(r => model.MatterOf(r).Conductivity > 0)).ToList();
        var named = list.SelectMany(c => c.Regions).ToHashSet();
        foreach (var region in model.Parts.Select(p => p.Region).Distinct())
            if (model.MatterOf(region).Conductivity > 0 && !named.Contains(region) && !RunsOnReversed(model, region))
                list.Add(new SolidConductor(model.MatterOf(region).Name, [region], new OpenCircuit()));
        return list;
    }

    /// <summary>Whether a region goes on beyond an edge where the sign turns: its return is there, and it has no end-to-end voltage.</summary>
    private static bool RunsOnReversed(FieldModel model, int region) => model.Edges is { SignTurns: true } edges
        && model.Parts.Where(p => p.Region == region).SelectMany(p => p.Edges).SelectMany(OpenSpace.Samples)
            .Any(p => p.X < edges.Left + (1e-9 * edges.Period) || p.X > edges.Right - (1e-9 * edges.Period));

    private static double[] Gather(FieldSpace space, ElementMatrices matrices, Dictionary<int, double> density)
    {
        var load = new double[space.NodeCount];
        for (var e = 0; e < space.InsideCount; e++)
            if (density.TryGetValue(space.Region[e], out var t) && t != 0)
                for (var i = 0; i < 6; i++)
                    load[space.Triangles[(6 * e) + i]] += t * matrices.Load[(6 * e) + i];
        return load;
    }
}
