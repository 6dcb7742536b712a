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

    public MultifrontalFactor(FrontTree tree, FrontSchedule schedule, int threads)
    {
        _tree = tree;
        _schedule = schedule;
        _threads = threads;
        _together = new Splitter(threads);
        _tolerance = GC.AllocateUninitializedArray<double>(tree.Permutation.Length, pinned: true);
        Panels = new NativeBlock(TKernel.Planes * tree.PanelStarts[tree.Count]);
    }

    /// <summary>All panels, in the order of the fronts; within one the plane of real parts, then that of imaginary parts.</summary>
    public NativeBlock Panels { get; }

    public double* Panel(int front) => Panels.Pointer + TKernel.Planes * _tree.PanelStarts[front];

    public nint PanelPlane(int front) => (nint)(_tree.PanelStarts[front + 1] - _tree.PanelStarts[front]);

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
            Parallel.For(0, subtrees.Length, new ParallelOptions { MaxDegreeOfParallelism = _threads }, t =>
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
        return failed == _tree.Permutation.Length ? -1 : failed;
    }

    // A whole subtree on one thread, with stacks of its own; its root's update stays behind for whoever needs it.
    private int Subtree(FrontSchedule.Subtree subtree, double* real, double* imaginary, double*[] updates, NativeBlock?[] blocks)
    {
        var even = new NativeBlock(TKernel.Planes * subtree.EvenStack);
        var odd = new NativeBlock(TKernel.Planes * subtree.OddStack);
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
        even.Free();
        odd.Free();
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
        work.Reserve((Math.Max(pivots, r) + 4L) * 128 * (TKernel.Planes == 2 ? 3 : 1), 3L * ld * TKernel.Planes);
        Clear(f.Panel, f.PanelPlane * TKernel.Planes);
        Clear(f.Update, f.UpdatePlane * TKernel.Planes);

        var first = _tree.MapStarts[front];
        var count = _tree.MapStarts[front + 1] - first;
        fixed (int* sources = &_tree.MapSources[first], targets = &_tree.MapTargets[first])
        {
            for (var p = 0; p < count; p++)
                f.Panel[targets[p]] = real[sources[p]];
            if (TKernel.Planes == 2)
                for (var p = 0; p < count; p++)
                    f.Panel[f.PanelPlane + targets[p]] = imaginary[sources[p]];
        }
        for (var c = _tree.ChildStarts[front]; c < _tree.ChildStarts[front + 1]; c++)
        {
            var child = _tree.Children[c];
            var rc = _tree.UpdateCount(child);
            if (rc == 0)
                continue;
            fixed (int* relative = &_tree.RelativeRows[_tree.RowStarts[child]])
                for (nint plane = 0; plane < TKernel.Planes; plane++)
                    Extend(updates[child] + plane * (nint)FrontTree.UpdateSize(rc), rc, relative, f.Panel + plane * f.PanelPlane, ld, pivots, f.Update + plane * f.UpdatePlane, (r + 3) & ~3);
        }

        var column = _tree.FirstColumn[front];
        fixed (double* tolerance = &_tolerance[column])
        {
            var bad = TKernel.Factor(f, tolerance, work, splitter);
            if (bad >= 0)
                return column + bad;
        }
        if (r > 0)
            TKernel.Update(f, work, splitter);
        return -1;
    }

    private static void Clear(double* from, nint count)
    {
        if (count > 0)
            new Span<double>(from, checked((int)count)).Clear();
    }

    // Adds a child's update into the panel and the update matrix of its parent.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static void Extend(double* child, int rows, int* relative, double* panel, nint ld, int pivots, double* update, nint ldu)
    {
        nint ldc = (rows + 3) & ~3;
        update -= pivots * ldu + pivots; // so that both are addressed by the parent's row and column
        // The tail from which the rows follow one another is added by vectors.
        var run = rows - 1;
        while (run > 0 && relative[run - 1] + 1 == relative[run])
            run--;
        for (var j = 0; j < rows; j++)
        {
            double* from = child + j * ldc;
            double* to = relative[j] < pivots ? panel + relative[j] * ld : update + relative[j] * ldu;
            var i = j;
            var scattered = Math.Max(j, run);
            for (; i + 4 <= scattered; i += 4)
            {
                to[relative[i]] += from[i];
                to[relative[i + 1]] += from[i + 1];
                to[relative[i + 2]] += from[i + 2];
                to[relative[i + 3]] += from[i + 3];
            }
            for (; i < scattered; i++)
                to[relative[i]] += from[i];
            to += relative[rows - 1] - (rows - 1);
            for (; i + 4 <= rows; i += 4)
                (Vector256.Load(to + i) + Vector256.Load(from + i)).Store(to + i);
            for (; i < rows; i++)
                to[i] += from[i];
        }
    }
}
