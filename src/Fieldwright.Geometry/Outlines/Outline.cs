namespace Fieldwright.Geometry;

/// <summary>A closed loop of lines and arcs round one region. Immutable; may be shared between threads.</summary>
/// <remarks>The loop may run either way round. It may not touch itself. A hole is another outline inside, with the region that fills it.</remarks>
public sealed partial class Outline
{
    /// <summary>Region number of a part that is cut out of the drawing: nothing is meshed there, and its edges become boundary.</summary>
    public const int Void = -1;

    /// <summary>Closes a loop of edges round a region.</summary>
    /// <param name="region">Number of the region inside, 0 or more, or <see cref="Void"/>. Several outlines may carry the same number.</param>
    /// <param name="edges">The edges in order, each starting where the one before it ends (to 1e-9 of the size of the loop).</param>
    /// <exception cref="OutlineException">The loop has a flaw; see <see cref="Flaws"/>.</exception>
    public Outline(int region, IReadOnlyList<Edge> edges)
    {
        ArgumentNullException.ThrowIfNull(edges);
        if (region < Void)
            throw new ArgumentOutOfRangeException(nameof(region), region, "must be 0 or more, or −1 for a void");
        var flaws = Flaws(edges);
        if (flaws.Count > 0)
            throw new OutlineException(flaws[0]);
        Region = region;
        Edges = [.. edges];
        Bounds = Edges.Aggregate(Box.Empty, (box, edge) => box.With(edge.Bounds));
    }

    /// <summary>Number of the region inside, or <see cref="Void"/>.</summary>
    public int Region { get; }

    /// <summary>The edges in order.</summary>
    public IReadOnlyList<Edge> Edges { get; }

    /// <summary>Smallest upright box round the outline.</summary>
    internal Box Bounds { get; }
}
