using Fieldwright.Numerics;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Benchmarks.Numerics;

/// <summary>
/// The matrices the solver is measured on: quadratic triangles on the unit square, edge held at zero, stiffness K everywhere and mass M in a conducting disc,
/// from a grid whose inner points are jittered and whose diagonals are chosen at random (seeded), so that no pattern repeats.
/// </summary>
internal sealed class PlanarSystem
{
    public PlanarSystem(int cells, int seed = 7)
    {
        var random = new Random(seed);
        var side = 2 * cells + 1;
        var vertex = new double[(cells + 1) * (cells + 1) * 2];
        for (var r = 0; r <= cells; r++)
            for (var c = 0; c <= cells; c++)
            {
                var inner = r > 0 && c > 0 && r < cells && c < cells ? 0.5 : 0;
                vertex[2 * (r * (cells + 1) + c)] = (c + inner * (random.NextDouble() - 0.5)) / cells;
                vertex[2 * (r * (cells + 1) + c) + 1] = (r + inner * (random.NextDouble() - 0.5)) / cells;
            }
        // Nodes of the P2 grid: the vertices at even rows and columns, midsides between; numbered along a space-filling curve, held ones left out.
        var number = new int[side * side];
        Array.Fill(number, -1);
        var order = Enumerable.Range(0, side * side)
            .Where(k => k % side > 0 && k % side < side - 1 && k / side > 0 && k / side < side - 1)
            .OrderBy(k => Morton(k % side, k / side)).ToArray();
        for (var k = 0; k < order.Length; k++)
            number[order[k]] = k;
        Order = order.Length;
        Coordinates = new double[2 * Order];
        var dofs = new List<int>(cells * cells * 12);
        var corners = new List<double>(cells * cells * 12);
        for (var r = 0; r < cells; r++)
            for (var c = 0; c < cells; c++)
            {
                (int C, int R)[] q = [(2 * c, 2 * r), (2 * c + 2, 2 * r), (2 * c + 2, 2 * r + 2), (2 * c, 2 * r + 2)];
                var turn = random.Next(2);
                foreach (var (a, b, d) in new[] { (0, 1, 2), (0, 2, 3) })
                {
                    var v = new[] { q[(a + turn) & 3], q[(b + turn) & 3], q[(d + turn) & 3] };
                    for (var k = 0; k < 3; k++)
                        Add(v[k], v[k]);
                    for (var k = 0; k < 3; k++)
                        Add(v[k], v[(k + 1) % 3]);
                    foreach (var (vc, vr) in v)
                    {
                        var index = 2 * (vr / 2 * (cells + 1) + vc / 2);
                        corners.Add(vertex[index]);
                        corners.Add(vertex[index + 1]);
                    }
                }
            }
        ElementDofs = [.. dofs];
        Pattern = SymmetricPattern.FromElements(Order, ElementDofs, 6, out var scatter);
        Stiffness = new double[Pattern.EntryCount];
        Mass = new double[Pattern.EntryCount];
        Assemble([.. corners], scatter);

        void Add((int C, int R) one, (int C, int R) other)
        {
            var node = number[(one.R + other.R) / 2 * side + (one.C + other.C) / 2];
            dofs.Add(node);
            if (node < 0)
                return;
            for (var k = 0; k < 2; k++)
                Coordinates[2 * node + k] = 0.5 * (vertex[2 * (one.R / 2 * (cells + 1) + one.C / 2) + k] + vertex[2 * (other.R / 2 * (cells + 1) + other.C / 2) + k]);
        }
    }

    public int Order { get; }

    public int[] ElementDofs { get; }

    public double[] Coordinates { get; }

    public SymmetricPattern Pattern { get; }

    public double[] Stiffness { get; }

    public double[] Mass { get; }

    private void Assemble(double[] corners, int[] scatter)
    {
        var rule = Quadrature.TriangleRule(4);
        var shapes = new double[6];
        var gradients = new double[12];
        for (var e = 0; e < ElementDofs.Length / 6; e++)
        {
            var x = corners.AsSpan(6 * e, 6);
            double ax = x[2] - x[0], ay = x[3] - x[1], bx = x[4] - x[0], by = x[5] - x[1];
            var jacobian = ax * by - bx * ay;
            double cx = (x[0] + x[2] + x[4]) / 3 - 0.5, cy = (x[1] + x[3] + x[5]) / 3 - 0.5;
            var conducting = cx * cx + cy * cy < 0.09;
            for (var g = 0; g < rule.Count; g++)
            {
                double u = rule.X[g], v = rule.Y[g], t = 1 - u - v;
                (shapes[0], shapes[1], shapes[2]) = (t * (2 * t - 1), u * (2 * u - 1), v * (2 * v - 1));
                (shapes[3], shapes[4], shapes[5]) = (4 * t * u, 4 * u * v, 4 * v * t);
                double[] du = [1 - 4 * t, 4 * u - 1, 0, 4 * (t - u), 4 * v, -4 * v];
                double[] dv = [1 - 4 * t, 0, 4 * v - 1, -4 * u, 4 * u, 4 * (t - v)];
                for (var i = 0; i < 6; i++)
                {
                    gradients[2 * i] = (by * du[i] - ay * dv[i]) / jacobian;
                    gradients[2 * i + 1] = (ax * dv[i] - bx * du[i]) / jacobian;
                }
                var w = rule.Weights[g] * Math.Abs(jacobian);
                var pair = 21 * e;
                for (var i = 0; i < 6; i++)
                    for (var j = 0; j <= i; j++, pair++)
                    {
                        if (scatter[pair] < 0)
                            continue;
                        Stiffness[scatter[pair]] += w * (gradients[2 * i] * gradients[2 * j] + gradients[2 * i + 1] * gradients[2 * j + 1]);
                        if (conducting)
                            Mass[scatter[pair]] += w * shapes[i] * shapes[j];
                    }
            }
        }
    }

    private static long Morton(int x, int y)
    {
        var code = 0L;
        for (var bit = 0; bit < 16; bit++)
            code |= (long)((x >> bit) & 1) << (2 * bit) | (long)((y >> bit) & 1) << (2 * bit + 1);
        return code;
    }
}
