using System.Globalization;
using Fieldwright.Numerics;

namespace Fieldwright.Geometry;

/// <summary>How fine and how regular a mesh shall be.</summary>
/// <remarks>The size of a triangle is the length of its longest edge. Wherever several limits apply, the smallest holds.</remarks>
public sealed record MeshOptions
{
    /// <summary>Largest size allowed at a point (x, y), m; null for none. Asked many times from one thread; must be positive and give the same answer each time.</summary>
    public Func<double, double, double>? SizeAt { get; init; }

    /// <summary>Largest size allowed in a region, m, by region number.</summary>
    public IReadOnlyDictionary<int, double> RegionSizes { get; init; } = new Dictionary<int, double>();

    /// <summary>Largest size allowed anywhere, m.</summary>
    public double LargestSize { get; init; } = double.PositiveInfinity;

    /// <summary>Least angle of a triangle, degrees, between 0 and 30: kept everywhere but at corners of the drawing that are sharper, at
    /// cusps between touching arcs, and beside edges whose subdivision is prescribed.</summary>
    public double MinimumAngleDegrees { get; init; } = 25;

    /// <summary>Most degrees of arc that one curved edge may span, between 1 and 60.</summary>
    public double MaximumArcDegrees { get; init; } = 30;

    /// <summary>Edges cut into a prescribed number of equal pieces, which are then not split further, by marker (index in <see cref="Drawing.Edges"/>).
    /// For an edge tied to a mapped exterior.</summary>
    public IReadOnlyDictionary<int, int> PrescribedSegments { get; init; } = new Dictionary<int, int>();

    /// <summary>Most triangles the mesh may have.</summary>
    public int MaximumTriangles { get; init; } = 4_000_000;

    internal void Check(Drawing drawing)
    {
        Guard.InRange(MinimumAngleDegrees, 0, 30);
        Guard.InRange(MaximumArcDegrees, 1, 60);
        Guard.Positive(MaximumTriangles);
        if (!(LargestSize > 0))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"the largest size is {LargestSize}; it must be positive"));
        foreach (var (region, size) in RegionSizes)
        {
            if (!(size > 0))
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"the size for region {region} is {size}; it must be positive"));
        }
        foreach (var (marker, count) in PrescribedSegments)
        {
            Guard.InRange(marker, 0, drawing.Edges.Count - 1, nameof(PrescribedSegments));
            Guard.Positive(count, nameof(PrescribedSegments));
        }
    }
}
