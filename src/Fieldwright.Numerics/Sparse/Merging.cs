namespace Fieldwright.Numerics.Sparse;

/// <summary>Supernodes merged into their parents where the model of cost says that this is quicker, and what is left put in order.</summary>
/// <source key="AshcraftGrimes1989"/>
internal sealed class Merging
{
    private readonly int[] _parent;
    private readonly int[] _pivots;
    private readonly int[] _rows; // pivots included
    private readonly bool[] _merged;

    public Merging(Supernodes nodes)
    {
        var count = nodes.Count;
        _parent = nodes.Parent.AsSpan(0, count).ToArray();
        _pivots = new int[count];
        _rows = new int[count];
        _merged = new bool[count];
        Head = new int[count];
        Next = new int[count];
        var tail = new int[count];
        for (var s = 0; s < count; s++)
        {
            _pivots[s] = nodes.Starts[s + 1] - nodes.Starts[s];
            _rows[s] = _pivots[s] + nodes.RowStarts[s + 1] - nodes.RowStarts[s];
            Head[s] = tail[s] = s;
            Next[s] = -1;
        }
        var (childStarts, children) = FrontTree.ListChildren(_parent);
        for (var s = 0; s < count; s++)
        {
            var list = children.AsSpan(childStarts[s], childStarts[s + 1] - childStarts[s]);
            if (list.Length > 1)
                list.Sort((a, b) => _rows[a] != _rows[b] ? _rows[b].CompareTo(_rows[a]) : a.CompareTo(b));
            foreach (var c in list)
            {
                var together = FrontTree.Cost.Time(_rows[s] + _pivots[c], _pivots[s] + _pivots[c]);
                if (together >= FrontTree.Cost.Time(_rows[s], _pivots[s]) + FrontTree.Cost.Time(_rows[c], _pivots[c]))
                    continue;
                _merged[c] = true;
                _rows[s] += _pivots[c];
                _pivots[s] += _pivots[c];
                Next[tail[c]] = Head[s];
                Head[s] = Head[c];
            }
        }
        for (var s = count - 1; s >= 0; s--)
            if (_parent[s] >= 0 && _merged[_parent[s]])
                _parent[s] = _parent[_parent[s]]; // parents come later, so theirs is already final
    }

    /// <summary>First of the supernodes merged into one, itself the last of them, in the order of their elimination.</summary>
    public int[] Head { get; }

    /// <summary>The next of them, −1 after the last.</summary>
    public int[] Next { get; }

    /// <summary>Postorder of the supernodes that are left, children in the order that keeps the stack of updates least (Liu 1986).</summary>
    /// <param name="parents">Receives the parent of each of those listed, by its place in the list; −1 for a root.</param>
    /// <returns>The supernodes.</returns>
    public int[] Arrange(out int[] parents)
    {
        var count = _parent.Length;
        var up = new int[count];
        var living = 0;
        for (var s = 0; s < count; s++)
        {
            up[s] = _merged[s] ? -1 : _parent[s];
            living += _merged[s] ? 0 : 1;
        }
        var (childStarts, children) = FrontTree.ListChildren(up);
        var size = new long[count];
        var peak = new long[count];
        for (var s = 0; s < count; s++)
        {
            if (_merged[s])
                continue;
            size[s] = FrontTree.UpdateSize(_rows[s] - _pivots[s]);
            var list = children.AsSpan(childStarts[s], childStarts[s + 1] - childStarts[s]);
            if (list.Length > 1)
                list.Sort((a, b) => (peak[b] - size[b]).CompareTo(peak[a] - size[a]) is var order && order != 0 ? order : a.CompareTo(b));
            long held = 0;
            foreach (var c in list)
            {
                peak[s] = Math.Max(peak[s], held + peak[c]);
                held += size[c];
            }
            peak[s] = Math.Max(peak[s], held + size[s]);
        }
        var listed = new int[living];
        var number = new int[count];
        var k = 0;
        var stack = new Stack<(int Node, int Child)>();
        for (var root = 0; root < count; root++)
        {
            if (_merged[root] || up[root] >= 0)
                continue;
            stack.Push((root, childStarts[root]));
            while (stack.TryPop(out var top))
            {
                if (top.Child < childStarts[top.Node + 1])
                {
                    stack.Push((top.Node, top.Child + 1));
                    stack.Push((children[top.Child], childStarts[children[top.Child]]));
                    continue;
                }
                number[top.Node] = k;
                listed[k++] = top.Node;
            }
        }
        parents = new int[living];
        for (k = 0; k < living; k++)
            parents[k] = up[listed[k]] < 0 ? -1 : number[up[listed[k]]];
        return listed;
    }
}
