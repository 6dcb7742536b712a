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
    public FrontTree(SymmetricPattern pattern, Adjacency graph, int[] permutation)
    {
        var n = graph.Order;
        var tree = new EliminationTree(graph, permutation);
        var (chains, parentOf) = Gather(tree);
        Count = chains.Count;
        Parent = parentOf;
        Permutation = new int[n];
        var place = new int[n]; // of a column of the elimination tree in the final order
        var column = new int[n];
        Inverse = new int[n];
        FirstColumn = new int[Count + 1];
        var k = 0;
        for (var f = 0; f < Count; f++)
        {
            foreach (var j in chains[f])
            {
                var unknown = permutation[j];
                Inverse[unknown] = k;
                place[j] = k;
                column[k] = j;
                Permutation[k++] = unknown;
            }
            FirstColumn[f + 1] = k;
        }
        (ChildStarts, Children) = ListChildren(Parent);
        for (var p = 0; p < tree.Above.Length; p++)
            tree.Above[p] = place[tree.Above[p]]; // in final places from here on
        (RowStarts, Rows) = FindRows(tree, column);
        RelativeRows = new int[Rows.Length];
        MapStarts = new int[Count + 1];
        MapSources = new int[pattern.EntryCount];
        MapTargets = new int[pattern.EntryCount];
        PanelStarts = new long[Count + 1];
        Place(pattern, tree, column);
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

    private static (int[] Starts, int[] Children) ListChildren(int[] parent)
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

    // Fundamental supernodes first, then children merged into parents where the model of cost says that it is quicker.
    private static (List<int[]> Chains, int[] Parent) Gather(EliminationTree tree)
    {
        var n = tree.Parent.Length;
        var supernodeOf = new int[n];
        var starts = new List<int>();
        for (var k = 0; k < n; k++)
        {
            var j = tree.Postorder[k];
            if (k == 0 || tree.Parent[tree.Postorder[k - 1]] != j || tree.Counts[tree.Postorder[k - 1]] != tree.Counts[j] + 1)
                starts.Add(k);
            supernodeOf[j] = starts.Count - 1;
        }
        var count = starts.Count;
        starts.Add(n);
        var parent = new int[count];
        var pivots = new int[count];
        var rows = new int[count];
        var head = new int[count]; // chain of supernodes merged into one, in order of elimination
        var tail = new int[count];
        var next = new int[count];
        for (var s = 0; s < count; s++)
        {
            var above = tree.Parent[tree.Postorder[starts[s + 1] - 1]];
            parent[s] = above < 0 ? -1 : supernodeOf[above];
            pivots[s] = starts[s + 1] - starts[s];
            rows[s] = tree.Counts[tree.Postorder[starts[s]]];
            head[s] = tail[s] = s;
            next[s] = -1;
        }
        var (childStarts, children) = ListChildren(parent);
        var merged = new bool[count];
        for (var s = 0; s < count; s++)
        {
            var list = children.AsSpan(childStarts[s], childStarts[s + 1] - childStarts[s]);
            list.Sort((a, b) => rows[a] != rows[b] ? rows[b].CompareTo(rows[a]) : a.CompareTo(b));
            foreach (var c in list)
            {
                var together = Cost.Time(rows[s] + pivots[c], pivots[s] + pivots[c]);
                if (together >= Cost.Time(rows[s], pivots[s]) + Cost.Time(rows[c], pivots[c]))
                    continue;
                merged[c] = true;
                rows[s] += pivots[c];
                pivots[s] += pivots[c];
                next[tail[c]] = head[s];
                head[s] = head[c];
            }
        }
        for (var s = count - 1; s >= 0; s--)
            if (parent[s] >= 0 && merged[parent[s]])
                parent[s] = parent[parent[s]]; // parents come later, so theirs is already final
        return Arrange(tree, starts, parent, pivots, rows, head, next, merged);
    }

    // Postorder of what is left, children in the order that keeps the stack of updates least (Liu 1986).
    private static (List<int[]>, int[]) Arrange(EliminationTree tree, List<int> starts, int[] parent, int[] pivots, int[] rows, int[] head, int[] next, bool[] merged)
    {
        var count = parent.Length;
        var living = Enumerable.Range(0, count).Where(s => !merged[s]).ToArray();
        var up = parent.Select((p, s) => merged[s] ? -1 : p).ToArray();
        var (childStarts, children) = ListChildren(up);
        var size = new long[count];
        var peak = new long[count];
        foreach (var s in living)
        {
            size[s] = UpdateSize(rows[s] - pivots[s]);
            var list = children.AsSpan(childStarts[s], childStarts[s + 1] - childStarts[s]);
            list.Sort((a, b) => (peak[b] - size[b]).CompareTo(peak[a] - size[a]) is var order && order != 0 ? order : a.CompareTo(b));
            long held = 0;
            foreach (var c in list)
            {
                peak[s] = Math.Max(peak[s], held + peak[c]);
                held += size[c];
            }
            peak[s] = Math.Max(peak[s], held + size[s]);
        }
        var chains = new List<int[]>(living.Length);
        var number = new int[count];
        var parents = new int[living.Length];
        var stack = new Stack<(int Node, int Child)>();
        foreach (var root in living)
        {
            if (up[root] >= 0)
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
                number[top.Node] = chains.Count;
                var columns = new int[pivots[top.Node]];
                var k = 0;
                for (var s = head[top.Node]; s >= 0; s = next[s])
                    for (var p = starts[s]; p < starts[s + 1]; p++)
                        columns[k++] = tree.Postorder[p];
                chains.Add(columns);
            }
        }
        foreach (var s in living)
            parents[number[s]] = up[s] < 0 ? -1 : number[up[s]];
        return (chains, parents);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private (int[] Starts, int[] Rows) FindRows(EliminationTree tree, int[] column)
    {
        var n = column.Length;
        var starts = new int[Count + 1];
        var unsorted = new int[n * 4];
        var count = 0;
        var mark = new int[n];
        Array.Fill(mark, -1);
        var perRow = new int[n + 1];
        for (var f = 0; f < Count; f++)
        {
            var end = FirstColumn[f + 1];
            var most = 0;
            for (var j = FirstColumn[f]; j < end; j++)
                most += tree.AboveStarts[column[j] + 1] - tree.AboveStarts[column[j]];
            for (var c = ChildStarts[f]; c < ChildStarts[f + 1]; c++)
                most += starts[Children[c] + 1] - starts[Children[c]];
            if (count + (long)most > unsorted.Length)
                Array.Resize(ref unsorted, checked((int)Math.Max(unsorted.Length + unsorted.Length / 2L, count + (long)most)));
            for (var j = FirstColumn[f]; j < end; j++)
            {
                var source = column[j];
                for (var p = tree.AboveStarts[source]; p < tree.AboveStarts[source + 1]; p++)
                {
                    var row = tree.Above[p];
                    if (row < end || mark[row] == f)
                        continue;
                    mark[row] = f;
                    unsorted[count++] = row;
                    perRow[row + 1]++;
                }
            }
            for (var c = ChildStarts[f]; c < ChildStarts[f + 1]; c++)
                for (int p = starts[Children[c]], last = starts[Children[c] + 1]; p < last; p++)
                {
                    var row = unsorted[p];
                    if (row < end || mark[row] == f)
                        continue;
                    mark[row] = f;
                    unsorted[count++] = row;
                    perRow[row + 1]++;
                }
            starts[f + 1] = count;
        }
        // Sorted by a transposition there and back.
        for (var i = 0; i < n; i++)
            perRow[i + 1] += perRow[i];
        var fronts = new int[count];
        var nextOfRow = perRow.AsSpan(0, n).ToArray();
        for (var f = 0; f < Count; f++)
            for (var p = starts[f]; p < starts[f + 1]; p++)
                fronts[nextOfRow[unsorted[p]]++] = f;
        var rows = new int[count];
        var next = starts.AsSpan(0, Count).ToArray();
        for (var i = 0; i < n; i++)
            for (var p = perRow[i]; p < perRow[i + 1]; p++)
                rows[next[fronts[p]]++] = i;
        return (starts, rows);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Place(SymmetricPattern pattern, EliminationTree tree, int[] column)
    {
        var place = new int[column.Length];
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
            {
                var original = Permutation[first + j];
                MapSources[k] = pattern.ColumnStarts[original];
                MapTargets[k++] = j * ld + j;
                for (int p = tree.AboveStarts[column[first + j]], end = tree.AboveStarts[column[first + j] + 1]; p < end; p++)
                {
                    MapSources[k] = tree.AboveSources[p];
                    MapTargets[k++] = j * ld + place[tree.Above[p]];
                }
            }
            MapStarts[f + 1] = k;
        }
    }

    /// <summary>A rough model of what a front costs, in nanoseconds: fixed work, zeroing and adding, arithmetic.</summary>
    private static class Cost
    {
        public static double Operations(double rows, double pivots) => pivots * (rows * rows - rows * pivots + pivots * pivots / 3);

        public static double Time(double rows, double pivots)
        {
            var update = rows - pivots;
            return 300 + 0.5 * update * update + 0.3 * rows * pivots + Operations(rows, pivots) / 6;
        }
    }
}
