namespace Fieldwright.Geometry;

/// <summary>An edge of a mesh that lies on an edge of the drawing.</summary>
/// <param name="From">First end node; the triangle on the left, seen towards <paramref name="To"/>, is <paramref name="Left"/>.</param>
/// <param name="To">Second end node.</param>
/// <param name="Middle">Midside node, on the arc if the edge is one.</param>
/// <param name="Marker">Index of the drawing's edge in <see cref="Drawing.Edges"/>; the lowest where several coincide, so the boundary's own first.</param>
/// <param name="Left">Triangle on the left.</param>
/// <param name="Right">Triangle on the right, or −1 on the boundary.</param>
public readonly record struct MeshEdge(int From, int To, int Middle, int Marker, int Left, int Right);
