using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Forces;

/// <summary>Whether a mesh may be used after its nodes have moved.</summary>
internal static class Flatness
{
    /// <summary>True if no triangle has lost more than seven tenths of its area or of its shape: twice the area over the sum of squared sides.</summary>
    public static bool Allows(FieldSpace space, double[] moved)
    {
        for (var e = 0; e < space.InsideCount; e++)
        {
            var nodes = space.Triangles.AsSpan(6 * e, 3);
            var (areaBefore, shapeBefore) = Measure(space.Coordinates, nodes);
            var (area, shape) = Measure(moved, nodes);
            if (area < 0.3 * areaBefore || shape < 0.3 * shapeBefore) return false;
        }
        return true;
    }

    private static (double Area, double Shape) Measure(double[] c, ReadOnlySpan<int> nodes)
    {
        double x0 = c[2 * nodes[0]], y0 = c[(2 * nodes[0]) + 1], x1 = c[2 * nodes[1]], y1 = c[(2 * nodes[1]) + 1], x2 = c[2 * nodes[2]], y2 = c[(2 * nodes[2]) + 1];
        var area = ((x1 - x0) * (y2 - y0)) - ((x2 - x0) * (y1 - y0));
        var sides = Square(x1 - x0, y1 - y0) + Square(x2 - x1, y2 - y1) + Square(x0 - x2, y0 - y2);
        return (area, area / sides);

        static double Square(double x, double y) => (x * x) + (y * y);
    }
}
