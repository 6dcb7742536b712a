using System.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Balls;

public class BallEquilibriumTests
{
    private static readonly ThickCoil Inner = new(0.010, 0.022, -0.040, -0.002, 400);
    private static readonly ThickCoil Outer = new(0.030, 0.042, -0.040, -0.002, 300);
    private const double Mass = 0.006; // hollow aluminium, 12 mm radius, 1.5 mm wall

    private static BallOverCoils Thin(params CoilSource[] sources) => new(SphereBody.Hollow(0.012, 0.0015, 35e6), sources, 400);

    [Fact]
    public void OneCoilBelow_BallFloats_ButFallsOffSideways()
    {
        var rest = Assert.Single(BallEquilibrium.OnLine(Thin(new CoilSource(Inner, 40)), Mass, new Vector(0, 0, 0.0125), 0.08));
        Assert.Equal(Mass * 9.80665, rest.Response.Force.Z, 1e-7);
        Assert.False(rest.IsStable);
        Assert.True(rest.Eigenvalues[0].Real < 0 && rest.Eigenvalues[1].Real < 0 && rest.Eigenvalues[2].Real > 0);
        Assert.True(Math.Abs(rest.Modes[2].Z) > 0.999); // up and down is the stable one
        // Runs away as exp(t/τ), τ = √(m/|k|).
        Assert.Equal(Math.Sqrt(Mass / -rest.Eigenvalues[0].Real), rest.RunawayTime, 1e-6 * rest.RunawayTime);
    }

    [Fact]
    public void TwoCoilsInQuadrature_SidewaysStiffness_IsPositiveOnlyWhenTheInnerLags()
    {
        // The travelling field runs inwards when the inner current lags; the sign has been found by an unrelated study as well.
        double Sideways(double innerDegrees) =>
            Thin(new CoilSource(Inner, Complex.FromPolarCoordinates(8, innerDegrees * Math.PI / 180)), new CoilSource(Outer, 16)).Stiffness(new Vector(0, 0, 0.0135))[0, 0];
        Assert.True(Sideways(-90) > 0, FormattableString.Invariant($"lag {Sideways(-90)}"));
        Assert.True(Sideways(0) < Sideways(-90));
        Assert.True(Sideways(90) < Sideways(0), FormattableString.Invariant($"lead {Sideways(90)}, in phase {Sideways(0)}"));
    }

    [Fact]
    public void TwoCoilsInQuadrature_InnerLagging_BallStays()
    {
        var ball = Thin(new CoilSource(Inner, new Complex(0, -32)), new CoilSource(Outer, 16));
        var rest = BallEquilibrium.OnLine(ball, Mass, new Vector(0, 0, 0.0125), 0.08)[^1];
        Assert.True(rest.IsStable);
        Assert.True(double.IsPositiveInfinity(rest.RunawayTime));
        // The same currents the other way round in time: it floats at another height and falls off.
        var lead = Thin(new CoilSource(Inner, new Complex(0, 32)), new CoilSource(Outer, 16));
        Assert.DoesNotContain(BallEquilibrium.OnLine(lead, Mass, new Vector(0, 0, 0.0125), 0.08), r => r.IsStable);
    }

    [Fact]
    public void BallSunkInAWideRing_OnePhase_IsStable()
    {
        var ring = new ThickCoil(0.020, 0.030, -0.010, 0.010, 500);
        var rest = BallEquilibrium.OnLine(Thin(new CoilSource(ring, 4.5)), Mass, new Vector(0, 0, 0), 0.05);
        Assert.Contains(rest, r => r.IsStable);
    }

    [Fact]
    public void Near_FromBesideTheAxis_FindsTheRestOnTheAxis()
    {
        var ball = Thin(new CoilSource(Inner, 40));
        var onAxis = BallEquilibrium.OnLine(ball, Mass, new Vector(0, 0, 0.0125), 0.08)[0];
        var found = BallEquilibrium.Near(ball, Mass, onAxis.Position + new Vector(0.002, -0.001, 0.001));
        Assert.True((found.Position - onAxis.Position).Length < 1e-8);
    }

    [Fact]
    public void OnLine_TooHeavy_FindsNothing() =>
        Assert.Empty(BallEquilibrium.OnLine(Thin(new CoilSource(Inner, 1)), 1, new Vector(0, 0, 0.0125), 0.08));
}
