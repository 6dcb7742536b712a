using Fieldwright.Geometry;
using Xunit;

namespace Fieldwright.Tests.Geometry;

public class MesherTests
{
    public static TheoryData<string> Drawings => [.. Examples.Keys];

    private static readonly Dictionary<string, Func<Drawing>> Examples = new()
    {
        ["square"] = () => new(Outline.Rectangle(0, 0, 0, 1, 1), []),
        ["half disc"] = () => new(Outline.HalfDisc(0, 0.5), []),
        ["disc with circle and rectangle"] = () => new(Disc(1), [Outline.Circle(1, new(0.2, 0.1), 0.3), Outline.Rectangle(2, -0.5, -0.2, -0.3, 0.3)]),
        ["coils touching, part on the axis"] = () => new(Outline.HalfDisc(0, 1),
            [Outline.Rectangle(1, 0, 0, 0.2, 0.05), Outline.Rectangle(2, 0.05, -0.2, 0.15, 0), Outline.Rectangle(3, 0.15, -0.1, 0.3, 0)]),
        ["foil over a coil"] = () => new(Outline.HalfDisc(0, 0.2), [Outline.Rectangle(1, 0, 0, 0.005, 1e-5), Outline.Rectangle(2, 0.002, -0.05, 0.004, -1e-3)]),
        ["ring with gap, sector of a ring"] = () => new(Disc(1), [Outline.RingWithGap(1, new(0, 0), 0.2, 0.3, 0.01), Outline.AnnulusSector(2, new(0, 0), 0.4, 0.5, 10, 300)]),
        ["nested"] = () => new(Disc(1), [Outline.Circle(1, new(0, 0), 0.5), Outline.Circle(0, new(0, 0), 0.4), Outline.Rectangle(2, -0.1, -0.1, 0.1, 0.1)]),
        ["nearly touching circles"] = () => new(Disc(1), [Outline.Circle(1, new(0, 0), 0.5), Outline.Circle(2, new(0.0001, 0), 0.499)]),
        ["touching circles"] = () => new(Disc(1), [Outline.Circle(1, new(-0.2, 0), 0.2), Outline.Circle(2, new(0.2, 0), 0.2), Outline.Circle(3, new(-0.3, 0), 0.1)]),
        ["circle on a table"] = () => new(Disc(1), [Outline.Circle(1, new(0, 0.2), 0.2), Outline.Rectangle(2, -0.3, -0.1, 0.3, 0)]),
        ["needle"] = () => new(Disc(1), [Outline.Polygon(1, [new(0, 0), new(0.5, 0), new(0.5, 0.01)])]),
        ["void touching the boundary"] = () => new(Outline.Rectangle(0, 0, 0, 1, 1), [Outline.Rectangle(Outline.Void, 0, 0.2, 0.3, 0.4), Outline.Circle(Outline.Void, new(0.7, 0.6), 0.1)]),
        ["arc on its own chord"] = () => new(Outline.Rectangle(0, -1, -1, 1, 1),
            [new(1, [new ArcEdge(new(0.5, 0), new(-0.5, 0), new(0, -2), true), new LineEdge(new(-0.5, 0), new(0.5, 0))])]),
        ["partial shared edges"] = () => new(Outline.Rectangle(0, 0, 0, 3, 3),
            [Outline.Rectangle(1, 0.5, 0.5, 1.5, 1.5), Outline.Rectangle(2, 1.5, 1, 2, 2), Outline.Rectangle(3, 0.7, 0.7, 1.5, 1.2)]),
        ["sectors of one circle"] = () => new(Disc(1), [Sector(1, 0, 90), Sector(2, 90, 130), Sector(3, 130, 360)]),
    };

    private static Outline Disc(double radius) => Outline.Circle(0, new(0, 0), radius);

    private static Outline Sector(int region, double from, double to)
    {
        Point At(double degrees) => new(0.6 * Math.Cos(degrees * Math.PI / 180), 0.6 * Math.Sin(degrees * Math.PI / 180));
        return new(region, [new LineEdge(new(0, 0), At(from)), new ArcEdge(At(from), At(to), new(0, 0), true), new LineEdge(At(to), new(0, 0))]);
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void Triangulate_AnyDrawing_GivesASoundMeshWithoutSharpAngles(string name)
    {
        var drawing = Examples[name]();
        var mesh = MeshChecks.Triangulate(drawing);
        MeshChecks.AssertSound(mesh);
        Assert.InRange(MeshChecks.LeastAngle(mesh, drawing), 25, 60);
    }

    [Theory]
    [MemberData(nameof(Drawings))]
    public void Triangulate_AnyDrawing_AreasAgreeWithOutlines(string name)
    {
        var drawing = Examples[name]();
        var mesh = MeshChecks.Triangulate(drawing, new() { MaximumArcDegrees = 6 });
        foreach (var region in mesh.Regions.Distinct())
            Assert.Equal(1, mesh.AreaOfRegion(region) / ExactArea(drawing, region), ArcTolerance);
    }

    // A parabola over an arc of θ leaves θ⁵R²/480·… of the segment θ³R²/12 out: relative error of a disc's area below θ⁴/480 per edge, here 2.5e-7;
    // regions that are what two arcs leave between them, and chords that stand for arcs in a cusp, lose some digits more.
    private const double ArcTolerance = 1e-4;

    /// <summary>Area of the outlines of a region less that of outlines lying in them.</summary>
    private static double ExactArea(Drawing drawing, int region)
    {
        var sum = 0.0;
        foreach (var outline in drawing.Outlines)
        {
            if (outline.Region == region)
                sum += outline.Area;
            var around = drawing.Outlines.Where(other => other.Area > outline.Area && other.Contains(Inside(outline))).MinBy(other => other.Area);
            if (around?.Region == region)
                sum -= outline.Area;
        }
        return sum;
    }

    private static Point Inside(Outline outline)
    {
        // A point just inside the middle of the first edge.
        var edge = outline.Edges[0];
        var inward = (outline.SignedArea > 0 ? 1 : -1) * edge.DirectionAt(0.5).TurnedLeft;
        return edge.PointAt(0.5) + (1e-6 * edge.Length * inward);
    }

    [Fact]
    public void Triangulate_Twice_GivesTheSameMesh()
    {
        var make = Examples["ring with gap, sector of a ring"];
        var options = new MeshOptions { SizeAt = (x, y) => 0.02 + (0.1 * Math.Abs(x + y)) };
        var (first, second) = (MeshChecks.Triangulate(make(), options), MeshChecks.Triangulate(make(), options));
        Assert.Equal(first.Coordinates, second.Coordinates);
        Assert.Equal(first.Triangles, second.Triangles);
        Assert.Equal(first.Regions, second.Regions);
        Assert.Equal(first.BoundaryEdges, second.BoundaryEdges);
    }

    [Fact]
    public void Triangulate_Circle_AreaConvergesWithTheFourthPowerOfTheEdge()
    {
        var errors = new List<double>();
        foreach (var degrees in (double[])[30, 15, 7.5])
        {
            var mesh = MeshChecks.Triangulate(new(Disc(1), []), new() { MaximumArcDegrees = degrees, PrescribedSegments = new Dictionary<int, int> { [0] = (int)(180 / degrees), [1] = (int)(180 / degrees) } });
            errors.Add(Math.Abs(Enumerable.Range(0, mesh.TriangleCount).Sum(mesh.AreaOf) - Math.PI));
        }
        // Parabolas through three points of an arc: 2⁴ per halving, within the next order's share.
        Assert.InRange(errors[0] / errors[1], 15, 17);
        Assert.InRange(errors[1] / errors[2], 15, 17);
    }

    [Fact]
    public void Triangulate_Sizes_AreKeptEverywhere()
    {
        var options = new MeshOptions
        {
            SizeAt = (x, y) => 0.003 + (0.1 * Math.Abs(Math.Sqrt((x * x) + (y * y)) - 0.4)),
            RegionSizes = new Dictionary<int, double> { [2] = 0.02 },
            LargestSize = 0.05,
        };
        var drawing = new Drawing(Disc(1), [Outline.Rectangle(2, -0.7, -0.2, -0.6, 0.3)]);
        var mesh = MeshChecks.Triangulate(drawing, options);
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            var p = (1.0 / 3) * (mesh.CornerOf(t, 0) + mesh.CornerOf(t, 1) + mesh.CornerOf(t, 2));
            var allowed = Math.Min(options.SizeAt(p.X, p.Y), mesh.Regions[t] == 2 ? 0.02 : 0.05);
            Assert.True(mesh.SizeOf(t) <= allowed * (1 + 1e-12), $"triangle {t} is {mesh.SizeOf(t)} where {allowed} is allowed");
        }
        MeshChecks.AssertSound(mesh);
        Assert.True(MeshChecks.LeastAngle(mesh, drawing) >= 25);
    }

    [Fact]
    public void Triangulate_SizeFallingToASmallSpot_IsFollowedIntoIt()
    {
        // No vertex of the coarse mesh lies near the spot.
        var mesh = MeshChecks.Triangulate(new(Outline.Rectangle(0, 0, 0, 1, 1), []), new() { SizeAt = (x, y) => 0.002 + (0.5 * double.Hypot(x - 0.37, y - 0.41)) });
        Assert.True(mesh.SizeOf(mesh.Locate(0.37, 0.41).Triangle) <= 0.004);
        Assert.True(mesh.TriangleCount < 2000);
    }

    [Fact]
    public void Triangulate_PrescribedSegments_AreEqualInOrderAndUnsplit()
    {
        var drawing = new Drawing(Outline.HalfDisc(0, 1), [Outline.Rectangle(1, 0.2, -0.1, 0.4, 0.1)]);
        var mesh = MeshChecks.Triangulate(drawing, new() { PrescribedSegments = new Dictionary<int, int> { [0] = 24 }, RegionSizes = new Dictionary<int, double> { [0] = 0.02 } });
        var arc = mesh.BoundaryEdges.Where(edge => edge.Marker == 0).ToArray();
        Assert.Equal(24, arc.Length);
        for (var i = 0; i < 24; i++)
        {
            var angle = (-0.5 + (i / 24.0)) * Math.PI;
            Assert.Equal(Math.Cos(angle), mesh.NodeAt(arc[i].From).X, 1e-14);
            Assert.Equal(Math.Sin(angle), mesh.NodeAt(arc[i].From).Y, 1e-14);
            if (i > 0)
                Assert.Equal(arc[i - 1].To, arc[i].From);
        }
        MeshChecks.AssertSound(mesh);
    }

    [Fact]
    public void Triangulate_BoundaryEdges_FollowTheOutline()
    {
        var mesh = MeshChecks.Triangulate(Examples["coils touching, part on the axis"]());
        var axis = mesh.BoundaryEdges.Where(edge => edge.Marker == 1).ToArray();
        Assert.All(axis, edge => Assert.Equal(0, mesh.NodeAt(edge.Middle).X));
        for (var i = 1; i < axis.Length; i++)
            Assert.Equal(axis[i - 1].To, axis[i].From);
        Assert.Equal(new(0, 1), mesh.NodeAt(axis[0].From));
        Assert.Equal(new(0, -1), mesh.NodeAt(axis[^1].To));
    }

    [Fact]
    public void Triangulate_ArcMidsides_LieOnTheArc()
    {
        var mesh = MeshChecks.Triangulate(new(Disc(1), []));
        Assert.All(mesh.BoundaryEdges, edge => Assert.Equal(1, mesh.NodeAt(edge.Middle).Length, 1e-15));
    }

    [Fact]
    public void Triangulate_MoreTrianglesThanAllowed_SaysSo()
    {
        var e = Assert.Throws<MeshLimitException>(() => MeshChecks.Triangulate(new(Disc(1), []), new() { LargestSize = 0.01, MaximumTriangles = 1000 }));
        Assert.Equal(1000, e.Allowed);
    }

    [Fact]
    public void Triangulate_Cancelled_Stops() =>
        Assert.Throws<OperationCanceledException>(() => Mesher.Triangulate(new(Disc(1), []), new() { LargestSize = 0.003 }, new CancellationToken(true)));

    [Theory]
    [InlineData(0.0)]
    [InlineData(double.NaN)]
    public void Triangulate_SizeThatIsNone_IsRefused(double size) =>
        Assert.Throws<ArgumentException>(() => MeshChecks.Triangulate(new(Disc(1), []), new() { SizeAt = (_, _) => size }));

    [Fact]
    public void Triangulate_FoilBesideAThickBar_IsMeshedWithFewTrianglesAndNoSharpAngle()
    {
        // 0.01 mm of foil, 10 mm wide, lies on a bar of 100 mm and under another as wide as the foil.
        var drawing = new Drawing(Outline.Rectangle(0, -0.2, -0.2, 0.2, 0.2),
            [Outline.Rectangle(1, -0.05, -0.1, 0.05, 0), Outline.Rectangle(2, -0.005, 0, 0.005, 1e-5), Outline.Rectangle(3, -0.005, 1e-5, 0.005, 0.10001)]);
        var mesh = MeshChecks.Triangulate(drawing);
        MeshChecks.AssertSound(mesh);
        Assert.True(MeshChecks.LeastAngle(mesh, drawing) >= 25);
        Assert.Equal(1e-7, mesh.AreaOfRegion(2), 1e-7 * 1e-9);
        // Squares cut in two along the foil are 2000 triangles: what grades away from both of its sides is of the same order.
        Assert.InRange(mesh.TriangleCount, 1000, 40_000);
    }

    // Heavy on purpose: a million triangles are a promise, and places, links and counts that overflow or crowd show only there.
    [Fact]
    public void Triangulate_AMillionTriangles_KeepsSizeAngleAndArea()
    {
        var drawing = new Drawing(Disc(1), [Outline.Circle(1, new(0.2, 0.1), 0.3)]);
        var mesh = MeshChecks.Triangulate(drawing, new() { LargestSize = 0.0034, MinimumAngleDegrees = 25 });
        Assert.InRange(mesh.TriangleCount, 1_000_000, 1_600_000);
        Assert.True(MeshChecks.LeastAngle(mesh, drawing) >= 25);
        Assert.True(MeshChecks.LargestSize(mesh, _ => true) <= 0.0034);
        Assert.Equal(Math.PI, mesh.AreaOfRegion(0) + mesh.AreaOfRegion(1), 1e-10);
        // Euler: vertices − edges + triangles = 1 on a disc; every edge has one midside.
        Assert.Equal(1, mesh.VertexCount - (mesh.NodeCount - mesh.VertexCount) + mesh.TriangleCount);
    }

    [Fact]
    public void Triangulate_RandomParts_GivesSoundMeshes()
    {
        var random = new Random(2024);
        for (var n = 0; n < 25; n++)
        {
            var parts = new List<Outline>();
            for (var tries = 0; tries < 30; tries++)
            {
                var part = RandomPart(random, parts.Count + 1);
                if (parts.All(other => !other.Overlaps(part) && other.DistanceTo(part) > 1e-4))
                    parts.Add(part);
            }
            var drawing = new Drawing(Disc(1), parts);
            var mesh = MeshChecks.Triangulate(drawing);
            MeshChecks.AssertSound(mesh);
            Assert.Equal(parts.Count + 1, mesh.Regions.Distinct().Count());
            Assert.True(MeshChecks.LeastAngle(mesh, drawing) >= 25, $"drawing {n} has an angle of {MeshChecks.LeastAngle(mesh, drawing)}°");
        }
    }

    private static Outline RandomPart(Random random, int region)
    {
        var radius = 0.8 * Math.Sqrt(random.NextDouble());
        var angle = 2 * Math.PI * random.NextDouble();
        var centre = new Point(radius * Math.Cos(angle), radius * Math.Sin(angle));
        var size = 0.01 + (0.15 * random.NextDouble());
        return random.Next(4) switch
        {
            0 => Outline.Circle(region, centre, size),
            1 => Outline.RingWithGap(region, centre, 0.6 * size, size, 0.05 * size, 360 * random.NextDouble()),
            2 => Outline.Rectangle(region, centre.X, centre.Y, centre.X + size, centre.Y + (0.01 * size)),
            _ => Outline.Polygon(region, [.. Enumerable.Range(0, 5).Select(k => centre + (size * (0.5 + (0.5 * random.NextDouble())) * new Point(Math.Cos(k * 1.2), Math.Sin(k * 1.2))))]),
        };
    }
}
