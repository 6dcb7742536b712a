using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class DrawingTests
{
    private static readonly Outline Disc = Outline.Circle(0, new(0, 0), 1);

    [Theory]
    [InlineData(0.2, 0.2, 0.6, 0.6)]   // crosses at two points
    [InlineData(0.25, 0.0, 0.6, 0.5)]  // shares parts of two edges
    [InlineData(-0.1, 0.1, 0.6, 0.2)]  // runs through from side to side
    public void Drawing_PartsOverlapInPart_NamesBoth(double left, double bottom, double right, double top)
    {
        var e = Assert.Throws<OverlapException>(() => new Drawing(Disc, [Outline.Rectangle(7, 0, 0, 0.5, 0.5), Outline.Rectangle(9, left, bottom, right, top)]));
        Assert.Equal((7, 9), (e.First, e.Second));
    }

    [Fact]
    public void Drawing_PartDrawnTwice_IsRefused() =>
        Assert.Throws<OverlapException>(() => new Drawing(Disc, [Outline.Rectangle(1, 0, 0, 0.5, 0.5), Outline.Rectangle(2, 0, 0, 0.5, 0.5)]));

    [Theory]
    [InlineData(0.5, 1.5)]
    [InlineData(2, 3)]
    public void Drawing_PartReachesOutside_NamesTheBoundary(double left, double right)
    {
        var e = Assert.Throws<OverlapException>(() => new Drawing(Disc, [Outline.Rectangle(5, left, 0, right, 0.1)]));
        Assert.Equal((0, 5), (e.First, e.Second));
    }

    [Fact]
    public void Drawing_OverlapBelowTolerance_IsTouching()
    {
        var drawing = new Drawing(Disc, [Outline.Rectangle(1, 0, 0, 0.5, 0.5), Outline.Rectangle(2, 0.5 - 1e-12, 0.1, 0.7, 0.3)]);
        MeshChecks.AssertSound(MeshChecks.Triangulate(drawing));
    }

    [Theory]
    [InlineData(1e-6)]
    [InlineData(1e-8)]
    public void Drawing_GapAboveTolerance_IsMeshed(double gap)
    {
        var drawing = new Drawing(Outline.Rectangle(0, 0, 0, 1, 1), [Outline.Rectangle(1, 0.2, 0.2, 0.5, 0.5), Outline.Rectangle(2, 0.5 + gap, 0.5 + gap, 0.8, 0.8)]);
        MeshChecks.AssertSound(MeshChecks.Triangulate(drawing));
    }

    [Fact]
    public void Drawing_CornerTouchingAnEdge_CutsIt()
    {
        var drawing = new Drawing(Outline.Rectangle(0, 0, 0, 1, 1), [Outline.Polygon(1, [new(0.3, 0), new(0.5, 0.4), new(0.1, 0.4)]), Outline.Polygon(2, [new(0.3, 0.4), new(0.5, 0.8), new(0.1, 0.8)])]);
        var mesh = MeshChecks.Triangulate(drawing);
        MeshChecks.AssertSound(mesh);
        Assert.Equal(new(0.3, 0), mesh.NodeAt(mesh.NearestVertex(0.3, 0)));
        Assert.Equal(new(0.3, 0.4), mesh.NodeAt(mesh.NearestVertex(0.3, 0.4)));
    }

    [Fact]
    public void OutlineOf_EveryMarker_CountsThroughTheOutlines()
    {
        var drawing = new Drawing(Disc, [Outline.Rectangle(1, 0, 0, 0.5, 0.5)]);
        Assert.Equal([0, 0, 1, 1, 1, 1], Enumerable.Range(0, drawing.Edges.Count).Select(drawing.OutlineOf));
        Assert.Throws<ArgumentOutOfRangeException>(() => drawing.OutlineOf(6));
    }
}
