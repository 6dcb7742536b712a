using Fieldwright.Series.Foil;
using Fieldwright.Series.Coils;
using Xunit;

namespace Fieldwright.Tests.Series.Foil;

public class FoilLoopTests
{
    private static readonly FoilStrip Limp = new(0.3, 0.01, 15e-6, 0.1, 2700, 0);

    /// <summary>Without current or stiffness the foil is a catenary; the chain's error falls as the square of the links, (1/48)² here.</summary>
    [Fact]
    public void Shape_WithoutCurrent_IsACatenary()
    {
        double low = 1e-3, high = 10;
        for (var i = 0; i < 100; i++)
        {
            var a = Math.Sqrt(low * high);
            if (2 * a * Math.Sinh(Limp.Span / (2 * a)) > Limp.Length) low = a; else high = a;
        }

        var shape = FoilLoop.Settle(Limp, 0, null, 48);
        Assert.Equal(low * (Math.Cosh(Limp.Span / (2 * low)) - 1), shape.Depth, 1e-3 * shape.Depth);
        Assert.Equal(Limp.WeightPerLength * low, shape.MiddleTension, 2e-3 * shape.MiddleTension);
    }

    /// <summary>A weightless wire in an even field is an arc of tension I·B·R.</summary>
    [Fact]
    public void Shape_InAnEvenField_IsAnArcWithTheTensionOfAWire()
    {
        // Half a circle between the supports: length π/2 times the span. A current so small that its own field is nothing.
        var strip = new FoilStrip(0.05 * Math.PI, 0.01, 15e-6, 0.1, 1e-6, 0);
        var shape = FoilLoop.Settle(strip, 1e-3, (_, _) => -1000, 32);
        Assert.Equal(0.05, shape.Depth, 1e-3 * 0.05);
        Assert.All(shape.Tensions, t => Assert.Equal(1e-3 * 1000 * 0.05, t, 2e-3 * 0.05));
        // Outside force: I times field times span, downwards.
        Assert.Equal(-1e-3 * 1000 * 0.1, shape.OutsideForce.Z, 1e-9);
    }

    /// <summary>Almost closed and weightless it is a hoop; the short gap of the supports (a thirtieth) and its missing leads allow some per cent, and more of the push near them.</summary>
    [Fact]
    public void Shape_AlmostClosedAndWeightless_IsAHoop()
    {
        var strip = new FoilStrip(0.3, 0.01, 15e-6, 0.005, 0.1, 0);
        var shape = FoilLoop.Settle(strip, 50, null, 40);
        double radius = 0.305 / (2 * Math.PI), hoop = FoilLoop.HoopTension(radius, 0.01, 50);
        Assert.Equal(2 * radius, shape.Opening, 0.06 * shape.Opening);
        Assert.Equal(hoop, shape.MiddleTension, 0.07 * hoop);
        Assert.Equal(hoop / radius, shape.OwnPush, 0.2 * shape.OwnPush);
    }

    /// <summary>A thin hoop against the ring of round wire of equal geometric mean distance, 0.2235 of the width: μ₀I²/4π·(ln(8R/g) − 1).</summary>
    [Fact]
    public void HoopTension_OfANarrowStrip_IsThatOfTheRing()
    {
        const double radius = 0.1, width = 1e-3, current = 20;
        double ring = 1e-7 * current * current * (Math.Log(8 * radius / (width * Math.Exp(-1.5))) - 1);
        Assert.Equal(ring, FoilLoop.HoopTension(radius, width, current), 2e-4 * ring);
    }

    [Fact]
    public void Shape_WithAFieldFromOneSide_GoesToTheOther()
    {
        // A field along +y that is stronger on the right, here along −y: the current runs down on the left and up on the right.
        var strip = new FoilStrip(0.3, 0.01, 15e-6, 0.03, 2700, 7e10);
        var right = FoilLoop.Settle(strip, 10, (x, _) => -1e-3 * (1 + 10 * x), 24);
        var left = FoilLoop.Settle(strip, 10, (x, _) => -1e-3 * (1 - 10 * x), 24);
        Assert.Equal(right.Sideways, -left.Sideways, 1e-3 * Math.Abs(right.Sideways));
        Assert.True(right.OutsideForce.X * right.Sideways > 0);
        // Up on the right in a field along −y: t × B = ẑ × −ŷ = x̂, and the right side is in the stronger field.
        Assert.True(right.OutsideForce.X > 0);
    }
}
