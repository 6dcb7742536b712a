using Fieldwright.Geometry;

namespace Fieldwright.Fields.Elements;

/// <summary>The triangles of a field and of its open space: the meshed disc round the apparatus, and the image disc the outside is mapped to.</summary>
/// <remarks>
/// The outside of the rim ρ = R is mapped by the inversion ρ' = R²/ρ onto a second disc (half disc when round) whose rim nodes are those of
/// the first. Long: A is carried over unchanged, the Dirichlet integral is conformally invariant and the outside has the operator of the
/// inside. Round: u = A_φ/r solves Laplace's equation in five dimensions, whose Kelvin transform is u = (R/ρ)³ û; with it the energy outside is
/// <code>½·2πν₀ [ ∫ r³|∇û|² dr dz + (1/R) ∮ r³ û² ds ]</code>
/// over the image and its rim (found by Green's identity on both sides of the rim). <source key="FreemanLowther1988" /> Image triangles overlap the others in the plane: they have <see cref="Region"/> = <see cref="ImageRegion"/>.
/// </remarks>
internal sealed class FieldSpace
{
    /// <summary>Region number of image triangles.</summary>
    public const int ImageRegion = int.MinValue;

    /// <summary>Displacements of bodies asked for so far, by the numbers of their regions: they follow from the triangles alone.</summary>
    public System.Collections.Concurrent.ConcurrentDictionary<string, Forces.VirtualDisplacement> Displacements { get; } = [];

    public FieldSpace(Symmetry symmetry, double depth, Mesh mesh, Point centre, double radius)
    {
        Symmetry = symmetry;
        Depth = depth;
        Mesh = mesh;
        Centre = centre;
        Radius = radius;
        var image = ImageDisc.Build(symmetry, mesh, centre, radius);
        Coordinates = [.. mesh.Coordinates, .. image.Coordinates];
        Triangles = [.. mesh.Triangles, .. image.Triangles];
        Region = new int[Triangles.Length / 6];
        mesh.Regions.CopyTo(Region, 0);
        Array.Fill(Region, ImageRegion, mesh.Regions.Length, Region.Length - mesh.Regions.Length);
        Regions = [.. Region.Distinct()];
        var index = Regions.Select((region, i) => (region, i)).ToDictionary(p => p.region, p => p.i);
        RegionIndex = [.. Region.Select(region => index[region])];
        RimEdges = image.RimEdges;
        InfinityNode = image.CentreNode;
        Curved = new bool[Region.Length];
        for (var e = 0; e < Curved.Length; e++) Curved[e] = IsCurved(e);
    }

    /// <summary>One piece of a row: no image, both upright edges tied node by node, the potential zero along the top.</summary>
    public FieldSpace(double depth, Mesh mesh, RepeatingEdges edges, double top)
    {
        (Symmetry, Depth, Mesh) = (Symmetry.Long, depth, mesh);
        Radius = double.PositiveInfinity;
        (Coordinates, Triangles, Region) = (mesh.Coordinates, mesh.Triangles, mesh.Regions);
        Regions = [.. Region.Distinct()];
        var index = Regions.Select((region, i) => (region, i)).ToDictionary(p => p.region, p => p.i);
        RegionIndex = [.. Region.Select(region => index[region])];
        RimEdges = [];
        InfinityNode = -1;
        Curved = new bool[Region.Length];
        for (var e = 0; e < Curved.Length; e++) Curved[e] = IsCurved(e);
        Tied = Ties.Between(mesh, edges, top);
    }

    private FieldSpace(FieldSpace other, double[] coordinates)
    {
        Tied = other.Tied;
        (Symmetry, Depth, Mesh, Centre, Radius) = (other.Symmetry, other.Depth, other.Mesh, other.Centre, other.Radius);
        (Triangles, Region, RimEdges, InfinityNode, Curved) = (other.Triangles, other.Region, other.RimEdges, other.InfinityNode, other.Curved);
        (Regions, RegionIndex) = (other.Regions, other.RegionIndex);
        Coordinates = coordinates;
    }

    public Symmetry Symmetry { get; }

    public double Depth { get; }

    public Mesh Mesh { get; }

    public Point Centre { get; }

    public double Radius { get; }

    /// <summary>x₀ y₀ x₁ y₁ …, m: the nodes of the mesh, then those of the image.</summary>
    public double[] Coordinates { get; }

    /// <summary>Six nodes a triangle: v0 v1 v2 m01 m12 m20, counter-clockwise.</summary>
    public int[] Triangles { get; }

    public int[] Region { get; }

    /// <summary>The regions there are, each once.</summary>
    public int[] Regions { get; }

    /// <summary>Place of each triangle's region in <see cref="Regions"/>: for tables by region.</summary>
    public int[] RegionIndex { get; }

    public bool[] Curved { get; }

    /// <summary>Rim edges as (image triangle, local edge): edge 0 is v0v1 with node 3, and so on.</summary>
    public IReadOnlyList<(int Element, int Edge)> RimEdges { get; }

    /// <summary>The node that stands for infinity.</summary>
    public int InfinityNode { get; }

    /// <summary>How nodes on the upright edges of one piece of a row belong together; null in open space.</summary>
    public Ties? Tied { get; }

    public int NodeCount => Coordinates.Length / 2;

    public int ElementCount => Region.Length;

    /// <summary>Number of triangles inside the rim; they come first.</summary>
    public int InsideCount => Mesh.Regions.Length;

    public bool IsImage(int element) => Region[element] == ImageRegion;

    /// <summary>The same space with its nodes elsewhere.</summary>
    public FieldSpace WithCoordinates(double[] coordinates) => new(this, coordinates);

    /// <summary>The rule that integrates an element's matrices.</summary>
    public ElementTables TablesFor(int element, bool conducting, bool surplus) => Symmetry switch
    {
        Symmetry.Round => conducting || surplus || Curved[element] ? ElementTables.Degree8 : ElementTables.Degree6,
        _ => Curved[element] || surplus ? ElementTables.Degree6 : ElementTables.Degree4,
    };

    private bool IsCurved(int element)
    {
        var nodes = Triangles.AsSpan(6 * element, 6);
        for (var k = 0; k < 3; k++)
        {
            var (i, j, m) = (nodes[k], nodes[(k + 1) % 3], nodes[3 + k]);
            var dx = Coordinates[2 * m] - (0.5 * (Coordinates[2 * i] + Coordinates[2 * j]));
            var dy = Coordinates[(2 * m) + 1] - (0.5 * (Coordinates[(2 * i) + 1] + Coordinates[(2 * j) + 1]));
            var length = double.Hypot(Coordinates[2 * i] - Coordinates[2 * j], Coordinates[(2 * i) + 1] - Coordinates[(2 * j) + 1]);
            if (double.Hypot(dx, dy) > 1e-9 * length) return true;
        }
        return false;
    }
}
