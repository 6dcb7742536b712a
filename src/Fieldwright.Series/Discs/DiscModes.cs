using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;

namespace Fieldwright.Series.Discs;

/// <summary>The currents of a disc that go m times round, stream functions T(r)·exp(imφ)·f(z), as modes that decay by themselves.</summary>
/// <remarks>
/// The current is ∇×(T ẑ)·f/thickness: over the thickness K_r = (im/r) T, K_φ = −dT/dr, in A/m where T is in A; T vanishes at the rim, and at the edge of a hole unless m = 0, where it stands
/// for what flows round the hole. Through the thickness f is a Legendre polynomial of mean square one; radial functions are polynomials made orthonormal in the heat, so that the resistance matrix is
/// 1 Ω. The inductances are L = πμ₀ ∫ k² T_a(k) T_b(k) G_pq(k) dk, T(k) being Hankel transforms and G the mean of f_p(z) f_q(z′) exp(−k|z−z′|). A mode is an eigenvector of L; its eigenvalue is the
/// time in which its current dies away. At the angular frequency s/j its amplitude is −s/(1/c + sλ) times its linkage, c being the conductivity over that described. Immutable; threads may share it.
/// </remarks>
internal sealed class DiscModes
{
    /// <summary>Finds the modes.</summary>
    /// <param name="body">The disc.</param>
    /// <param name="order">m, zero or more; −m has the same.</param>
    /// <param name="functions">Radial functions.</param>
    /// <param name="depths">Polynomials through the thickness.</param>
    /// <param name="grid">Where their values are kept.</param>
    /// <param name="inductances">The inductances of at least so many functions and polynomials: the few are among the many.</param>
    public DiscModes(DiscBody body, int order, int functions, int depths, DiscGrid grid, DiscInductances inductances)
    {
        int n = functions * depths, radii = grid.Radii.Length;
        var given = inductances.Of(functions, depths);
        var parts = MathNet.Numerics.LinearAlgebra.Double.Matrix.Build.Dense(n, n, (i, j) => given[Math.Max(i, j) * n + Math.Min(i, j)])
            .Evd(MathNet.Numerics.LinearAlgebra.Symmetricity.Symmetric);
        (Order, Count, Decay) = (order, n, [.. parts.EigenValues.Select(v => v.Real)]);
        var values = new RadialFunctions(body, order, functions, 1 / (body.Conductivity * body.Thickness)).At(grid.Radii, out var slopes);
        (Value, Slope, Round) = (new double[n * grid.Count], new double[n * grid.Count], new double[n * grid.Count]);
        for (var mode = 0; mode < n; mode++)
            for (var g = 0; g < grid.Count; g++)
            {
                int p = g / radii, i = g % radii;
                double value = 0, slope = 0;
                for (var q = 0; q < depths; q++)
                    for (var a = 0; a < functions; a++)
                    {
                        var share = grid.Profiles[p, q] * parts.EigenVectors[q * functions + a, mode];
                        value += share * values[a, i];
                        slope += share * slopes[a, i];
                    }
                var at = mode * grid.Count + g;
                (Value[at], Slope[at], Round[at]) = (grid.Weights[g] * value, grid.Weights[g] * slope, grid.Weights[g] * order / grid.Radii[i] * value);
            }
    }

    /// <summary>m.</summary>
    public int Order { get; }

    /// <summary>Modes.</summary>
    public int Count { get; }

    /// <summary>Eigenvalues λ of the inductance over the resistance, s, rising.</summary>
    public double[] Decay { get; }

    /// <summary>T times the weight of each point, mode after mode, A·m².</summary>
    public double[] Value { get; }

    /// <summary>dT/dr times the weight of each point.</summary>
    public double[] Slope { get; }

    /// <summary>m T/r times the weight of each point.</summary>
    public double[] Round { get; }
}

/// <summary>Inductances between the functions of one mode, Ω·s of an orthonormal heat: those of fewer functions are part of them.</summary>
internal sealed class DiscInductances
{
    private readonly double[] matrix;

    public DiscInductances(DiscBody body, int order, int functions, int depths)
    {
        (Functions, Depths) = (functions, depths);
        matrix = Find(body, new RadialFunctions(body, order, functions, 1 / (body.Conductivity * body.Thickness)), depths);
    }

    /// <summary>Radial functions.</summary>
    public int Functions { get; }

    /// <summary>Polynomials through the thickness.</summary>
    public int Depths { get; }

    /// <summary>The matrix of so many of them, row by row; only its lower triangle is filled.</summary>
    public double[] Of(int functions, int depths)
    {
        int n = functions * depths, all = Functions * Depths;
        var part = new double[n * n];
        for (var p = 0; p < depths; p++)
            for (var q = 0; q <= p; q++)
                for (var a = 0; a < functions; a++)
                    Array.Copy(matrix, (p * Functions + a) * all + q * Functions, part, (p * functions + a) * n + q * functions, functions);
        return part;
    }

    private static double[] Find(DiscBody body, RadialFunctions radial, int depths)
    {
        int functions = radial.Count, n = functions * depths;
        double outer = body.OuterRadius, width = outer - body.InnerRadius, most = Math.Max(300, 60 * outer / width);
        var panels = (int)Math.Ceiling(most / Math.PI);
        var rule = GaussRule.WithNodes(6);
        var across = GaussRule.WithNodes((int)(0.5 * most * width / outer) + 30);
        var places = Array.ConvertAll(across.Nodes, x => body.InnerRadius + width * x);
        var values = radial.At(places, out _);
        var through = new DepthCoupling(depths);
        var matrix = new double[n * n];
        double[] transform = new double[functions], mean = new double[depths * depths], bessel = new double[Math.Max(2, radial.Order + 1)];
        for (var panel = 0; panel < panels; panel++)
            for (var node = 0; node < rule.Nodes.Length; node++)
            {
                var k = Math.PI * (panel + rule.Nodes[node]) / outer;
                Array.Clear(transform);
                for (var i = 0; i < places.Length; i++)
                {
                    SpecialFunctions.BesselJ(k * places[i], bessel.AsSpan(0, radial.Order + 1));
                    var part = width * across.Weights[i] * places[i] * bessel[radial.Order];
                    for (var a = 0; a < functions; a++)
                        transform[a] += part * values[a, i];
                }
                if (radial.Order == 0 && body.InnerRadius > 0)
                {
                    SpecialFunctions.BesselJ(k * body.InnerRadius, bessel.AsSpan(0, 2));
                    for (var a = 0; a < functions; a++)
                        transform[a] += radial.AtHole[a] * body.InnerRadius * bessel[1] / k;
                }
                through.MeansInto(k * body.Thickness, mean);
                var weight = Math.PI * PhysicalConstants.MagneticConstant * Math.PI / outer * rule.Weights[node] * k * k;
                for (var p = 0; p < depths; p++)
                    for (var q = p & 1; q <= p; q += 2)
                        for (var a = 0; a < functions; a++)
                        {
                            var row = (p * functions + a) * n + q * functions;
                            var factor = weight * mean[p * depths + q] * transform[a];
                            for (var b = 0; b < functions; b++)
                                matrix[row + b] += factor * transform[b];
                        }
            }
        return matrix;
    }
}

/// <summary>Means of f_p(u) f_q(v) exp(−κ|u − v|) over 0 … 1 twice, f being Legendre polynomials of mean square one.</summary>
internal sealed class DepthCoupling
{
    private const int Nodes = 14;
    private readonly int depths;
    private readonly double[] apart, weights;
    private readonly double[][] products;

    public DepthCoupling(int depths)
    {
        this.depths = depths;
        var rule = GaussRule.WithNodes(Nodes);
        apart = new double[Nodes * Nodes];
        weights = new double[Nodes * Nodes];
        products = new double[Nodes * Nodes][];
        double[] atU = new double[depths], atV = new double[depths];
        // Both halves of the square are alike: v from 0 to u, twice.
        for (var i = 0; i < Nodes; i++)
            for (var j = 0; j < Nodes; j++)
            {
                double u = rule.Nodes[i], v = u * rule.Nodes[j];
                Profiles(u, atU);
                Profiles(v, atV);
                var n = i * Nodes + j;
                apart[n] = u - v;
                weights[n] = rule.Weights[i] * rule.Weights[j] * u;
                products[n] = new double[depths * depths];
                for (var p = 0; p < depths; p++)
                    for (var q = 0; q < depths; q++)
                        products[n][p * depths + q] = atU[p] * atV[q] + atV[p] * atU[q];
            }
    }

    /// <summary>The polynomials at a place, 0 … 1 through the thickness.</summary>
    public static void Profiles(double u, Span<double> values)
    {
        double x = 2 * u - 1, before = 0, here = 1;
        for (var p = 0; p < values.Length; p++)
        {
            values[p] = Math.Sqrt(2 * p + 1) * here;
            (before, here) = (here, ((2 * p + 1) * x * here - p * before) / (p + 1));
        }
    }

    /// <summary>The means for one κ, row by row.</summary>
    public void MeansInto(double kappa, double[] means)
    {
        Array.Clear(means);
        for (var n = 0; n < apart.Length; n++)
        {
            var weight = weights[n] * Math.Exp(-kappa * apart[n]);
            var product = products[n];
            for (var p = 0; p < depths; p++)
                for (var q = p & 1; q <= p; q += 2)
                    means[p * depths + q] += weight * product[p * depths + q];
        }
    }
}
