using Fieldwright.Geometry;

namespace Fieldwright.Bench.Pictures;

/// <summary>A quadratic function at a point of a curved triangle, with its slopes in the plane.</summary>
internal readonly record struct LocalPotential(Point Place, double Value, double AlongX, double AlongY);

/// <summary>A function given at the six nodes of a curved triangle; nodes v0 v1 v2 m01 m12 m20, place = (ξ, η) with v1 at (1, 0) and v2 at (0, 1).</summary>
internal readonly ref struct QuadraticTriangle
{
    private readonly double[] places, values;
    private readonly ReadOnlySpan<int> nodes;

    /// <summary>A triangle of a mesh.</summary>
    /// <param name="places">x₀ y₀ x₁ y₁ … of all nodes, m.</param>
    /// <param name="values">The function at all nodes.</param>
    /// <param name="nodes">The six nodes.</param>
    public QuadraticTriangle(double[] places, double[] values, ReadOnlySpan<int> nodes)
    {
        this.places = places;
        this.values = values;
        this.nodes = nodes;
    }

    /// <summary>Place of a node.</summary>
    public Point Node(int k) => new(places[2 * nodes[k]], places[2 * nodes[k] + 1]);

    /// <summary>Place, value and slopes at (ξ, η).</summary>
    public LocalPotential At(double xi, double eta)
    {
        Span<double> shape = stackalloc double[6], alongXi = stackalloc double[6], alongEta = stackalloc double[6];
        double zeta = 1 - xi - eta;
        Shapes(xi, eta, shape);
        (alongXi[0], alongXi[1], alongXi[2], alongXi[3], alongXi[4], alongXi[5]) = (1 - 4 * zeta, 4 * xi - 1, 0, 4 * (zeta - xi), 4 * eta, -4 * eta);
        (alongEta[0], alongEta[1], alongEta[2], alongEta[3], alongEta[4], alongEta[5]) = (1 - 4 * zeta, 0, 4 * eta - 1, -4 * xi, 4 * xi, 4 * (zeta - eta));
        double x = 0, y = 0, value = 0, xXi = 0, xEta = 0, yXi = 0, yEta = 0, vXi = 0, vEta = 0;
        for (int k = 0; k < 6; k++)
        {
            double px = places[2 * nodes[k]], py = places[2 * nodes[k] + 1], v = values[nodes[k]];
            (x, y, value) = (x + shape[k] * px, y + shape[k] * py, value + shape[k] * v);
            (xXi, yXi, vXi) = (xXi + alongXi[k] * px, yXi + alongXi[k] * py, vXi + alongXi[k] * v);
            (xEta, yEta, vEta) = (xEta + alongEta[k] * px, yEta + alongEta[k] * py, vEta + alongEta[k] * v);
        }

        double area = xXi * yEta - xEta * yXi;
        return new LocalPotential(new Point(x, y), value, (vXi * yEta - vEta * yXi) / area, (vEta * xXi - vXi * xEta) / area);
    }

    /// <summary>Other values at the six nodes, interpolated.</summary>
    public double Interpolate(ReadOnlySpan<double> atNodes, double xi, double eta)
    {
        Span<double> shape = stackalloc double[6];
        Shapes(xi, eta, shape);
        double sum = 0;
        for (int k = 0; k < 6; k++)
            sum += shape[k] * atNodes[k];
        return sum;
    }

    private static void Shapes(double xi, double eta, Span<double> shape)
    {
        double zeta = 1 - xi - eta;
        (shape[0], shape[1], shape[2]) = (zeta * (2 * zeta - 1), xi * (2 * xi - 1), eta * (2 * eta - 1));
        (shape[3], shape[4], shape[5]) = (4 * zeta * xi, 4 * xi * eta, 4 * eta * zeta);
    }
}
