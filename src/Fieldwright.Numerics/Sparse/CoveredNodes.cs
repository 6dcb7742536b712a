using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Nodes of a graph that another one covers: it is their neighbour, and all their neighbours are its own. A midside of quadratic triangles is covered by either end of its side.
/// Whatever separates what covers them separates them too, and to eliminate one just before the first that covers it fills nothing that would not have been filled:
/// so an order of the others, a quarter of the nodes there, is made first, and is an order of all.
/// </summary>
/// <source key="GeorgeLiu1989"/>
internal sealed unsafe class CoveredNodes
{
    private const int Most = 200; // neighbours of a node that may cover: a row full across the whole matrix would cover all of it

    private readonly int[] _starts; // node i covers _covered[_starts[i] … _starts[i + 1] − 1]; none if it is covered itself
    private readonly int[] _covered;

    public CoveredNodes(Adjacency graph)
    {
        var n = graph.Order;
        IsCovered = new bool[n];
        _starts = new int[n + 1];
        var first = new int[n];
        var found = new List<int>(n + n / 2);
        var mark = new int[n];
        var mean = n == 0 ? 0 : graph.Neighbours.Length / n;
        // Those of many neighbours first: what they cover need not be looked at any more. Who turns out to be covered only later covers nothing that the other does not.
        for (var many = 1; many >= 0; many--)
            for (var u = 0; u < n; u++)
            {
                var degree = graph.Starts[u + 1] - graph.Starts[u];
                if (degree > mean != (many == 1) || IsCovered[u] || degree > Most)
                    continue;
                first[u] = found.Count;
                Find(graph, u, mark, found);
                _starts[u + 1] = found.Count - first[u];
            }
        for (var i = 0; i < n; i++)
        {
            if (IsCovered[i])
            {
                Count++;
                _starts[i + 1] = 0;
            }
            _starts[i + 1] += _starts[i];
        }
        _covered = new int[_starts[n]];
        for (var i = 0; i < n; i++)
            CollectionsMarshal.AsSpan(found).Slice(first[i], _starts[i + 1] - _starts[i]).CopyTo(_covered.AsSpan(_starts[i]));
    }

    /// <summary>How many nodes are covered.</summary>
    public int Count { get; }

    public bool[] IsCovered { get; }

    /// <summary>What a node covers; nothing if it is covered itself.</summary>
    public ReadOnlySpan<int> Under(int node) => _covered.AsSpan(_starts[node].._starts[node + 1]);

    /// <summary>Makes an order of the nodes that are not covered into one of all, each joined with what goes in before it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public EliminationOrder Complete(ReadOnlySpan<int> order)
    {
        var all = new int[IsCovered.Length];
        var joined = new bool[all.Length];
        var placed = new bool[all.Length];
        var k = 0;
        foreach (var i in order)
        {
            var first = k;
            foreach (var e in Under(i))
            {
                if (placed[e])
                    continue;
                placed[e] = true;
                joined[k] = k > first;
                all[k++] = e;
            }
            joined[k] = k > first;
            all[k++] = i;
        }
        return new EliminationOrder(all, joined);
    }

    // Adds the nodes that u covers. The marks are u + 1 at u and its neighbours.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Find(Adjacency graph, int u, int[] marks, List<int> found)
    {
        fixed (int* starts = graph.Starts, neighbours = graph.Neighbours, mark = marks)
        {
            int from = starts[u], to = starts[u + 1];
            mark[u] = u + 1;
            for (var p = from; p < to; p++)
                mark[neighbours[p]] = u + 1;
            for (var p = from; p < to; p++)
            {
                var e = neighbours[p];
                int q = starts[e], end = starts[e + 1];
                if (end - q > to - from)
                    continue;
                while (q < end && mark[neighbours[q]] == u + 1)
                    q++;
                if (q < end)
                    continue;
                IsCovered[e] = true;
                found.Add(e);
            }
        }
    }
}
