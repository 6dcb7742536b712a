namespace Fieldwright.Fields.Elements;

/// <summary>Numbers of the cubic edge functions and bubbles that lie between the quadratic and the cubic space.</summary>
/// <remarks>An edge is known by its midside node. Its function changes sign with the direction it is walked in: positive from the lower node number.</remarks>
internal sealed class SurplusSpace
{
    public SurplusSpace(FieldSpace space)
    {
        var edgeOf = new int[space.NodeCount];
        Array.Fill(edgeOf, -1);
        Function = new int[4 * space.ElementCount];
        Sign = new double[4 * space.ElementCount];
        for (var e = 0; e < space.ElementCount; e++)
        {
            var nodes = space.Triangles.AsSpan(6 * e, 6);
            for (var k = 0; k < 3; k++)
            {
                ref var edge = ref edgeOf[nodes[3 + k]];
                if (edge < 0) edge = Count++;
                Function[(4 * e) + k] = edge;
                Sign[(4 * e) + k] = nodes[k] < nodes[(k + 1) % 3] ? 1 : -1;
            }
            Function[(4 * e) + 3] = Count++;
            Sign[(4 * e) + 3] = 1;
        }
    }

    public int Count { get; private set; }

    /// <summary>Global number of the four functions of each triangle.</summary>
    public int[] Function { get; }

    public double[] Sign { get; }
}
