using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.Forces;

/// <summary>A displacement of the mesh that carries one body rigidly and leaves all other matter where it is.</summary>
/// <remarks>
/// Where the body touches other matter it takes the layer of triangles at the face with it; what that costs is the matter of <see cref="StressIntegral"/>.
/// The force is the derivative of co-energy along it, and any such displacement gives a consistent value. One that dies off smoothly over all
/// the air round the body, instead of within one layer of triangles, weights the poor field at the body's corners least; so the
/// weights are a few sweeps of averaging, with the air next to the rim and other bodies held.
/// </remarks>
internal sealed class VirtualDisplacement
{
    private const int Sweeps = 60;

    private VirtualDisplacement(double[] nodeWeights, int[] elements, (int, int)[] contacts)
    {
        NodeWeights = nodeWeights;
        Elements = elements;
        Contacts = contacts;
    }

    /// <summary>Share of the displacement each node takes: 1 on the body, 0 on other matter, on the rim and in the image.</summary>
    public double[] NodeWeights { get; }

    /// <summary>The triangles that are stretched.</summary>
    public int[] Elements { get; }

    /// <summary>Where the body lies against other matter: a triangle of the other and its edge, from its vertex of that number to the next.</summary>
    public (int Element, int Edge)[] Contacts { get; }

    /// <summary>The same for a piece that stays joined to what it lies against.</summary>
    public VirtualDisplacement Joined() => new(NodeWeights, Elements, []);

    public static VirtualDisplacement Of(MeshedModel meshed, IReadOnlyList<int> regions)
    {
        ArgumentNullException.ThrowIfNull(regions);
        var space = meshed.Space;
        var body = regions.ToHashSet();
        var known = meshed.Ports.RegionArea;
        foreach (var region in regions)
            if (region <= 0 || !known.ContainsKey(region)) throw new ArgumentException($"Region {region} is not a part of the model.", nameof(regions));
        var weight = new double[space.NodeCount];
        var held = new bool[space.NodeCount];
        for (var e = 0; e < space.ElementCount; e++)
        {
            if (space.Region[e] == 0) continue;
            foreach (var n in space.Triangles.AsSpan(6 * e, 6)) held[n] = true;
        }
        foreach (var edge in space.Mesh.BoundaryEdges)
        {
            double x = space.Coordinates[2 * edge.Middle] - space.Centre.X, y = space.Coordinates[(2 * edge.Middle) + 1] - space.Centre.Y;
            if (Math.Abs(double.Hypot(x, y) - space.Radius) < 1e-6 * space.Radius) held[edge.From] = held[edge.To] = held[edge.Middle] = true;
        }
        for (var e = 0; e < space.InsideCount; e++)
            if (body.Contains(space.Region[e]))
                foreach (var n in space.Triangles.AsSpan(6 * e, 6)) (weight[n], held[n]) = (1, true);
        Smooth(space, weight, held);
        var stretched = new List<int>();
        for (var e = 0; e < space.InsideCount; e++)
        {
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var i = 1; i < 6; i++)
                if (weight[nodes[i]] != weight[nodes[0]])
                {
                    stretched.Add(e);
                    break;
                }
        }
        return new(weight, [.. stretched], [.. FacesOf(space, body, stretched)]);
    }

    private static IEnumerable<(int Element, int Edge)> FacesOf(FieldSpace space, HashSet<int> body, List<int> stretched)
    {
        // an edge is known by its middle
        var own = new HashSet<int>();
        for (var e = 0; e < space.InsideCount; e++)
            if (body.Contains(space.Region[e]))
                for (var k = 0; k < 3; k++) own.Add(space.Triangles[(6 * e) + 3 + k]);
        foreach (var e in stretched)
            for (var k = 0; k < 3; k++)
                if (space.Region[e] != 0 && own.Contains(space.Triangles[(6 * e) + 3 + k])) yield return (e, k);
    }

    /// <summary>Over-relaxed averaging over the vertices of air; a midside node in air follows its two ends, which keeps its edge straight.</summary>
    private static void Smooth(FieldSpace space, double[] weight, bool[] held)
    {
        var vertices = space.Mesh.VertexCount;
        var count = new int[vertices + 1];
        for (var e = 0; e < space.InsideCount; e++)
            for (var i = 0; i < 3; i++) count[space.Triangles[(6 * e) + i] + 1] += 2;
        for (var v = 0; v < vertices; v++) count[v + 1] += count[v];
        var neighbours = new int[count[vertices]];
        var fill = (int[])count.Clone();
        for (var e = 0; e < space.InsideCount; e++)
            for (var i = 0; i < 3; i++)
            {
                var v = space.Triangles[(6 * e) + i];
                neighbours[fill[v]++] = space.Triangles[(6 * e) + ((i + 1) % 3)];
                neighbours[fill[v]++] = space.Triangles[(6 * e) + ((i + 2) % 3)];
            }
        for (var sweep = 0; sweep < Sweeps; sweep++)
        {
            for (var k = 0; k < vertices; k++)
            {
                var v = sweep % 2 == 0 ? k : vertices - 1 - k;
                if (held[v] || count[v + 1] == count[v]) continue;
                var sum = 0.0;
                for (var m = count[v]; m < count[v + 1]; m++) sum += weight[neighbours[m]];
                weight[v] += 1.6 * ((sum / (count[v + 1] - count[v])) - weight[v]);
                weight[v] = Math.Clamp(weight[v], 0, 1);
            }
            Tie(space, weight);
        }
        for (var e = 0; e < space.InsideCount; e++)
        {
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var i = 0; i < 3; i++)
                if (!held[nodes[3 + i]]) weight[nodes[3 + i]] = 0.5 * (weight[nodes[i]] + weight[nodes[(i + 1) % 3]]);
        }
        Tie(space, weight);
    }

    /// <summary>Both edges of one piece of a row move alike.</summary>
    private static void Tie(FieldSpace space, double[] weight)
    {
        if (space.Tied is null) return;
        foreach (var (node, master) in space.Tied.Master) weight[node] = weight[master] = 0.5 * (weight[node] + weight[master]);
    }
}
