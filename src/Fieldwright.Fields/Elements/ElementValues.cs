namespace Fieldwright.Fields.Elements;

/// <summary>What every weak form of this room needs at the quadrature points of one triangle: for each basis function the flux density
/// and the vector potential it stands for.</summary>
/// <remarks>
/// Long: unknown A, B = (∂A/∂y, −∂A/∂x), weight = depth·dS. Round: unknown u with A_φ = r·u, B = (−r ∂u/∂z, 2u + r ∂u/∂r), weight = 2πr·dS:
/// no 1/r anywhere, and the axis needs no condition. Image triangles of a round model carry (r ∂û/∂r, r ∂û/∂z) in place of B, so that weight·B·B
/// is their energy form. Hence stiffness = Σ weight·ν·B_i·B_j, mass = Σ weight·σ·A_i·A_j, load = Σ weight·J·A_i, in full SI: J, not J per metre.
/// One instance serves one thread.
/// </remarks>
internal sealed class ElementValues
{
    private const int MostPoints = 16;
    private const int F = ElementTables.Functions;

    public double[] Weight { get; } = new double[MostPoints];

    /// <summary>Coordinates of the points.</summary>
    public double[] X { get; } = new double[MostPoints];

    public double[] Y { get; } = new double[MostPoints];

    /// <summary>B along r or x of function i at point q: [10·q + i].</summary>
    public double[] Bx { get; } = new double[MostPoints * F];

    public double[] By { get; } = new double[MostPoints * F];

    /// <summary>Vector potential of function i at point q.</summary>
    public double[] A { get; } = new double[MostPoints * F];

    /// <summary>Plane gradient of function i at point q.</summary>
    public double[] Nx { get; } = new double[MostPoints * F];

    public double[] Ny { get; } = new double[MostPoints * F];

    public int Points { get; private set; }

    /// <summary>Fills the tables for one triangle.</summary>
    /// <param name="space">The triangles.</param>
    /// <param name="element">Which one.</param>
    /// <param name="tables">The rule.</param>
    /// <param name="functions">6 for the unknowns alone, 10 with the surplus.</param>
    public void Evaluate(FieldSpace space, int element, ElementTables tables, int functions = 6)
    {
        Points = tables.Count;
        for (var q = 0; q < tables.Count; q++)
            EvaluatePoint(space, element, q, tables.Shape.AsSpan(q * F, F), tables.GradientXi.AsSpan(q * F, F), tables.GradientEta.AsSpan(q * F, F), tables.Weight[q], tables.Xi[q], tables.Eta[q], functions);
    }

    /// <summary>Fills point 0 for given local coordinates, with unit weight.</summary>
    public void EvaluateAt(FieldSpace space, int element, double xi, double eta, int functions = 6)
    {
        Span<double> shape = stackalloc double[F], gx = stackalloc double[F], gy = stackalloc double[F];
        ElementTables.Evaluate(xi, eta, shape, gx, gy);
        Points = 1;
        EvaluatePoint(space, element, 0, shape, gx, gy, 1, xi, eta, functions);
    }

    private void EvaluatePoint(FieldSpace space, int element, int q, ReadOnlySpan<double> shape, ReadOnlySpan<double> gx, ReadOnlySpan<double> gy, double ruleWeight, double xi, double eta, int functions)
    {
        var nodes = space.Triangles.AsSpan(6 * element, 6);
        var c = space.Coordinates;
        double x = 0, y = 0, xXi = 0, xEta = 0, yXi = 0, yEta = 0;
        // a straight triangle is mapped by its vertices alone, whose functions are 1 − ξ − η, ξ, η then
        var straight = !space.Curved[element];
        if (straight)
        {
            double x0 = c[2 * nodes[0]], y0 = c[(2 * nodes[0]) + 1];
            (xXi, yXi) = (c[2 * nodes[1]] - x0, c[(2 * nodes[1]) + 1] - y0);
            (xEta, yEta) = (c[2 * nodes[2]] - x0, c[(2 * nodes[2]) + 1] - y0);
            (x, y) = (x0 + (xi * xXi) + (eta * xEta), y0 + (xi * yXi) + (eta * yEta));
        }
        for (var i = 0; i < 6 && !straight; i++)
        {
            double px = c[2 * nodes[i]], py = c[(2 * nodes[i]) + 1];
            x += shape[i] * px;
            y += shape[i] * py;
            xXi += gx[i] * px;
            xEta += gy[i] * px;
            yXi += gx[i] * py;
            yEta += gy[i] * py;
        }
        var det = (xXi * yEta) - (xEta * yXi);
        var inverse = 1 / det;
        X[q] = x;
        Y[q] = y;
        var round = space.Symmetry == Symmetry.Round;
        var image = round && space.IsImage(element);
        Weight[q] = ruleWeight * det * (round ? 2 * Math.PI * x : space.Depth);
        for (var i = 0; i < functions; i++)
        {
            var nx = ((yEta * gx[i]) - (yXi * gy[i])) * inverse;
            var ny = ((xXi * gy[i]) - (xEta * gx[i])) * inverse;
            var k = (q * F) + i;
            Nx[k] = nx;
            Ny[k] = ny;
            if (!round)
            {
                Bx[k] = ny;
                By[k] = -nx;
                A[k] = shape[i];
            }
            else if (image)
            {
                Bx[k] = x * nx;
                By[k] = x * ny;
                A[k] = x * shape[i];
            }
            else
            {
                Bx[k] = -x * ny;
                By[k] = (2 * shape[i]) + (x * nx);
                A[k] = x * shape[i];
            }
        }
    }
}
