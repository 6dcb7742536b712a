using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Approximate minimum degree ordering on a quotient graph: supervariables found by hashing, elements absorbed aggressively, degrees bounded from above.
/// </summary>
/// <source key="AmestoyDavisDuff1996" at="sections 2 to 5"/>
internal sealed unsafe class MinimumDegree
{
    private int[] _work = [];       // every list, _pe pointing into it
    private int[] _pe = [];         // start of a node's list
    private int[] _length = [];     // of the list
    private int[] _elements = [];   // how many of the list's leading members are elements; −1 for a node that is an element itself
    private int[] _size = [];       // variables in a supervariable; 0 once absorbed or eliminated; negated while in the current element
    private int[] _degree = [];     // bound on the external degree; for an element its size in variables
    private int[] _mark = [];       // for an element, mark − stamp = |Le \ Lme| within a pivot, 0 once dead; for a variable a visit
    private int[] _head = [];       // degree lists
    private int[] _next = [];
    private int[] _last = [];       // previous in the degree list, or −1 − degree at its head
    private int[] _bucketHead = [];
    private int[] _bucketOf = [];
    private int[] _member = [];     // chain of nodes ordered together with a principal variable
    private int[] _tail = [];
    private int[] _pivots = [];

    /// <summary>Orders a graph. The workspace is kept for the next, so one object serves one thread.</summary>
    /// <param name="order">Number of nodes.</param>
    /// <param name="starts">order + 1 positions into <paramref name="neighbours"/>; what lies beyond is not looked at.</param>
    /// <param name="neighbours">Both directions of every edge, no self-edges, no repeats.</param>
    /// <param name="interior">Only the first so many nodes are eliminated; the others stand for what is ordered later, and count in the degrees.</param>
    /// <param name="result">Receives the node eliminated first, second, …, of the interior.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Order(int order, int[] starts, int[] neighbours, int interior, Span<int> result)
    {
        var n = order;
        var edgeCount = starts[n];
        Reserve(n, checked(edgeCount + edgeCount / 5 + 2 * n + 16));
        neighbours.AsSpan(0, edgeCount).CopyTo(_work);
        // Every array is pinned: the loops below touch single entries all over them, and checking each index took a fifth of the time.
        int* work = Start(_work), pe = Start(_pe), length = Start(_length), elements = Start(_elements), size = Start(_size), degree = Start(_degree);
        int* mark = Start(_mark), head = Start(_head), next = Start(_next), last = Start(_last), bucketHead = Start(_bucketHead), bucketOf = Start(_bucketOf);
        int* member = Start(_member), tail = Start(_tail), pivots = Start(_pivots);
        var pivotCount = 0;
        new Span<int>(head, n + 1).Fill(-1);
        new Span<int>(bucketHead, n).Fill(-1);
        new Span<int>(size, n).Clear();
        new Span<int>(elements, n).Clear();
        var dense = Math.Max(16, (int)(10 * Math.Sqrt(n)));
        var eliminated = 0;
        List<int> postponed = [];
        for (var i = n - 1; i >= 0; i--)
        {
            pe[i] = starts[i];
            length[i] = degree[i] = starts[i + 1] - starts[i];
            mark[i] = 1;
            member[i] = -1;
            tail[i] = i;
            if (degree[i] > dense)
            {
                // A nearly full row sooner or later joins every element: it goes last and is looked at no more.
                elements[i] = -1;
                mark[i] = 0;
                if (i < interior)
                {
                    postponed.Add(i);
                    eliminated++;
                }
            }
            else
            {
                size[i] = 1;
                if (i < interior)
                    Insert(i, degree[i], head, next, last);
            }
        }

        var free = edgeCount;
        var least = 0;
        var largest = 0; // of all elements so far, in variables
        var stamp = 2;
        while (eliminated < interior)
        {
            while (head[least] < 0)
                least++;
            var me = head[least];
            head[least] = next[me];
            if (next[me] >= 0)
                last[next[me]] = -1 - least;
            var pivotElements = elements[me];
            var pivotSize = size[me];
            eliminated += pivotSize;
            size[me] = -pivotSize;

            // The new element: the variables of me's own list and of the elements in it, which are thereby absorbed.
            if (pivotElements > 0)
            {
                long need = length[me] - pivotElements;
                for (var p = pe[me]; p < pe[me] + pivotElements; p++)
                    need += length[work[p]];
                if (free + need > _work.Length)
                {
                    free = Compact(n, work, free, pe, length, size, elements, mark);
                    if (free + need > _work.Length)
                        Grow(free, checked((int)Math.Max(free + need, _work.Length + (long)_work.Length / 4)));
                    work = Start(_work);
                }
            }
            var from = pivotElements == 0 ? pe[me] : free;
            var to = from;
            var elementDegree = 0;
            for (int p = pe[me], listEnd = p + length[me], elementsEnd = p + pivotElements; p < listEnd;)
            {
                int q, end;
                if (p < elementsEnd)
                {
                    var e = work[p++];
                    q = pe[e];
                    end = q + length[e];
                    mark[e] = 0;
                    length[e] = 0;
                }
                else
                {
                    q = p;
                    end = p = listEnd;
                }
                for (; q < end; q++)
                {
                    var i = work[q];
                    var sizeI = size[i];
                    if (sizeI <= 0)
                        continue;
                    size[i] = -sizeI;
                    elementDegree += sizeI;
                    work[to++] = i;
                    if (i >= interior)
                        continue;
                    if (next[i] >= 0)
                        last[next[i]] = last[i];
                    if (last[i] >= 0)
                        next[last[i]] = next[i];
                    else
                        head[-1 - last[i]] = next[i];
                }
            }
            if (pivotElements > 0)
                free = to;
            pe[me] = from;
            length[me] = to - from;
            elements[me] = -1;
            mark[me] = 1;
            largest = Math.Max(largest, elementDegree);
            if (stamp > int.MaxValue - 3 * largest - 16)
            {
                for (var i = 0; i < n; i++)
                    mark[i] = Math.Min(mark[i], 1);
                stamp = 2;
            }

            // |Le \ Lme| of every element that shares a variable with the new one.
            for (var p = from; p < to; p++)
            {
                var i = work[p];
                var sizeI = -size[i];
                for (int q = pe[i], end = q + elements[i]; q < end; q++)
                {
                    var e = work[q];
                    if (mark[e] >= stamp)
                        mark[e] -= sizeI;
                    else if (mark[e] != 0)
                        mark[e] = degree[e] + stamp - sizeI;
                }
            }

            // New bounds on degrees; lists shrink to live elements and to live variables outside the new element.
            for (var p = from; p < to; p++)
            {
                var i = work[p];
                var start = pe[i];
                var write = start;
                var bound = 0L;
                uint hash = 0;
                for (int q = start, end = start + elements[i]; q < end; q++)
                {
                    var e = work[q];
                    if (mark[e] == 0)
                        continue;
                    var outside = mark[e] - stamp;
                    if (outside > 0)
                    {
                        bound += outside;
                        work[write++] = e;
                        hash += (uint)e;
                    }
                    else
                    {
                        mark[e] = 0; // it lies wholly inside the new element
                        length[e] = 0;
                    }
                }
                var variables = write;
                for (int q = start + elements[i], end = start + length[i]; q < end; q++)
                {
                    var j = work[q];
                    if (size[j] <= 0)
                        continue;
                    bound += size[j];
                    work[write++] = j;
                    hash += (uint)j;
                }
                if (write == start && i < interior)
                {
                    // Nothing outside the new element: eliminated together with me.
                    pivotSize -= size[i];
                    eliminated -= size[i];
                    elementDegree += size[i];
                    size[i] = 0;
                    length[i] = 0;
                    member[tail[me]] = i;
                    tail[me] = tail[i];
                    continue;
                }
                // me goes first; the member it displaces goes where the elements end. The list is no longer than before,
                // because me itself or an element absorbed into me has left it.
                work[write] = work[variables];
                work[variables] = work[start];
                work[start] = me;
                elements[i] = variables - start + 1;
                length[i] = write - start + 1;
                degree[i] = (int)Math.Min(degree[i], bound);
                var bucket = (int)(hash % (uint)n);
                bucketOf[i] = bucket;
                next[i] = bucketHead[bucket];
                bucketHead[bucket] = i;
            }
            degree[me] = elementDegree;
            stamp += largest + 1;

            // Variables with equal lists are one from now on.
            for (var p = from; p < to; p++)
            {
                if (size[work[p]] == 0)
                    continue;
                var bucket = bucketOf[work[p]];
                var i = bucketHead[bucket];
                bucketHead[bucket] = -1;
                for (; i >= 0 && next[i] >= 0; i = next[i], stamp++)
                {
                    for (int q = pe[i] + 1, end = pe[i] + length[i]; q < end; q++)
                        mark[work[q]] = stamp;
                    var before = i;
                    for (var j = next[i]; j >= 0; j = next[before])
                    {
                        var same = length[i] == length[j] && elements[i] == elements[j] && i < interior == j < interior;
                        for (int q = pe[j] + 1, end = pe[j] + length[j]; same && q < end; q++)
                            same = mark[work[q]] == stamp;
                        if (!same)
                        {
                            before = j;
                            continue;
                        }
                        size[i] += size[j]; // both negative here
                        size[j] = 0;
                        length[j] = 0;
                        elements[j] = -1;
                        mark[j] = 0;
                        member[tail[i]] = j;
                        tail[i] = tail[j];
                        next[before] = next[j];
                    }
                }
            }

            // Back into the degree lists.
            var kept = from;
            for (var p = from; p < to; p++)
            {
                var i = work[p];
                if (size[i] == 0)
                    continue;
                var sizeI = size[i] = -size[i];
                degree[i] = Math.Max(0, Math.Min(degree[i] + elementDegree - sizeI, n - eliminated - sizeI));
                work[kept++] = i;
                if (i >= interior)
                    continue;
                Insert(i, degree[i], head, next, last);
                least = Math.Min(least, degree[i]);
            }
            length[me] = kept - from;
            if (kept == from)
                mark[me] = 0;
            if (pivotElements > 0)
                free = kept;
            size[me] = 0;
            pivots[pivotCount++] = me;
        }

        var k = 0;
        for (var p = 0; p < pivotCount; p++)
            for (var i = pivots[p]; i >= 0; i = member[i])
                result[k++] = i;
        foreach (var i in postponed)
            result[k++] = i;
    }

    private void Reserve(int n, int work)
    {
        if (_work.Length < work)
            _work = Pinned(Math.Max(work, 2 * _work.Length));
        if (_head.Length > n)
            return;
        var room = n + n / 2 + 1;
        (_pe, _length, _elements, _size, _degree) = (Pinned(room), Pinned(room), Pinned(room), Pinned(room), Pinned(room));
        (_mark, _head, _next, _last, _bucketHead) = (Pinned(room), Pinned(room), Pinned(room), Pinned(room), Pinned(room));
        (_bucketOf, _member, _tail, _pivots) = (Pinned(room), Pinned(room), Pinned(room), Pinned(room));
    }

    private void Grow(int used, int room)
    {
        var grown = Pinned(room);
        _work.AsSpan(0, used).CopyTo(grown);
        _work = grown;
    }

    private static int[] Pinned(int length) => GC.AllocateArray<int>(length, pinned: true);

    private static int* Start(int[] pinned) => (int*)Unsafe.AsPointer(ref MemoryMarshal.GetArrayDataReference(pinned));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Insert(int i, int degree, int* head, int* next, int* last)
    {
        var follower = head[degree];
        if (follower >= 0)
            last[follower] = i;
        next[i] = follower;
        last[i] = -1 - degree;
        head[degree] = i;
    }

    // Moves the living lists to the front in the order they lie; the first entry of each names its owner meanwhile.
    private static int Compact(int n, int* work, int free, int* pe, int* length, int* size, int* elements, int* mark)
    {
        for (var i = 0; i < n; i++)
        {
            if (length[i] == 0 || (size[i] == 0 && (elements[i] >= 0 || mark[i] == 0)))
                continue;
            var first = work[pe[i]];
            work[pe[i]] = -1 - i;
            pe[i] = first;
        }
        var write = 0;
        for (var read = 0; read < free;)
        {
            if (work[read] >= 0)
            {
                read++;
                continue;
            }
            var i = -1 - work[read];
            work[write] = pe[i];
            pe[i] = write++;
            for (var q = 1; q < length[i]; q++)
                work[write++] = work[read + q];
            read += length[i];
        }
        return write;
    }
}
