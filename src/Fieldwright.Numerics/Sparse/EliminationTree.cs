namespace Fieldwright.Numerics.Sparse;

/// <summary>Elimination tree of a permuted symmetric matrix, its postorder, and the number of entries in each column of the factor.</summary>
/// <source key="GilbertNgPeyton1994"/>
internal sealed class EliminationTree
{
    /// <summary>Builds the tree.</summary>
    /// <param name="graph">The matrix.</param>
    /// <param name="permutation">The unknown eliminated first, second, ….</param>
    public EliminationTree(Adjacency graph, int[] permutation)
    {
        var n = graph.Order;
        Parent = new int[n];
        Postorder = new int[n];
        Counts = new int[n];
        var inverse = new int[n];
        for (var i = 0; i < n; i++)
            inverse[permutation[i]] = i;

        var ancestor = new int[n]; // with path compression
        for (var i = 0; i < n; i++)
        {
            Parent[i] = ancestor[i] = -1;
            var original = permutation[i];
            for (var p = graph.Starts[original]; p < graph.Starts[original + 1]; p++)
            {
                for (var k = inverse[graph.Neighbours[p]]; k < i && k >= 0;)
                {
                    var above = ancestor[k];
                    ancestor[k] = i;
                    if (above < 0)
                    {
                        Parent[k] = i;
                        break;
                    }
                    k = above;
                }
            }
        }
        ComputePostorder();
        ComputeCounts(graph, permutation, inverse);
    }

    /// <summary>Parent of each column, −1 for a root.</summary>
    public int[] Parent { get; }

    /// <summary>The column visited first, second, …, children before parents and subtrees together.</summary>
    public int[] Postorder { get; }

    /// <summary>Entries of each column of L, the diagonal included.</summary>
    public int[] Counts { get; }

    private void ComputePostorder()
    {
        var n = Parent.Length;
        var child = new int[n];
        var sibling = new int[n];
        Array.Fill(child, -1);
        Array.Fill(sibling, -1);
        for (var i = n - 1; i >= 0; i--)
            if (Parent[i] >= 0)
            {
                sibling[i] = child[Parent[i]];
                child[Parent[i]] = i;
            }
        var stack = new int[n];
        var k = 0;
        for (var root = 0; root < n; root++)
        {
            if (Parent[root] >= 0)
                continue;
            var top = 0;
            stack[top++] = root;
            while (top > 0)
            {
                var i = stack[top - 1];
                if (child[i] >= 0)
                {
                    var next = child[i];
                    child[i] = sibling[next];
                    stack[top++] = next;
                }
                else
                {
                    Postorder[k++] = i;
                    top--;
                }
            }
        }
    }

    private void ComputeCounts(Adjacency graph, int[] permutation, int[] inverse)
    {
        var n = Parent.Length;
        var first = new int[n];
        var greatestFirst = new int[n];
        var previousLeaf = new int[n];
        var ancestor = new int[n];
        Array.Fill(first, -1);
        Array.Fill(greatestFirst, -1);
        Array.Fill(previousLeaf, -1);
        for (var k = 0; k < n; k++)
        {
            var j = Postorder[k];
            Counts[j] = first[j] < 0 ? 1 : 0;
            for (; j >= 0 && first[j] < 0; j = Parent[j])
                first[j] = k;
            ancestor[k] = k;
        }
        for (var k = 0; k < n; k++)
        {
            var j = Postorder[k];
            if (Parent[j] >= 0)
                Counts[Parent[j]]--;
            var original = permutation[j];
            for (var p = graph.Starts[original]; p < graph.Starts[original + 1]; p++)
            {
                var i = inverse[graph.Neighbours[p]];
                if (i <= j || first[j] <= greatestFirst[i])
                    continue;
                // j is a leaf of row i's subtree.
                greatestFirst[i] = first[j];
                var before = previousLeaf[i];
                previousLeaf[i] = j;
                Counts[j]++;
                if (before < 0)
                    continue;
                var common = before;
                while (common != ancestor[common])
                    common = ancestor[common];
                for (var s = before; s != common;)
                {
                    var above = ancestor[s];
                    ancestor[s] = common;
                    s = above;
                }
                Counts[common]--;
            }
            if (Parent[j] >= 0)
                ancestor[j] = Parent[j];
        }
        for (var k = 0; k < n; k++)
        {
            var j = Postorder[k];
            if (Parent[j] >= 0)
                Counts[Parent[j]] += Counts[j];
        }
    }
}
