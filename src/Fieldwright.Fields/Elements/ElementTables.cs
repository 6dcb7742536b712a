using Fieldwright.Numerics;

namespace Fieldwright.Fields.Elements;

/// <summary>Values and gradients of the ten basis functions of a triangle at the points of one quadrature rule.</summary>
/// <remarks>
/// Barycentric L0 = 1 − ξ − η, L1 = ξ, L2 = η. Functions 0…5 are the quadratic Lagrange functions in the node order v0 v1 v2 m01 m12 m20;
/// 6…8 are the cubic edge functions Li·Lj·(Li − Lj) of edges 01, 12, 20 and 9 is the bubble L0·L1·L2: the hierarchical surplus from order
/// two to order three, used by the error estimate only.
/// </remarks>
internal sealed class ElementTables
{
    /// <summary>Basis functions stored for each point.</summary>
    public const int Functions = 10;

    private static readonly (int I, int J)[] Edges = [(0, 1), (1, 2), (2, 0)];

    private ElementTables(TriangleRule rule)
    {
        Count = rule.Count;
        Weight = rule.Weights;
        Xi = rule.X;
        Eta = rule.Y;
        Shape = new double[Count * Functions];
        GradientXi = new double[Count * Functions];
        GradientEta = new double[Count * Functions];
        for (var q = 0; q < Count; q++)
        {
            var range = q * Functions;
            Evaluate(rule.X[q], rule.Y[q], Shape.AsSpan(range, Functions), GradientXi.AsSpan(range, Functions), GradientEta.AsSpan(range, Functions));
        }
    }

    /// <summary>Rule for straight elements of a long model: exact for the mass matrix.</summary>
    public static ElementTables Degree4 { get; } = new(Quadrature.TriangleRule(4));

    /// <summary>Rule for curved elements of a long model, and for straight insulating elements of a round one.</summary>
    public static ElementTables Degree6 { get; } = new(Quadrature.TriangleRule(6));

    /// <summary>Rule for round models: exact for r³·u² on straight elements.</summary>
    public static ElementTables Degree8 { get; } = new(Quadrature.TriangleRule(8));

    public int Count { get; }

    /// <summary>Weights, summing to one half, the area of the reference triangle.</summary>
    public double[] Weight { get; }

    /// <summary>Local coordinates of the points.</summary>
    public double[] Xi { get; }

    public double[] Eta { get; }

    public double[] Shape { get; }

    public double[] GradientXi { get; }

    public double[] GradientEta { get; }

    /// <summary>All ten functions and their reference gradients at one point.</summary>
    public static void Evaluate(double xi, double eta, Span<double> shape, Span<double> gradientXi, Span<double> gradientEta)
    {
        Span<double> l = [1 - xi - eta, xi, eta];
        ReadOnlySpan<double> lx = [-1, 1, 0];
        ReadOnlySpan<double> ly = [-1, 0, 1];
        for (var i = 0; i < 3; i++)
        {
            shape[i] = l[i] * ((2 * l[i]) - 1);
            gradientXi[i] = ((4 * l[i]) - 1) * lx[i];
            gradientEta[i] = ((4 * l[i]) - 1) * ly[i];
        }
        for (var k = 0; k < 3; k++)
        {
            var (i, j) = Edges[k];
            shape[3 + k] = 4 * l[i] * l[j];
            gradientXi[3 + k] = 4 * ((lx[i] * l[j]) + (l[i] * lx[j]));
            gradientEta[3 + k] = 4 * ((ly[i] * l[j]) + (l[i] * ly[j]));
            // d/dLi of Li²Lj − LiLj² and d/dLj of the same
            var di = (2 * l[i] * l[j]) - (l[j] * l[j]);
            var dj = (l[i] * l[i]) - (2 * l[i] * l[j]);
            shape[6 + k] = l[i] * l[j] * (l[i] - l[j]);
            gradientXi[6 + k] = (di * lx[i]) + (dj * lx[j]);
            gradientEta[6 + k] = (di * ly[i]) + (dj * ly[j]);
        }
        shape[9] = l[0] * l[1] * l[2];
        gradientXi[9] = (lx[0] * l[1] * l[2]) + (l[0] * lx[1] * l[2]) + (l[0] * l[1] * lx[2]);
        gradientEta[9] = (ly[0] * l[1] * l[2]) + (l[0] * ly[1] * l[2]) + (l[0] * l[1] * ly[2]);
    }
}
