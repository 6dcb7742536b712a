namespace Fieldwright.Geometry;

/// <summary>A stretch of a drawing's edge between two places where something meets it: nothing touches it in between.</summary>
/// <remarks>Corners are indices of the arrangement's points.</remarks>
internal sealed class Piece
{
    public required int From { get; init; }

    public required int To { get; init; }

    /// <summary>The geometry from <see cref="From"/> to <see cref="To"/>, ends exactly on the corners.</summary>
    public required Edge Curve { get; init; }

    /// <summary>Lowest marker of the edges that run here.</summary>
    public int Marker { get; set; }

    /// <summary>Outlines that run here; crossing the piece enters or leaves each of them.</summary>
    public List<int> Owners { get; } = [];

    /// <summary>Whether another piece leaves the corner at <see cref="From"/> at less than 75°.</summary>
    public bool AcuteFrom { get; set; }

    /// <summary>Whether another piece leaves the corner at <see cref="To"/> at less than 75°.</summary>
    public bool AcuteTo { get; set; }

    /// <summary>Whether another piece leaves the corner at <see cref="From"/> in the same direction: a cusp, in which no curved triangle fits.</summary>
    public bool CuspFrom { get; set; }

    /// <summary>Whether another piece leaves the corner at <see cref="To"/> in the same direction.</summary>
    public bool CuspTo { get; set; }

    /// <summary>Number of equal segments prescribed, or 0.</summary>
    public int Prescribed { get; set; }

    /// <summary>Angle swept, rad; zero for a line.</summary>
    public double Sweep => Curve is ArcEdge arc ? arc.Sweep : 0;
}
