namespace Fieldwright.Geometry;

/// <summary>Fills a drawing with triangles.</summary>
public static class Mesher
{
    /// <summary>Triangulates a drawing: constrained Delaunay triangles refined until size and angles are as asked. The same input gives the same mesh.</summary>
    /// <param name="drawing">What to fill.</param>
    /// <param name="options">Sizes and angles; null for the defaults.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="MeshLimitException">More triangles would be needed than the options allow.</exception>
    /// <exception cref="OperationCanceledException">Cancellation was asked for.</exception>
    public static Mesh Triangulate(Drawing drawing, MeshOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        cancellation.ThrowIfCancellationRequested();
        throw new NotSupportedException("the mesher's body has not been laid yet");
    }
}
