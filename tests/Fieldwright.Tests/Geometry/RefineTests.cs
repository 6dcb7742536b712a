using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class RefineTests
{
    private static readonly Drawing Bar = new(Outline.HalfDisc(0, 1), [Outline.Circle(1, new(0.4, 0.1), 0.2), Outline.Circle(Outline.Void, new(0.4, -0.5), 0.1)]);

    [Theory]
    [InlineData(30)]
    [InlineData(60)] // arcs so wide that parts of triangles would fold
    public void Refine_RandomMarksManyTimes_StaysSoundAndKeepsAngles(double degrees)
    {
        var mesh = MeshChecks.Triangulate(Bar, new() { MaximumArcDegrees = degrees, MinimumAngleDegrees = 20 });
        var first = MeshChecks.LeastAngle(mesh, Bar);
        var random = new Random(11);
        for (var round = 0; round < 6; round++)
        {
            var marks = Enumerable.Range(0, mesh.TriangleCount).Select(_ => random.Next(5) == 0).ToArray();
            var (finer, parents) = mesh.Refine(marks);
            MeshChecks.AssertSound(finer);
            if (degrees <= 30)
                Assert.True(MeshChecks.LeastAngle(finer, Bar) >= 0.5 * first * (1 - 1e-12));
            var children = parents.GroupBy(t => t).ToDictionary(g => g.Key, g => g.Count());
            for (var t = 0; t < mesh.TriangleCount; t++)
            {
                Assert.True(children[t] >= (marks[t] ? 4 : 1));
                Assert.InRange(children[t], 1, 16);
            }
            Assert.All(Enumerable.Range(0, finer.TriangleCount), t => Assert.Equal(mesh.Regions[parents[t]], finer.Regions[t]));
            mesh = finer;
        }
    }

    [Fact]
    public void Refine_Everything_DividesInQuartersAndNests()
    {
        var mesh = MeshChecks.Triangulate(Bar);
        var (finer, parents) = mesh.Refine([.. Enumerable.Repeat(true, mesh.TriangleCount)]);
        Assert.Equal(4 * mesh.TriangleCount, finer.TriangleCount);
        // Straight triangles are made up of their parts exactly, curved ones up to the bulge.
        var curved = mesh.BoundaryEdges.Concat(mesh.InterfaceEdges).SelectMany(edge => new[] { edge.Left, edge.Right }).ToHashSet();
        var sums = new double[mesh.TriangleCount];
        for (var t = 0; t < finer.TriangleCount; t++)
        {
            sums[parents[t]] += finer.AreaOf(t);
            Assert.Equal(0.25, finer.AreaOf(t) / mesh.AreaOf(parents[t]), curved.Contains(parents[t]) ? 0.1 : 1e-12);
        }
        for (var t = 0; t < sums.Length; t++)
            Assert.Equal(1, sums[t] / mesh.AreaOf(t), curved.Contains(t) ? 0.01 : 1e-12);
    }

    [Fact]
    public void Refine_Arcs_ConvergeToTheCircle()
    {
        var mesh = MeshChecks.Triangulate(new(Outline.Circle(0, new(0, 0), 1), []));
        var errors = new List<double>();
        for (var round = 0; round < 3; round++)
        {
            errors.Add(Math.PI - mesh.AreaOfRegion(0));
            mesh = mesh.Refine([.. Enumerable.Repeat(true, mesh.TriangleCount)]).Mesh;
        }
        // Fourth order, as for a new mesh: nodes are put back on the arc each time.
        Assert.InRange(errors[0] / errors[1], 15, 17);
        Assert.InRange(errors[1] / errors[2], 15, 17);
        Assert.All(mesh.BoundaryEdges, edge => Assert.Equal(1, mesh.NodeAt(edge.Middle).Length, 1e-15));
    }

    [Fact]
    public void Refine_BoundaryEdges_StayInOrder()
    {
        var mesh = MeshChecks.Triangulate(Bar);
        var random = new Random(1);
        for (var round = 0; round < 3; round++)
            mesh = mesh.Refine([.. Enumerable.Range(0, mesh.TriangleCount).Select(_ => random.Next(3) == 0)]).Mesh;
        foreach (var group in mesh.BoundaryEdges.GroupBy(edge => edge.Marker))
        {
            var edges = group.ToArray();
            // The circle that was cut out runs the other way round than the mesh beside it.
            var forward = mesh.Drawing.OutlineOf(group.Key) == 0;
            for (var i = 1; i < edges.Length; i++)
                Assert.True(forward ? edges[i - 1].To == edges[i].From : edges[i - 1].From == edges[i].To);
        }
        Assert.Equal(mesh.BoundaryEdges.Select(edge => edge.Marker).Order(), mesh.BoundaryEdges.Select(edge => edge.Marker));
    }

    [Fact]
    public void Refine_NothingMarked_GivesTheSameMesh()
    {
        var mesh = MeshChecks.Triangulate(Bar);
        var same = mesh.Refine(new bool[mesh.TriangleCount]).Mesh;
        Assert.Equal(mesh.Coordinates[..(2 * mesh.VertexCount)], same.Coordinates[..(2 * mesh.VertexCount)]);
        Assert.Equal(mesh.TriangleCount, same.TriangleCount);
        Assert.Throws<ArgumentException>(() => mesh.Refine([true]));
    }
}
