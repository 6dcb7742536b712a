using System.Numerics;
using Fieldwright.Numerics;
using Fieldwright.Series;
using Fieldwright.Series.Balls;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;
using Fieldwright.Series.Rings;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Discs;

public class DiscOverCoilsTests
{
    private static readonly ThickCoil Inner = new(0.027, 0.055, -0.052, 0, 960);
    private static readonly ThickCoil Outer = new(0.080, 0.095, -0.052, 0, -576);
    private static readonly CoilSource[] Opposed = [new(Inner, 20), new(Outer, 20)];
    private const double Middle = 0.0126;

    [Theory]
    [InlineData(0, 0.065, 0.003, 3.4e7, 50)]
    [InlineData(0, 0.065, 0.006, 5.8e7, 400)]
    [InlineData(0.03, 0.065, 0.003, 3.4e7, 50)]
    public void Evaluate_OnTheAxis_AgreesWithCoupledRings(double inner, double outer, double thickness, double conductivity, double frequency)
    {
        // Ring currents coupled by elliptic integrals: no stream function, no Hankel transform in common with this one.
        var rings = new CoupledRings([new RingBody(inner, outer, Middle - thickness / 2, Middle + thickness / 2, conductivity)], [Inner, Outer], frequency).At(0).With([20, 20]);
        var found = new DiscOverCoils(new DiscBody(inner, outer, thickness, conductivity), Opposed, frequency).Evaluate(new Vector(0, 0, Middle), Vector.AlongZ);
        Close(rings.Lift(0).Value, found.Force.Z, 1e-4);
        Close(rings.Loss(0).Value, found.Loss, 1e-4);
        Assert.Equal(0, found.Force.X);
        Assert.Equal(0, found.Torque.Length);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.03)]
    public void Evaluate_AsideAndTilted_IsTheSlopeOfTheReflectedInductance(double inner)
    {
        // Currents in step have a potential: the mean force is ¼ I² dL/dx, the torque ¼ I² dL/dθ.
        var disc = new DiscOverCoils(new DiscBody(inner, 0.065, 0.003, 3.4e7), Opposed, 50);
        double x = 0.012, angle = 0.05, dx = 5e-4, turn = 0.004;
        var found = disc.Evaluate(new Vector(x, 0, Middle), Tilt(angle), 1e-5);
        Close((Energy(disc, x + dx, angle) - Energy(disc, x - dx, angle)) / (2 * dx), found.Force.X, 2e-3);
        Close((Energy(disc, x, angle + turn) - Energy(disc, x, angle - turn)) / (2 * turn), found.Torque.Y, 5e-3);
    }

    [Fact]
    public void Stiffness_OfADiscOverTwoCoils_IsTheCurvatureOfTheReflectedInductance()
    {
        var disc = new DiscOverCoils(new DiscBody(0, 0.065, 0.003, 3.4e7), Opposed, 50);
        double dx = 1e-3, turn = 0.015, here = Energy(disc, 0, 0);
        var k = disc.Stiffness(Middle);
        Close(-2 * (Energy(disc, dx, 0) - here) / (dx * dx), k.Sideways, 2e-3);
        Close(-2 * (Energy(disc, 0, turn) - here) / (turn * turn), k.Tilting, 2e-3);
        Close(-(Energy(disc, dx, turn) - Energy(disc, dx, -turn)) / (2 * dx * turn), k.SidewaysByTilt, 2e-3);
        Close(k.SidewaysByTilt, k.TiltBySideways, 2e-3);
    }

    [Fact]
    public void Stiffness_OverOneCoil_IsBelowZeroAndOverTwoAboveIt()
    {
        var body = new DiscBody(0, 0.065, 0.003, 3.4e7);
        Assert.True(new DiscOverCoils(body, Opposed[..1], 50).Stiffness(Middle).Sideways < 0);
        Assert.True(new DiscOverCoils(body, Opposed, 50).Stiffness(Middle).Sideways > 0);
    }

    [Fact]
    public void Loss_SmallDiscInASlowEvenField_IsTheClosedForm()
    {
        // E_φ = ωBr/2, heat ½σ∫E² dV = π σ t ω² B² a⁴/16; a tilted disc takes the field through it.
        double a = 2e-3, t = 2e-4, sigma = 1e6, frequency = 50, omega = 2 * Math.PI * frequency;
        var coil = new ThickCoil(0.19, 0.21, -0.01, 0.01, 100);
        var disc = new DiscOverCoils(new DiscBody(0, a, t, sigma), [new(coil, 10)], frequency);
        var b = 10 * coil.Field(0, 0).Axial;
        var level = Math.PI * sigma * t * omega * omega * b * b * Math.Pow(a, 4) / 16;
        Close(level, disc.Evaluate(default, Vector.AlongZ).Loss, 1e-4);
        Close(0.25 * level, disc.Evaluate(default, Tilt(Math.PI / 3)).Loss, 1e-4);
    }

    [Fact]
    public void Loss_SmallDiscAcrossASlowSlopingField_IsTheClosedForm()
    {
        // Between opposed coils B_z = Gz, B_x = −Gx/2: through a disc at 45° the field is g·s, g = 3G/4, along its own slope s. ∇²T = jωσt·g·s gives T = σtωg (s³ + …)/8 and the heat π σ t ω² g² a⁶/192.
        double a = 2e-3, t = 2e-4, sigma = 1e6, frequency = 50, omega = 2 * Math.PI * frequency, dz = 1e-3;
        ThickCoil above = new(0.19, 0.21, 0.09, 0.11, 100), below = new(0.19, 0.21, -0.11, -0.09, -100);
        var disc = new DiscOverCoils(new DiscBody(0, a, t, sigma), [new(above, 10), new(below, 10)], frequency);
        var slope = 0.75 * 10 * (above.Field(0, dz).Axial + below.Field(0, dz).Axial - above.Field(0, -dz).Axial - below.Field(0, -dz).Axial) / (2 * dz);
        Close(Math.PI * sigma * t * omega * omega * slope * slope * Math.Pow(a, 6) / 192, disc.Evaluate(default, Tilt(Math.PI / 4)).Loss, 2e-3);
    }

    [Fact]
    public void Evaluate_EverythingTurnedInSpace_TurnsWithIt()
    {
        // z goes to x, x to y, y to z.
        static Vector Turned(Vector v) => new(v.Z, v.X, v.Y);
        var body = new DiscBody(0, 0.065, 0.003, 3.4e7);
        Vector centre = new(0.01, 0.004, Middle), axis = new(0.06, -0.02, 1);
        var upright = new DiscOverCoils(body, Opposed, 50).Evaluate(centre, axis, 1e-5);
        CoilSource[] lying = [.. Opposed.Select(s => new CoilSource(new ThickCoil(s.Coil.InnerRadius, s.Coil.OuterRadius, s.Coil.ZFrom, s.Coil.ZTo, s.Coil.Turns, default, new Vector(1, 0, 0)), s.PeakCurrent))];
        var turned = new DiscOverCoils(body, lying, 50).Evaluate(Turned(centre), Turned(axis), 1e-5);
        Assert.InRange((turned.Force - Turned(upright.Force)).Length, 0, 1e-6 * upright.Force.Length);
        Assert.InRange((turned.Torque - Turned(upright.Torque)).Length, 0, 1e-5 * upright.Torque.Length);
    }

    [Fact]
    public void Evaluate_HeatAside_IsThePowerOfTheCoils()
    {
        var disc = new DiscOverCoils(new DiscBody(0, 0.065, 0.003, 3.4e7), Opposed, 50);
        var place = new Vector(0.02, 0, Middle);
        var z = disc.ReflectedImpedance(place, Tilt(0.1), 1e-6);
        Close(0.5 * 20 * 20 * (z[0, 0] + z[0, 1] + z[1, 0] + z[1, 1]).Real, disc.Evaluate(place, Tilt(0.1), 1e-5).Loss, 1e-5);
    }

    [Fact]
    public void Stiffness_CoilThatLeans_IsRefused() => Assert.Throws<ArgumentException>(() =>
        new DiscOverCoils(new DiscBody(0, 0.065, 0.003, 3.4e7), [new(new ThickCoil(0.02, 0.03, -0.05, 0, 100, default, new Vector(0.1, 0, 1)), 1)], 50).Stiffness(Middle));

    [Fact]
    public void BesselJ_AllOrders_AgreeWithOneByOne()
    {
        var values = new double[12];
        foreach (var x in (double[])[0, 1e-8, 0.3, 7, 29.9, 30, 31, 120, 397])
        {
            SpecialFunctions.BesselJ(x, values);
            for (var n = 0; n < values.Length; n++)
                Assert.InRange(values[n] - SpecialFunctions.BesselJ(n, new Complex(x, 0)).Real, -2e-14, 2e-14);
        }
    }

    private static Vector Tilt(double angle) => new(Math.Sin(angle), 0, Math.Cos(angle));

    private static double Energy(DiscOverCoils disc, double x, double angle)
    {
        var z = disc.ReflectedImpedance(new Vector(x, 0, Middle), Tilt(angle), 1e-7);
        return 0.25 * 20 * 20 * (z[0, 0] + z[0, 1] + z[1, 0] + z[1, 1]).Imaginary / (2 * Math.PI * disc.Frequency);
    }
}
