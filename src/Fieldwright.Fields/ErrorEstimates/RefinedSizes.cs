using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.ErrorEstimates;

/// <summary>Sizes for the next mesh from the shares of the triangles in the error.</summary>
/// <remarks>
/// A triangle cut into n smaller ones keeps n^(−q/2) of its share, q = 4 for a product of two quadratic interpolation errors. The fewest triangles
/// with a given total have n ∝ share^(1/3). A step never goes beyond a fourfold finer or 1.6 times coarser edge: near corners the field is
/// rougher than that rule assumes and the next estimate will say so.
/// </remarks>
internal sealed class RefinedSizes
{
    private const double Order = 5;
    private const double Aim = 0.8;
    private const double FinestStep = 16;
    private const double CoarsestStep = 0.4;

    private readonly MeshedModel old;
    private readonly double[] size;

    public RefinedSizes(MeshedModel old, double[] shares, int mostUnknowns)
    {
        this.old = old;
        var space = old.Space;
        var root = new double[shares.Length];
        var sum = 0.0;
        for (var e = 0; e < shares.Length; e++) sum += root[e] = Math.Pow(shares[e], 1 / (1 + (Order / 2)));
        var factor = Math.Pow(sum / Aim, 2 / Order);
        var total = 0.0;
        for (var e = 0; e < shares.Length; e++) total += Pieces(factor * root[e]);
        // two unknowns a triangle
        if (2 * total > mostUnknowns) factor *= mostUnknowns / (2 * total);
        size = VertexSizes(space, root, factor);
    }

    public double At(double x, double y)
    {
        var space = old.Space;
        if (!old.Inside.TryLocate(x, y, out var e, out var xi, out var eta)) return double.PositiveInfinity;
        xi = Math.Clamp(xi, 0, 1);
        eta = Math.Clamp(eta, 0, 1 - xi);
        var nodes = space.Triangles.AsSpan(6 * e, 3);
        return ((1 - xi - eta) * size[nodes[0]]) + (xi * size[nodes[1]]) + (eta * size[nodes[2]]);
    }

    private static double Pieces(double wanted) => Math.Clamp(wanted, CoarsestStep, FinestStep);

    private double[] VertexSizes(FieldSpace space, double[] root, double factor)
    {
        var logarithm = new double[space.Mesh.VertexCount];
        var count = new int[logarithm.Length];
        var imagePieces = CoarsestStep;
        for (var e = 0; e < root.Length; e++)
        {
            var pieces = Pieces(factor * root[e]);
            if (e >= space.InsideCount)
            {
                imagePieces = Math.Max(imagePieces, pieces);
                continue;
            }
            // the side of the equilateral triangle of the same area
            var side = Math.Log(Math.Sqrt(old.Matrices.Area[e] * 4 / Math.Sqrt(3) / pieces));
            for (var i = 0; i < 3; i++)
            {
                logarithm[space.Triangles[(6 * e) + i]] += side;
                count[space.Triangles[(6 * e) + i]]++;
            }
        }
        var result = new double[logarithm.Length];
        for (var v = 0; v < result.Length; v++) result[v] = count[v] > 0 ? Math.Exp(logarithm[v] / count[v]) : double.PositiveInfinity;
        // the rim alone decides how fine the image is
        foreach (var (element, edge) in space.RimEdges)
        {
            var nodes = space.Triangles.AsSpan(6 * element, 3);
            int a = nodes[edge], b = nodes[(edge + 1) % 3];
            var length = double.Hypot(space.Coordinates[2 * a] - space.Coordinates[2 * b], space.Coordinates[(2 * a) + 1] - space.Coordinates[(2 * b) + 1]);
            result[a] = Math.Min(result[a], length / Math.Sqrt(imagePieces));
            result[b] = Math.Min(result[b], length / Math.Sqrt(imagePieces));
        }
        return result;
    }
}
