using Fieldwright.Geometry;

namespace Fieldwright.Fields.Elements;

/// <summary>Triangulation of the disc that the outside of the rim is mapped to: rings of triangles that halve in number towards the
/// centre, the image of infinity. Its rim nodes are those of the mesh.</summary>
/// <remarks>A multipole of order n outside is a polynomial of degree n in the image, so quadratic elements carry the first ones exactly and
/// the rest have died away by (extent/R)ⁿ: few triangles are enough.</remarks>
internal sealed class ImageDisc
{
    private readonly List<double> coordinates = [];
    private readonly List<int> triangles = [];
    private readonly List<(int Element, int Edge)> rim = [];
    private readonly Dictionary<(int, int), int> middles = [];
    private readonly Mesh mesh;
    private readonly int firstNode;
    private readonly int firstElement;

    private ImageDisc(Mesh mesh)
    {
        this.mesh = mesh;
        firstNode = mesh.NodeCount;
        firstElement = mesh.Regions.Length;
    }

    public double[] Coordinates => [.. coordinates];

    public int[] Triangles => [.. triangles];

    public IReadOnlyList<(int Element, int Edge)> RimEdges => rim;

    public int CentreNode { get; private set; }

    public static ImageDisc Build(Symmetry symmetry, Mesh mesh, Point centre, double radius)
    {
        var disc = new ImageDisc(mesh);
        disc.Fill(symmetry, centre, radius);
        return disc;
    }

    private void Fill(Symmetry symmetry, Point centre, double radius)
    {
        var closed = symmetry == Symmetry.Long;
        var ring = RimVertices(centre, radius, closed);
        var rimEdges = closed ? ring.Count : ring.Count - 1;
        double angle = (closed ? 2 : 1) * Math.PI, rho = radius;
        var fewest = closed ? 6 : 3;
        var first = true;
        for (var edges = rimEdges; ; edges = (edges + 1) / 2)
        {
            var step = 1.2 * rho * angle / edges;
            if (edges <= fewest || step > 0.7 * rho)
            {
                CentreNode = AddNode(centre.X, centre.Y);
                for (var i = 0; i + 1 < ring.Count + (closed ? 1 : 0); i++)
                    AddTriangle(ring[i].Node, ring[(i + 1) % ring.Count].Node, CentreNode, first);
                return;
            }
            rho -= step;
            ring = NextRing(ring, rho, centre, closed, first);
            first = false;
        }
    }

    private List<(int Node, double Angle)> NextRing(List<(int Node, double Angle)> outer, double rho, Point centre, bool closed, bool first)
    {
        var count = outer.Count;
        var kept = new List<int>();
        for (var i = 0; i < count; i += 2) kept.Add(i);
        if (!closed && kept[^1] != count - 1) kept.Add(count - 1);
        var inner = new List<(int Node, double Angle)>(kept.Count);
        foreach (var i in kept)
        {
            var (sin, cos) = Math.SinCos(outer[i].Angle);
            // the ends of a half ring lie on the axis exactly
            if (!closed && (i == 0 || i == count - 1)) cos = 0;
            inner.Add((AddNode(centre.X + (rho * cos), centre.Y + (rho * sin)), outer[i].Angle));
        }
        for (var k = 0; k < kept.Count - (closed ? 0 : 1); k++)
        {
            var from = kept[k];
            var to = k + 1 < kept.Count ? kept[k + 1] : count;
            int i0 = inner[k].Node, i1 = inner[(k + 1) % inner.Count].Node;
            int o0 = outer[from].Node, o1 = outer[(from + 1) % count].Node;
            AddTriangle(o0, o1, i0, first);
            AddTriangle(o1, i1, i0, false);
            if (to - from == 2) AddTriangle(o1, outer[to % count].Node, i1, first);
        }
        return inner;
    }

    private List<(int Node, double Angle)> RimVertices(Point centre, double radius, bool closed)
    {
        var vertices = new Dictionary<int, double>();
        foreach (var edge in mesh.BoundaryEdges)
        {
            double mx = mesh.Coordinates[2 * edge.Middle] - centre.X, my = mesh.Coordinates[(2 * edge.Middle) + 1] - centre.Y;
            // edges along the axis belong to the half disc, not to its rim
            if (Math.Abs(double.Hypot(mx, my) - radius) > 1e-6 * radius) continue;
            middles[Key(edge.From, edge.To)] = edge.Middle;
            vertices[edge.From] = AngleOf(edge.From);
            vertices[edge.To] = AngleOf(edge.To);
        }
        var ring = vertices.Select(v => (Node: v.Key, Angle: v.Value)).OrderBy(v => v.Angle).ToList();
        if (middles.Count != (closed ? ring.Count : ring.Count - 1))
            throw new InvalidOperationException($"The rim of the mesh has {middles.Count} edges and {ring.Count} vertices and is not one chain.");
        return ring;

        double AngleOf(int node) => Math.Atan2(mesh.Coordinates[(2 * node) + 1] - centre.Y, mesh.Coordinates[2 * node] - centre.X);
    }

    private void AddTriangle(int a, int b, int c, bool edgeOnRim)
    {
        if (edgeOnRim) rim.Add((firstElement + (triangles.Count / 6), 0));
        triangles.AddRange([a, b, c, Middle(a, b), Middle(b, c), Middle(c, a)]);
    }

    private int Middle(int a, int b)
    {
        if (middles.TryGetValue(Key(a, b), out var node)) return node;
        var (ax, ay) = Place(a);
        var (bx, by) = Place(b);
        return middles[Key(a, b)] = AddNode(0.5 * (ax + bx), 0.5 * (ay + by));
    }

    private (double X, double Y) Place(int node) => node < firstNode
        ? (mesh.Coordinates[2 * node], mesh.Coordinates[(2 * node) + 1])
        : (coordinates[2 * (node - firstNode)], coordinates[(2 * (node - firstNode)) + 1]);

    private int AddNode(double x, double y)
    {
        coordinates.Add(x);
        coordinates.Add(y);
        return firstNode + (coordinates.Count / 2) - 1;
    }

    private static (int, int) Key(int a, int b) => a < b ? (a, b) : (b, a);
}
