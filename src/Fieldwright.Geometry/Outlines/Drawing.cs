namespace Fieldwright.Geometry;

/// <summary>A boundary and the parts drawn inside it: the plane divided into regions. Immutable; may be shared between threads.</summary>
/// <remarks>Parts may touch one another and the boundary, share edges or portions of edges, and lie inside one another: the innermost
/// outline gives the region of a point. Points closer than <see cref="Tolerance"/> are one point.</remarks>
public sealed class Drawing
{
    /// <summary>Puts parts inside a boundary, finding where their edges touch.</summary>
    /// <param name="boundary">The outermost outline; its region fills what no part covers.</param>
    /// <param name="parts">The parts, in any order.</param>
    /// <exception cref="OverlapException">Two parts overlap without one lying inside the other, coincide, or a part reaches outside the boundary.</exception>
    public Drawing(Outline boundary, IReadOnlyList<Outline> parts)
    {
        ArgumentNullException.ThrowIfNull(boundary);
        ArgumentNullException.ThrowIfNull(parts);
        Outlines = [boundary, .. parts];
        Edges = [.. Outlines.SelectMany(outline => outline.Edges)];
        Tolerance = 1e-9 * boundary.Bounds.Diagonal;
        Start.Of(this, Arrangement.Of(this), Math.PI / 3);
    }

    /// <summary>The boundary, then the parts.</summary>
    public IReadOnlyList<Outline> Outlines { get; }

    /// <summary>The edges of all outlines, the boundary's first. The index in this list is the marker a <see cref="Mesh"/> puts on its edges.</summary>
    public IReadOnlyList<Edge> Edges { get; }

    /// <summary>Distance below which two points of the drawing are taken as one, m: 1e-9 of the diagonal of the boundary.</summary>
    public double Tolerance { get; }

    /// <summary>The outline an edge belongs to.</summary>
    /// <param name="marker">Index in <see cref="Edges"/>.</param>
    /// <returns>Index in <see cref="Outlines"/>.</returns>
    public int OutlineOf(int marker)
    {
        for (var outline = 0; outline < Outlines.Count; outline++)
        {
            if (marker < Outlines[outline].Edges.Count)
                return outline;
            marker -= Outlines[outline].Edges.Count;
        }
        throw new ArgumentOutOfRangeException(nameof(marker));
    }
}
