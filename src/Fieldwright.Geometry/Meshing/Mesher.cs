namespace Fieldwright.Geometry;

/// <summary>Fills a drawing with triangles.</summary>
public static class Mesher
{
    /// <summary>Triangulates a drawing: constrained Delaunay triangles refined until size and angles are as asked. The same input gives the same mesh.</summary>
    /// <param name="drawing">What to fill.</param>
    /// <param name="options">Sizes and angles; null for the defaults.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>A mesh whose curved triangles all have a positive Jacobian.</returns>
    /// <exception cref="MeshLimitException">More triangles would be needed than the options allow.</exception>
    /// <exception cref="ArgumentException">An option is out of range, or the size function gave no positive number.</exception>
    /// <exception cref="OperationCanceledException">Cancellation was asked for.</exception>
    public static Mesh Triangulate(Drawing drawing, MeshOptions? options = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(drawing);
        options ??= new();
        options.Check(drawing);
        var arrangement = Arrangement.Of(drawing);
        Prescribe(arrangement, options);
        var start = Start.Of(drawing, arrangement, options.MaximumArcDegrees * Math.PI / 180);
        var refinement = new Refinement(start, options, drawing.Tolerance);
        do
            refinement.Run(cancellation);
        while (refinement.SuspectFolds());
        var mesh = MeshBuilder.Build(drawing, refinement.Soup()).Mesh;
        return mesh.TriangleCount <= options.MaximumTriangles ? mesh : throw new MeshLimitException(options.MaximumTriangles, mesh.NodeAt(0));
    }

    private static void Prescribe(Arrangement arrangement, MeshOptions options)
    {
        foreach (var (marker, count) in options.PrescribedSegments)
        {
            var pieces = arrangement.Pieces.FindAll(piece => piece.Marker == marker);
            if (pieces.Count != 1)
                throw new ArgumentException($"edge {marker} of the drawing is touched by others between its ends, so that no number of equal segments can be prescribed for it");
            pieces[0].Prescribed = count;
        }
    }
}
