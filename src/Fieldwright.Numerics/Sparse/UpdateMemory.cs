namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Where update matrices lie. Those that wait for another piece of work share one block of memory, each at the lowest place free, so that little of it is ever touched and a further
/// factorisation finds it as it was left; an update for which it has no gap wide enough gets a block of its own. Threads may take and give back at once.
/// </summary>
internal sealed unsafe class UpdateMemory(int fronts, long capacity)
{
    private readonly double*[] _at = new double*[fronts];
    private readonly NativeBlock?[] _own = new NativeBlock?[fronts];
    private readonly NativeBlock _shared = new(capacity);
    private readonly List<(long From, long To)> _gaps = [(0, capacity)]; // ascending, no two of them touching
    private readonly Lock _gate = new();

    /// <summary>Where the update of a front lies.</summary>
    public double* this[int front]
    {
        get => _at[front];
        set => _at[front] = value;
    }

    /// <summary>Finds room for the update of a front.</summary>
    public void Take(int front, long length)
    {
        if (length == 0)
            return;
        lock (_gate)
        {
            var k = _gaps.FindIndex(gap => gap.To - gap.From >= length);
            if (k >= 0)
            {
                var (from, to) = _gaps[k];
                _at[front] = _shared.Pointer + from;
                if (to - from == length)
                    _gaps.RemoveAt(k);
                else
                    _gaps[k] = (from + length, to);
                return;
            }
        }
        _own[front] = new NativeBlock(length);
        _at[front] = _own[front]!.Pointer;
    }

    /// <summary>Gives the room of a front's update back.</summary>
    public void Give(int front, long length)
    {
        if (length == 0 || _at[front] == null)
            return;
        if (_own[front] is { } own)
        {
            own.Free();
            _own[front] = null;
        }
        else
        {
            lock (_gate)
            {
                var (from, to) = (_at[front] - _shared.Pointer, _at[front] - _shared.Pointer + length);
                var k = _gaps.FindIndex(gap => gap.From >= to);
                if (k < 0)
                    k = _gaps.Count;
                if (k < _gaps.Count && _gaps[k].From == to)
                {
                    to = _gaps[k].To;
                    _gaps.RemoveAt(k);
                }
                if (k > 0 && _gaps[k - 1].To == from)
                {
                    from = _gaps[--k].From;
                    _gaps.RemoveAt(k);
                }
                _gaps.Insert(k, (from, to));
            }
        }
        _at[front] = null;
    }

    /// <summary>Takes everything back that has not been given back, after a failure.</summary>
    public void Clear()
    {
        Array.Clear(_at);
        foreach (var own in _own)
            own?.Free();
        Array.Clear(_own);
        _gaps.Clear();
        _gaps.Add((0, capacity));
    }

    /// <summary>Gives the memory back to the system.</summary>
    public void Free() => _shared.Free();
}
