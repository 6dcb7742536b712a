using Fieldwright.Fields;
using Fieldwright.Fields.Elements;
using Fieldwright.Geometry;

namespace Fieldwright.Tests.Fields;

/// <summary>Discs and half discs of curved triangles in rings, for bodies whose exact fields are known.</summary>
internal static class PolarMesh
{
    /// <summary>Rings between the given radii (the last is the rim), each cut into equal sectors.</summary>
    /// <param name="symmetry">Round: a half disc from −90° to 90°. Long: a full disc.</param>
    /// <param name="radii">Outer radius of each ring, ascending, m.</param>
    /// <param name="sectors">Sectors of the half or full disc.</param>
    /// <param name="regionOf">Region of (ring, sector).</param>
    public static FieldSpace Build(Symmetry symmetry, double[] radii, int sectors, Func<int, int, int> regionOf, double depth = 1)
    {
        var closed = symmetry == Symmetry.Long;
        var start = closed ? 0 : -Math.PI / 2;
        var step = (closed ? 2 : 1) * Math.PI / sectors;
        var columns = closed ? sectors : sectors + 1;
        var coordinates = new List<double> { 0, 0 };
        foreach (var r in radii)
            for (var j = 0; j < columns; j++) Add(r, start + (j * step));
        var vertices = coordinates.Count / 2;
        var middles = new Dictionary<(int, int), int>();
        var triangles = new List<int>();
        var regions = new List<int>();
        for (var i = 0; i < radii.Length; i++)
            for (var j = 0; j < sectors; j++)
            {
                int a = Vertex(i - 1, j), b = Vertex(i, j), c = Vertex(i, j + 1), d = Vertex(i - 1, j + 1);
                AddTriangle(a, b, c, i, j);
                if (i > 0) AddTriangle(a, c, d, i, j);
            }
        var rim = new List<MeshEdge>();
        for (var j = 0; j < sectors; j++)
        {
            int a = Vertex(radii.Length - 1, j), b = Vertex(radii.Length - 1, j + 1);
            rim.Add(new MeshEdge(a, b, Middle(a, b), 0, -1, -1));
        }
        return new FieldSpace(symmetry, depth, MeshOf(vertices, coordinates, triangles, regions, rim), new Point(0, 0), radii[^1]);

        int Vertex(int ring, int sector) => ring < 0 ? 0 : 1 + (ring * columns) + (closed ? sector % sectors : sector);

        int Add(double r, double angle)
        {
            var (sin, cos) = Math.SinCos(angle);
            if (!closed && Math.Abs(Math.Abs(angle) - (Math.PI / 2)) < 1e-12) cos = 0;
            coordinates.Add(r * cos);
            coordinates.Add(r * sin);
            return (coordinates.Count / 2) - 1;
        }

        int Middle(int a, int b)
        {
            var key = a < b ? (a, b) : (b, a);
            if (middles.TryGetValue(key, out var m)) return m;
            double ra = Rho(a), rb = Rho(b);
            double x = 0.5 * (coordinates[2 * a] + coordinates[2 * b]), y = 0.5 * (coordinates[(2 * a) + 1] + coordinates[(2 * b) + 1]);
            // an edge between two vertices of one ring is an arc
            var scale = Math.Abs(ra - rb) < 1e-12 * ra ? ra / double.Hypot(x, y) : 1;
            coordinates.Add(x * scale);
            coordinates.Add(y * scale);
            return middles[key] = (coordinates.Count / 2) - 1;
        }

        double Rho(int node) => double.Hypot(coordinates[2 * node], coordinates[(2 * node) + 1]);

        void AddTriangle(int a, int b, int c, int ring, int sector)
        {
            triangles.AddRange([a, b, c, Middle(a, b), Middle(b, c), Middle(c, a)]);
            regions.Add(regionOf(ring, sector));
        }
    }

    /// <summary>A stand-in outline for each region: the model wants to know which there are, the mesh is given.</summary>
    public static IReadOnlyList<Outline> Outlines(params int[] regions) => [.. regions.Select(r => new Outline(r, [
        new LineEdge(new(0, 0), new(1, 0)), new LineEdge(new(1, 0), new(1, 1)), new LineEdge(new(1, 1), new(0, 0))]))];

    /// <summary>Radii in equal steps from one to another, both included but the first.</summary>
    public static double[] Steps(double from, double to, int count) => [.. Enumerable.Range(1, count).Select(k => from + ((to - from) * k / count))];

    private static Mesh MeshOf(int vertices, List<double> coordinates, List<int> triangles, List<int> regions, List<MeshEdge> rim) =>
        new(new Drawing(Outlines(0)[0], []), vertices, [.. coordinates], [.. triangles], [.. regions], Neighbours(triangles), [.. rim], []);

    private static int[] Neighbours(List<int> triangles)
    {
        var result = new int[triangles.Count / 2];
        Array.Fill(result, -1);
        var seen = new Dictionary<int, int>();
        for (var k = 0; k < result.Length; k++)
        {
            var middle = triangles[(6 * (k / 3)) + 3 + (k % 3)];
            if (!seen.Remove(middle, out var other))
            {
                seen[middle] = k;
                continue;
            }
            (result[k], result[other]) = (other / 3, k / 3);
        }
        return result;
    }
}
