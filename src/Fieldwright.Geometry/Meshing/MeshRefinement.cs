namespace Fieldwright.Geometry;

/// <summary>A mesh made from another by dividing triangles.</summary>
/// <param name="Mesh">The finer mesh.</param>
/// <param name="Parents">For each of its triangles, the triangle of the coarser mesh it is part of.</param>
public sealed record MeshRefinement(Mesh Mesh, int[] Parents);
