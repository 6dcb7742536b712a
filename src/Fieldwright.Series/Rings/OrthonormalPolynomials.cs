using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>Polynomials orthonormal on an interval under a weight, by their three-term recurrence; all may share a factor x.</summary>
/// <source key="Gautschi2004" at="discretised Stieltjes procedure"/>
internal sealed class OrthonormalPolynomials
{
    private readonly double[] alpha, rootBeta;

    private readonly bool vanishing;

    /// <param name="count">Number of polynomials.</param>
    /// <param name="from">Lower end.</param>
    /// <param name="to">Upper end.</param>
    /// <param name="weight">Weight, itself a polynomial of degree one at most.</param>
    /// <param name="vanishing">Whether every polynomial carries a factor x.</param>
    public OrthonormalPolynomials(int count, double from, double to, Func<double, double> weight, bool vanishing)
    {
        this.vanishing = vanishing;
        Count = count;
        From = from;
        To = to;
        alpha = new double[count];
        rootBeta = new double[count + 1];
        // Exact: the products are of degree 2·count + 1 at most.
        var rule = GaussRule.WithNodes(count + 2);
        var n = rule.Nodes.Length;
        double[] previous = new double[n], current = new double[n], x = new double[n], w = new double[n];
        double norm = 0;
        for (var i = 0; i < n; i++)
        {
            x[i] = from + (to - from) * rule.Nodes[i];
            w[i] = (to - from) * rule.Weights[i] * weight(x[i]) * (vanishing ? x[i] * x[i] : 1);
            norm += w[i];
        }
        rootBeta[0] = Math.Sqrt(norm);
        Array.Fill(current, 1 / rootBeta[0]);
        for (var k = 0; k < count; k++)
        {
            double mean = 0;
            for (var i = 0; i < n; i++)
                mean += w[i] * x[i] * current[i] * current[i];
            alpha[k] = mean;
            norm = 0;
            for (var i = 0; i < n; i++)
            {
                var next = (x[i] - mean) * current[i] - (k == 0 ? 0 : rootBeta[k] * previous[i]);
                norm += w[i] * next * next;
                (previous[i], current[i]) = (current[i], next);
            }
            rootBeta[k + 1] = Math.Sqrt(norm);
            for (var i = 0; i < n; i++)
                current[i] /= rootBeta[k + 1];
        }
    }

    public int Count { get; }

    public double From { get; }

    public double To { get; }

    /// <summary>All polynomials at one place: <paramref name="values"/> gets degree 0, 1, …</summary>
    public void EvaluateInto(double x, Span<double> values)
    {
        values[0] = (vanishing ? x : 1) / rootBeta[0];
        if (values.Length > 1)
            values[1] = (x - alpha[0]) * values[0] / rootBeta[1];
        for (var k = 1; k + 1 < values.Length; k++)
            values[k + 1] = ((x - alpha[k]) * values[k] - rootBeta[k] * values[k - 1]) / rootBeta[k + 1];
    }
}
