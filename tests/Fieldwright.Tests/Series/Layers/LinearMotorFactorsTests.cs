using Fieldwright.Series.Layers;
using Xunit;

namespace Fieldwright.Tests.Series.Layers;

public class LinearMotorFactorsTests
{
    [Fact]
    public void TransverseEdge_EveryRow_AgreesWithTheRecalledTable()
    {
        foreach (var row in SeriesReference.Rows("russell-norsworthy.csv"))
            Assert.Equal(SeriesReference.Number(row[2]), LinearMotorFactors.TransverseEdge(SeriesReference.Number(row[0]), SeriesReference.Number(row[1]), 1), 6e-7);
    }

    [Theory]
    [InlineData(0.5, 0.25)]
    [InlineData(2, 0)]
    [InlineData(1, 1)]
    public void TransverseEdge_AgreesWithASheetSolvedByDifferences(double width, double overhang)
    {
        // Stream function of a feeble sheet: ψ″ − κ²ψ = 1 under the winding, 0 beside it, ψ = 0 at the edge. K = mean of −κ²ψ under the winding.
        const int n = 4000;
        double edge = width / 2 + overhang, h = edge / n, kappa = Math.PI, inner = width / 2;
        double[] c = new double[n], d = new double[n];
        for (var i = 0; i < n; i++) // midpoints of cells; slope zero at the middle
        {
            var z = (i + 0.5) * h;
            var source = Math.Clamp((inner - (z - h / 2)) / h, 0, 1);
            var low = i > 0 ? 1.0 : 0;
            var high = i < n - 1 ? 1.0 : 2;
            var b = -(low + high) - kappa * kappa * h * h;
            var denominator = b - (i > 0 ? low * c[i - 1] : 0);
            c[i] = (i < n - 1 ? 1.0 : 0) / denominator;
            d[i] = (source * h * h - (i > 0 ? low * d[i - 1] : 0)) / denominator;
        }
        double mean = 0, next = 0;
        for (var i = n - 1; i >= 0; i--)
        {
            next = d[i] - c[i] * next;
            mean += next * Math.Clamp((inner - (i * h)) / h, 0, 1) * h;
        }
        Assert.Equal(-kappa * kappa * mean / inner, LinearMotorFactors.TransverseEdge(width, overhang, 1), 1e-5); // second order in h/edge = 1/4000
    }

    [Fact]
    public void TransverseEdge_NarrowWinding_LosesNoDigits()
    {
        double p = Math.PI * 0.0126 / 2; // just below and above the switch at p = 0.02
        var exact = 1 - Math.Tanh(p) / p;
        Assert.Equal(exact, LinearMotorFactors.TransverseEdge(0.0126, 0, 1), 1e-9 * exact + 1e-15);
    }

    [Fact]
    public void Carter_EveryRow_AgreesWithTheTable()
    {
        foreach (var row in SeriesReference.Rows("carter.csv"))
        {
            var s = SeriesReference.Number(row[0]);
            Assert.Equal(SeriesReference.Number(row[3]), LinearMotorFactors.Carter(s, 2 * s, 1), 6e-7);
        }
    }

    [Fact]
    public void Goodness_OfTheWorkedSheet_Is0700() => // τ 50 mm, 50 Hz, 2 mm at 35 MS/m, gap 10 mm
        Assert.Equal(0.700, LinearMotorFactors.Goodness(50, 0.05, 35e6, 0.002, 0.010), 5e-4);
}
