using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;
using Xunit;
using static Fieldwright.Tests.Series.SeriesReference;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Rings;

public class InfinitePlateTests
{
    private const double Scale = Permeability / PhysicalConstants.MagneticConstant;

    [Theory]
    // Coil 20–40 mm, 20 mm long, 400 turns, 5 mm above a half-space of 35 MS/m at 50 Hz; the coil alone 8.15701 mH.
    [InlineData(0.02, 0.04, 0.005, 0.02, 400, 35e6, double.PositiveInfinity, 50, 0.201947, -0.387520, 8.15701e-3, 1e-6)]
    // The coil of TEAM 15 as recalled: half-space and 12.22 mm plate of 30.6 MS/m, 900 Hz; the coil alone 225.99 mH.
    [InlineData(0.00615, 0.0124, 0.00088, 0.00615, 3790, 30.6e6, double.PositiveInfinity, 900, 120.61, -267.66, 225.99e-3, 0.006)]
    [InlineData(0.00615, 0.0124, 0.00088, 0.00615, 3790, 30.6e6, 0.01222, 900, 120.65, -267.66, 225.99e-3, 0.006)]
    public void Impedance_CoilOverPlate_AgreesWithDoddAndDeeds(double inner, double outer, double gap, double length, double turns,
        double conductivity, double thickness, double frequency, double real, double imaginary, double alone, double digit)
    {
        var coil = new ThickCoil(inner, outer, gap, gap + length, turns);
        // The last digit printed; μ₀ moves the values by 1e-10 only.
        var z = new InfinitePlate(conductivity, thickness).Reflect([coil], frequency).Impedance(0, 0);
        Assert.Equal(real, z.Value.Real, digit);
        Assert.Equal(imaginary, z.Value.Imaginary, digit);
        Assert.True(z.Error < 1e-7 * Complex.Abs(z.Value));
        // 8.15701 mH is quoted beside 8.15696 mH by summed filaments: five digits.
        Close(alone, Scale * coil.SelfInductance(), 2e-5);
    }

    [Fact]
    public void Plate_OfPerfectConductor_MirrorsTheCoilReversed()
    {
        var coil = new ThickCoil(0.02, 0.04, 0.005, 0.025, 400);
        var second = new ThickCoil(0.05, 0.06, 0.003, 0.013, -200);
        var mirrored = new ThickCoil(0.02, 0.04, -0.025, -0.005, 400);
        const double omega = 2 * Math.PI * 50;
        // The depth of the field shrinks as σ^−1/2: 1e16 S/m leaves a skin of 0.7 μm against millimetres.
        var reflection = new InfinitePlate(1e16, double.PositiveInfinity).Reflect([coil, second], 50);
        Close(-omega * ThickCoil.MutualInductance(mirrored, coil), reflection.Impedance(0, 0).Value.Imaginary, 1e-3);
        Close(-omega * ThickCoil.MutualInductance(mirrored, second), reflection.Impedance(1, 0).Value.Imaginary, 1e-3);
        Close(-0.5 * ThickCoil.Force(mirrored, coil, 1, 1).Z, reflection.ForceOnCoil(0, 1, 0).Value, 1e-3);
        Assert.True(reflection.ForceOnCoil(0, 1, 0).Value > 0);
    }

    [Fact]
    public void Plate_OfIronAtRest_MirrorsTheCoilUpright()
    {
        var coil = new ThickCoil(0.02, 0.04, 0.005, 0.025, 400);
        var mirrored = new ThickCoil(0.02, 0.04, -0.025, -0.005, 400);
        var reflection = new InfinitePlate(0, double.PositiveInfinity, 1000).Reflect([coil], 50);
        Close(2 * Math.PI * 50 * 999.0 / 1001 * ThickCoil.MutualInductance(mirrored, coil), reflection.Impedance(0, 0).Value.Imaginary, 1e-9);
        Assert.True(reflection.ForceOnCoil(0, 1).Value < 0);
    }

    [Fact]
    public void Plate_WiderAndWiderDisc_TendsToIt()
    {
        // Coupled rings of growing radius against the plate without edges.
        ThickCoil[] coils = [new(0.01, 0.02, -0.02, -0.005, 300), new(0.025, 0.03, -0.015, -0.005, -200)];
        Complex[] currents = [3, new(1, 2)];
        // The plate lies above the coils here; turned over it is the same.
        ThickCoil[] above = [new(0.01, 0.02, 0.005, 0.02, 300), new(0.025, 0.03, 0.005, 0.015, -200)];
        var plate = new InfinitePlate(3.5e7, 0.004).Reflect(above, 50);
        // At 0.1 m the rim is four times the coils' radius: 1/16 of the heat at most is at stake.
        var last = 3.0 / 16;
        foreach (var radius in new[] { 0.1, 0.2 })
        {
            var disc = new CoupledRings([new RingBody(0, radius, 0, 0.004, 3.5e7)], coils, 50).At().With(currents);
            var off = Math.Abs(disc.Loss(0).Value / plate.Loss(currents).Value - 1);
            var offLift = Math.Abs(disc.Lift(0).Value / (plate.ForceOnCoil(0, currents).Value + plate.ForceOnCoil(1, currents).Value) - 1);
            // Far out the coils are a dipole, A ~ r⁻², and the heat beyond R in a plate thinner than its skin goes as ∫r⁻⁴r dr ~ R⁻²:
            // four times less at each doubling, three asked.
            Assert.True(off < last / 3, $"{radius}: {off}");
            Assert.True(radius < 0.2 || offLift < 0.01, $"{radius}: {offLift}");
            last = off;
        }
        Assert.True(last < 0.01);
    }

    [Fact]
    public void Force_IsTheSlopeOfTheInductance_WhereNothingIsLost()
    {
        var plate = new InfinitePlate(0, 0.003, 50);
        double L(double rise) => plate.Reflect([new ThickCoil(0.02, 0.04, 0.005 + rise, 0.025 + rise, 400)], 50).Impedance(0, 0).Value.Imaginary / (100 * Math.PI);
        const double h = 1e-4;
        var slope = (8 * (L(h) - L(-h)) - (L(2 * h) - L(-2 * h))) / (12 * h);
        // F = ¼ Î² dL/dz.
        Close(0.25 * 9 * slope, plate.Reflect([new ThickCoil(0.02, 0.04, 0.005, 0.025, 400)], 50).ForceOnCoil(0, 3).Value, 1e-6);
    }

    [Fact]
    public void RadialSource_AgreesWithItsSeriesAndWithQuadrature()
    {
        foreach (var (k, a, b) in new[] { (1.0, 0.02, 0.04), (300.0, 0.0, 0.05), (5000.0, 0.01, 0.03) })
        {
            var rule = GaussRule.WithNodes(200);
            double sum = 0;
            for (var i = 0; i < 200; i++)
            {
                var r = a + (b - a) * rule.Nodes[i];
                sum += (b - a) * rule.Weights[i] * r * MathNet.Numerics.SpecialFunctions.BesselJ(1, k * r);
            }
            Assert.Equal(sum, InfinitePlate.RadialSource(k, a, b), 1e-11 * b * b);
        }
    }

    [Fact]
    public void Arguments_OutOfPlace_AreRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new InfinitePlate(-1, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new InfinitePlate(1, double.NaN));
        Assert.Throws<ArgumentException>(() => new InfinitePlate(1, 1).Reflect([new ThickCoil(0.1, 0.2, -0.1, 0.1, 1)], 50));
        Assert.Throws<ArgumentException>(() => new InfinitePlate(1, 1).Reflect([new ThickCoil(0.1, 0.2, 0.1, 0.2, 1, new Vector(1, 0, 0))], 50));
    }
}
