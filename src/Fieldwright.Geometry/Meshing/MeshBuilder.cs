namespace Fieldwright.Geometry;

/// <summary>Turns a refined triangulation into a mesh: triangles inside the drawing only, numbered along a space-filling curve, with midside nodes.</summary>
internal sealed class MeshBuilder
{
    private readonly Triangulation source;
    private readonly Refinement refinement;
    private readonly Start start;
    private readonly int[] triangleName;
    private readonly int[] triangleOrder;
    private readonly int[] vertexName;
    private int vertexCount;

    private MeshBuilder(Start start, Refinement refinement)
    {
        source = start.Mesh;
        this.start = start;
        this.refinement = refinement;
        vertexName = NameVertices();
        (triangleName, triangleOrder) = NameTriangles();
    }

    public static Mesh Build(Start start, Refinement refinement)
    {
        var builder = new MeshBuilder(start, refinement);
        return builder.Assemble();
    }

    private int[] NameVertices()
    {
        var used = new bool[source.VertexCount];
        for (var t = 0; t < source.TriangleCount; t++)
        {
            if (source.V[(4 * t) + 3] >= 0)
                used[source.V[4 * t]] = used[source.V[(4 * t) + 1]] = used[source.V[(4 * t) + 2]] = true;
        }
        // The far corners of the box would spoil the grid of the curve: only what is used is sorted.
        var places = new double[2 * source.VertexCount];
        var old = new int[source.VertexCount];
        for (var v = 0; v < source.VertexCount; v++)
        {
            if (!used[v])
                continue;
            places[2 * vertexCount] = source.Xy[2 * v];
            places[(2 * vertexCount) + 1] = source.Xy[(2 * v) + 1];
            old[vertexCount++] = v;
        }
        var order = Hilbert.Order(places, vertexCount);
        var name = new int[source.VertexCount];
        Array.Fill(name, -1);
        for (var i = 0; i < vertexCount; i++)
            name[old[order[i]]] = i;
        return name;
    }

    /// <summary>Triangles in the order of their lowest vertex.</summary>
    private (int[] Name, int[] Order) NameTriangles()
    {
        var starts = new int[vertexCount + 1];
        var count = 0;
        for (var t = 0; t < source.TriangleCount; t++)
        {
            if (source.V[(4 * t) + 3] < 0)
                continue;
            starts[Lowest(t) + 1]++;
            count++;
        }
        for (var i = 0; i < vertexCount; i++)
            starts[i + 1] += starts[i];
        var name = new int[source.TriangleCount];
        var order = new int[count];
        Array.Fill(name, -1);
        for (var t = 0; t < source.TriangleCount; t++)
        {
            if (source.V[(4 * t) + 3] < 0)
                continue;
            name[t] = starts[Lowest(t)]++;
            order[name[t]] = t;
        }
        return (name, order);
    }

    private int Lowest(int t) =>
        Math.Min(vertexName[source.V[4 * t]], Math.Min(vertexName[source.V[(4 * t) + 1]], vertexName[source.V[(4 * t) + 2]]));

    private Mesh Assemble()
    {
        var count = triangleOrder.Length;
        var triangles = new int[6 * count];
        var regions = new int[count];
        var neighbours = new int[3 * count];
        var coordinates = new double[2 * (vertexCount + ((3 * count) / 2) + source.WallHalf.Count + 1)];
        for (var v = 0; v < source.VertexCount; v++)
        {
            if (vertexName[v] >= 0)
                (coordinates[2 * vertexName[v]], coordinates[(2 * vertexName[v]) + 1]) = (source.Xy[2 * v], source.Xy[(2 * v) + 1]);
        }
        var node = vertexCount;
        for (var i = 0; i < count; i++)
        {
            var t = triangleOrder[i];
            regions[i] = start.Regions[source.V[(4 * t) + 3]];
            for (var e = 0; e < 3; e++)
            {
                var h = (4 * t) + e;
                triangles[(6 * i) + e] = vertexName[source.V[h]];
                var twin = source.Twin(h);
                var neighbour = triangleName[twin >> 2];
                neighbours[(3 * i) + e] = neighbour;
                if (neighbour >= 0 && neighbour < i)
                {
                    triangles[(6 * i) + 3 + e] = triangles[(6 * neighbour) + 3 + (twin & 3)];
                    continue;
                }
                var middle = refinement.MiddleOf(h);
                (coordinates[2 * node], coordinates[(2 * node) + 1]) = (middle.X, middle.Y);
                triangles[(6 * i) + 3 + e] = node++;
            }
        }
        Array.Resize(ref coordinates, 2 * node);
        var (boundary, interfaces) = Edges(triangles);
        return new(vertexCount, coordinates, triangles, regions, neighbours, boundary, interfaces);
    }

    private (MeshEdge[] Boundary, MeshEdge[] Interfaces) Edges(int[] triangles)
    {
        List<MeshEdge> boundary = [], interfaces = [];
        foreach (var wall in refinement.WallsInOrder())
        {
            var h = source.WallHalf[wall];
            var (left, right) = (triangleName[h >> 2], triangleName[source.Twin(h) >> 2]);
            if (left < 0 && right < 0)
                continue;
            if (left < 0)
            {
                h = source.Twin(h);
                (left, right) = (right, -1);
            }
            var edge = new MeshEdge(vertexName[source.V[h]], vertexName[source.Target(h)], triangles[(6 * left) + 3 + (h & 3)], refinement.MarkerOf(wall), left, right);
            (right < 0 ? boundary : interfaces).Add(edge);
        }
        return ([.. boundary], [.. interfaces]);
    }
}
