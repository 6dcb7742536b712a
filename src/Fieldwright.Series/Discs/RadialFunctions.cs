using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Discs;

/// <summary>Radial parts of stream functions on a disc or ring, orthonormal in the heat of a sheet.</summary>
internal sealed class RadialFunctions
{
    private readonly DiscBody body;
    private readonly double[,] toOrthonormal; // lower triangular: function a = Σ_b [a, b] · plain b

    /// <param name="body">The disc.</param>
    /// <param name="order">m, times that the current goes round.</param>
    /// <param name="count">Functions.</param>
    /// <param name="sheetResistance">1/(σ·thickness) of a layer, Ω.</param>
    public RadialFunctions(DiscBody body, int order, int count, double sheetResistance)
    {
        (this.body, Order, Count) = (body, order, count);
        // Heat of plain functions, 2π R ∫ (T'T' + m² T T / r²) r dr, then the inverse of its Cholesky factor.
        var rule = GaussRule.WithNodes(2 * count + order + 24);
        double width = body.OuterRadius - body.InnerRadius;
        var heat = new double[count, count];
        double[] value = new double[count], slope = new double[count];
        for (var i = 0; i < rule.Nodes.Length; i++)
        {
            var r = body.InnerRadius + width * rule.Nodes[i];
            Plain(r, value, slope);
            var weight = 2 * Math.PI * sheetResistance * width * rule.Weights[i];
            for (var a = 0; a < count; a++)
                for (var b = 0; b <= a; b++)
                    heat[a, b] += weight * (r * slope[a] * slope[b] + (double)order * order / r * value[a] * value[b]);
        }
        toOrthonormal = InverseOfFactor(heat, count);
        AtHole = new double[count];
        if (body.InnerRadius > 0)
        {
            Plain(body.InnerRadius, value, slope);
            Turn(value, AtHole);
        }
    }

    public int Order { get; }

    public int Count { get; }

    /// <summary>Values at the edge of the hole; zero where there is none or m is not zero.</summary>
    public double[] AtHole { get; }

    /// <summary>Values [function, place] and slopes at given radii.</summary>
    public double[,] At(double[] places, out double[,] slopes)
    {
        var values = new double[Count, places.Length];
        slopes = new double[Count, places.Length];
        double[] value = new double[Count], slope = new double[Count], turned = new double[Count];
        for (var i = 0; i < places.Length; i++)
        {
            Plain(places[i], value, slope);
            Turn(value, turned);
            for (var a = 0; a < Count; a++)
                values[a, i] = turned[a];
            Turn(slope, turned);
            for (var a = 0; a < Count; a++)
                slopes[a, i] = turned[a];
        }
        return values;
    }

    // A disc: ρ^m (1 − ρ²) P(2ρ² − 1). A ring: P(u) times what vanishes where it must, u from −1 to 1 across it.
    private void Plain(double r, double[] value, double[] slope)
    {
        double outer = body.OuterRadius, edge, edgeSlope, u, uSlope;
        if (body.InnerRadius == 0)
        {
            var rho = r / outer;
            (u, uSlope) = (2 * rho * rho - 1, 4 * rho / outer);
            var power = Math.Pow(rho, Order);
            edge = power * (1 - rho * rho);
            edgeSlope = (Order == 0 ? 0 : Order * Math.Pow(rho, Order - 1) * (1 - rho * rho) / outer) - 2 * power * rho / outer;
        }
        else
        {
            var width = outer - body.InnerRadius;
            (u, uSlope) = (2 * (r - body.InnerRadius) / width - 1, 2 / width);
            (edge, edgeSlope) = Order == 0 ? (0.5 * (1 - u), -0.5 * uSlope) : (1 - u * u, -2 * u * uSlope);
        }
        double before = 0, here = 1, beforeSlope = 0, hereSlope = 0;
        for (var p = 0; p < Count; p++)
        {
            value[p] = edge * here;
            slope[p] = edgeSlope * here + edge * hereSlope * uSlope;
            var next = ((2 * p + 1) * u * here - p * before) / (p + 1);
            var nextSlope = beforeSlope + (2 * p + 1) * here;
            (before, here, beforeSlope, hereSlope) = (here, next, hereSlope, nextSlope);
        }
    }

    private void Turn(double[] plain, double[] into)
    {
        for (var a = 0; a < Count; a++)
        {
            double sum = 0;
            for (var b = 0; b <= a; b++)
                sum += toOrthonormal[a, b] * plain[b];
            into[a] = sum;
        }
    }

    private static double[,] InverseOfFactor(double[,] heat, int count)
    {
        var factor = new double[count, count];
        for (var a = 0; a < count; a++)
            for (var b = 0; b <= a; b++)
            {
                var sum = heat[a, b];
                for (var c = 0; c < b; c++)
                    sum -= factor[a, c] * factor[b, c];
                if (a == b && !(sum > 0))
                    throw new NotConvergedException("The radial functions of the disc", sum, count);
                factor[a, b] = a == b ? Math.Sqrt(sum) : sum / factor[b, b];
            }
        var inverse = new double[count, count];
        for (var column = 0; column < count; column++)
            for (var a = column; a < count; a++)
            {
                double sum = a == column ? 1 : 0;
                for (var c = column; c < a; c++)
                    sum -= factor[a, c] * inverse[c, column];
                inverse[a, column] = sum / factor[a, a];
            }
        return inverse;
    }
}
