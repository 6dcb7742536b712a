using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class MeshTests
{
    private static Mesh Curved() => MeshChecks.Triangulate(new(Outline.HalfDisc(0, 1), [Outline.Circle(1, new(0.4, 0.1), 0.2), Outline.Rectangle(Outline.Void, 0.1, -0.5, 0.3, -0.2)]));

    [Fact]
    public void Locate_PointsOfTriangles_FindsThemAgain()
    {
        var mesh = Curved();
        var random = new Random(3);
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            var (xi, eta) = (random.NextDouble(), random.NextDouble());
            if (xi + eta > 1)
                (xi, eta) = (1 - xi, 1 - eta);
            var p = mesh.PointAt(t, xi, eta);
            var found = mesh.Locate(p.X, p.Y);
            Assert.Equal(t, found.Triangle);
            Assert.Equal(xi, found.Xi, 1e-10);
            Assert.Equal(eta, found.Eta, 1e-10);
        }
    }

    [Theory]
    [InlineData(-0.01, 0)]
    [InlineData(0.2, -0.3)]
    [InlineData(0.8, 0.8)]
    public void Locate_PointOutside_SaysSo(double x, double y) => Assert.False(Curved().Locate(x, y).IsInside);

    [Fact]
    public void Locate_Nodes_AreAllInside()
    {
        var mesh = Curved();
        for (var node = 0; node < mesh.NodeCount; node++)
        {
            var p = mesh.NodeAt(node);
            var found = mesh.Locate(p.X, p.Y);
            Assert.True(found.IsInside);
            Assert.Equal(0, mesh.PointAt(found.Triangle, found.Xi, found.Eta).DistanceTo(p), 1e-9);
        }
    }

    [Fact]
    public void Locate_ManyThreads_AgreeWithOne()
    {
        var mesh = Curved();
        var random = new Random(8);
        var points = Enumerable.Range(0, 2000).Select(_ => new Point(random.NextDouble(), (2 * random.NextDouble()) - 1)).ToArray();
        var together = points.AsParallel().AsOrdered().Select(p => mesh.Locate(p.X, p.Y)).ToArray();
        Assert.Equal(points.Select(p => mesh.Locate(p.X, p.Y)), together);
    }

    [Fact]
    public void NearestVertex_RandomPoints_AgreesWithBruteForce()
    {
        var mesh = Curved();
        var random = new Random(4);
        for (var n = 0; n < 200; n++)
        {
            var p = new Point((3 * random.NextDouble()) - 1, (3 * random.NextDouble()) - 1.5);
            var best = Enumerable.Range(0, mesh.VertexCount).Min(v => mesh.NodeAt(v).DistanceTo(p));
            Assert.Equal(best, mesh.NodeAt(mesh.NearestVertex(p.X, p.Y)).DistanceTo(p));
        }
    }

    [Fact]
    public void SizeField_FromMesh_IsKeptByTheNextMesh()
    {
        var drawing = new Drawing(Outline.HalfDisc(0, 1), [Outline.Circle(1, new(0.4, 0.1), 0.2)]);
        var first = MeshChecks.Triangulate(drawing, new() { LargestSize = 0.2 });
        var wanted = new double[first.TriangleCount];
        for (var t = 0; t < wanted.Length; t++)
            wanted[t] = first.Regions[t] == 1 ? 0.01 : first.SizeOf(t);
        var field = SizeField.FromMesh(first, wanted);
        var second = MeshChecks.Triangulate(drawing, new() { SizeAt = field.At });
        for (var t = 0; t < second.TriangleCount; t++)
        {
            if (second.Regions[t] == 1)
                Assert.True(second.SizeOf(t) <= 0.01 + 1e-12);
        }
        // Graded: 0.3 per distance from the circle; far away the old size returns.
        var far = MeshChecks.LargestSize(second, t => second.CornerOf(t, 0).Length > 0.9);
        Assert.InRange(far, 0.06, 0.2);
        MeshChecks.AssertSound(second);
    }

    [Fact]
    public void SizeField_Growth_LimitsTheSlope()
    {
        var mesh = MeshChecks.Triangulate(new(Outline.Rectangle(0, 0, 0, 1, 1), []), new() { LargestSize = 0.05 });
        var wanted = Enumerable.Repeat(1.0, mesh.TriangleCount).ToArray();
        wanted[mesh.Locate(0.1, 0.1).Triangle] = 0.001;
        var field = SizeField.FromMesh(mesh, wanted, 0.2);
        // Along edges the way is a little longer than straight: at most by 1.3 in such a mesh.
        Assert.InRange(field.At(0.9, 0.1), 0.001 + (0.2 * 0.7), 0.001 + (0.2 * 0.85 * 1.3));
        Assert.Throws<ArgumentException>(() => SizeField.FromMesh(mesh, new double[3]));
        wanted[0] = double.NaN;
        Assert.Throws<ArgumentOutOfRangeException>(() => SizeField.FromMesh(mesh, wanted));
    }
}
