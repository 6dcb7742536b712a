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

    /// <summary>The second way: filaments side by side over both widths, each straight piece by Biot and Savart, put on the shape that was found. Every joint must then be in balance.</summary>
    [Fact]
    public void Shape_WithItsOwnField_IsInBalanceUnderSummedFilaments()
    {
        const int links = 64, strands = 20;
        const double current = 25;
        var strip = new FoilStrip(0.3, 0.01, 15e-6, 0.04, 2700, 0);
        var shape = FoilLoop.Settle(strip, current, null, links);
        var middle = Enumerable.Range(0, links).Select(i => (X: 0.5 * (shape.Points[i].Item1 + shape.Points[i + 1].Item1), Z: 0.5 * (shape.Points[i].Item2 + shape.Points[i + 1].Item2))).ToArray();
        var way = Enumerable.Range(0, links).Select(i => (X: shape.Points[i + 1].Item1 - shape.Points[i].Item1, Z: shape.Points[i + 1].Item2 - shape.Points[i].Item2)).ToArray();
        double[] x = new double[links], z = new double[links];
        double ownSize = 0;
        for (int i = 0; i < links; i++)
        {
            double along = 0;
            for (int j = 0; j < links; j++)
                for (int s = -strands + 1; j != i && s < strands; s++)
                {
                    // Strands s apart: so many pairs of them over both widths. B along y of a straight piece is I/4π·μ₀ (cos α + cos β)/distance times how square it stands.
                    double share = (double)(strands - Math.Abs(s)) / (strands * strands), aside = s * strip.Width / strands, length = double.Hypot(way[j].X, way[j].Z);
                    double dx = middle[i].X - middle[j].X, dz = middle[i].Z - middle[j].Z, t = (dx * way[j].X + dz * way[j].Z) / length, d = (dz * way[j].X - dx * way[j].Z) / length;
                    double rho2 = d * d + aside * aside, to = t + 0.5 * length, from = t - 0.5 * length;
                    if (rho2 > 1e-18)
                        along += share * -1e-7 * current * d / rho2 * (to / Math.Sqrt(to * to + rho2) - from / Math.Sqrt(from * from + rho2));
                }
            x[i] = -current * way[i].Z * along;
            z[i] = current * way[i].X * along;
            ownSize += double.Hypot(x[i], z[i]) / links;
            z[i] -= strip.WeightPerLength * double.Hypot(way[i].X, way[i].Z);
        }
        double worst = 0, mean = 0;
        for (int i = 1; i < links; i++)
        {
            double Pull(int k, bool up) => shape.Tensions[k] * (up ? way[k].Z : way[k].X) / double.Hypot(way[k].X, way[k].Z);
            double off = double.Hypot(Pull(i, false) - Pull(i - 1, false) + 0.5 * (x[i] + x[i - 1]), Pull(i, true) - Pull(i - 1, true) + 0.5 * (z[i] + z[i - 1]));
            worst = Math.Max(worst, off);
            mean += off / (links - 1);
        }
        // The field of its own is as large as the weight; strands of half a millimetre and links of five leave some per cent of it.
        Assert.True(ownSize > 0.3 * strip.WeightPerLength * strip.Length / links);
        Assert.InRange(mean, 0, 0.02 * ownSize);
        Assert.InRange(worst, 0, 0.1 * ownSize);
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
