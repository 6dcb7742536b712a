using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.ScalarPotential;

/// <summary>A field strength T with curl T = J exactly, on the triangles inside the rim and nothing beyond; A/m.</summary>
/// <remarks>
/// On each triangle T = Σ c_k·w_k + b: w_k = L_i∇L_j − L_j∇L_i carries the magnetomotive force c_k along edge k, so that tangential components
/// meet from triangle to triangle and a cut jumps by exactly its ampere-turns. On a straight triangle Σ c_k·w_k has the constant
/// curl Σ c_k/area, which is J. On a curved one that would be constant in the reference triangle only; there b, a field without
/// tangential component on any edge, adds the difference, a quadratic in ξ and η.
/// <source key="Bossavit1998" />
/// </remarks>
internal sealed class SourceField
{
    private readonly FieldSpace space;
    private readonly double[] circulation;
    private readonly Dictionary<int, Bubble> bubbles;
    private readonly bool[] touched;

    public SourceField(FieldSpace space, double[] circulation, Dictionary<int, Bubble> bubbles)
    {
        this.space = space;
        this.circulation = circulation;
        this.bubbles = bubbles;
        touched = new bool[space.ElementCount];
        for (var e = 0; e < space.InsideCount; e++)
        {
            touched[e] = bubbles.ContainsKey(e);
            for (var k = 0; k < 3; k++) touched[e] |= circulation[space.Triangles[(6 * e) + 3 + k]] != 0;
        }
    }

    /// <summary>first + times·second.</summary>
    public static SourceField Sum(SourceField first, SourceField second, double times)
    {
        var bubbles = new Dictionary<int, Bubble>(first.bubbles);
        foreach (var (e, bubble) in second.bubbles)
            bubbles[e] = bubbles.TryGetValue(e, out var there) ? Bubble.Sum(there, bubble, times) : Bubble.Sum(null, bubble, times);
        return new(first.space, [.. first.circulation.Select((c, k) => c + (times * second.circulation[k]))], bubbles);
    }

    /// <summary>Whether the field may differ from zero in a triangle.</summary>
    public bool Touches(int element) => touched[element];

    /// <summary>The field at point q of triangle e, whose local coordinates are handed along.</summary>
    public (double X, double Y) At(int e, int q, ElementValues values, double xi, double eta)
    {
        if (!touched[e]) return default;
        ReadOnlySpan<double> l = [1 - xi - eta, xi, eta];
        Span<double> lx = stackalloc double[3], ly = stackalloc double[3];
        var row = q * ElementTables.Functions;
        for (var i = 0; i < 3; i++)
        {
            // a barycentric coordinate is its vertex function and half of the two midsides beside it
            int a = row + 3 + i, b = row + 3 + ((i + 2) % 3);
            lx[i] = values.Nx[row + i] + (0.5 * (values.Nx[a] + values.Nx[b]));
            ly[i] = values.Ny[row + i] + (0.5 * (values.Ny[a] + values.Ny[b]));
        }
        double x = 0, y = 0;
        var nodes = space.Triangles.AsSpan(6 * e, 6);
        for (var k = 0; k < 3; k++)
        {
            var j = (k + 1) % 3;
            var c = Along(nodes, k) * circulation[nodes[3 + k]];
            if (c == 0) continue;
            x += c * ((l[k] * lx[j]) - (l[j] * lx[k]));
            y += c * ((l[k] * ly[j]) - (l[j] * ly[k]));
        }
        if (bubbles.TryGetValue(e, out var bubble))
        {
            var (u, v) = bubble.At(xi, eta);
            x += (u * lx[1]) + (v * lx[2]);
            y += (u * ly[1]) + (v * ly[2]);
        }
        return (x, y);
    }

    /// <summary>+1 if local edge k is walked from the lower to the higher node, −1 if not.</summary>
    public static double Along(ReadOnlySpan<int> nodes, int k) => nodes[k] < nodes[(k + 1) % 3] ? 1 : -1;

    /// <summary>What a curved triangle with current needs beside its edge fields.</summary>
    /// <remarks>With q(ξ, η) = J·det F a quadratic and Q = ∫₀¹ t·q(tξ, tη) dt, the field (−η, ξ)·Q has the curl q and a tangential component Q on the
    /// hypotenuse alone. Less its mean I, that is the slope of a cubic that vanishes at both ends; the gradient of ξη(a + bη) takes it away.</remarks>
    internal sealed class Bubble
    {
        private readonly double[] q;
        private readonly double a, b;

        /// <summary>Makes the field of one triangle.</summary>
        /// <param name="space">The triangles.</param>
        /// <param name="e">Which one.</param>
        /// <param name="density">Current density, A/m².</param>
        public Bubble(FieldSpace space, int e, double density)
        {
            double d00 = Determinant(space, e, 0, 0), d10 = Determinant(space, e, 1, 0), d01 = Determinant(space, e, 0, 1);
            double h10 = Determinant(space, e, 0.5, 0), h01 = Determinant(space, e, 0, 0.5), h11 = Determinant(space, e, 0.5, 0.5);
            double xx = 2 * (d10 - (2 * h10) + d00), yy = 2 * (d01 - (2 * h01) + d00);
            double x = d10 - d00 - xx, y = d01 - d00 - yy;
            var xy = 4 * (h11 - d00 - (0.5 * (x + y)) - (0.25 * (xx + yy)));
            // Q: a part of degree k divided by k + 2
            q = [density * d00 / 2, density * x / 3, density * y / 3, density * xx / 4, density * xy / 4, density * yy / 4];
            double k0 = q[0] + q[1] + q[3], k1 = q[2] - q[1] + q[4] - (2 * q[3]), k2 = q[3] - q[4] + q[5];
            Current = k0 + (0.5 * k1) + (k2 / 3);
            a = k0 - Current;
            b = -k2 / 3;
        }

        private Bubble(double[] q, double current, double a, double b) => (this.q, Current, this.a, this.b) = (q, current, a, b);

        /// <summary>first + times·second.</summary>
        public static Bubble Sum(Bubble? first, Bubble second, double times) => new(
            [.. second.q.Select((v, k) => (times * v) + (first?.q[k] ?? 0))],
            (times * second.Current) + (first?.Current ?? 0),
            (times * second.a) + (first?.a ?? 0),
            (times * second.b) + (first?.b ?? 0));

        /// <summary>The current through the triangle, A.</summary>
        public double Current { get; }

        /// <summary>Reference components of the field, to be multiplied by ∇ξ and ∇η.</summary>
        public (double Xi, double Eta) At(double xi, double eta)
        {
            var rest = q[0] + (q[1] * xi) + (q[2] * eta) + (q[3] * xi * xi) + (q[4] * xi * eta) + (q[5] * eta * eta) - Current;
            return ((-eta * rest) - (eta * (a + (b * eta))), (xi * rest) - (xi * (a + (2 * b * eta))));
        }

        private static double Determinant(FieldSpace space, int e, double xi, double eta)
        {
            Span<double> s = stackalloc double[ElementTables.Functions], gx = stackalloc double[ElementTables.Functions], gy = stackalloc double[ElementTables.Functions];
            ElementTables.Evaluate(xi, eta, s, gx, gy);
            double xXi = 0, xEta = 0, yXi = 0, yEta = 0;
            for (var i = 0; i < 6; i++)
            {
                var n = space.Triangles[(6 * e) + i];
                xXi += gx[i] * space.Coordinates[2 * n];
                xEta += gy[i] * space.Coordinates[2 * n];
                yXi += gx[i] * space.Coordinates[(2 * n) + 1];
                yEta += gy[i] * space.Coordinates[(2 * n) + 1];
            }
            return (xXi * yEta) - (xEta * yXi);
        }
    }
}
