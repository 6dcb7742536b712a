using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class OutlineTests
{
    [Theory]
    [InlineData(OutlineFault.TooFewEdges, -1)]
    [InlineData(OutlineFault.NotClosed, 1)]
    [InlineData(OutlineFault.ZeroLength, 2)]
    [InlineData(OutlineFault.SelfIntersection, 0)]
    [InlineData(OutlineFault.UnequalRadii, 1)]
    [InlineData(OutlineFault.NotFinite, 0)]
    public void Outline_Flawed_SaysWhatAndWhere(OutlineFault fault, int edge)
    {
        Edge[] edges = fault switch
        {
            OutlineFault.TooFewEdges => [],
            OutlineFault.NotClosed => [new LineEdge(new(0, 0), new(1, 0)), new LineEdge(new(1, 0), new(1, 1)), new LineEdge(new(1, 0.9), new(0, 0))],
            OutlineFault.ZeroLength => [new LineEdge(new(0, 0), new(1, 0)), new LineEdge(new(1, 0), new(1, 1)), new LineEdge(new(1, 1), new(1, 1)), new LineEdge(new(1, 1), new(0, 0))],
            OutlineFault.SelfIntersection => [new LineEdge(new(0, 0), new(1, 1)), new LineEdge(new(1, 1), new(1, 0)), new LineEdge(new(1, 0), new(0, 1)), new LineEdge(new(0, 1), new(0, 0))],
            OutlineFault.UnequalRadii => [new LineEdge(new(0, 0), new(1, 0)), new ArcEdge(new(1, 0), new(0, 0), new(0.4, 0), true)],
            _ => [new LineEdge(new(double.NaN, 0), new(1, 0)), new LineEdge(new(1, 0), new(1, 1)), new LineEdge(new(1, 1), new(0, 0))],
        };
        var e = Assert.Throws<OutlineException>(() => new Outline(1, edges));
        Assert.Equal(fault, e.Flaw.Fault);
        if (edge >= 0)
            Assert.Equal(edge, e.Flaw.Edge);
    }

    [Fact]
    public void Outline_FoldedOnItself_IsRefused()
    {
        Assert.Throws<OutlineException>(() => Outline.Polygon(1, [new(0, 0), new(1, 0), new(0.5, 0)]));
        Assert.Throws<OutlineException>(() => Outline.Polygon(1, [new(0, 0), new(1, 0), new(1, 1), new(0.5, 0), new(0, 1)]));
        Assert.Throws<OutlineException>(() => new Outline(1, [new ArcEdge(new(1, 0), new(0, 1), new(0, 0), true), new ArcEdge(new(0, 1), new(1, 0), new(0, 0), false)]));
    }

    [Fact]
    public void Area_Factories_AgreeWithFormulas()
    {
        Assert.Equal(6, Outline.Rectangle(0, 1, 1, 3, 4).Area, 1e-14);
        Assert.Equal(Math.PI * 0.04, Outline.Circle(0, new(5, 5), 0.2).Area, 1e-15);
        Assert.Equal(Math.PI / 2, Outline.HalfDisc(0, 1, 3).Area, 1e-14);
        Assert.Equal(100.0 / 360 * Math.PI * (0.25 - 0.16), Outline.AnnulusSector(0, new(1, 2), 0.4, 0.5, 20, 100).Area, 1e-15);
        Assert.Equal(300.0 / 360 * Math.PI * (0.25 - 0.16), Outline.AnnulusSector(0, new(1, 2), 0.4, 0.5, 20, 300).Area, 1e-15);
        // Ring less the gap: each circle's part |y| < g/2 on the gap's side is g√(R²−g²/4)/2 + R² asin(g/2R).
        const double g = 0.02;
        static double Strip(double r) => (0.5 * g * Math.Sqrt((r * r) - (0.25 * g * g))) + (r * r * Math.Asin(0.5 * g / r));
        Assert.Equal((Math.PI * (0.25 - 0.16)) - Strip(0.5) + Strip(0.4), Outline.RingWithGap(0, new(0, 0), 0.4, 0.5, g, 77).Area, 1e-14);
    }

    [Fact]
    public void Centroid_SectorsAndPolygons_AgreeWithFormulas()
    {
        // Half disc: 4R/3π from the axis.
        var c = Outline.HalfDisc(0, 2, 5).Centroid;
        Assert.Equal(8 / (3 * Math.PI), c.X, 1e-14);
        Assert.Equal(5, c.Y, 1e-14);
        // Sector of a ring of half angle α: 2 sin α (R³ − r³) / (3 α (R² − r²)).
        var s = Outline.AnnulusSector(0, new(1, 1), 0.4, 0.5, -20, 40).Centroid;
        var alpha = 20 * Math.PI / 180;
        Assert.Equal(1 + (2 * Math.Sin(alpha) * (0.125 - 0.064) / (3 * alpha * (0.25 - 0.16))), s.X, 1e-13);
        Assert.Equal(1, s.Y, 1e-13);
        var t = Outline.Polygon(0, [new(0, 0), new(0, 3), new(3, 0)]).Centroid;
        Assert.Equal(1, t.X, 1e-14);
        Assert.Equal(1, t.Y, 1e-14);
    }

    [Fact]
    public void Contains_RandomPoints_AgreesWithFormulas()
    {
        var random = new Random(5);
        var ring = Outline.AnnulusSector(0, new(0.1, 0.2), 0.4, 0.9, 30, 290);
        var circle = Outline.Circle(0, new(0.1, 0.2), 0.7);
        for (var n = 0; n < 2000; n++)
        {
            var p = new Point((2.4 * random.NextDouble()) - 1.2, (2.4 * random.NextDouble()) - 1.2);
            var arm = p - new Point(0.1, 0.2);
            var angle = Math.Atan2(arm.Y, arm.X) * 180 / Math.PI;
            angle = angle < 30 ? angle + 360 : angle;
            Assert.Equal(arm.Length is > 0.4 and < 0.9 && angle < 320, ring.Contains(p));
            Assert.Equal(arm.Length < 0.7, circle.Contains(p));
        }
        Assert.True(circle.Contains(new(0.1, 0.2)));
        Assert.True(circle.Contains(new(0.8, 0.2)));
    }

    [Fact]
    public void DistanceTo_ArcsAndLines_AgreesWithBruteForce()
    {
        var random = new Random(9);
        for (var n = 0; n < 60; n++)
        {
            var a = Outline.AnnulusSector(0, new(random.NextDouble(), random.NextDouble()), 0.2, 0.3, 360 * random.NextDouble(), 20 + (300 * random.NextDouble()));
            var b = n % 2 == 0
                ? Outline.RingWithGap(0, new(2 * random.NextDouble(), random.NextDouble()), 0.1, 0.25, 0.05, 360 * random.NextDouble())
                : Outline.Polygon(0, [new(random.NextDouble() + 0.7, 0.1), new(random.NextDouble() + 1.7, 0.2), new(1.4, 1 + random.NextDouble())]);
            // Sampled every 1/400 of an edge, the least distance is overestimated by less than one step of each.
            var brute = Samples(a).Min(p => b.Edges.Min(f => f.DistanceTo(p, out _)));
            Assert.InRange(a.DistanceTo(b), Math.Max(0, brute - 0.01), brute + 1e-12);
            Assert.Equal(a.DistanceTo(b), b.DistanceTo(a), 1e-12);
        }

        static IEnumerable<Point> Samples(Outline outline) =>
            outline.Edges.SelectMany(edge => Enumerable.Range(0, 401).Select(k => edge.PointAt(k / 400.0)));
    }

    [Fact]
    public void Overlaps_TouchingNestedCrossing_TellsThemApart()
    {
        var a = Outline.Rectangle(1, 0, 0, 1, 1);
        Assert.False(a.Overlaps(Outline.Rectangle(2, 1, 0.2, 2, 0.5)));
        Assert.False(a.Overlaps(Outline.Circle(2, new(1.5, 0.5), 0.5)));
        Assert.False(a.Overlaps(Outline.Rectangle(2, 1, 1, 2, 2)));
        Assert.True(a.Overlaps(Outline.Circle(2, new(1.5, 0.5), 0.51)));
        Assert.True(a.Overlaps(Outline.Rectangle(2, 0.2, 0.2, 0.3, 0.3)));
        Assert.True(Outline.Rectangle(2, 0.2, 0.2, 0.3, 0.3).Overlaps(a));
        Assert.True(a.Overlaps(Outline.Rectangle(2, -1, 0.4, 2, 0.5)));
        Assert.True(a.Overlaps(Outline.Rectangle(2, 0, 0, 1, 1)));
        Assert.True(a.Overlaps(Outline.Rectangle(2, 0, 0.5, 1, 1.5)));
    }

    [Fact]
    public void ArcEdge_PointsAndTangents_LieOnTheCircle()
    {
        var arc = new ArcEdge(new(1, 0), new(0, 1), new(0, 0), false);
        Assert.Equal(-1.5 * Math.PI, arc.Sweep, 1e-15);
        Assert.Equal(new(1, 0), arc.PointAt(0));
        Assert.Equal(new(0, 1), arc.PointAt(1));
        Assert.Equal(-Math.Sqrt(0.5), arc.PointAt(0.5).X, 1e-15);
        Assert.Equal(-1, arc.DirectionAt(0).Y, 1e-15);
        Assert.Equal(0, arc.DistanceTo(new(-2, 0), out var at) - 1, 1e-15);
        Assert.Equal(2.0 / 3, at, 1e-15);
        Assert.Equal(arc.Length, arc.Reversed.Length, 1e-15);
    }

    [Fact]
    public void ToString_PointsAndEdges_AreShort()
    {
        Assert.Equal("(0.5, -1)", new Point(0.5, -1).ToString());
        Assert.Equal("line from (0, 0) to (1, 0)", new LineEdge(new(0, 0), new(1, 0)).ToString());
        Assert.Equal("arc from (1, 0) to (0, 1)", new ArcEdge(new(1, 0), new(0, 1), new(0, 0), false).ToString());
    }
}
