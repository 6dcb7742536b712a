using System.Numerics;
using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class PredicatesTests
{
    [Theory]
    [InlineData(0)]   // points scattered at random: the quick test decides
    [InlineData(1)]   // points on a coarse grid: many exact ties
    [InlineData(2)]   // points a few units in the last place from a line and from a circle
    [InlineData(3)]   // magnitudes from 1e-12 to 1e6 mixed
    public void Signs_RandomAndNearlyDegenerate_AgreeWithRationalArithmetic(int kind)
    {
        var random = new Random(12345 + kind);
        var zero = 0;
        for (var n = 0; n < 3000; n++)
        {
            var p = Points(random, kind);
            var orient = Math.Sign(Predicates.Orient(p[0], p[1], p[2], p[3], p[4], p[5]));
            Assert.Equal(OrientSign(p), orient);
            Assert.Equal(orient, Math.Sign(Predicates.OrientExact(p[0], p[1], p[2], p[3], p[4], p[5])));
            var circle = Math.Sign(Predicates.InCircle(p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7]));
            var expected = CircleSign(p);
            Assert.Equal(expected, circle);
            Assert.Equal(expected, Math.Sign(Predicates.InCircleExact(p[0], p[1], p[2], p[3], p[4], p[5], p[6], p[7])));
            zero += orient == 0 || circle == 0 ? 1 : 0;
        }
        if (kind == 1)
            Assert.True(zero > 100, "the grid was meant to give ties");
    }

    [Fact]
    public void PlainArithmetic_NearlyDegenerate_WouldBeWrong()
    {
        // Guards the test above: its hard cases must be ones that rounding gets wrong.
        var random = new Random(12347);
        var wrong = 0;
        for (var n = 0; n < 3000; n++)
        {
            var p = Points(random, 2);
            var plain = Math.Sign(((p[0] - p[4]) * (p[3] - p[5])) - ((p[1] - p[5]) * (p[2] - p[4])));
            wrong += plain != OrientSign(p) ? 1 : 0;
        }
        Assert.True(wrong > 30, $"only {wrong} cases are hard");
    }

    private static double[] Points(Random random, int kind)
    {
        var p = new double[8];
        switch (kind)
        {
            case 0:
                for (var i = 0; i < 8; i++)
                    p[i] = random.NextDouble() - 0.5;
                break;
            case 1:
                for (var i = 0; i < 8; i++)
                    p[i] = 0.1 * random.Next(-3, 4);
                break;
            case 2:
                var (slope, turn) = (random.NextDouble(), random.NextDouble());
                var onLine = random.Next(2) == 0;
                for (var i = 0; i < 4; i++)
                {
                    if (onLine)
                    {
                        var x = random.NextDouble();
                        (p[2 * i], p[(2 * i) + 1]) = (x, Nudge((slope * x) + turn, random));
                    }
                    else
                    {
                        var (sin, cos) = Math.SinCos(6 * random.NextDouble());
                        (p[2 * i], p[(2 * i) + 1]) = (Nudge(0.3 + cos, random), Nudge(turn + sin, random));
                    }
                }
                break;
            default:
                for (var i = 0; i < 8; i++)
                    p[i] = Math.Pow(10, (18 * random.NextDouble()) - 12) * (random.Next(2) - 0.5);
                break;
        }
        return p;
    }

    private static double Nudge(double x, Random random)
    {
        for (var k = random.Next(-1, 2); k != 0; k -= Math.Sign(k))
            x = k > 0 ? Math.BitIncrement(x) : Math.BitDecrement(x);
        return x;
    }

    /// <summary>A double is an integer times 2⁻¹⁰⁷⁴; all on one scale, integers suffice.</summary>
    private static BigInteger Whole(double x)
    {
        var bits = BitConverter.DoubleToInt64Bits(x);
        var exponent = (int)((bits >> 52) & 0x7FF);
        var mantissa = new BigInteger(bits & 0xFFFFFFFFFFFFF);
        if (exponent > 0)
            mantissa += BigInteger.One << 52;
        var whole = mantissa << (Math.Max(1, exponent) - 1);
        return bits < 0 ? -whole : whole;
    }

    private static int OrientSign(double[] p)
    {
        var q = p.Select(Whole).ToArray();
        return (((q[0] - q[4]) * (q[3] - q[5])) - ((q[1] - q[5]) * (q[2] - q[4]))).Sign;
    }

    private static int CircleSign(double[] p)
    {
        var q = p.Select(Whole).ToArray();
        BigInteger ax = q[0] - q[6], ay = q[1] - q[7], bx = q[2] - q[6], by = q[3] - q[7], cx = q[4] - q[6], cy = q[5] - q[7];
        return ((((ax * ax) + (ay * ay)) * ((bx * cy) - (cx * by))) + (((bx * bx) + (by * by)) * ((cx * ay) - (ax * cy)))
            + (((cx * cx) + (cy * cy)) * ((ax * by) - (bx * ay)))).Sign;
    }
}
