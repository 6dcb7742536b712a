namespace Fieldwright.Geometry;

/// <summary>The quadratic map of a six-node triangle.</summary>
internal static class CurvedTriangle
{
    /// <summary>A lower bound of the Jacobian determinant over the triangle: the least of its six Bézier coefficients.</summary>
    /// <param name="p">v0 v1 v2 m01 m12 m20.</param>
    public static double LeastJacobian(ReadOnlySpan<Point> p)
    {
        // The map is x = Σ b_ijk B_ijk with b at corners the vertices and b between them 2m − (v + v')/2. Its derivatives along the two sides
        // are linear, with control vectors d1 (along v0→v1) and d2 (along v0→v2), and the Jacobian is their cross product.
        var b01 = (2 * p[3]) - (0.5 * (p[0] + p[1]));
        var b12 = (2 * p[4]) - (0.5 * (p[1] + p[2]));
        var b20 = (2 * p[5]) - (0.5 * (p[2] + p[0]));
        Point d10 = 2 * (b01 - p[0]), d11 = 2 * (p[1] - b01), d12 = 2 * (b12 - b20);
        Point d20 = 2 * (b20 - p[0]), d21 = 2 * (b12 - b01), d22 = 2 * (p[2] - b20);
        var least = Math.Min(Point.Cross(d10, d20), Math.Min(Point.Cross(d11, d21), Point.Cross(d12, d22)));
        least = Math.Min(least, 0.5 * (Point.Cross(d10, d21) + Point.Cross(d11, d20)));
        least = Math.Min(least, 0.5 * (Point.Cross(d11, d22) + Point.Cross(d12, d21)));
        return Math.Min(least, 0.5 * (Point.Cross(d12, d20) + Point.Cross(d10, d22)));
    }
}
