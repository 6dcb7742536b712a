namespace Fieldwright.Geometry;

/// <summary>Bare triangles and the drawing's edges among them, before numbering.</summary>
internal sealed class TriangleSoup
{
    /// <summary>x₀ y₀ x₁ y₁ …; vertices that no triangle uses are dropped.</summary>
    public required double[] Xy { get; init; }

    public required int VertexCount { get; init; }

    /// <summary>Three vertices a triangle, counter-clockwise.</summary>
    public required int[] Corners { get; init; }

    /// <summary>Region number of each triangle.</summary>
    public required int[] Regions { get; init; }

    /// <summary>For side 3t + e (from corner e to the next) the side 3u + f across it, or −1.</summary>
    public required int[] Twins { get; init; }

    /// <summary>Sides on edges of the drawing, by marker and in order along each, once each, with the way of the drawing's edge where there is a triangle on that side.</summary>
    public required IReadOnlyList<WallSide> Walls { get; init; }
}

/// <summary>A side on an edge of the drawing.</summary>
/// <param name="Side">3t + e.</param>
/// <param name="Marker">Index of the drawing's edge.</param>
/// <param name="Middle">Its midside node.</param>
internal readonly record struct WallSide(int Side, int Marker, Point Middle);

/// <summary>Makes a mesh of bare triangles: numbered along a space-filling curve, with midside nodes.</summary>
internal sealed class MeshBuilder
{
    private readonly TriangleSoup soup;
    private readonly int[] vertexName;
    private int vertexCount;

    private MeshBuilder(TriangleSoup soup)
    {
        this.soup = soup;
        vertexName = NameVertices();
        (TriangleName, TriangleOrder) = NameTriangles();
    }

    /// <summary>New number of each triangle.</summary>
    private int[] TriangleName { get; }

    /// <summary>Old number of each triangle of the mesh.</summary>
    private int[] TriangleOrder { get; }

    public static (Mesh Mesh, int[] Order) Build(Drawing drawing, TriangleSoup soup)
    {
        var builder = new MeshBuilder(soup);
        return (builder.Assemble(drawing), builder.TriangleOrder);
    }

    private int[] NameVertices()
    {
        var name = new int[soup.VertexCount];
        Array.Fill(name, -1);
        foreach (var v in soup.Corners)
            name[v] = 0;
        var places = new double[2 * soup.VertexCount];
        var old = new int[soup.VertexCount];
        for (var v = 0; v < name.Length; v++)
        {
            if (name[v] < 0)
                continue;
            places[2 * vertexCount] = soup.Xy[2 * v];
            places[(2 * vertexCount) + 1] = soup.Xy[(2 * v) + 1];
            old[vertexCount++] = v;
        }
        var order = Hilbert.Order(places, vertexCount);
        for (var i = 0; i < vertexCount; i++)
            name[old[order[i]]] = i;
        return name;
    }

    /// <summary>Triangles in the order of their lowest vertex.</summary>
    private (int[] Name, int[] Order) NameTriangles()
    {
        var count = soup.Regions.Length;
        var starts = new int[vertexCount + 1];
        for (var t = 0; t < count; t++)
            starts[Lowest(t) + 1]++;
        for (var i = 0; i < vertexCount; i++)
            starts[i + 1] += starts[i];
        var name = new int[count];
        var order = new int[count];
        for (var t = 0; t < count; t++)
        {
            name[t] = starts[Lowest(t)]++;
            order[name[t]] = t;
        }
        return (name, order);
    }

    private int Lowest(int t) =>
        Math.Min(vertexName[soup.Corners[3 * t]], Math.Min(vertexName[soup.Corners[(3 * t) + 1]], vertexName[soup.Corners[(3 * t) + 2]]));

    private Mesh Assemble(Drawing drawing)
    {
        var count = TriangleOrder.Length;
        var triangles = new int[6 * count];
        var regions = new int[count];
        var neighbours = new int[3 * count];
        // Every side is counted once from each triangle, the sides without a neighbour once in all.
        var sides = 3 * count;
        foreach (var twin in soup.Twins)
            sides += twin < 0 ? 1 : 0;
        var coordinates = new double[2 * (vertexCount + (sides / 2))];
        for (var v = 0; v < vertexName.Length; v++)
        {
            if (vertexName[v] >= 0)
                (coordinates[2 * vertexName[v]], coordinates[(2 * vertexName[v]) + 1]) = (soup.Xy[2 * v], soup.Xy[(2 * v) + 1]);
        }
        var wallOf = WallOfSide();
        var node = vertexCount;
        for (var i = 0; i < count; i++)
        {
            var t = TriangleOrder[i];
            regions[i] = soup.Regions[t];
            for (var e = 0; e < 3; e++)
                triangles[(6 * i) + e] = vertexName[soup.Corners[(3 * t) + e]];
            for (var e = 0; e < 3; e++)
            {
                var side = (3 * t) + e;
                var twin = soup.Twins[side];
                var neighbour = twin < 0 ? -1 : TriangleName[twin / 3];
                neighbours[(3 * i) + e] = neighbour;
                if (neighbour >= 0 && neighbour < i)
                {
                    triangles[(6 * i) + 3 + e] = triangles[(6 * neighbour) + 3 + (twin % 3)];
                    continue;
                }
                if (wallOf[side] >= 0)
                {
                    var middle = soup.Walls[wallOf[side]].Middle;
                    (coordinates[2 * node], coordinates[(2 * node) + 1]) = (middle.X, middle.Y);
                }
                else
                {
                    int a = 2 * triangles[(6 * i) + e], b = 2 * triangles[(6 * i) + (e == 2 ? 0 : e + 1)];
                    coordinates[2 * node] = 0.5 * (coordinates[a] + coordinates[b]);
                    coordinates[(2 * node) + 1] = 0.5 * (coordinates[a + 1] + coordinates[b + 1]);
                }
                triangles[(6 * i) + 3 + e] = node++;
            }
        }
        var (boundary, interfaces) = Edges(triangles);
        return new(drawing, vertexCount, coordinates, triangles, regions, neighbours, boundary, interfaces);
    }

    private int[] WallOfSide()
    {
        var wallOf = new int[soup.Twins.Length];
        Array.Fill(wallOf, -1);
        for (var w = 0; w < soup.Walls.Count; w++)
        {
            var side = soup.Walls[w].Side;
            wallOf[side] = w;
            if (soup.Twins[side] >= 0)
                wallOf[soup.Twins[side]] = w;
        }
        return wallOf;
    }

    private (MeshEdge[] Boundary, MeshEdge[] Interfaces) Edges(int[] triangles)
    {
        List<MeshEdge> boundary = [], interfaces = [];
        foreach (var wall in soup.Walls)
        {
            var left = TriangleName[wall.Side / 3];
            var right = soup.Twins[wall.Side] < 0 ? -1 : TriangleName[soup.Twins[wall.Side] / 3];
            var e = wall.Side % 3;
            var edge = new MeshEdge(triangles[(6 * left) + e], triangles[(6 * left) + ((e + 1) % 3)], triangles[(6 * left) + 3 + e], wall.Marker, left, right);
            (right < 0 ? boundary : interfaces).Add(edge);
        }
        return ([.. boundary], [.. interfaces]);
    }
}
