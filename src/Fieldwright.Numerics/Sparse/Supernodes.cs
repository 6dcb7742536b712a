using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Unknowns in the order of their elimination; those marked as joined are eliminated together with the one before them, as columns of one pattern, even where that stores a few zeros.
/// </summary>
internal readonly record struct EliminationOrder(int[] Unknowns, bool[] Joined)
{
    /// <summary>An order in which nothing is joined.</summary>
    public EliminationOrder(int[] unknowns)
        : this(unknowns, new bool[unknowns.Length])
    {
    }
}

/// <summary>
/// Columns that follow one another in a given order and fill alike, their rows, and the tree that they form: a supernode's parent is the one that has its first row as a pivot.
/// Rows and pivots are places in the given order. Each supernode's rows are gathered from the matrix and from the rows of its children, once.
/// </summary>
/// <source key="DuffErismanReid2017" at="chapter 12"/>
internal sealed unsafe class Supernodes
{
    private readonly int[] _firstChild; // of the supernodes whose first row is a place
    private readonly int[] _sibling;
    private readonly int[] _mark;       // the latest supernode that has a place among its rows
    private readonly int[] _inverse;
    private readonly Adjacency _graph;
    private int[] _rows;
    private int _rowCount;

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public Supernodes(Adjacency graph, EliminationOrder order)
    {
        var n = graph.Order;
        _graph = graph;
        _inverse = new int[n];
        for (var k = 0; k < n; k++)
            _inverse[order.Unknowns[k]] = k;
        _firstChild = new int[n];
        _mark = new int[n];
        Array.Fill(_firstChild, -1);
        Array.Fill(_mark, -1);
        _sibling = new int[n];
        _rows = new int[6 * n + 16];
        Starts = new int[n + 1];
        RowStarts = new int[n + 1];
        Parent = new int[n];
        var s = -1;
        for (int from = 0, to; from < n; from = to)
        {
            to = from + 1;
            while (to < n && order.Joined[to])
                to++;
            if (s < 0 || !Follows(s, order.Unknowns, from, to))
            {
                Close(s, from);
                Open(++s, order.Unknowns, from, to);
            }
            for (var k = from; k < to; k++)
                for (var c = _firstChild[k]; c >= 0; c = _sibling[c])
                    Parent[c] = s;
        }
        Close(s, n);
        Count = s + 1;
        Starts[Count] = n;
    }

    public int Count { get; }

    /// <summary>Supernode s has the pivots Starts[s] … Starts[s + 1] − 1.</summary>
    public int[] Starts { get; }

    /// <summary>Parent of each supernode, which comes after it; −1 for a root.</summary>
    public int[] Parent { get; }

    /// <summary>Supernode s has the rows Rows[RowStarts[s] … RowStarts[s + 1] − 1] besides its pivots, in no order.</summary>
    public int[] RowStarts { get; }

    public int[] Rows => _rows;

    // Whether places are rows of the supernode at hand, and bring no row that it has not.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Follows(int s, int[] unknowns, int from, int to)
    {
        for (var k = from; k < to; k++)
            if (_mark[k] != s)
                return false;
        fixed (int* starts = _graph.Starts, neighbours = _graph.Neighbours, inverse = _inverse, mark = _mark, rows = _rows)
            for (var k = from; k < to; k++)
            {
                for (int p = starts[unknowns[k]], end = starts[unknowns[k] + 1]; p < end; p++)
                    if (inverse[neighbours[p]] is var row && row >= to && mark[row] != s)
                        return false;
                for (var c = _firstChild[k]; c >= 0; c = _sibling[c])
                    for (int p = RowStarts[c], end = RowStarts[c + 1]; p < end; p++)
                        if (rows[p] >= to && mark[rows[p]] != s)
                            return false;
            }
        return true;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Open(int s, int[] unknowns, int from, int to)
    {
        Starts[s] = from;
        RowStarts[s] = _rowCount;
        long most = _rowCount;
        for (var k = from; k < to; k++)
        {
            most += _graph.Starts[unknowns[k] + 1] - _graph.Starts[unknowns[k]];
            for (var c = _firstChild[k]; c >= 0; c = _sibling[c])
                most += RowStarts[c + 1] - RowStarts[c];
        }
        if (most > _rows.Length)
            Array.Resize(ref _rows, checked((int)Math.Max(most, _rows.Length + _rows.Length / 2L)));
        fixed (int* starts = _graph.Starts, neighbours = _graph.Neighbours, inverse = _inverse, mark = _mark, rows = _rows)
        {
            var count = _rowCount;
            for (var k = from; k < to; k++)
            {
                for (int p = starts[unknowns[k]], end = starts[unknowns[k] + 1]; p < end; p++)
                    Add(inverse[neighbours[p]], to, s, mark, rows, ref count);
                for (var c = _firstChild[k]; c >= 0; c = _sibling[c])
                    for (int p = RowStarts[c], end = RowStarts[c + 1]; p < end; p++)
                        Add(rows[p], to, s, mark, rows, ref count);
            }
            _rowCount = count;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Add(int row, int to, int s, int* mark, int* rows, ref int count)
    {
        if (row < to || mark[row] == s)
            return;
        mark[row] = s;
        rows[count++] = row;
    }

    // Leaves out the rows that have become pivots since, and makes the supernode a child of its first row.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Close(int s, int end)
    {
        if (s < 0)
            return;
        var rows = _rows.AsSpan(0, _rowCount);
        var kept = RowStarts[s];
        var first = int.MaxValue;
        for (var p = kept; p < rows.Length; p++)
        {
            var row = rows[p];
            if (row < end)
                continue;
            rows[kept++] = row;
            first = Math.Min(first, row);
        }
        RowStarts[s + 1] = _rowCount = kept;
        Parent[s] = -1;
        if (first == int.MaxValue)
            return;
        _sibling[s] = _firstChild[first];
        _firstChild[first] = s;
    }
}
