using Fieldwright.Numerics;
using Xunit;

namespace Fieldwright.Tests.Numerics;

public class QuadratureTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(10)]
    [InlineData(11)]
    [InlineData(12)]
    [InlineData(15)]
    [InlineData(20)]
    public void TriangleRule_EveryMonomialToItsDegree_IsExact(int degree)
    {
        var rule = Quadrature.TriangleRule(degree);
        Assert.True(rule.Degree >= degree);
        for (var a = 0; a <= rule.Degree; a++)
            for (var b = 0; a + b <= rule.Degree; b++)
            {
                var sum = 0.0;
                for (var i = 0; i < rule.Count; i++)
                    sum += rule.Weights[i] * Math.Pow(rule.X[i], a) * Math.Pow(rule.Y[i], b);
                var exact = 1.0; // a! b! / (a + b + 2)!
                for (var k = 1; k <= b; k++)
                    exact *= k / (double)(a + k);
                exact /= (a + b + 1.0) * (a + b + 2.0);
                Assert.Equal(1, sum / exact, 2e-15 * (2 + degree));
            }
    }

    [Theory]
    [InlineData(3)]
    [InlineData(6)]
    [InlineData(8)]
    [InlineData(14)]
    public void TriangleRule_Points_LieInsideWithPositiveWeights(int degree)
    {
        var rule = Quadrature.TriangleRule(degree);
        for (var i = 0; i < rule.Count; i++)
            Assert.True(rule.X[i] > 0 && rule.Y[i] > 0 && rule.X[i] + rule.Y[i] < 1 && rule.Weights[i] > 0);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(7)]
    [InlineData(32)]
    [InlineData(257)]
    public void GaussLegendre_EvenPowersToItsDegree_AreExact(int points)
    {
        var rule = Quadrature.GaussLegendre(points);
        for (var power = 0; power <= 2 * points - 1; power += power < 10 ? 1 : 37)
        {
            var sum = 0.0;
            for (var i = 0; i < rule.Count; i++)
                sum += rule.Weights[i] * Math.Pow(rule.Nodes[i], power);
            Assert.Equal(power % 2 == 0 ? 2.0 / (power + 1) : 0, sum, 4e-15);
        }
    }

    [Fact]
    public void Integrate_SmoothFunction_IsExactToRounding() =>
        Assert.Equal(Math.E - 1, Quadrature.Integrate(Math.Exp, 0, 1, 10), 4e-16);

    [Fact]
    public void TriangleRule_DegreeOutOfRange_IsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Quadrature.TriangleRule(0));
}
