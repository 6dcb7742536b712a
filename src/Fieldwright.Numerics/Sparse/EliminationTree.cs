using System.Runtime.CompilerServices;

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
        AboveStarts = new int[n + 1];
        Above = new int[graph.Neighbours.Length / 2];
        AboveSources = new int[Above.Length];
        Climb(graph, permutation);
        ComputePostorder();
        ComputeCounts();
    }

    /// <summary>Parent of each column, −1 for a root.</summary>
    public int[] Parent { get; }

    /// <summary>The column visited first, second, …, children before parents and subtrees together.</summary>
    public int[] Postorder { get; }

    /// <summary>Entries of each column of L, the diagonal included.</summary>
    public int[] Counts { get; }

    /// <summary>Column j of the permuted matrix has the rows Above[AboveStarts[j] … AboveStarts[j + 1] − 1] below its diagonal.</summary>
    public int[] AboveStarts { get; }

    /// <inheritdoc cref="AboveStarts"/>
    public int[] Above { get; }

    /// <summary>For each entry of <see cref="Above"/>: index of its value among those of the lower triangle.</summary>
    public int[] AboveSources { get; }

    // The tree, and on the way the matrix in the order of elimination.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Climb(Adjacency graph, int[] permutation)
    {
        var n = permutation.Length;
        var inverse = new int[n];
        for (var i = 0; i < n; i++)
            inverse[permutation[i]] = i;
        var ancestor = new int[n]; // with path compression
        var before = new int[n];   // lesser neighbours of the column at hand
        int[] above = Above, sources = AboveSources, starts = graph.Starts, neighbours = graph.Neighbours, values = graph.Sources, parent = Parent;
        var end = 0;
        for (var i = 0; i < n; i++)
        {
            parent[i] = ancestor[i] = -1;
            var original = permutation[i];
            var lesser = 0;
            for (var p = starts[original]; p < starts[original + 1]; p++)
            {
                var k = inverse[neighbours[p]];
                if (k < i)
                {
                    before[lesser++] = k;
                    continue;
                }
                above[end] = k;
                sources[end++] = values[p];
            }
            AboveStarts[i + 1] = end;
            for (var p = 0; p < lesser; p++)
                for (var k = before[p]; k != i && k >= 0;)
                {
                    var next = ancestor[k];
                    ancestor[k] = i;
                    if (next < 0)
                        parent[k] = i;
                    k = next;
                }
        }
    }

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

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void ComputeCounts()
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
            for (var p = AboveStarts[j]; p < AboveStarts[j + 1]; p++)
            {
                var i = Above[p];
                if (first[j] <= greatestFirst[i])
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
