using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Gathers fronts whose pivots may be delayed: a front takes the columns its children could not eliminate between its own pivots and the rest.
/// Fronts are square, by columns; rows and columns are named by their place in the order of elimination, apart from one another once rows have been exchanged.
/// </summary>
internal sealed class FrontAssembly<T>(FrontTree tree, T[] lower, T[] upper)
    where T : unmanaged, INumberBase<T>
{
    private readonly Contribution?[] _waiting = new Contribution?[tree.Count];
    private readonly int[] _rowPlace = new int[tree.Permutation.Length];
    private readonly int[] _columnPlace = new int[tree.Permutation.Length];

    public (T[] Values, int Summed, int[] RowIds, int[] ColumnIds) Assemble(int front)
    {
        var pivots = tree.PivotCount(front);
        var first = tree.FirstColumn[front];
        var children = tree.Children.AsSpan(tree.ChildStarts[front], tree.ChildStarts[front + 1] - tree.ChildStarts[front]);
        var summed = pivots;
        foreach (var c in children)
            summed += _waiting[c]!.Delayed;
        var m = summed + tree.UpdateCount(front);
        var rowIds = new int[m];
        var columnIds = new int[m];
        var k = 0;
        for (; k < pivots; k++)
            rowIds[k] = columnIds[k] = first + k;
        foreach (var c in children)
        {
            var child = _waiting[c]!;
            child.RowIds.AsSpan(0, child.Delayed).CopyTo(rowIds.AsSpan(k));
            child.ColumnIds.AsSpan(0, child.Delayed).CopyTo(columnIds.AsSpan(k));
            k += child.Delayed;
        }
        for (var p = tree.RowStarts[front]; p < tree.RowStarts[front + 1]; p++, k++)
            rowIds[k] = columnIds[k] = tree.Rows[p];
        for (var i = 0; i < m; i++)
        {
            _rowPlace[rowIds[i]] = i;
            _columnPlace[columnIds[i]] = i;
        }

        var a = new T[checked(m * m)];
        var ld = tree.LeadingDimension(front);
        for (var p = tree.MapStarts[front]; p < tree.MapStarts[front + 1]; p++)
        {
            // The map knows places in the front as analysed, without delayed columns.
            int column = tree.MapTargets[p] / ld, row = tree.MapTargets[p] % ld;
            if (row >= pivots)
                row += summed - pivots;
            var source = tree.MapSources[p];
            // Below the diagonal in the order of elimination may be above it in the caller's.
            var turned = tree.Permutation[rowIds[row]] < tree.Permutation[columnIds[column]];
            a[column * m + row] = turned ? upper[source] : lower[source];
            if (row != column)
                a[row * m + column] = turned ? lower[source] : upper[source];
        }
        foreach (var c in children)
        {
            var child = _waiting[c]!;
            _waiting[c] = null;
            var n = child.RowIds.Length;
            for (var j = 0; j < n; j++)
            {
                var to = _columnPlace[child.ColumnIds[j]] * m;
                for (var i = 0; i < n; i++)
                    a[to + _rowPlace[child.RowIds[i]]] += child.Values[j * n + i];
            }
        }
        return (a, summed, rowIds, columnIds);
    }

    /// <summary>Leaves what a front did not eliminate for its parent: delayed columns first.</summary>
    public void HandOn(int front, int delayed, int[] rowIds, int[] columnIds, T[] values) =>
        _waiting[front] = new Contribution(delayed, rowIds, columnIds, values);

    private sealed record Contribution(int Delayed, int[] RowIds, int[] ColumnIds, T[] Values);
}
