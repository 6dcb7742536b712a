using Fieldwright.Numerics;

namespace Fieldwright.Geometry;

/// <summary>Sizes asked for over the plane, interpolated between the vertices of a mesh. Pass <see cref="At"/> as <see cref="MeshOptions.SizeAt"/>.</summary>
/// <remarks>Immutable; may be asked from many threads. A look-up takes a few tenths of a microsecond.</remarks>
public sealed class SizeField
{
    private readonly Mesh mesh;
    private readonly double[] sizes;

    private SizeField(Mesh mesh, double[] sizes)
    {
        this.mesh = mesh;
        this.sizes = sizes;
    }

    /// <summary>A size field from sizes wanted in the triangles of an earlier mesh.</summary>
    /// <param name="previous">The earlier mesh.</param>
    /// <param name="newSizes">One size a triangle, m: the longest side its successors shall have.</param>
    /// <param name="growth">Most the size may grow per distance: a vertex of size h lets a vertex at distance d have h + growth·d at most. Positive.</param>
    /// <returns>The field: at a vertex the least of the sizes round it, limited by the growth; linear in each triangle.</returns>
    /// <exception cref="ArgumentException">The number of sizes differs from that of the triangles, or one is not positive and finite.</exception>
    public static SizeField FromMesh(Mesh previous, ReadOnlySpan<double> newSizes, double growth = 0.3)
    {
        ArgumentNullException.ThrowIfNull(previous);
        Guard.Length(newSizes.Length, previous.TriangleCount, nameof(newSizes));
        Guard.Positive(growth);
        var sizes = new double[previous.VertexCount];
        Array.Fill(sizes, double.PositiveInfinity);
        for (var t = 0; t < previous.TriangleCount; t++)
        {
            Guard.Positive(newSizes[t], nameof(newSizes));
            for (var e = 0; e < 3; e++)
            {
                ref var size = ref sizes[previous.Triangles[(6 * t) + e]];
                size = Math.Min(size, newSizes[t]);
            }
        }
        Limit(previous, sizes, growth);
        return new(previous, sizes);
    }

    /// <summary>Size at a point, m; outside the mesh, that of the nearest vertex.</summary>
    /// <param name="x">x or r, m.</param>
    /// <param name="y">y or z, m.</param>
    public double At(double x, double y)
    {
        var place = mesh.Locate(x, y);
        if (!place.IsInside)
            return sizes[mesh.NearestVertex(x, y)];
        var t = 6 * place.Triangle;
        return ((1 - place.Xi - place.Eta) * sizes[mesh.Triangles[t]]) + (place.Xi * sizes[mesh.Triangles[t + 1]]) + (place.Eta * sizes[mesh.Triangles[t + 2]]);
    }

    /// <summary>Lowers sizes until none exceeds a neighbour's by more than the growth: smallest first, as in a shortest-path search.</summary>
    private static void Limit(Mesh mesh, double[] sizes, double growth)
    {
        var starts = new int[sizes.Length + 1];
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            for (var e = 0; e < 3; e++)
                starts[mesh.Triangles[(6 * t) + e] + 1]++;
        }
        for (var v = 0; v < sizes.Length; v++)
            starts[v + 1] += starts[v];
        var around = new int[starts[^1]];
        var next = starts.AsSpan(0, sizes.Length).ToArray();
        for (var t = 0; t < mesh.TriangleCount; t++)
        {
            for (var e = 0; e < 3; e++)
                around[next[mesh.Triangles[(6 * t) + e]]++] = t;
        }
        var queue = new PriorityQueue<int, double>(sizes.Select((size, v) => (v, size)));
        while (queue.TryDequeue(out var v, out var size))
        {
            if (size > sizes[v])
                continue;
            for (var i = starts[v]; i < starts[v + 1]; i++)
            {
                for (var e = 0; e < 3; e++)
                {
                    var w = mesh.Triangles[(6 * around[i]) + e];
                    var most = size + (growth * mesh.NodeAt(v).DistanceTo(mesh.NodeAt(w)));
                    if (most < sizes[w])
                    {
                        sizes[w] = most;
                        queue.Enqueue(w, most);
                    }
                }
            }
        }
    }
}
