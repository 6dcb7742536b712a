using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// The symbolic factorisation: columns of equal or nearly equal pattern gathered into fronts, the fronts as a tree in postorder, the rows of each,
/// and where every value of the matrix and every row of a child's update goes. A front of m rows and n pivots is stored as a panel of n columns,
/// leading dimension m rounded up to 4, and hands its parent an update matrix of r = m − n rows.
/// </summary>
/// <source key="DuffReid1983"/>
/// <source key="AshcraftGrimes1989"/>
internal sealed class FrontTree
{
    public FrontTree(SymmetricPattern pattern, Adjacency graph, EliminationOrder order)
    {
        var n = graph.Order;
        var nodes = new Supernodes(graph, order);
        var merging = new Merging(nodes);
        var tops = merging.Arrange(out var parent); // the supernode that each front's others are merged into
        Count = tops.Length;
        Parent = parent;
        Permutation = new int[n];
        Inverse = new int[n];
        FirstColumn = new int[Count + 1];
        var place = new int[n]; // in the final order, of a place in the given one
        var k = 0;
        for (var f = 0; f < Count; f++)
        {
            for (var s = merging.Head[tops[f]]; s >= 0; s = merging.Next[s])
                for (var p = nodes.Starts[s]; p < nodes.Starts[s + 1]; p++)
                {
                    place[p] = k;
                    Permutation[k++] = order.Unknowns[p];
                }
            FirstColumn[f + 1] = k;
        }
        for (k = 0; k < n; k++)
            Inverse[Permutation[k]] = k;
        (ChildStarts, Children) = ListChildren(Parent);
        (RowStarts, Rows) = SortRows(nodes, tops, place);
        RelativeRows = new int[Rows.Length];
        MapStarts = new int[Count + 1];
        MapSources = new int[pattern.EntryCount];
        MapTargets = new int[pattern.EntryCount];
        PanelStarts = new long[Count + 1];
        Place(pattern);
        for (var f = 0; f < Count; f++)
        {
            long m = RowCount(f), pivots = PivotCount(f);
            FactorEntries += pivots * m - pivots * (pivots - 1) / 2;
            Operations += Cost.Operations(m, pivots);
            MostRows = Math.Max(MostRows, (int)m);
        }
    }

    /// <summary>Number of fronts; every child comes before its parent, and subtrees lie together.</summary>
    public int Count { get; }

    /// <summary>Final order: the unknown eliminated first, second, ….</summary>
    public int[] Permutation { get; }

    /// <summary>Place of each unknown in the order of elimination.</summary>
    public int[] Inverse { get; }

    /// <summary>Parent front, −1 for a root.</summary>
    public int[] Parent { get; }

    public int[] ChildStarts { get; }

    public int[] Children { get; }

    /// <summary>Front f has pivots FirstColumn[f] to FirstColumn[f + 1] − 1.</summary>
    public int[] FirstColumn { get; }

    /// <summary>Front f has rows Rows[RowStarts[f] … RowStarts[f + 1] − 1] besides its pivots, ascending.</summary>
    public int[] RowStarts { get; }

    public int[] Rows { get; }

    /// <summary>For each entry of Rows: its place among the rows (pivots first) of the parent front.</summary>
    public int[] RelativeRows { get; }

    /// <summary>Values of the matrix that enter front f: MapStarts[f] … MapStarts[f + 1] − 1.</summary>
    public int[] MapStarts { get; }

    public int[] MapSources { get; }

    /// <summary>Offset within the front's panel.</summary>
    public int[] MapTargets { get; }

    /// <summary>Offset of each panel when all lie one after another.</summary>
    public long[] PanelStarts { get; }

    /// <summary>Entries of L with the diagonal, explicit zeros of gathered columns included.</summary>
    public long FactorEntries { get; }

    public double Operations { get; }

    /// <summary>Rows of the largest front.</summary>
    public int MostRows { get; }

    public int PivotCount(int front) => FirstColumn[front + 1] - FirstColumn[front];

    public int UpdateCount(int front) => RowStarts[front + 1] - RowStarts[front];

    public int RowCount(int front) => PivotCount(front) + UpdateCount(front);

    public int LeadingDimension(int front) => (RowCount(front) + 3) & ~3;

    /// <summary>Numbers of an update matrix of r rows: a square of r rounded up to 4.</summary>
    public static long UpdateSize(int rows)
    {
        long padded = (rows + 3) & ~3;
        return padded * padded;
    }

    internal static (int[] Starts, int[] Children) ListChildren(int[] parent)
    {
        var starts = new int[parent.Length + 1];
        foreach (var p in parent)
            if (p >= 0)
                starts[p + 1]++;
        for (var f = 0; f < parent.Length; f++)
            starts[f + 1] += starts[f];
        var children = new int[starts[^1]];
        var next = starts.AsSpan(0, parent.Length).ToArray();
        for (var f = 0; f < parent.Length; f++)
            if (parent[f] >= 0)
                children[next[parent[f]]++] = f;
        return (starts, children);
    }

    // The rows of each front, in final places and ascending: sorted by a transposition there and back.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static (int[] Starts, int[] Rows) SortRows(Supernodes nodes, int[] tops, int[] place)
    {
        var n = place.Length;
        var starts = new int[tops.Length + 1];
        var perRow = new int[n + 1];
        for (var f = 0; f < tops.Length; f++)
        {
            int from = nodes.RowStarts[tops[f]], to = nodes.RowStarts[tops[f] + 1];
            starts[f + 1] = starts[f] + to - from;
            foreach (var row in nodes.Rows.AsSpan(from, to - from))
                perRow[place[row] + 1]++;
        }
        for (var i = 0; i < n; i++)
            perRow[i + 1] += perRow[i];
        var fronts = new int[starts[^1]];
        var nextOfRow = perRow.AsSpan(0, n).ToArray();
        for (var f = 0; f < tops.Length; f++)
            foreach (var row in nodes.Rows.AsSpan(nodes.RowStarts[tops[f]], starts[f + 1] - starts[f]))
                fronts[nextOfRow[place[row]]++] = f;
        var rows = new int[fronts.Length];
        var next = starts.AsSpan(0, tops.Length).ToArray();
        for (var i = 0; i < n; i++)
            for (var p = perRow[i]; p < perRow[i + 1]; p++)
                rows[next[fronts[p]]++] = i;
        return (starts, rows);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private unsafe void Place(SymmetricPattern pattern)
    {
        // Values by final column; the row of each stands in for its target meanwhile.
        var n = Permutation.Length;
        var ends = new int[n + 1]; // of each column's values, once all are in
        fixed (int* starts = pattern.ColumnStarts, rows = pattern.RowIndices, inverse = Inverse, end = ends, sources = MapSources, targets = MapTargets)
        {
            for (var j = 0; j < n; j++)
                for (int p = starts[j], last = starts[j + 1], other = inverse[j]; p < last; p++)
                    end[Math.Min(inverse[rows[p]], other) + 1]++;
            for (var j = 0; j < n; j++)
                end[j + 1] += end[j];
            for (var j = 0; j < n; j++)
                for (int p = starts[j], last = starts[j + 1], other = inverse[j]; p < last; p++)
                {
                    var one = inverse[rows[p]];
                    var at = end[Math.Min(one, other)]++;
                    sources[at] = p;
                    targets[at] = Math.Max(one, other);
                }
        }
        var place = new int[n];
        var k = 0;
        for (var f = 0; f < Count; f++)
        {
            var first = FirstColumn[f];
            var pivots = PivotCount(f);
            var ld = LeadingDimension(f);
            if ((long)ld * pivots > int.MaxValue)
                throw new NotSupportedException($"a front of {ld} rows and {pivots} pivots is beyond what a panel can hold");
            PanelStarts[f + 1] = PanelStarts[f] + (((long)ld * pivots + 7) & ~7);
            for (var j = 0; j < pivots; j++)
                place[first + j] = j;
            for (var p = RowStarts[f]; p < RowStarts[f + 1]; p++)
                place[Rows[p]] = pivots + p - RowStarts[f];
            for (var c = ChildStarts[f]; c < ChildStarts[f + 1]; c++)
                for (var p = RowStarts[Children[c]]; p < RowStarts[Children[c] + 1]; p++)
                    RelativeRows[p] = place[Rows[p]];
            for (var j = 0; j < pivots; j++)
                for (var end = ends[first + j]; k < end; k++)
                    MapTargets[k] = j * ld + place[MapTargets[k]];
            MapStarts[f + 1] = k;
        }
    }

    /// <summary>A rough model of what a front costs, in nanoseconds: fixed work, zeroing and adding, arithmetic that is dearer than real and cheaper than complex.</summary>
    internal static class Cost
    {
        public static double Operations(double rows, double pivots) => pivots * (rows * rows - rows * pivots + pivots * pivots / 3);

        public static double Time(double rows, double pivots)
        {
            var update = rows - pivots;
            return 300 + 0.5 * update * update + 0.3 * rows * pivots + Operations(rows, pivots) / 3;
        }
    }
}
