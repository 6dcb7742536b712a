using System.Collections.Concurrent;

namespace Fieldwright.Numerics;

/// <summary>Points and weights on the reference triangle with corners (0, 0), (1, 0), (0, 1). Immutable; not to be written to.</summary>
/// <param name="Degree">Every polynomial of this total degree in x and y is integrated exactly, to rounding.</param>
/// <param name="X">First local coordinate of each point; all lie inside.</param>
/// <param name="Y">Second local coordinate of each point.</param>
/// <param name="Weights">Positive weights; their sum is ½, the area of the reference triangle, so ∫ f = |J| Σ w f with J the Jacobian determinant.</param>
public sealed record TriangleRule(int Degree, double[] X, double[] Y, double[] Weights)
{
    /// <summary>Number of points.</summary>
    public int Count => Weights.Length;
}

/// <summary>Points and weights on an interval. Immutable; not to be written to.</summary>
/// <param name="Nodes">Points in ascending order, in [−1, 1].</param>
/// <param name="Weights">Weights; their sum is 2.</param>
public sealed record LineRule(double[] Nodes, double[] Weights)
{
    /// <summary>Number of points.</summary>
    public int Count => Weights.Length;
}

/// <summary>Rules of numerical integration, full double precision. Threads may share them.</summary>
public static class Quadrature
{
    private static readonly ConcurrentDictionary<int, TriangleRule> Triangles = new();
    private static readonly ConcurrentDictionary<int, LineRule> Lines = new();

    /// <summary>Integration rule for a triangle: symmetric with positive weights and inside points up to degree 8, above that a product of Gauss rules.</summary>
    /// <param name="degree">Total degree to be integrated exactly, 1 to 60; the rule returned may be of a higher one.</param>
    /// <returns>The rule: 1, 3, 6, 6, 7, 12, 16 and 16 points for degrees 1 to 8.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The degree is outside its range.</exception>
    /// <source key="StrangFix1973"/>
    /// <source key="Dunavant1985"/>
    public static TriangleRule TriangleRule(int degree) =>
        Triangles.GetOrAdd(Guard.InRange(degree, 1, 60), d => SymmetricTriangle(d) ?? ProductTriangle(d));

    /// <summary>Gauss–Legendre rule on [−1, 1], exact to degree 2n − 1.</summary>
    /// <param name="points">n, 1 to 1000.</param>
    /// <returns>The rule, nodes and weights to some 2e-16.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The number of points is outside its range.</exception>
    /// <source key="DLMF" at="3.5.17 to 3.5.19"/>
    public static LineRule GaussLegendre(int points) => Lines.GetOrAdd(Guard.InRange(points, 1, 1000), ComputeGaussLegendre);

    /// <summary>Integral of a smooth function over an interval by one Gauss–Legendre rule.</summary>
    /// <param name="function">The integrand.</param>
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end.</param>
    /// <param name="points">Points of the rule, 1 to 1000.</param>
    /// <returns>The integral.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An end is not finite, or the number of points is outside its range.</exception>
    public static double Integrate(Func<double, double> function, double from, double to, int points)
    {
        ArgumentNullException.ThrowIfNull(function);
        var rule = GaussLegendre(points);
        double half = (Guard.Finite(to) - Guard.Finite(from)) / 2, middle = from + half, sum = 0;
        for (var i = 0; i < rule.Count; i++)
            sum += rule.Weights[i] * function(middle + half * rule.Nodes[i]);
        return half * sum;
    }

    private static LineRule ComputeGaussLegendre(int n)
    {
        var nodes = new double[n];
        var weights = new double[n];
        for (var i = 0; i < (n + 1) / 2; i++)
        {
            var x = Math.Cos(Math.PI * (i + 0.75) / (n + 0.5));
            for (var step = 0; step < 6; step++)
            {
                var (value, slope) = SpecialFunctions.LegendreWithDerivative(n, x);
                var change = value / slope;
                x -= change;
                if (Math.Abs(change) < 1e-16)
                    break;
            }
            if (2 * i + 1 == n)
                x = 0;
            // w = 2/((1 − x²)P′²), in the form whose error does not grow with that of x near the ends: P′ taken at the node itself.
            var derivative = SpecialFunctions.LegendreWithDerivative(n, x).Derivative;
            nodes[i] = -x;
            nodes[n - 1 - i] = x;
            weights[i] = weights[n - 1 - i] = 2 / ((1 - x) * (1 + x) * derivative * derivative);
        }
        return new LineRule(nodes, weights);
    }

    // Orbits of the triangle's symmetry: the centroid; (a, a, 1 − 2a) and its 3 images; (a, b, 1 − a − b) and its 6. Weights as shares of the area.
    // Found by solving the moment equations from random starts, then by Newton's method with 40 digits; the tests take every monomial.
    private static TriangleRule? SymmetricTriangle(int degree)
    {
        var rule = new Orbits();
        switch (degree)
        {
            case 1:
                return rule.Centroid(1).Make(1);
            case 2:
                return rule.Three(1.0 / 3, 1.0 / 6).Make(2);
            case 3 or 4:
                return rule.Three(0.10995174365532186764, 0.09157621350977074346).Three(0.2233815896780114657, 0.44594849091596488632).Make(4);
            case 5:
                var root = Math.Sqrt(15);
                return rule.Centroid(9.0 / 40).Three((155 - root) / 1200, (6 - root) / 21).Three((155 + root) / 1200, (6 + root) / 21).Make(5);
            case 6:
                return rule.Three(0.08073108959303097831, 0.48013796411221504403).Three(0.17133312415298103012, 0.21942998254978296)
                    .Six(0.040634559793660662452, 0.01937172436124078838, 0.14161901592396815841).Make(6);
            case 7 or 8:
                return rule.Centroid(0.14431560767778716825).Three(0.032458497623198080311, 0.050547228317030975458)
                    .Three(0.10321737053471825028, 0.17056930775176020662).Three(0.095091634267284624794, 0.45929258829272315603)
                    .Six(0.027230314174434994265, 0.0083947774099576053372, 0.26311282963463811342).Make(8);
            default:
                return null;
        }
    }

    // Square mapped to the triangle by x = u, y = (1 − u)v: the Jacobian 1 − u raises the degree in u by one.
    private static TriangleRule ProductTriangle(int degree)
    {
        var along = GaussLegendre((degree + 3) / 2);
        var across = GaussLegendre((degree + 2) / 2);
        var x = new List<double>();
        var y = new List<double>();
        var weights = new List<double>();
        for (var i = 0; i < along.Count; i++)
            for (var j = 0; j < across.Count; j++)
            {
                double u = (1 + along.Nodes[i]) / 2, v = (1 + across.Nodes[j]) / 2, rest = (1 - along.Nodes[i]) / 2;
                x.Add(u);
                y.Add(rest * v);
                weights.Add(along.Weights[i] * across.Weights[j] * rest / 4);
            }
        return new TriangleRule(degree, [.. x], [.. y], [.. weights]);
    }

    private sealed class Orbits
    {
        private readonly List<(double X, double Y, double Weight)> _points = [];

        public Orbits Centroid(double weight)
        {
            _points.Add((1.0 / 3, 1.0 / 3, weight / 2));
            return this;
        }

        public Orbits Three(double weight, double a)
        {
            var b = 1 - 2 * a;
            _points.AddRange([(a, a, weight / 2), (b, a, weight / 2), (a, b, weight / 2)]);
            return this;
        }

        public Orbits Six(double weight, double a, double b)
        {
            var c = 1 - a - b;
            foreach (var (x, y) in new[] { (a, b), (b, a), (a, c), (c, a), (b, c), (c, b) })
                _points.Add((x, y, weight / 2));
            return this;
        }

        public TriangleRule Make(int degree) =>
            new(degree, [.. _points.Select(p => p.X)], [.. _points.Select(p => p.Y)], [.. _points.Select(p => p.Weight)]);
    }
}
