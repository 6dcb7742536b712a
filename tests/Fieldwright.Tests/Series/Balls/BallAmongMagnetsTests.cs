using Fieldwright.Matter;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Currents;
using Fieldwright.Series.Magnets;
using Xunit;

namespace Fieldwright.Tests.Series.Balls;

public class BallAmongMagnetsTests
{
    private static readonly CylinderMagnet Magnet = new(0.008, 0.006, 1.2, new Vector(0, 0, -0.003), new Vector(0.1, 0, 1));

    [Fact]
    public void Force_OnTheBall_IsOppositeToThatOnTheMagnet()
    {
        var ball = new BallAmongMagnets(SphereBody.Solid(0.006, 0, 200), new Vector(0.003, 0.001, 0.009), Magnet.FluxDensity);
        var magnet = Loads.Of(ball.FluxDensity, Magnet);
        Assert.True((ball.Force + magnet.Force).Length < 1e-5 * ball.Force.Length, $"{ball.Force} against {magnet.Force}");
    }

    /// <summary>A small ball is a dipole of moment 4πa³(μ−1)/(μ+2)·H in the field: F = ½ α/μ₀² ∇B² α = 4πa³ μ₀ (μ−1)/(μ+2)/… ; the slope by differences.</summary>
    [Fact]
    public void Force_OnASmallBall_IsThatOfAnInducedDipole()
    {
        const double a = 1e-4, mu = 50;
        var at = new Vector(0.004, 0.002, 0.02);
        var ball = new BallAmongMagnets(SphereBody.Solid(a, 0, mu), at, Magnet.FluxDensity);
        double Square(Vector p) => Vector.Dot(Magnet.FluxDensity(p), Magnet.FluxDensity(p));
        const double h = 1e-5;
        var slope = 1 / (2 * h) * new Vector(
            Square(at + new Vector(h, 0, 0)) - Square(at - new Vector(h, 0, 0)), Square(at + new Vector(0, h, 0)) - Square(at - new Vector(0, h, 0)), Square(at + new Vector(0, 0, h)) - Square(at - new Vector(0, 0, h)));
        var expected = 2 * Math.PI * a * a * a * (mu - 1) / (mu + 2) / PhysicalConstants.MagneticConstant * slope;
        // The next degree is smaller by (a/distance)², some 1e-4.
        Assert.True((ball.Force - expected).Length < 3e-4 * expected.Length, $"{ball.Force} against {expected}");
    }

    [Fact]
    public void Force_OnABallThatTouchesTheFace_Settles()
    {
        var upright = new CylinderMagnet(0.01, 0.01, 1.2, new Vector(0, 0, -0.005));
        var ball = new BallAmongMagnets(SphereBody.Solid(0.008, 0, 1000), new Vector(0, 0, 0.008), upright.FluxDensity);
        Assert.True(ball.Force.Z < 0);
        Assert.True(ball.ForceError < 1e-5 * ball.Force.Length);
        Assert.Equal(0, ball.Force.X, 1e-9 * ball.Force.Length);
    }

    [Theory]
    [InlineData(0.3, 0.4, -0.5)]
    [InlineData(-1, 0.1, 0)]
    public void Field_ThroughTheSurface_KeepsNormalBAndTangentialH(double x, double y, double z)
    {
        var at = new Vector(0.003, 0.001, 0.012);
        var ball = new BallAmongMagnets(SphereBody.Solid(0.006, 0, 200), at, Magnet.FluxDensity, 1e-9);
        var n = new Vector(x, y, z).Unit();
        Vector Total(double radius) => Magnet.FluxDensity(at + radius * n) + ball.FluxDensity(at + radius * n);
        Vector inside = Total(0.006 * (1 - 1e-8)), outside = Total(0.006 * (1 + 1e-8));
        // Degrees beyond those that settle the force are left out of the field.
        Assert.Equal(Vector.Dot(outside, n), Vector.Dot(inside, n), 1e-4 * outside.Length);
        Assert.True((Vector.Cross(n, 1.0 / 200 * inside) - Vector.Cross(n, outside)).Length < 1e-4 * outside.Length);
        // In the middle of a ball in a nearly even field: 3μ/(μ + 2) of it.
        Assert.Equal(600.0 / 202, Vector.Dot(Magnet.FluxDensity(at) + ball.FluxDensity(at), Magnet.FluxDensity(at).Unit()) / Magnet.FluxDensity(at).Length, 1e-3);
    }
}
