using Fieldwright.Geometry;

namespace Fieldwright.Fields.Elements;

/// <summary>Nodes of the right edge that follow those of the left one, and nodes held at zero.</summary>
internal sealed class Ties
{
    private Ties(Dictionary<int, int> master, HashSet<int> zero, double sign) => (Master, Zero, Sign) = (master, zero, sign);

    /// <summary>Node on the left of each node on the right.</summary>
    public Dictionary<int, int> Master { get; }

    /// <summary>Nodes along the top.</summary>
    public HashSet<int> Zero { get; }

    /// <summary>1, or −1 where the sign turns.</summary>
    public double Sign { get; }

    public static Ties Between(Mesh mesh, RepeatingEdges edges, double top)
    {
        var slack = 1e-7 * edges.Period;
        SortedDictionary<double, int> left = [], right = [];
        var zero = new HashSet<int>();
        foreach (var edge in mesh.BoundaryEdges)
            foreach (var node in new[] { edge.From, edge.Middle, edge.To })
            {
                double x = mesh.Coordinates[2 * node], y = mesh.Coordinates[(2 * node) + 1];
                if (y > top - slack) zero.Add(node);
                else if (x < edges.Left + slack) left[y] = node;
                else if (x > edges.Right - slack) right[y] = node;
            }
        if (left.Count != right.Count || left.Keys.Zip(right.Keys).Any(p => Math.Abs(p.First - p.Second) > slack))
            throw new InvalidOperationException($"The edges of a repeating piece carry {left.Count} and {right.Count} nodes, which do not match.");
        return new(right.Values.Zip(left.Values).ToDictionary(p => p.First, p => p.Second), zero, edges.SignTurns ? -1 : 1);
    }
}
