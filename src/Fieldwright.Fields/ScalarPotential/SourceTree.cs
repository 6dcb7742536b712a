using Fieldwright.Fields.Assembly;
using Fieldwright.Fields.Elements;

namespace Fieldwright.Fields.ScalarPotential;

/// <summary>The way by which the current of each triangle is led out of the mesh, so that edge magnetomotive forces add up to it.</summary>
/// <remarks>A shortest-path tree over the triangles inside the rim, going round magnetic matter where it can: each triangle hands what flows through it and
/// through those behind it to the next across one edge. A long model's currents cancel at the root; a round model's leave across an edge of the
/// axis, along which H has every right to stand.</remarks>
internal sealed class SourceTree
{
    private readonly MeshedModel meshed;
    private readonly int[] order;
    private readonly int[] exit;

    public SourceTree(MeshedModel meshed)
    {
        this.meshed = meshed;
        var space = meshed.Space;
        var materials = new MaterialTable(meshed.Model, space);
        var root = 0;
        var rootEdge = -1;
        if (space.Symmetry == Symmetry.Round) (root, rootEdge) = AxisEdge(space);
        else root = Math.Max(0, Array.IndexOf(space.Region, 0, 0, space.InsideCount));
        var cost = new double[space.InsideCount];
        Array.Fill(cost, double.PositiveInfinity);
        exit = new int[space.InsideCount];
        var done = new List<int>(space.InsideCount);
        var queue = new PriorityQueue<int, double>();
        cost[root] = 0;
        exit[root] = rootEdge;
        queue.Enqueue(root, 0);
        var settled = new bool[space.InsideCount];
        while (queue.TryDequeue(out var e, out _))
        {
            if (settled[e]) continue;
            settled[e] = true;
            done.Add(e);
            for (var k = 0; k < 3; k++)
            {
                var next = space.Mesh.Neighbours[(3 * e) + k];
                if (next < 0 || settled[next]) continue;
                var through = cost[e] + (materials.Matter(next).Curve is null ? Math.Max(1, materials.Matter(next).RelativePermeability) : 1000);
                if (through >= cost[next]) continue;
                cost[next] = through;
                exit[next] = Shared(space, next, e);
                queue.Enqueue(next, through);
            }
        }
        order = [.. done];
    }

    /// <summary>A source field for a current density that is even over each region.</summary>
    /// <param name="density">A/m², in the order of <see cref="FieldSpace.Regions"/>.</param>
    /// <exception cref="NetCurrentException">A long model's currents do not cancel.</exception>
    public SourceField Carry(double[] density)
    {
        var space = meshed.Space;
        var circulation = new double[space.NodeCount];
        var bubbles = new Dictionary<int, SourceField.Bubble>();
        double gross = 0, left = 0;
        // counter-clockwise in the plane is about +z when long and about −φ when round
        var sense = space.Symmetry == Symmetry.Round ? -1 : 1;
        for (var i = order.Length - 1; i >= 0; i--)
        {
            var e = order[i];
            var j = sense * density[space.RegionIndex[e]];
            var current = 0.0;
            if (j != 0 && space.Curved[e])
            {
                var bubble = bubbles[e] = new(space, e, j);
                current = bubble.Current;
            }
            else if (j != 0)
            {
                current = j * meshed.Matrices.Area[e];
            }
            gross += Math.Abs(current);
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var k = 0; k < 3; k++)
                if (k != exit[e]) current -= SourceField.Along(nodes, k) * circulation[nodes[3 + k]];
            if (exit[e] >= 0) circulation[nodes[3 + exit[e]]] = SourceField.Along(nodes, exit[e]) * current;
            else left = current;
        }
        if (Math.Abs(left) > 1e-6 * gross) throw new NetCurrentException(Math.Abs(left));
        return new SourceField(space, circulation, bubbles);
    }

    private static (int Element, int Edge) AxisEdge(FieldSpace space)
    {
        for (var e = 0; e < space.InsideCount; e++)
            for (var k = 0; k < 3; k++)
                if (space.Mesh.Neighbours[(3 * e) + k] < 0 && Math.Abs(space.Coordinates[2 * space.Triangles[(6 * e) + 3 + k]]) < 1e-9 * space.Radius) return (e, k);
        throw new InvalidOperationException("A round mesh has no edge on the axis.");
    }

    private static int Shared(FieldSpace space, int element, int neighbour)
    {
        for (var k = 0; k < 3; k++)
            if (space.Mesh.Neighbours[(3 * element) + k] == neighbour) return k;
        throw new InvalidOperationException($"Triangles {element} and {neighbour} do not share an edge.");
    }
}
