namespace Fieldwright.Geometry;

/// <summary>A place in a mesh by triangle and local coordinates.</summary>
/// <param name="Triangle">The triangle, or −1 if the point is in none.</param>
/// <param name="Xi">ξ: 0 on the edge v2v0, 1 at v1.</param>
/// <param name="Eta">η: 0 on the edge v0v1, 1 at v2. The weight of v0 is 1 − ξ − η.</param>
public readonly record struct MeshLocation(int Triangle, double Xi, double Eta)
{
    /// <summary>Whether the point lies in the mesh.</summary>
    public bool IsInside => Triangle >= 0;

    /// <summary>The place of a point outside the mesh.</summary>
    public static MeshLocation Outside => new(-1, double.NaN, double.NaN);
}
