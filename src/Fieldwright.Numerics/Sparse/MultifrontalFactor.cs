using System.Collections.Concurrent;
using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// Numeric multifrontal LDLᵀ over a <see cref="FrontTree"/>. Update matrices live on two stacks, one for fronts of even depth and one for odd: children always
/// lie on top of one while their parent's update is laid on the other. The arithmetic of a front is the same whichever thread does it, so results do not depend on threads.
/// </summary>
internal sealed unsafe class MultifrontalFactor<TKernel>
    where TKernel : IFrontKernel
{
    private readonly FrontTree _tree;
    private readonly FrontSchedule _schedule;
    private readonly Splitter _alone = new(1);
    private readonly Splitter _together;
    private readonly double[] _tolerance;
    private readonly int _threads;
    private readonly ConcurrentBag<(NativeBlock Even, NativeBlock Odd)> _stacks = [];
    private UpdateMemory? _updates;
    private int _positive;
    private bool _again;

    public MultifrontalFactor(FrontTree tree, FrontSchedule schedule, int threads)
    {
        _tree = tree;
        _schedule = schedule;
        _threads = threads;
        _together = new Splitter(threads);
        _tolerance = GC.AllocateUninitializedArray<double>(tree.Permutation.Length, pinned: true);
        // Before memory of this size is taken, what the analysis has left to be collected goes back to the system.
        if (TKernel.Planes * tree.PanelStarts[tree.Count] > 2_000_000 && schedule.TakeFirst())
            GC.Collect(2, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        Panels = new NativeBlock(TKernel.Planes * tree.PanelStarts[tree.Count]);
    }

    /// <summary>All panels, in the order of the fronts; within one the plane of real parts, then that of imaginary parts.</summary>
    public NativeBlock Panels { get; }

    public double* Panel(int front) => Panels.Pointer + TKernel.Planes * _tree.PanelStarts[front];

    public nint PanelPlane(int front) => (nint)(_tree.PanelStarts[front + 1] - _tree.PanelStarts[front]);

    /// <summary>Pivots whose real part is positive.</summary>
    public int PositivePivots => _positive;

    /// <summary>What stands on the diagonal at a place in the order of elimination.</summary>
    public Complex Pivot(int place)
    {
        var front = Array.BinarySearch(_tree.FirstColumn, place);
        if (front < 0)
            front = ~front - 1;
        nint k = place - _tree.FirstColumn[front];
        double* d = Panel(front) + k * _tree.LeadingDimension(front) + k;
        return new Complex(*d, TKernel.Planes == 2 ? d[PanelPlane(front)] : 0);
    }

    /// <summary>Factorises.</summary>
    /// <param name="values">Values of the lower triangle, each as so many numbers as there are planes.</param>
    /// <param name="columnScale">Largest entry of each column, against which its pivot is measured.</param>
    /// <returns>−1, or the place in the order of elimination of a column whose pivot vanished.</returns>
    public int Factor(double* values, double[] columnScale)
    {
        for (var k = 0; k < _tolerance.Length; k++)
            _tolerance[k] = columnScale[_tree.Permutation[k]] * 1e-14;
        _positive = 0;
        if (_tree.Count == 0)
            return -1;
        var updates = _updates ??= new UpdateMemory(_tree.Count, TKernel.Planes * _schedule.WaitingNumbers);
        var failed = Branches(values, updates);
        for (var piece = 0; failed < 0 && piece < _schedule.Pieces.Length; piece++)
            if (_schedule.Pieces[piece].Together)
                failed = Single(_schedule.Pieces[piece].Last, values, updates, _together);
        updates.Clear();
        if (!_again)
        {
            // Who factorises a second time will do so again and again: then memory stays, and need not be fetched from the system each time.
            updates.Free();
            _updates = null;
            while (_stacks.TryTake(out var stacks))
            {
                stacks.Even.Free();
                stacks.Odd.Free();
            }
            _again = true;
        }
        return failed;
    }

    // One thread alone goes from leaf to root as the stack is least; several begin with what has the longest way to go.
    private int Turn(int piece) => _threads == 1 ? piece : _schedule.Rank[piece];

    // All pieces but the last few, each as soon as its children are done. A thread that finds none waits without turning.
    // After a failure whatever does not depend on it is still done, so that the same column is named whatever the number of threads.
    private int Branches(double* values, UpdateMemory updates)
    {
        var pieces = _schedule.Pieces;
        var pending = new int[pieces.Length];
        foreach (var parent in _schedule.Parent)
            if (parent >= 0)
                pending[parent]++;
        var ready = new PriorityQueue<int, int>();
        for (var k = 0; k < pieces.Length; k++)
            if (pending[k] == 0 && !pieces[k].Together)
                ready.Enqueue(k, Turn(k));
        var gate = new object();
        var running = 0;
        var failed = int.MaxValue;
        _together.Run(_threads, _ =>
        {
            while (true)
            {
                int k;
                lock (gate)
                {
                    while (ready.Count == 0 && running > 0)
                        Monitor.Wait(gate);
                    if (!ready.TryDequeue(out k, out var _))
                        return;
                    running++;
                }
                var bad = int.MaxValue;
                try
                {
                    bad = pieces[k].First < pieces[k].Last || _tree.ChildStarts[pieces[k].Last] == _tree.ChildStarts[pieces[k].Last + 1]
                        ? Subtree(pieces[k], values, updates)
                        : Single(pieces[k].Last, values, updates, _alone);
                }
                finally
                {
                    lock (gate)
                    {
                        running--;
                        var parent = _schedule.Parent[k];
                        if (bad >= 0)
                            failed = Math.Min(failed, bad);
                        else if (parent >= 0 && --pending[parent] == 0 && !pieces[parent].Together)
                            ready.Enqueue(parent, Turn(parent));
                        Monitor.PulseAll(gate);
                    }
                }
            }
        });
        return failed == int.MaxValue ? -1 : failed;
    }

    private long UpdateSize(int front) => TKernel.Planes * FrontTree.UpdateSize(_tree.UpdateCount(front));

    // A front above the subtrees: its update takes room, those of its children give theirs back.
    private int Single(int front, double* values, UpdateMemory updates, Splitter splitter)
    {
        updates.Take(front, UpdateSize(front));
        var bad = One(front, values, updates, splitter);
        for (var c = _tree.ChildStarts[front]; c < _tree.ChildStarts[front + 1]; c++)
            updates.Give(_tree.Children[c], UpdateSize(_tree.Children[c]));
        return bad;
    }

    // A whole subtree on one thread, with stacks of its own; its root's update stays behind for whoever needs it.
    private int Subtree(FrontSchedule.Piece subtree, double* values, UpdateMemory updates)
    {
        if (!_stacks.TryTake(out var stacks))
            stacks = (new NativeBlock(TKernel.Planes * _schedule.MostEven), new NativeBlock(TKernel.Planes * _schedule.MostOdd));
        var (even, odd) = stacks;
        double* topEven = even.Pointer;
        double* topOdd = odd.Pointer;
        var failed = -1;
        for (var front = subtree.First; front <= subtree.Last && failed < 0; front++)
        {
            var size = UpdateSize(front);
            var isEven = _schedule.IsEven[front];
            if (front == subtree.Last)
            {
                updates.Take(front, size);
            }
            else if (isEven)
            {
                updates[front] = topEven;
                topEven += size;
            }
            else
            {
                updates[front] = topOdd;
                topOdd += size;
            }
            failed = One(front, values, updates, _alone);
            if (_tree.ChildStarts[front] < _tree.ChildStarts[front + 1])
            {
                // The first child's update is the lowest of them.
                double* bottom = updates[_tree.Children[_tree.ChildStarts[front]]];
                if (isEven)
                    topOdd = bottom;
                else
                    topEven = bottom;
            }
        }
        _stacks.Add(stacks);
        return failed;
    }

    private int One(int front, double* values, UpdateMemory updates, Splitter splitter)
    {
        var pivots = _tree.PivotCount(front);
        var r = _tree.UpdateCount(front);
        var ld = _tree.LeadingDimension(front);
        var f = new Front
        {
            Panel = Panel(front),
            PanelPlane = PanelPlane(front),
            LeadingDimension = ld,
            Pivots = pivots,
            Update = updates[front],
            UpdatePlane = (nint)FrontTree.UpdateSize(r),
            UpdateRows = r,
        };
        var work = Workspace.OfThread();
        work.Reserve((Math.Max(pivots, r) + 4L) * 128 * TKernel.Planes, 3L * ld * TKernel.Planes);
        Clear(f.Panel, f.PanelPlane * TKernel.Planes);
        Scatter(front, values, f.Panel, f.PanelPlane);
        Extend(front, f, updates, work, splitter, below: false);
        var column = _tree.FirstColumn[front];
        fixed (double* tolerance = &_tolerance[column])
        {
            var bad = TKernel.Factor(f, tolerance, work, splitter);
            if (bad >= 0)
                return column + bad;
        }
        var positive = 0;
        for (nint k = 0; k < pivots; k++)
            if (f.Panel[k * (ld + 1)] > 0)
                positive++;
        Interlocked.Add(ref _positive, positive);
        if (r > 0)
        {
            TKernel.Update(f, work, splitter);
            Extend(front, f, updates, work, splitter, below: true);
        }
        return -1;
    }

    // Adds the updates of all children: before the elimination what concerns the pivot columns, after it what goes below them, the update matrix being written only then.
    private void Extend(int front, Front f, UpdateMemory updates, Workspace work, Splitter splitter, bool below)
    {
        for (var c = _tree.ChildStarts[front]; c < _tree.ChildStarts[front + 1]; c++)
        {
            var child = _tree.Children[c];
            var rows = _tree.UpdateCount(child);
            if (rows == 0)
                continue;
            fixed (int* relative = &_tree.RelativeRows[_tree.RowStarts[child]])
            {
                var middle = 0;
                while (middle < rows && relative[middle] < f.Pivots)
                    middle++;
                var (from, to) = below ? (middle, rows) : (0, middle);
                if (from == to)
                    continue;
                int* ends = work.Indices(rows);
                FindRuns(relative, from, rows, ends);
                nint ldu = (f.UpdateRows + 3) & ~3;
                // Columns of the update matrix are addressed by the front's row and column.
                var target = below
                    ? new Target(f.Update - f.Pivots * (ldu + 1), f.UpdatePlane, ldu, f.Pivots + (int)ldu)
                    : new Target(f.Panel, f.PanelPlane, f.LeadingDimension, f.LeadingDimension);
                if (splitter.IsWorthSplitting(16L * (to - from) * rows))
                    SplitColumns(updates[child], rows, relative, ends, target, from, to, splitter);
                else
                    Add(updates[child], rows, relative, ends, target, from, to);
            }
        }
    }

    private static void SplitColumns(double* child, int rows, int* relative, int* ends, Target target, int from, int to, Splitter splitter)
    {
        const int parts = 16;
        splitter.Run(parts, part => Add(child, rows, relative, ends, target, from + (int)((long)(to - from) * part / parts), from + (int)((long)(to - from) * (part + 1) / parts)));
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private void Scatter(int front, double* values, double* panel, nint plane)
    {
        var first = _tree.MapStarts[front];
        var count = _tree.MapStarts[front + 1] - first;
        fixed (int* sources = &_tree.MapSources[first], targets = &_tree.MapTargets[first])
            for (var p = 0; p < count; p++)
            {
                double* from = values + TKernel.Planes * (nint)sources[p];
                double* to = panel + targets[p];
                *to = *from;
                if (TKernel.Planes == 2)
                    to[plane] = from[1];
            }
    }

    private static void Clear(double* from, nint count)
    {
        if (count > 0)
            new Span<double>(from, checked((int)count)).Clear();
    }

    // For each row from the given one, the end of the run of rows that follow one another in the parent too.
    private static void FindRuns(int* relative, int from, int rows, int* ends)
    {
        for (int i = rows - 1, end = rows; i >= from; i--)
        {
            if (i + 1 < rows && relative[i] + 1 != relative[i + 1])
                end = i + 1;
            ends[i] = end;
        }
    }

    // Adds columns of a child's update into those of its parent, run by run. The end of a run is masked and written with zeros added beyond it, within the column.
    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private static void Add(double* child, int rows, int* relative, int* ends, Target target, int first, int last)
    {
        nint ldc = (rows + 3) & ~3, plane = (nint)FrontTree.UpdateSize(rows);
        for (var j = first; j < last; j++)
        {
            double* from = child + j * ldc;
            double* column = target.Start + relative[j] * target.LeadingDimension;
            for (var i = j; i < rows;)
            {
                var end = ends[i];
                var place = relative[i];
                for (; i + 4 <= end; i += 4, place += 4)
                {
                    (Vector256.Load(column + place) + Vector256.Load(from + i)).Store(column + place);
                    if (TKernel.Planes == 2)
                        (Vector256.Load(column + target.Plane + place) + Vector256.Load(from + plane + i)).Store(column + target.Plane + place);
                }
                if (i == end)
                    continue;
                if (place + 4 <= target.Rows)
                {
                    var mask = Vector256.LessThan(Vector256.Create(0L, 1, 2, 3), Vector256.Create((long)(end - i))).AsDouble();
                    (Vector256.Load(column + place) + (Vector256.Load(from + i) & mask)).Store(column + place);
                    if (TKernel.Planes == 2)
                        (Vector256.Load(column + target.Plane + place) + (Vector256.Load(from + plane + i) & mask)).Store(column + target.Plane + place);
                    i = end;
                    continue;
                }
                for (; i < end; i++, place++)
                {
                    column[place] += from[i];
                    if (TKernel.Planes == 2)
                        column[target.Plane + place] += from[plane + i];
                }
            }
        }
    }

    // Columns that updates are added to: rows 0 … Rows − 1 of each may be written.
    private readonly record struct Target(nint Address, nint Plane, nint LeadingDimension, int Rows)
    {
        public Target(double* start, nint plane, nint leadingDimension, int rows)
            : this((nint)start, plane, leadingDimension, rows)
        {
        }

        public double* Start => (double*)Address;
    }
}
