using System.Buffers;
using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Gathers fronts whose pivots may be delayed: a front takes the columns its children could not eliminate between its own pivots and the rest.
/// Fronts are square, by columns; rows and columns are named by their place in the order of elimination, apart from one another once rows have been exchanged.
/// Of a symmetric front the summed columns are whole and the others hold what is on and below the diagonal.
/// </summary>
internal sealed class FrontAssembly<T>(FrontTree tree, T[] lower, T[] upper, bool symmetric)
    where T : unmanaged, INumberBase<T>
{
    private readonly Contribution?[] _waiting = new Contribution?[tree.Count];
    private readonly int[] _rowPlace = new int[tree.Permutation.Length];
    private readonly int[] _columnPlace = new int[tree.Permutation.Length];
    private readonly int[] _places = new int[tree.Permutation.Length];
    private T[] _front = GC.AllocateUninitializedArray<T>(checked((int)LargestFront(tree))); // more only where pivots are delayed

    /// <summary>Puts a front together. Its values lie in memory that the next front will use again.</summary>
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
        var columnIds = symmetric ? rowIds : new int[m];
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

        var size = checked(m * m);
        if (_front.Length < size)
            _front = GC.AllocateUninitializedArray<T>(size + size / 4);
        var a = _front;
        Array.Clear(a, 0, size);
        Scatter(front, a, m, summed - pivots, rowIds, columnIds);
        foreach (var c in children)
        {
            var child = _waiting[c]!;
            _waiting[c] = null;
            if (symmetric)
                AddTriangle(child, a, m, summed);
            else
                AddSquare(child, a, m);
            ArrayPool<T>.Shared.Return(child.Values);
        }
        return (a, summed, rowIds, columnIds);
    }

    /// <summary>Leaves what a front did not eliminate for its parent: delayed columns first.</summary>
    /// <param name="front">The front.</param>
    /// <param name="a">Its values, m rows.</param>
    /// <param name="m">Its rows.</param>
    /// <param name="pivots">Columns that were eliminated.</param>
    /// <param name="summed">Columns that might have been.</param>
    /// <param name="rowIds">Names of its rows.</param>
    /// <param name="columnIds">Names of its columns.</param>
    public void HandOn(int front, T[] a, int m, int pivots, int summed, int[] rowIds, int[] columnIds)
    {
        var rest = m - pivots;
        var values = ArrayPool<T>.Shared.Rent(rest * rest);
        for (var j = 0; j < rest; j++)
        {
            var from = symmetric ? j : 0;
            a.AsSpan((pivots + j) * m + pivots + from, rest - from).CopyTo(values.AsSpan(j * rest + from));
        }
        _waiting[front] = new Contribution(summed - pivots, rowIds[pivots..], columnIds[pivots..], values);
    }

    private static long LargestFront(FrontTree tree) => (long)tree.MostRows * tree.MostRows;

    private void Scatter(int front, T[] a, int m, int delayed, int[] rowIds, int[] columnIds)
    {
        var pivots = tree.PivotCount(front);
        var ld = tree.LeadingDimension(front);
        for (var p = tree.MapStarts[front]; p < tree.MapStarts[front + 1]; p++)
        {
            // The map knows places in the front as analysed, without delayed columns.
            var (column, row) = Math.DivRem(tree.MapTargets[p], ld);
            if (row >= pivots)
                row += delayed;
            var source = tree.MapSources[p];
            // Below the diagonal in the order of elimination may be above it in the caller's.
            var turned = tree.Permutation[rowIds[row]] < tree.Permutation[columnIds[column]];
            a[column * m + row] = turned ? upper[source] : lower[source];
            if (row != column)
                a[row * m + column] = turned ? lower[source] : upper[source];
        }
    }

    private void AddSquare(Contribution child, T[] a, int m)
    {
        var n = child.RowIds.Length;
        var places = _places.AsSpan(0, n);
        for (var i = 0; i < n; i++)
            places[i] = _rowPlace[child.RowIds[i]];
        for (var j = 0; j < n; j++)
        {
            var to = a.AsSpan(_columnPlace[child.ColumnIds[j]] * m, m);
            var from = child.Values.AsSpan(j * n, n);
            for (var i = 0; i < from.Length; i++)
                to[places[i]] += from[i];
        }
    }

    private void AddTriangle(Contribution child, T[] a, int m, int summed)
    {
        var n = child.RowIds.Length;
        var places = _places.AsSpan(0, n);
        for (var i = 0; i < n; i++)
            places[i] = _rowPlace[child.RowIds[i]];
        for (var j = 0; j < n; j++)
        {
            var from = child.Values.AsSpan(j * n, n);
            var pj = places[j];
            for (var i = j; i < n; i++)
            {
                var pi = places[i];
                var (low, high) = pi < pj ? (pi, pj) : (pj, pi);
                a[low * m + high] += from[i];
                if (high < summed && low < high)
                    a[high * m + low] += from[i];
            }
        }
    }

    private sealed record Contribution(int Delayed, int[] RowIds, int[] ColumnIds, T[] Values);
}
