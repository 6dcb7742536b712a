namespace Fieldwright.Geometry;

public sealed partial class Mesh
{
    private readonly Lazy<BoxTree> tree;

    /// <summary>The triangle a point lies in, and where in it. May be asked from many threads; the first call builds the search tree.</summary>
    /// <param name="x">x or r, m.</param>
    /// <param name="y">y or z, m.</param>
    /// <returns>The place, of the lowest-numbered triangle found where several meet; <see cref="MeshLocation.Outside"/> where there is no mesh.
    /// Curved triangles are inverted by Newton's method to 1e-11 of their size.</returns>
    public MeshLocation Locate(double x, double y) => tree.Value.Locate(new(x, y));

    /// <summary>The vertex nearest to a point.</summary>
    /// <param name="x">x or r, m.</param>
    /// <param name="y">y or z, m.</param>
    public int NearestVertex(double x, double y) => tree.Value.NearestVertex(new(x, y));

    /// <summary>The place of local coordinates in a triangle, m.</summary>
    /// <param name="triangle">The triangle.</param>
    /// <param name="xi">ξ, see <see cref="MeshLocation"/>.</param>
    /// <param name="eta">η.</param>
    public Point PointAt(int triangle, double xi, double eta) => Map(triangle, xi, eta).At;

    /// <summary>Area of a triangle, curved edges included, m².</summary>
    /// <param name="triangle">The triangle.</param>
    public double AreaOf(int triangle)
    {
        var (a, b, c) = (CornerOf(triangle, 0), CornerOf(triangle, 1), CornerOf(triangle, 2));
        return (0.5 * Point.Cross(b - a, c - a)) + Bulge(a, b, 3) + Bulge(b, c, 4) + Bulge(c, a, 5);

        // Between chord and parabola: two thirds of chord times rise.
        double Bulge(Point from, Point to, int middle) =>
            2.0 / 3 * Point.Cross(NodeAt(Triangles[(6 * triangle) + middle]) - (0.5 * (from + to)), to - from);
    }

    /// <summary>Area of a region, curved edges included, m².</summary>
    /// <param name="region">Region number.</param>
    public double AreaOfRegion(int region)
    {
        var sum = 0.0;
        for (var t = 0; t < TriangleCount; t++)
        {
            if (Regions[t] == region)
                sum += AreaOf(t);
        }
        return sum;
    }

    /// <summary>Size of a triangle as <see cref="MeshOptions"/> counts it: the length of its longest side, straight, m.</summary>
    /// <param name="triangle">The triangle.</param>
    public double SizeOf(int triangle)
    {
        var (a, b, c) = (CornerOf(triangle, 0), CornerOf(triangle, 1), CornerOf(triangle, 2));
        return Math.Max(a.DistanceTo(b), Math.Max(b.DistanceTo(c), c.DistanceTo(a)));
    }

    internal Point CornerOf(int triangle, int corner) => NodeAt(Triangles[(6 * triangle) + corner]);

    /// <summary>The quadratic map and its derivatives.</summary>
    internal (Point At, Point AlongXi, Point AlongEta) Map(int triangle, double xi, double eta)
    {
        var zeta = 1 - xi - eta;
        var t = 6 * triangle;
        Point a = NodeAt(Triangles[t]), b = NodeAt(Triangles[t + 1]), c = NodeAt(Triangles[t + 2]);
        Point ab = NodeAt(Triangles[t + 3]), bc = NodeAt(Triangles[t + 4]), ca = NodeAt(Triangles[t + 5]);
        var at = (zeta * ((2 * zeta) - 1) * a) + (xi * ((2 * xi) - 1) * b) + (eta * ((2 * eta) - 1) * c)
            + (4 * zeta * xi * ab) + (4 * xi * eta * bc) + (4 * eta * zeta * ca);
        var alongXi = ((1 - (4 * zeta)) * a) + (((4 * xi) - 1) * b) + (4 * (zeta - xi) * ab) + (4 * eta * bc) + (-4 * eta * ca);
        var alongEta = ((1 - (4 * zeta)) * a) + (((4 * eta) - 1) * c) + (-4 * xi * ab) + (4 * xi * bc) + (4 * (zeta - eta) * ca);
        return (at, alongXi, alongEta);
    }
}
