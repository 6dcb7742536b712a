using System.Numerics;
using Fieldwright.Series.Layers;
using Xunit;

namespace Fieldwright.Tests.Series.Layers;

public class SheetOfFiniteWidthTests
{
    [Theory]
    [InlineData(0.06, 0)]
    [InlineData(0.06, 0.015)]
    [InlineData(0.12, 0.03)]
    public void ThrustRatio_OfAFeebleSheet_IsTheFactorOfRussellAndNorsworthy(double width, double overhang)
    {
        double k = LinearMotorFactors.TransverseEdge(width, overhang, 0.06);
        // Differences are of order (sG)².
        Assert.Equal(k, SheetOfFiniteWidth.ThrustRatio(1e-3, width, overhang, 0.06), 1e-5);
        Assert.Equal(SheetOfFiniteWidth.ThrustRatioByFactor(0.05, k), SheetOfFiniteWidth.ThrustRatio(0.05, width, overhang, 0.06), 5e-3);
    }

    [Fact]
    public void ThrustRatio_OfAWideSheet_IsOne() => Assert.Equal(1, SheetOfFiniteWidth.ThrustRatio(2, 30, 0.1, 0.06), 2e-3);

    [Theory]
    [InlineData(0.5)]
    [InlineData(3)]
    public void ThrustRatio_WithAStrongReaction_AgreesWithDifferencesAcross(double reaction)
    {
        // H″ = k²(1 + jsG)H − jk (J = g = 1) over half the width by second-order differences, the sheet's currents closing beyond: J_x = −H′, J_z = −jkH − 1,
        // and beyond the edge J_z = −j tanh(kh) J_x, which ties the field to its slope.
        const double pitch = 0.06, half = 0.03, overhang = 0.015, k = Math.PI / pitch;
        const int n = 4000;
        double step = half / n, t = Math.Tanh(k * overhang);
        var gamma = k * k * new Complex(1, reaction);
        // Shooting from the middle: H = particular + a·even solution, both by the same differences.
        Complex[] even = new Complex[n + 1], odd = new Complex[n + 1];
        (even[0], even[1]) = (1, 1 + 0.5 * step * step * gamma);
        (odd[0], odd[1]) = (0, -0.5 * step * step * new Complex(0, k));
        for (int i = 1; i < n; i++)
        {
            even[i + 1] = 2 * even[i] - even[i - 1] + step * step * gamma * even[i];
            odd[i + 1] = 2 * odd[i] - odd[i - 1] + step * step * (gamma * odd[i] - new Complex(0, k));
        }

        Complex Slope(Complex[] h) => (3 * h[n] - 4 * h[n - 1] + h[n - 2]) / (2 * step);
        // −jkH − 1 = j tanh(kh)·H′ at the edge.
        Complex Edge(Complex[] h) => new Complex(0, -k) * h[n] - new Complex(0, t) * Slope(h);
        var a = (1 - Edge(odd)) / Edge(even);
        Complex sum = 0;
        for (int i = 0; i <= n; i++)
            sum += (i is 0 or n ? 0.5 : 1) * step * (odd[i] + a * even[i]);
        double thrust = (sum / half).Real, endless = (new Complex(0, 1) / (k * new Complex(1, reaction))).Real;
        Assert.Equal(thrust / endless, SheetOfFiniteWidth.ThrustRatio(reaction, 2 * half, overhang, pitch), 1e-4);
    }
}
