namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Nested dissection by place: a set of nodes is halved across its longest extent, the separator is made thinner by moving nodes one at a time out of it
/// (keeping the best state met), and what is small enough is ordered by minimum degree with the separators round it in view.
/// </summary>
/// <source key="George1973"/>
/// <source key="FiducciaMattheyses1982"/>
/// <source key="AshcraftLiu1997"/>
internal sealed class NestedDissection
{
    private const int LeafSize = 160;
    private const int ManyDirections = 4000; // nodes above which several cuts are tried
    private const int Separator = 2;
    private const int Lowest = -24; // gains below this are all alike

    private readonly Adjacency _graph;
    private readonly double[] _x;
    private readonly double[] _y;
    private readonly int[] _nodes;     // the order being made: every set is a piece of it
    private readonly int[] _owner;     // set a node belongs to, −1 once in a separator
    private readonly byte[] _side;     // 0, 1 or Separator within the set being cut
    private readonly int[] _local;
    private readonly int[][] _gain = new int[2][];
    private readonly int[][] _next = new int[2][];
    private readonly int[][] _previous = new int[2][];
    private readonly bool[] _locked;
    private readonly double[] _reach;  // distance to the farthest neighbour: who is farther from the cut cannot touch it

    private NestedDissection(Adjacency graph, double[] x, double[] y)
    {
        var n = graph.Order;
        _graph = graph;
        (_x, _y) = (x, y);
        _nodes = [.. Enumerable.Range(0, n)];
        _owner = new int[n];
        _side = new byte[n];
        _local = new int[n];
        _locked = new bool[n];
        _reach = new double[n];
        for (var i = 0; i < n; i++)
            for (var p = graph.Starts[i]; p < graph.Starts[i + 1]; p++)
            {
                var j = graph.Neighbours[p];
                double dx = x[i] - x[j], dy = y[i] - y[j];
                _reach[i] = Math.Max(_reach[i], dx * dx + dy * dy);
            }
        for (var i = 0; i < n; i++)
            _reach[i] = Math.Sqrt(_reach[i]) * (1 + 1e-9);
        for (var s = 0; s < 2; s++)
            (_gain[s], _next[s], _previous[s]) = (new int[n], new int[n], new int[n]);
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
        var offset = 0.0;
        for (var start = 0; start < n; start++)
        {
            if (level[start] >= 0)
                continue;
            // One connected component: its nodes are queue[0 … count − 1] after the first walk.
            var count = Walk(graph, start, level, queue);
            var component = queue.AsSpan(0, count).ToArray();
            var a = Distances(graph, component, component[^1], queue);
            var far = component.MaxBy(i => a[i]);
            var b = Distances(graph, component, far, queue);
            var aside = component.MaxBy(i => Math.Min(a[i], b[i]));
            var c = Distances(graph, component, aside, queue);
            var d = Distances(graph, component, component.MaxBy(i => c[i] + Math.Min(a[i], b[i])), queue);
            foreach (var i in component)
                (x[i], y[i]) = (offset + a[i] - b[i], c[i] - d[i]);
            offset += 4.0 * a[far] + 4;
        }
        return new NestedDissection(graph, x, y).Run();
    }

    private static Dictionary<int, int> Distances(Adjacency graph, int[] component, int from, int[] queue)
    {
        var level = new int[graph.Order];
        Array.Fill(level, -1);
        Walk(graph, from, level, queue);
        return component.ToDictionary(i => i, i => level[i]);
    }

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
                OrderLeaf(from, to); // it would not be cut: nothing gained by trying again
                continue;
            }
            sets += 2;
            for (var p = from; p < to; p++)
                _owner[_nodes[p]] = p < first ? sets - 1 : p < second ? sets : -1;
            pending.Push((from, first));
            pending.Push((first, second));
        }
        return _nodes;
    }

    // Rearranges a set into side 0, side 1, separator; gives the ends of the sides.
    private (int First, int Second) Cut(int from, int to)
    {
        var count = to - from;
        double mx = 0, my = 0, xx = 0, xy = 0, yy = 0;
        for (var p = from; p < to; p++)
        {
            mx += _x[_nodes[p]];
            my += _y[_nodes[p]];
        }
        mx /= count;
        my /= count;
        for (var p = from; p < to; p++)
        {
            double dx = _x[_nodes[p]] - mx, dy = _y[_nodes[p]] - my;
            xx += dx * dx;
            xy += dx * dy;
            yy += dy * dy;
        }
        var axis = 0.5 * Math.Atan2(2 * xy, xx - yy); // direction of the greatest spread
        var keys = new double[count];
        var nodes = _nodes.AsSpan(from, count);
        var owner = _owner[nodes[0]];
        var chosen = axis;
        if (count > ManyDirections)
        {
            var least = int.MaxValue;
            for (var trial = 0; trial < 4; trial++)
            {
                var angle = axis + trial * Math.PI / 4;
                var size = Split(nodes, angle, keys).Count;
                if (size < least)
                    (least, chosen) = (size, angle);
            }
        }
        Refine(Split(nodes, chosen, keys), nodes, owner);
        // The separator in order along the cut, so that rows of later fronts follow one another.
        double c = -Math.Sin(chosen), s = Math.Cos(chosen);
        var separator = new List<int>();
        var zero = 0;
        var one = new List<int>(count / 2 + 1);
        for (var p = 0; p < count; p++)
        {
            var i = nodes[p];
            if (_side[i] == 0)
                nodes[zero++] = i;
            else if (_side[i] == 1)
                one.Add(i);
            else
                separator.Add(i);
        }
        separator.Sort((a, b) => (c * _x[a] + s * _y[a]).CompareTo(c * _x[b] + s * _y[b]) is var order && order != 0 ? order : a.CompareTo(b));
        one.CopyTo(nodes[zero..]);
        separator.CopyTo(nodes[(zero + one.Count)..]);
        return (from + zero, from + zero + one.Count);
    }

    // Halves by projection and makes the thinner boundary of the two halves the separator.
    private List<int> Split(ReadOnlySpan<int> nodes, double angle, double[] keys)
    {
        double c = Math.Cos(angle), s = Math.Sin(angle);
        var count = nodes.Length;
        for (var p = 0; p < count; p++)
            keys[p] = c * _x[nodes[p]] + s * _y[nodes[p]];
        var middle = Select(keys.AsSpan(0, count).ToArray(), count / 2);
        for (var p = 0; p < count; p++)
            _side[nodes[p]] = keys[p] < middle ? (byte)0 : (byte)1;
        var owner = _owner[nodes[0]];
        var zero = new List<int>();
        var one = new List<int>();
        for (var p = 0; p < count; p++)
        {
            var i = nodes[p];
            if (Math.Abs(keys[p] - middle) > _reach[i] || Touches(i, 1 - _side[i], owner) == 0)
                continue;
            (_side[i] == 0 ? zero : one).Add(i);
        }
        var separator = zero.Count < one.Count ? zero : one;
        foreach (var i in separator)
            _side[i] = Separator;
        return separator;
    }

    private void Refine(List<int> separator, ReadOnlySpan<int> nodes, int owner)
    {
        Span<int> size = [0, 0, separator.Count];
        foreach (var i in nodes)
            if (_side[i] < Separator)
                size[_side[i]]++;
        for (var pass = 0; pass < 4; pass++)
            if (!Pass(ref separator, size, owner, nodes.Length))
                break;
    }

    private int Touches(int i, int what, int owner)
    {
        var touches = 0;
        for (var p = _graph.Starts[i]; p < _graph.Starts[i + 1]; p++)
        {
            var j = _graph.Neighbours[p];
            if (_owner[j] == owner && _side[j] == what)
                touches++;
        }
        return touches;
    }

    // One pass: every node may leave the separator once, the best first, pulling in its neighbours across; then back to the best state met.
    private bool Pass(ref List<int> separator, Span<int> size, int owner, int count)
    {
        var side = _side;
        const int buckets = 2 - Lowest;
        int[][] heads = [new int[buckets], new int[buckets]];
        Array.Fill(heads[0], -1);
        Array.Fill(heads[1], -1);
        var touched = new List<int>(separator);
        var log = new List<(int Node, byte Before)>();
        foreach (var i in separator)
            Enter(i);
        var most = (int)(0.58 * count);
        var start = size[Separator];
        var best = (Size: start, Difference: Math.Abs(size[0] - size[1]));
        var bestLog = 0;
        var idle = 0;
        var limit = 20 + start / 4;
        while (idle < limit)
        {
            var (node, to) = Pick(size);
            if (node < 0)
                break;
            Leave(node, 0);
            Leave(node, 1);
            _locked[node] = true;
            log.Add((node, Separator));
            side[node] = (byte)to;
            size[to]++;
            size[Separator]--;
            var away = 1 - to;
            for (var p = _graph.Starts[node]; p < _graph.Starts[node + 1]; p++)
            {
                var j = _graph.Neighbours[p];
                if (_owner[j] != owner)
                    continue;
                if (side[j] == Separator)
                {
                    Change(j, away, -1); // to go away, j would have to pull node in
                }
                else if (side[j] == away)
                {
                    log.Add((j, (byte)away));
                    side[j] = Separator;
                    size[away]--;
                    size[Separator]++;
                    for (var q = _graph.Starts[j]; q < _graph.Starts[j + 1]; q++)
                    {
                        var k = _graph.Neighbours[q];
                        if (_owner[k] == owner && side[k] == Separator && k != j)
                            Change(k, to, 1);
                    }
                    touched.Add(j);
                    Enter(j);
                }
            }
            var difference = Math.Abs(size[0] - size[1]);
            if (size[Separator] < best.Size || (size[Separator] == best.Size && difference < best.Difference))
            {
                best = (size[Separator], difference);
                bestLog = log.Count;
                idle = 0;
            }
            else
            {
                idle++;
            }
        }
        for (var k = log.Count - 1; k >= bestLog; k--)
        {
            var (node, before) = log[k];
            size[side[node]]--;
            size[before]++;
            side[node] = before;
        }
        foreach (var i in touched)
            _locked[i] = false;
        separator = [.. touched.Distinct().Where(i => side[i] == Separator)];
        return best.Size < start;

        (int, int) Pick(ReadOnlySpan<int> sizes)
        {
            for (var bucket = buckets - 1; bucket >= 0; bucket--)
            {
                int zero = heads[0][bucket], one = heads[1][bucket];
                var mayZero = zero >= 0 && sizes[0] < most;
                var mayOne = one >= 0 && sizes[1] < most;
                if (mayZero && (!mayOne || sizes[0] <= sizes[1]))
                    return (zero, 0);
                if (mayOne)
                    return (one, 1);
            }
            return (-1, 0);
        }

        void Enter(int i)
        {
            if (_locked[i])
                return;
            for (var s = 0; s < 2; s++)
            {
                _gain[s][i] = 1 - Touches(i, 1 - s, owner);
                Push(i, s);
            }
        }

        void Push(int i, int s)
        {
            var bucket = Math.Max(_gain[s][i], Lowest) - Lowest;
            var follower = heads[s][bucket];
            _next[s][i] = follower;
            _previous[s][i] = -1 - bucket;
            if (follower >= 0)
                _previous[s][follower] = i;
            heads[s][bucket] = i;
        }

        void Leave(int i, int s)
        {
            int before = _previous[s][i], after = _next[s][i];
            if (after >= 0)
                _previous[s][after] = before;
            if (before >= 0)
                _next[s][before] = after;
            else
                heads[s][-1 - before] = after;
        }

        void Change(int i, int s, int by)
        {
            if (_locked[i])
                return;
            Leave(i, s);
            _gain[s][i] += by;
            Push(i, s);
        }
    }

    // Minimum degree within a set, the neighbours outside it (all in separators) seen but not eliminated.
    private void OrderLeaf(int from, int to)
    {
        var count = to - from;
        var nodes = _nodes.AsSpan(from, count).ToArray();
        var owner = _owner[nodes[0]];
        for (var k = 0; k < count; k++)
            _local[nodes[k]] = k;
        var outside = new List<int>();
        var index = new Dictionary<int, int>();
        var starts = new List<int> { 0 };
        var neighbours = new List<int>();
        var back = new List<(int Outside, int Inside)>();
        for (var k = 0; k < count; k++)
        {
            for (var p = _graph.Starts[nodes[k]]; p < _graph.Starts[nodes[k] + 1]; p++)
            {
                var j = _graph.Neighbours[p];
                if (_owner[j] == owner)
                {
                    neighbours.Add(_local[j]);
                    continue;
                }
                if (!index.TryGetValue(j, out var place))
                {
                    index[j] = place = count + outside.Count;
                    outside.Add(j);
                }
                neighbours.Add(place);
                back.Add((place, k));
            }
            starts.Add(neighbours.Count);
        }
        back.Sort();
        var b = 0;
        for (var k = 0; k < outside.Count; k++)
        {
            for (; b < back.Count && back[b].Outside == count + k; b++)
                neighbours.Add(back[b].Inside);
            starts.Add(neighbours.Count);
        }
        var order = MinimumDegree.Order(count + outside.Count, [.. starts], [.. neighbours], count);
        for (var k = 0; k < count; k++)
            _nodes[from + k] = nodes[order[k]];
    }

    // Quickselect with medians of three: the k-th smallest.
    private static double Select(double[] values, int k)
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
