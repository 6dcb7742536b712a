namespace Fieldwright.Geometry;

/// <summary>Triangles of six nodes (three vertices, three midsides) that fill a drawing. Immutable by agreement: the arrays are handed out, not copied; threads may share it.</summary>
/// <remarks>Edges on arcs are curved: their midside node lies on the arc and the triangle is the image of the reference triangle under the
/// quadratic map x = Σ Nᵢ(ξ, η) xᵢ, whose Jacobian is positive everywhere. All other midside nodes lie halfway between their vertices.</remarks>
public sealed partial class Mesh
{
    internal Mesh(Drawing drawing, int vertexCount, double[] coordinates, int[] triangles, int[] regions, int[] neighbours, MeshEdge[] boundaryEdges, MeshEdge[] interfaceEdges)
    {
        Drawing = drawing;
        VertexCount = vertexCount;
        Coordinates = coordinates;
        Triangles = triangles;
        Regions = regions;
        Neighbours = neighbours;
        BoundaryEdges = boundaryEdges;
        InterfaceEdges = interfaceEdges;
        tree = new(() => new(this));
    }

    /// <summary>What the mesh fills.</summary>
    public Drawing Drawing { get; }

    /// <summary>Number of vertices: nodes 0 … VertexCount − 1.</summary>
    public int VertexCount { get; }

    /// <summary>Number of nodes, vertices and midsides.</summary>
    public int NodeCount => Coordinates.Length / 2;

    /// <summary>Number of triangles.</summary>
    public int TriangleCount => Regions.Length;

    /// <summary>2·NodeCount values: x₀ y₀ x₁ y₁ …, m.</summary>
    public double[] Coordinates { get; }

    /// <summary>Six nodes a triangle: v0 v1 v2 counter-clockwise, then the midsides of v0v1, v1v2, v2v0.</summary>
    public int[] Triangles { get; }

    /// <summary>Region of each triangle.</summary>
    public int[] Regions { get; }

    /// <summary>Three a triangle: the triangle across v0v1, v1v2, v2v0, or −1 on the boundary.</summary>
    public int[] Neighbours { get; }

    /// <summary>Edges with a triangle on one side only, that on their left; in order along each drawing edge, by ascending marker.</summary>
    public MeshEdge[] BoundaryEdges { get; }

    /// <summary>Edges on a drawing edge with triangles on both sides; in order along each drawing edge, by ascending marker.</summary>
    public MeshEdge[] InterfaceEdges { get; }

    /// <summary>A node's place, m.</summary>
    /// <param name="node">Node number.</param>
    public Point NodeAt(int node) => new(Coordinates[2 * node], Coordinates[(2 * node) + 1]);
}
