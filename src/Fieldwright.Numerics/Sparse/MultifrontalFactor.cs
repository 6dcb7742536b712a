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
    private int _positive;

    public MultifrontalFactor(FrontTree tree, FrontSchedule schedule, int threads)
    {
        _tree = tree;
        _schedule = schedule;
        _threads = threads;
        _together = new Splitter(threads);
        _tolerance = GC.AllocateUninitializedArray<double>(tree.Permutation.Length, pinned: true);
        // Before memory of this size is taken, what the analysis has left to be collected goes back to the system.
        if (TKernel.Planes * tree.PanelStarts[tree.Count] > 16_000_000)
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
    /// <param name="values">Values of the lower triangle: real parts.</param>
    /// <param name="imaginary">Imaginary parts; empty for a real matrix.</param>
    /// <param name="columnScale">Largest entry of each column, against which its pivot is measured.</param>
    /// <returns>−1, or the place in the order of elimination of a column whose pivot vanished.</returns>
    public int Factor(double[] values, double[] imaginary, double[] columnScale)
    {
        for (var k = 0; k < _tolerance.Length; k++)
            _tolerance[k] = columnScale[_tree.Permutation[k]] * 1e-14;
        _positive = 0;
        if (_tree.Count == 0)
            return -1;
        fixed (double* real = values, imag = imaginary)
            return Run(real, imag);
    }

    private int Run(double* real, double* imaginary)
    {
        var updates = new double*[_tree.Count];
        var blocks = new NativeBlock?[_tree.Count];
        var failed = _tree.Permutation.Length;
        var subtrees = _schedule.Subtrees;
        if (_threads > 1 && subtrees.Length > 1)
        {
            var sync = new Lock();
            _together.Run(subtrees.Length, t =>
            {
                var bad = Subtree(subtrees[t], real, imaginary, updates, blocks);
                if (bad >= 0)
                    lock (sync)
                        failed = Math.Min(failed, bad);
            });
        }
        else
        {
            foreach (var subtree in subtrees)
            {
                var bad = Subtree(subtree, real, imaginary, updates, blocks);
                if (bad >= 0)
                    failed = Math.Min(failed, bad);
            }
        }
        if (failed == _tree.Permutation.Length && _schedule.Top.Length > 0)
        {
            foreach (var front in _schedule.Top)
            {
                var size = TKernel.Planes * FrontTree.UpdateSize(_tree.UpdateCount(front));
                blocks[front] = size == 0 ? null : new NativeBlock(size);
                updates[front] = size == 0 ? null : blocks[front]!.Pointer;
                var bad = One(front, real, imaginary, updates, _together);
                if (bad >= 0)
                {
                    failed = bad;
                    break;
                }
                for (var c = _tree.ChildStarts[front]; c < _tree.ChildStarts[front + 1]; c++)
                {
                    blocks[_tree.Children[c]]?.Free();
                    blocks[_tree.Children[c]] = null;
                }
            }
        }
        foreach (var block in blocks)
            block?.Free();
        while (_stacks.TryTake(out var stacks))
        {
            stacks.Even.Free();
            stacks.Odd.Free();
        }
        return failed == _tree.Permutation.Length ? -1 : failed;
    }

    // A whole subtree on one thread, with stacks of its own; its root's update stays behind for whoever needs it.
    private int Subtree(FrontSchedule.Subtree subtree, double* real, double* imaginary, double*[] updates, NativeBlock?[] blocks)
    {
        if (!_stacks.TryTake(out var stacks))
            stacks = (new NativeBlock(TKernel.Planes * _schedule.MostEven), new NativeBlock(TKernel.Planes * _schedule.MostOdd));
        var (even, odd) = stacks;
        double* topEven = even.Pointer;
        double* topOdd = odd.Pointer;
        var failed = -1;
        for (var front = subtree.First; front <= subtree.Last && failed < 0; front++)
        {
            var size = TKernel.Planes * FrontTree.UpdateSize(_tree.UpdateCount(front));
            var isEven = _schedule.IsEven[front];
            if (front == subtree.Last)
            {
                blocks[front] = size == 0 ? null : new NativeBlock(size);
                updates[front] = size == 0 ? null : blocks[front]!.Pointer;
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
            failed = One(front, real, imaginary, updates, _alone);
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

    private int One(int front, double* real, double* imaginary, double*[] updates, Splitter splitter)
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
        for (nint plane = 0; plane < TKernel.Planes; plane++)
            ClearLower(f.Update + plane * f.UpdatePlane, r);

        Scatter(front, real, f.Panel);
        if (TKernel.Planes == 2)
            Scatter(front, imaginary, f.Panel + f.PanelPlane);
        for (var c = _tree.ChildStarts[front]; c < _tree.ChildStarts[front + 1]; c++)
        {
            var child = _tree.Children[c];
            var rc = _tree.UpdateCount(child);
            if (rc == 0)
                continue;
            fixed (int* relative = &_tree.RelativeRows[_tree.RowStarts[child]])
                for (nint plane = 0; plane < TKernel.Planes; plane++)
                    Extend(updates[child] + plane * (nint)FrontTree.UpdateSize(rc), rc, relative, f.Panel + plane * f.PanelPlane, ld, pivots, f.Update + plane * f.UpdatePlane, (r + 3) & ~3, work.Indices(rc));
        }

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
            TKernel.Update(f, work, splitter);
        return -1;
    }

    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private void Scatter(int front, double* values, double* panel)
    {
        var first = _tree.MapStarts[front];
        var count = _tree.MapStarts[front + 1] - first;
        fixed (int* sources = &_tree.MapSources[first], targets = &_tree.MapTargets[first])
            for (var p = 0; p < count; p++)
                panel[targets[p]] = values[sources[p]];
    }

    private static void Clear(double* from, nint count)
    {
        if (count > 0)
            new Span<double>(from, checked((int)count)).Clear();
    }

    // Zeroes the lower triangle of an update matrix; what is above is never read.
    private static void ClearLower(double* update, int rows)
    {
        nint ld = (rows + 3) & ~3;
        for (nint j = 0; j < rows; j++)
            new Span<double>(update + j * ld + j, (int)(ld - j)).Clear();
    }

    // Adds a child's update into the panel and the update matrix of its parent, by runs of rows that follow one another in both.
    [MethodImpl(MethodImplOptions.AggressiveOptimization | MethodImplOptions.NoInlining)]
    private static void Extend(double* child, int rows, int* relative, double* panel, nint ld, int pivots, double* update, nint ldu, int* ends)
    {
        nint ldc = (rows + 3) & ~3;
        update -= pivots * ldu + pivots; // so that both are addressed by the parent's row and column
        for (int i = rows - 1, end = rows; i >= 0; i--)
        {
            if (i + 1 < rows && relative[i] + 1 != relative[i + 1])
                end = i + 1;
            ends[i] = end;
        }
        for (var j = 0; j < rows; j++)
        {
            double* from = child + j * ldc;
            double* column = relative[j] < pivots ? panel + relative[j] * ld : update + relative[j] * ldu;
            for (var i = j; i < rows;)
            {
                var end = ends[i];
                double* to = column + (relative[i] - i);
                for (; i + 4 <= end; i += 4)
                    (Vector256.Load(to + i) + Vector256.Load(from + i)).Store(to + i);
                for (; i < end; i++)
                    to[i] += from[i];
            }
        }
    }
}
