using System.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;

namespace Fieldwright.Tests.Series.Rings;

public class CoupledRingsTests
{
    private static readonly ThickCoil Inner = new(0.027, 0.055, -0.052, 0, 960);
    private static readonly ThickCoil Outer = new(0.080, 0.095, -0.052, 0, -576);
    private static readonly Complex[] Opposed = [20, 20];

    private static CoupledRings Disc(double height, double relativeError = 1e-4) =>
        new([new RingBody(0, 0.065, height, height + 0.003, 3.4e7)], [Inner, Outer], 50, relativeError);

    [Fact]
    public void Lift_DiscOverTwoCoils_AgreesWithSummedRings()
    {
        // 780 filament rings, converged to about 0.1 %: a computation by plain coupled rings, no expansion in common with this one.
        var rings = Disc(0);
        foreach (var row in Rows("team28-lift-calc.csv"))
            Close(Number(row[1]), rings.At(1e-3 * Number(row[0])).With(Opposed).Lift(0).Value, 1e-3);
    }

    [Fact]
    public void Lift_ErrorBar_CoversTheDistanceToAFinerSolution()
    {
        foreach (var height in new[] { 0.0005, 0.0038, 0.012 })
        {
            var rough = Disc(height).At().With(Opposed);
            var fine = Disc(height, 2e-7).At().With(Opposed);
            Assert.InRange(Math.Abs(rough.Lift(0).Value - fine.Lift(0).Value), 0, rough.Lift(0).Error + fine.Lift(0).Error);
            Assert.InRange(Math.Abs(rough.Loss(0).Value - fine.Loss(0).Value), 0, rough.Loss(0).Error + fine.Loss(0).Error);
            Assert.True(rough.Lift(0).Error < 1e-3 * rough.Lift(0).Value);
        }
    }

    [Fact]
    public void Loss_EqualsThePowerTheCoilsGive()
    {
        Complex[] currents = [20, new(-5, 12)];
        var response = Disc(0.0038, 1e-6).At();
        var solution = response.With(currents);
        Complex power = 0;
        for (var k = 0; k < 2; k++)
            for (var l = 0; l < 2; l++)
                power += 0.5 * Complex.Conjugate(currents[k]) * response.Impedance(k, l).Value * currents[l];
        // Exact for the discrete system too: only rounding of the large reactive part is left.
        Close(power.Real, solution.Loss(0).Value, 1e-9);
    }

    [Fact]
    public void Impedance_IsReciprocal_AndTheMetalTakesFromTheReactance()
    {
        var response = Disc(0.0038).At();
        var (there, back) = (response.Impedance(0, 1).Value, response.Impedance(1, 0).Value);
        Assert.True(Complex.Abs(there - back) < 1e-10 * Complex.Abs(there));
        for (var k = 0; k < 2; k++)
        {
            Assert.True(response.ReflectedImpedance(k, k).Value.Real > 0);
            Assert.True(response.ReflectedImpedance(k, k).Value.Imaginary < 0);
        }
    }

    [Fact]
    public void FluxLinkage_AgreesWithTheImpedance()
    {
        var response = Disc(0.0038).At();
        var solution = response.With(Opposed);
        var expected = response.Impedance(0, 0).Value * Opposed[0] + response.Impedance(0, 1).Value * Opposed[1];
        Assert.True(Complex.Abs(solution.InducedVoltage(0).Value - expected) < 1e-12 * Complex.Abs(expected));
    }

    [Fact]
    public void Forces_OnBodyAndCoils_AddUpToNothing()
    {
        var solution = Disc(0.0038).At().With(20, new Complex(3, 4));
        var sum = solution.Lift(0).Value + solution.ForceOnCoil(0).Value + solution.ForceOnCoil(1).Value;
        Assert.True(Math.Abs(sum) < 1e-12 * Math.Abs(solution.Lift(0).Value));
    }

    [Fact]
    public void ThinRing_AtLowFrequency_IsOneResistanceAndOneInductance()
    {
        // 1 mm square ring at 50 Hz: the skin depth is 9 mm, so the current is even to (size/skin depth)⁴ and the ring is a lumped circuit:
        // I = −jωM/(R + jωL), with R that of even voltage per turn, σ·h·ln(b/a)/2π, and L that of an even current.
        var body = new RingBody(0.0495, 0.0505, 0.01, 0.011, 5.8e7);
        var coil = new ThickCoil(0.03, 0.05, -0.02, 0, 500);
        var response = new CoupledRings([body], [coil], 50, 1e-7).At();
        var ring = new ThickCoil(0.0495, 0.0505, 0.01, 0.011, 1);
        var omega = 2 * Math.PI * 50;
        var r = 2 * Math.PI / (5.8e7 * 0.001 * Math.Log(0.0505 / 0.0495));
        var m = ThickCoil.MutualInductance(coil, ring);
        var expected = omega * omega * m * m / new Complex(r, omega * ring.SelfInductance());
        // Unevenness of the applied flux over the section is of the order of its size over the distance to the coil's edge: (1 mm/10 mm)² and less.
        Assert.True(Complex.Abs(response.ReflectedImpedance(0, 0).Value - expected) < 1e-3 * Complex.Abs(expected));
        Close(Math.Sqrt(2 / (omega * 1.25663706127e-6 * 5.8e7)), new CoupledRings([body], [coil], 50).SkinDepth(0), 1e-12);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Disc_CutInTwoTouchingBodies_AnswersAsOne(bool byRadius)
    {
        // Currents run round the axis, so a cut along them changes nothing: checks self against mutual matrices and forces between bodies.
        const double z = 0.004, top = 0.007, sigma = 3.4e7;
        RingBody[] halves = byRadius
            ? [new(0, 0.03, z, top, sigma), new(0.03, 0.065, z, top, sigma)]
            : [new(0, 0.065, z, 0.0052, sigma), new(0, 0.065, 0.0052, top, sigma)];
        Complex[] currents = [20, new(0, 15)];
        var whole = Disc(z, 1e-6).At().With(currents);
        var cut = new CoupledRings(halves, [Inner, Outer], 50, 1e-6).At().With(currents);
        var lift = cut.Lift(0).Value + cut.Lift(1).Value;
        Close(whole.Lift(0).Value, lift, 1e-5);
        Close(whole.Loss(0).Value, cut.Loss(0).Value + cut.Loss(1).Value, 1e-5);
        // Action and reaction: the coils feel what the two bodies feel together.
        Assert.Equal(-lift, cut.ForceOnCoil(0).Value + cut.ForceOnCoil(1).Value, 1e-9 * Math.Abs(lift));
    }

    [Fact]
    public void Bodies_RaisedTogetherOrDescribedHigher_AnswerTheSame()
    {
        RingBody[] low = [new(0, 0.04, 0.004, 0.006, 3.4e7), new(0.045, 0.06, 0.010, 0.013, 5.8e7)];
        RingBody[] high = [new(0, 0.04, 0.009, 0.011, 3.4e7), new(0.045, 0.06, 0.013, 0.016, 5.8e7)];
        var raised = new CoupledRings(low, [Inner, Outer], 50).At(0.005, 0.003).With(Opposed);
        var described = new CoupledRings(high, [Inner, Outer], 50).At().With(Opposed);
        for (var b = 0; b < 2; b++)
            Assert.Equal(described.Lift(b).Value, raised.Lift(b).Value, described.Lift(b).Error + raised.Lift(b).Error);
    }

    [Fact]
    public void PerfectConductorLimit_LiftIsTheSlopeOfTheFluxEnergy()
    {
        // At very high conductivity nothing is lost and the force is the gradient of ½LI² at constant current: F = ¼ dL/dz |I|².
        var rings = new CoupledRings([new RingBody(0.02, 0.03, 0.012, 0.014, 5.8e9)], [Inner], 50, 1e-6);
        double L(double lift) => rings.At(lift).Impedance(0, 0).Value.Imaginary / rings.AngularFrequency;
        const double h = 5e-4;
        var slope = (8 * (L(h) - L(-h)) - (L(2 * h) - L(-2 * h))) / (12 * h);
        // Skin depth over thickness leaves some per cent of lossy field; it falls with σ^-1/2.
        var error5 = rings.At().With(10).Lift(0).Value / (0.25 * slope * 100) - 1;
        Assert.InRange(Math.Abs(error5), 0, 0.02);
    }

    [Fact]
    public void Field_NearTheDisc_GivesBackTheCurrentDensity()
    {
        // In the metal J = −jωσA: the field built from the ring currents must give them back.
        var solution = Disc(0.0038, 1e-5).At(0.001).With(Opposed);
        foreach (var (r, z) in new[] { (0.03, 0.006), (0.001, 0.0065), (0.06, 0.005), (0.045, 0.00481) })
        {
            // An energy good to 1e-6 leaves a density at a point good to its root, of the greatest value of 12 MA/m².
            var expected = new Complex(0, -2 * Math.PI * 50 * 3.4e7) * solution.Field(r, z).VectorPotential;
            Assert.True(Complex.Abs(solution.CurrentDensity(0, r, z) - expected) < 1e-3 * 12e6);
        }
    }

    [Fact]
    public void Stiffness_IsTheSlopeOfTheLift()
    {
        var rings = Disc(0.011);
        double F(double lift) => rings.At(lift).With(Opposed).Lift(0).Value;
        var stiffness = rings.Stiffness(0, Opposed);
        Close(-(F(1e-3) - F(-1e-3)) / 2e-3, stiffness.Value, 0.02);
        // 179 N/m at the height of rest by summed rings.
        Close(179, stiffness.Value, 0.02);
    }

    [Fact]
    public void Arguments_OutOfPlace_AreRefused()
    {
        RingBody disc = new(0, 0.065, 0.004, 0.007, 3.4e7);
        Assert.Throws<ArgumentException>(() => new CoupledRings([], [Inner], 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CoupledRings([disc], [Inner], 0));
        Assert.Throws<ArgumentException>(() => new CoupledRings([new RingBody(0.03, 0.05, -0.01, 0.01, 1e7)], [Inner], 50));
        Assert.Throws<ArgumentException>(() => new CoupledRings([disc], [new ThickCoil(0.01, 0.02, 0, 0.01, 5, new(0.1, 0, -0.1))], 50));
        Assert.Throws<ArgumentException>(() => Disc(0.004).At(-0.01));
        Assert.Throws<ArgumentException>(() => Disc(0.004).At(0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Disc(0.004).At().With(double.NaN, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new RingBody(0.1, 0.05, 0, 1, 1));
    }
}
