using System.Numerics;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Discs;
using Xunit;
using Vector = Fieldwright.Series.Vector;

namespace Fieldwright.Tests.Series.Discs;

/// <summary>The field drawn round a disc, against what a small coil there feels of it, and against what good metal lets through.</summary>
public class DiscFieldTests
{
    /// <summary>By the impedance that the disc reflects from the big coil into a small one: U = jω N B·A of the disc's own field, 1 % at some distance.</summary>
    [Theory]
    [InlineData(0, 0.02, 0.03, 0.045)]
    [InlineData(0, 0.09, -0.02, 0.0)]
    [InlineData(0.03, -0.04, 0.05, 0.03)]
    public void FieldOfTheDisc_IsWhatASmallCoilFeels(double inner, double x, double y, double z)
    {
        Vector centre = new(0.012, 0.005, 0.016), axis = new(0.2, -0.1, 1), at = new(x, y, z), along = new Vector(0.5, 0.3, 1).Unit();
        var big = new CoilSource(new ThickCoil(0.027, 0.055, -0.052, 0, 960), 20);
        // 2 mm across, so that the field is even over it
        var small = new CoilSource(new ThickCoil(0.0008, 0.0012, -0.0002, 0.0002, 100, at, along), 0);
        var disc = new DiscOverCoils(new DiscBody(inner, 0.065, 0.003, 3.4e7), [big, small], 50);
        var voltage = disc.ReflectedImpedance(centre, axis, 1e-4)[1, 0] * big.PeakCurrent;
        var b = disc.Field(centre, axis).OfTheDisc(at);
        // mean of r² over a section from 0.8 to 1.2 mm
        var area = 100 * Math.PI * (1.2e-3 * 1.2e-3 + 1.2e-3 * 0.8e-3 + 0.8e-3 * 0.8e-3) / 3;
        var felt = new Complex(0, 2 * Math.PI * 50) * area * (b.X * along.X + b.Y * along.Y + b.Z * along.Z);
        Assert.True(Complex.Abs(felt - voltage) <= 0.015 * voltage.Magnitude, $"felt {felt}, reflected {voltage}");
    }

    /// <summary>Quick currents keep the field out of the space behind a good disc: less than a tenth of the coils' own gets through in the middle.</summary>
    [Fact]
    public void Field_BehindAGoodDisc_IsShadowed()
    {
        var coil = new CoilSource(new ThickCoil(0.02, 0.03, -0.02, -0.01, 100), 10);
        var disc = new DiscOverCoils(new DiscBody(0, 0.1, 0.004, 5.8e7), [coil], 5000);
        var point = new Vector(0, 0, 0.02);
        var through = disc.Field(new Vector(0, 0, 0.005), Vector.AlongZ).FluxDensity(point);
        Assert.InRange(through.Z.Magnitude, 0, 0.1 * coil.Coil.FluxDensity(point, coil.PeakCurrent).Z.Magnitude);
    }
}
