using Fieldwright.Numerics;

namespace Fieldwright.Fields.Elements;

/// <summary>The rim term of the mapped outside of a round model, (2π/R)∮ rⁿ û² ds for unit reluctivity or permeability, n = 3 for u = A_φ/r and 1 for a
/// scalar potential; nothing when long.</summary>
internal static class RimTerm
{
    private const int F = ElementTables.Functions;

    /// <summary>Exact for r³·u² of quadratic u on a straight edge.</summary>
    private static readonly LineRule Rule = Quadrature.GaussLegendre(5);

    /// <summary>Lower triangle, row by row, of the term in all ten functions of an image triangle.</summary>
    public static void Evaluate(FieldSpace space, int element, int edge, Span<double> lower, int power = 3)
    {
        lower.Clear();
        if (space.Symmetry != Symmetry.Round) return;
        Span<double> s = stackalloc double[F], gx = stackalloc double[F], gy = stackalloc double[F];
        var c = space.Coordinates;
        var nodes = space.Triangles.AsSpan(6 * element, 6);
        for (var p = 0; p < Rule.Count; p++)
        {
            var position = 0.5 * (1 + Rule.Nodes[p]);
            var (xi, eta, tXi, tEta) = edge switch
            {
                0 => (position, 0.0, 1.0, 0.0),
                1 => (1 - position, position, -1.0, 1.0),
                _ => (0.0, 1 - position, 0.0, -1.0),
            };
            ElementTables.Evaluate(xi, eta, s, gx, gy);
            double x = 0, dx = 0, dy = 0;
            for (var i = 0; i < 6; i++)
            {
                var along = (gx[i] * tXi) + (gy[i] * tEta);
                x += s[i] * c[2 * nodes[i]];
                dx += along * c[2 * nodes[i]];
                dy += along * c[(2 * nodes[i]) + 1];
            }
            var w = 0.5 * Rule.Weights[p] * double.Hypot(dx, dy) * 2 * Math.PI * (power == 3 ? x * x * x : x) / space.Radius;
            var n = 0;
            for (var i = 0; i < F; i++)
                for (var j = 0; j <= i; j++)
                    lower[n++] += w * s[i] * s[j];
        }
    }
}
