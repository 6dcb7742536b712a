using System.Runtime.CompilerServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Nested dissection by place: a set of nodes is halved across its longest extent, the separator is made thinner by <see cref="SeparatorThinning"/>,
/// and what is small enough is ordered by minimum degree with the separators round it in view.
/// </summary>
/// <source key="George1973"/>
/// <source key="AshcraftLiu1997"/>
internal sealed class NestedDissection
{
    private const int LeafSize = 1000;
    private const int ManyDirections = 1000; // nodes above which several cuts are tried
    private const int Sample = 1024;         // nodes that stand for all when a cut is only tried

    private readonly Adjacency _graph;
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly int[] _nodes;     // the order being made: every set is a piece of it
    private readonly int[] _label;     // four times the set a node belongs to, plus its side while that set is being cut; −1 once in a separator
    private readonly int[] _local;     // number of a node within the leaf being ordered
    private readonly double[] _reach;  // distance to the farthest neighbour: who is farther from the cut cannot touch it
    private readonly double[] _keys;
    private readonly double[] _selected;
    private readonly int[] _aside;
    private readonly SeparatorThinning _thinning;
    private readonly MinimumDegree _leaf = new();
    private readonly List<int> _outside = [];
    private int[] _leafStarts = [];
    private int[] _leafNeighbours = [];

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private NestedDissection(Adjacency graph, double[] x, double[] y)
    {
        var n = graph.Order;
        _graph = graph;
        (_x, _y) = (x, y);
        _nodes = new int[n];
        _label = new int[n];
        _local = new int[n];
        _reach = new double[n];
        _keys = new double[n];
        _selected = new double[n];
        _aside = new int[n];
        _thinning = new SeparatorThinning(graph, _label);
        for (var i = 0; i < n; i++)
        {
            _nodes[i] = i;
            var farthest = 0.0;
            for (var p = graph.Starts[i]; p < graph.Starts[i + 1]; p++)
            {
                var j = graph.Neighbours[p];
                double dx = x[i] - x[j], dy = y[i] - y[j];
                farthest = Math.Max(farthest, dx * dx + dy * dy);
            }
            _reach[i] = Math.Sqrt(farthest) * (1 + 1e-9);
        }
    }

    /// <summary>Orders a graph whose nodes have places in the plane.</summary>
    public static int[] Order(Adjacency graph, ReadOnlySpan<double> coordinates)
    {
        var x = new double[graph.Order];
        var y = new double[graph.Order];
        for (var i = 0; i < graph.Order; i++)
            (x[i], y[i]) = (coordinates[2 * i], coordinates[2 * i + 1]);
        return new NestedDissection(graph, x, y).Run();
    }

    /// <summary>Orders a graph by distances, counted in edges, from four nodes far apart: they stand in for places.</summary>
    public static int[] Order(Adjacency graph)
    {
        var n = graph.Order;
        var x = new double[n];
        var y = new double[n];
        var level = new int[n];
        var queue = new int[n];
        Array.Fill(level, -1);
        int[] a = new int[n], b = new int[n], c = new int[n], d = new int[n];
        var offset = 0.0;
        for (var start = 0; start < n; start++)
        {
            if (level[start] >= 0)
                continue;
            // One connected component: its nodes are queue[0 … count − 1] after the first walk.
            var count = Walk(graph, start, level, queue);
            var component = queue.AsSpan(0, count).ToArray();
            Distances(graph, component, component[^1], a, queue);
            var far = component.MaxBy(i => a[i]);
            Distances(graph, component, far, b, queue);
            var aside = component.MaxBy(i => Math.Min(a[i], b[i]));
            Distances(graph, component, aside, c, queue);
            Distances(graph, component, component.MaxBy(i => c[i] + Math.Min(a[i], b[i])), d, queue);
            foreach (var i in component)
                (x[i], y[i]) = (offset + a[i] - b[i], c[i] - d[i]);
            offset += 4.0 * a[far] + 4;
        }
        return new NestedDissection(graph, x, y).Run();
    }

    private static void Distances(Adjacency graph, int[] component, int from, int[] level, int[] queue)
    {
        foreach (var i in component)
            level[i] = -1;
        Walk(graph, from, level, queue);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static int Walk(Adjacency graph, int start, int[] level, int[] queue)
    {
        var count = 0;
        queue[count++] = start;
        level[start] = 0;
        for (var k = 0; k < count; k++)
        {
            var i = queue[k];
            for (var p = graph.Starts[i]; p < graph.Starts[i + 1]; p++)
            {
                var j = graph.Neighbours[p];
                if (level[j] >= 0)
                    continue;
                level[j] = level[i] + 1;
                queue[count++] = j;
            }
        }
        return count;
    }

    private int[] Run()
    {
        var pending = new Stack<(int From, int To)>();
        pending.Push((0, _nodes.Length));
        var sets = 0;
        while (pending.TryPop(out var set))
        {
            var (from, to) = set;
            if (to - from <= LeafSize)
            {
                OrderLeaf(from, to);
                continue;
            }
            var (first, second) = Cut(from, to);
            if (first == from || second == first)
            {
                foreach (var i in _nodes.AsSpan(from, to - from))
                    _label[i] &= ~3;
                OrderLeaf(from, to); // it would not be cut: nothing gained by trying again
                continue;
            }
            sets += 2;
            for (var p = from; p < to; p++)
                _label[_nodes[p]] = p < first ? 4 * (sets - 1) : p < second ? 4 * sets : -1;
            pending.Push((from, first));
            pending.Push((first, second));
        }
        return _nodes;
    }

    // Rearranges a set into side 0, side 1, separator; gives the ends of the sides.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private (int First, int Second) Cut(int from, int to)
    {
        var nodes = _nodes.AsSpan(from, to - from);
        var count = nodes.Length;
        var set = _label[nodes[0]];
        var chosen = LongestExtent(nodes);
        if (count > ManyDirections)
        {
            var axis = chosen;
            var least = int.MaxValue;
            for (var trial = 0; trial < 4; trial++)
            {
                var angle = axis + trial * Math.PI / 4;
                var size = Try(nodes, angle, set);
                if (size < least)
                    (least, chosen) = (size, angle);
            }
        }
        _thinning.Run(Split(nodes, chosen, set, out var below), set, below, count);
        // The separator in order along the cut, so that rows of later fronts follow one another.
        double c = -Math.Sin(chosen), s = Math.Cos(chosen);
        int zero = 0, one = 0, separator = count;
        foreach (var i in nodes)
            switch (_label[i] - set)
            {
                case 0:
                    nodes[zero++] = i;
                    break;
                case 1:
                    _aside[one++] = i;
                    break;
                default:
                    _aside[--separator] = i;
                    _keys[separator] = c * _x[i] + s * _y[i];
                    break;
            }
        _keys.AsSpan(separator, count - separator).Sort(_aside.AsSpan(separator, count - separator));
        _aside.AsSpan(0, one).CopyTo(nodes[zero..]);
        _aside.AsSpan(separator, count - separator).CopyTo(nodes[(zero + one)..]);
        return (from + zero, from + zero + one);
    }

    // Direction of the greatest spread.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double LongestExtent(ReadOnlySpan<int> nodes)
    {
        double mx = 0, my = 0, xx = 0, xy = 0, yy = 0;
        double x0 = _x[nodes[0]], y0 = _y[nodes[0]];
        foreach (var i in nodes)
        {
            double dx = _x[i] - x0, dy = _y[i] - y0;
            mx += dx;
            my += dy;
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
        }
        mx /= nodes.Length;
        my /= nodes.Length;
        xx -= nodes.Length * mx * mx;
        xy -= nodes.Length * mx * my;
        yy -= nodes.Length * my * my;
        return 0.5 * Math.Atan2(2 * xy, xx - yy);
    }

    // Nodes that a cut at about the middle would put into the separator.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private int Try(ReadOnlySpan<int> nodes, double angle, int set)
    {
        double c = Math.Cos(angle), s = Math.Sin(angle);
        var step = nodes.Length / Sample + 1;
        var samples = 0;
        for (var p = 0; p < nodes.Length; p += step)
            _selected[samples++] = c * _x[nodes[p]] + s * _y[nodes[p]];
        var middle = Select(_selected.AsSpan(0, samples), samples / 2);
        int zero = 0, one = 0;
        foreach (var i in nodes)
        {
            var key = c * _x[i] + s * _y[i];
            if (Math.Abs(key - middle) > _reach[i])
                continue;
            for (var p = _graph.Starts[i]; p < _graph.Starts[i + 1]; p++)
            {
                var j = _graph.Neighbours[p];
                if (_label[j] != set || (c * _x[j] + s * _y[j] < middle) == (key < middle))
                    continue;
                if (key < middle)
                    zero++;
                else
                    one++;
                break;
            }
        }
        return Math.Min(zero, one);
    }

    // Halves by projection and makes the thinner boundary of the two halves the separator. Gives how many then are on side 0.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private List<int> Split(ReadOnlySpan<int> nodes, double angle, int set, out int below)
    {
        double c = Math.Cos(angle), s = Math.Sin(angle);
        var count = nodes.Length;
        for (var p = 0; p < count; p++)
            _keys[p] = _selected[p] = c * _x[nodes[p]] + s * _y[nodes[p]];
        var middle = Select(_selected.AsSpan(0, count), count / 2);
        below = 0;
        for (var p = 0; p < count; p++)
        {
            var side = _keys[p] < middle ? 0 : 1;
            _label[nodes[p]] = set + side;
            below += 1 - side;
        }
        var (zero, one) = _thinning.Begin();
        for (var p = 0; p < count; p++)
        {
            var i = nodes[p];
            if (Math.Abs(_keys[p] - middle) > _reach[i])
                continue;
            var side = _label[i] - set;
            if (_thinning.Touches(i, set + 1 - side) > 0)
                (side == 0 ? zero : one).Add(i);
        }
        var separator = zero.Count < one.Count ? zero : one;
        if (separator == zero)
            below -= separator.Count;
        foreach (var i in separator)
            _label[i] = set + SeparatorThinning.Separator;
        return separator;
    }

    // Minimum degree within a set, the neighbours outside it (all in separators) seen but not eliminated.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void OrderLeaf(int from, int to)
    {
        var count = to - from;
        if (count == 0)
            return;
        var nodes = _nodes.AsSpan(from, count);
        var set = _label[nodes[0]];
        var edges = 0;
        for (var k = 0; k < count; k++)
        {
            _local[nodes[k]] = k;
            edges += _graph.Starts[nodes[k] + 1] - _graph.Starts[nodes[k]];
        }
        if (_leafNeighbours.Length < 2 * edges)
            _leafNeighbours = new int[3 * edges];
        if (_leafStarts.Length < count + edges + 2)
            _leafStarts = new int[count + 2 * edges + 2];
        var starts = _leafStarts;
        var neighbours = _leafNeighbours;
        _outside.Clear();
        var end = 0;
        starts[0] = 0;
        for (var k = 0; k < count; k++)
        {
            for (var p = _graph.Starts[nodes[k]]; p < _graph.Starts[nodes[k] + 1]; p++)
            {
                var j = _graph.Neighbours[p];
                var place = _local[j];
                if (_label[j] != set)
                {
                    if (place < count || place >= count + _outside.Count || _outside[place - count] != j)
                    {
                        _local[j] = place = count + _outside.Count;
                        _outside.Add(j);
                        starts[place + 1] = 0;
                    }
                    starts[place + 1]++; // counts for now
                }
                neighbours[end++] = place;
            }
            starts[k + 1] = end;
        }
        for (var o = 0; o < _outside.Count; o++)
            (starts[count + o + 1], end) = (end, end + starts[count + o + 1]);
        for (var k = 0; k < count; k++)
            for (var p = starts[k]; p < starts[k + 1]; p++)
                if (neighbours[p] >= count)
                    neighbours[starts[neighbours[p] + 1]++] = k; // its list has its end here once all are in
        _leaf.Order(count + _outside.Count, starts, neighbours, count, _aside);
        for (var k = 0; k < count; k++)
            _aside[k] = nodes[_aside[k]];
        _aside.AsSpan(0, count).CopyTo(nodes);
    }

    // Quickselect with medians of three: the k-th smallest.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Select(Span<double> values, int k)
    {
        int low = 0, high = values.Length - 1;
        while (low < high)
        {
            double a = values[low], b = values[(low + high) / 2], c = values[high];
            var pivot = Math.Max(Math.Min(a, b), Math.Min(Math.Max(a, b), c));
            int i = low, j = high;
            while (i <= j)
            {
                while (values[i] < pivot)
                    i++;
                while (values[j] > pivot)
                    j--;
                if (i > j)
                    break;
                (values[i], values[j]) = (values[j], values[i]);
                i++;
                j--;
            }
            if (k <= j)
                high = j;
            else if (k >= i)
                low = i;
            else
                break;
        }
        return values[k];
    }
}
