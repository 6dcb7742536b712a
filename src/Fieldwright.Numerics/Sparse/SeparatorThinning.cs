using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Makes the separator of a set of nodes thinner by moving nodes one at a time out of it, the best first, each pulling in its neighbours across; the best state met is kept.
/// Nodes carry labels: that of their set, plus 0 or 1 for a side, plus <see cref="Separator"/> for the separator.
/// </summary>
/// <source key="FiducciaMattheyses1982"/>
/// <source key="AshcraftLiu1997"/>
internal sealed unsafe class SeparatorThinning(Adjacency graph, int[] label)
{
    public const int Separator = 2;

    private const int Lowest = -24; // gains below this are all alike
    private const int Buckets = 2 - Lowest;
    private const int Passes = 4;

    private readonly int[] _starts = graph.Starts;
    private readonly int[] _neighbours = graph.Neighbours;
    private readonly Links[] _links = GC.AllocateUninitializedArray<Links>(2 * graph.Order, pinned: true); // entry 2i + s: node i in the list of moves to side s
    private readonly int[][] _heads = [new int[Buckets], new int[Buckets]];
    private readonly byte[] _state = new byte[graph.Order]; // 1 once moved within a pass, 2 while gathered
    private readonly List<(int Node, int Before)> _log = [];
    private readonly int[] _size = new int[3];
    private List<int> _separator = [];
    private List<int> _touched = [];
    private int _set;

    /// <summary>Two empty lists, one of which may be handed to <see cref="Run"/>.</summary>
    public (List<int> Zero, List<int> One) Begin()
    {
        _separator.Clear();
        _touched.Clear();
        return (_separator, _touched);
    }

    /// <summary>How many neighbours of a node carry a label.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public int Touches(int i, int what)
    {
        var touches = 0;
        foreach (var j in Neighbours(i))
            if (label[j] == what)
                touches++;
        return touches;
    }

    /// <summary>Thins a separator.</summary>
    /// <param name="separator">One of the lists of <see cref="Begin"/>, its nodes labelled.</param>
    /// <param name="set">Label of the set.</param>
    /// <param name="below">Nodes on side 0.</param>
    /// <param name="count">Nodes of the set.</param>
    public void Run(List<int> separator, int set, int below, int count)
    {
        if (separator == _touched)
            (_separator, _touched) = (_touched, _separator);
        _set = set;
        (_size[0], _size[1], _size[Separator]) = (below, count - below - separator.Count, separator.Count);
        for (var pass = 0; pass < Passes; pass++)
            if (!Pass((int)(0.58 * count)))
                break;
    }

    // One pass: every node may leave the separator once; then back to the best state met.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Pass(int most)
    {
        Array.Fill(_heads[0], -1);
        Array.Fill(_heads[1], -1);
        _touched.Clear();
        _touched.AddRange(_separator);
        _log.Clear();
        foreach (var i in _separator)
            Enter(i);
        var start = _size[Separator];
        var best = (Size: start, Difference: Math.Abs(_size[0] - _size[1]));
        var bestLog = 0;
        var idle = 0;
        var limit = 20 + start / 4;
        while (idle < limit)
        {
            var (node, to) = Pick(most);
            if (node < 0)
                break;
            Move(node, to);
            var difference = Math.Abs(_size[0] - _size[1]);
            if (_size[Separator] < best.Size || (_size[Separator] == best.Size && difference < best.Difference))
            {
                best = (_size[Separator], difference);
                bestLog = _log.Count;
                idle = 0;
            }
            else
            {
                idle++;
            }
        }
        for (var k = _log.Count - 1; k >= bestLog; k--)
        {
            var (node, before) = _log[k];
            _size[label[node] - _set]--;
            _size[before]++;
            label[node] = _set + before;
        }
        _separator.Clear();
        foreach (var i in _touched)
        {
            if (label[i] == _set + Separator && _state[i] != 2)
            {
                _state[i] = 2;
                _separator.Add(i);
            }
        }
        foreach (var i in _touched)
            _state[i] = 0;
        return best.Size < start;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private (int Node, int To) Pick(int most)
    {
        int[] zeros = _heads[0], ones = _heads[1];
        for (var bucket = Buckets - 1; bucket >= 0; bucket--)
        {
            int zero = zeros[bucket], one = ones[bucket];
            if ((zero & one) < 0 && zero == one)
                continue;
            var mayZero = zero >= 0 && _size[0] < most;
            var mayOne = one >= 0 && _size[1] < most;
            if (mayZero && (!mayOne || _size[0] <= _size[1]))
                return (zero, 0);
            if (mayOne)
                return (one, 1);
        }
        return (-1, 0);
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Move(int node, int to)
    {
        Leave(node, 0);
        Leave(node, 1);
        _state[node] = 1;
        _log.Add((node, Separator));
        label[node] = _set + to;
        _size[to]++;
        _size[Separator]--;
        var away = 1 - to;
        foreach (var j in Neighbours(node))
        {
            var at = label[j] - _set;
            if (at == Separator)
            {
                Change(j, away, -1); // to go away, j would have to pull node in
            }
            else if (at == away)
            {
                _log.Add((j, away));
                label[j] = _set + Separator;
                _size[away]--;
                _size[Separator]++;
                foreach (var k in Neighbours(j))
                    if (label[k] == _set + Separator)
                        Change(k, to, 1);
                _touched.Add(j);
                Enter(j);
            }
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Enter(int i)
    {
        if (_state[i] != 0)
            return;
        int toZero = 1, toOne = 1;
        foreach (var j in Neighbours(i))
        {
            var side = label[j] - _set;
            if (side == 1)
                toZero--;
            else if (side == 0)
                toOne--;
        }
        Link(i, 0)->Gain = toZero;
        Link(i, 1)->Gain = toOne;
        Push(i, 0);
        Push(i, 1);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ReadOnlySpan<int> Neighbours(int i) => new(_neighbours, _starts[i], _starts[i + 1] - _starts[i]);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Links* Link(int i, int s) => (Links*)Unsafe.AsPointer(ref MemoryMarshal.GetArrayDataReference(_links)) + (2 * (nint)i + s);

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Push(int i, int s)
    {
        var link = Link(i, s);
        var bucket = Math.Max(link->Gain, Lowest) - Lowest;
        var follower = _heads[s][bucket];
        link->Next = follower;
        link->Previous = -1 - bucket;
        if (follower >= 0)
            Link(follower, s)->Previous = i;
        _heads[s][bucket] = i;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Leave(int i, int s)
    {
        var link = Link(i, s);
        int before = link->Previous, after = link->Next;
        if (after >= 0)
            Link(after, s)->Previous = before;
        if (before >= 0)
            Link(before, s)->Next = after;
        else
            _heads[s][-1 - before] = after;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Change(int i, int s, int by)
    {
        if (_state[i] != 0)
            return;
        Leave(i, s);
        Link(i, s)->Gain += by;
        Push(i, s);
    }

    private struct Links
    {
        public int Gain, Next, Previous;
    }
}
