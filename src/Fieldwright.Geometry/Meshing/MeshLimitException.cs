using System.Globalization;

namespace Fieldwright.Geometry;

/// <summary>A mesh needed more triangles than were allowed.</summary>
public sealed class MeshLimitException : Exception
{
    /// <summary>Says how far the mesher came.</summary>
    /// <param name="allowed">Triangles allowed.</param>
    /// <param name="at">Where it was refining when it stopped, m.</param>
    public MeshLimitException(int allowed, Point at)
        : base(string.Create(CultureInfo.InvariantCulture, $"the mesh needs more than the {allowed} triangles allowed; it was refining near ({at.X:G6}, {at.Y:G6})"))
    {
        Allowed = allowed;
        At = at;
    }

    /// <summary>Triangles allowed.</summary>
    public int Allowed { get; }

    /// <summary>Where it was refining when it stopped, m.</summary>
    public Point At { get; }
}
