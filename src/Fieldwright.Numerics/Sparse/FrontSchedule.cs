using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// How a tree of fronts is shared out: subtrees that one thread does from leaf to root, and the fronts above them, done one after another with their large steps split.
/// Fixed by the tree alone, so that the memory it takes can be told beforehand.
/// </summary>
internal sealed class FrontSchedule
{
    public FrontSchedule(FrontTree tree)
    {
        var count = tree.Count;
        IsEven = new bool[count];
        for (var f = count - 1; f >= 0; f--)
            IsEven[f] = tree.Parent[f] < 0 || !IsEven[tree.Parent[f]];
        var work = new double[count];
        var first = new int[count];
        var total = 0.0;
        for (var f = 0; f < count; f++)
        {
            double m = tree.RowCount(f), n = tree.PivotCount(f);
            work[f] += 1000 + m * n * 10 + n * (m * m - m * n + n * n / 3);
            first[f] = f;
            for (var c = tree.ChildStarts[f]; c < tree.ChildStarts[f + 1]; c++)
            {
                work[f] += work[tree.Children[c]];
                first[f] = Math.Min(first[f], first[tree.Children[c]]);
            }
            if (tree.Parent[f] < 0)
                total += work[f];
        }
        // Small trees are not worth a thread. Otherwise a subtree is a sixteenth of the work or less.
        var limit = total < 4e6 ? total : Math.Max(total / 16, 1e6);
        var subtrees = new List<Subtree>();
        var top = new List<int>();
        for (var f = 0; f < count; f++)
        {
            if (work[f] > limit)
                top.Add(f);
            else if (tree.Parent[f] < 0 || work[tree.Parent[f]] > limit)
                subtrees.Add(Measure(tree, first[f], f));
        }
        Top = [.. top];
        // The largest first, so that threads end together.
        Subtrees = [.. subtrees.OrderByDescending(s => work[s.Last]).ThenBy(s => s.First)];
        MostEven = Subtrees.Select(s => s.EvenStack).DefaultIfEmpty().Max();
        MostOdd = Subtrees.Select(s => s.OddStack).DefaultIfEmpty().Max();
        PeakNumbers = tree.PanelStarts[count] + Peak(tree);
    }

    /// <summary>Whether a front's update goes to the even stack of its subtree.</summary>
    public bool[] IsEven { get; }

    public Subtree[] Subtrees { get; }

    /// <summary>Fronts above all subtrees, in order of elimination.</summary>
    public int[] Top { get; }

    /// <summary>Numbers of one plane that the stacks of any subtree need.</summary>
    public long MostEven { get; }

    /// <inheritdoc cref="MostEven"/>
    public long MostOdd { get; }

    /// <summary>Numbers of one plane held at the worst moment of a factorisation on one or two threads: panels, stacks and updates.</summary>
    public long PeakNumbers { get; }

    /// <summary>Numbers held at the worst moment of a factorisation that pivots: factors so far, one front, and what waits for its parents, in blocks of a power of two.</summary>
    /// <param name="tree">The fronts.</param>
    /// <param name="factors">1 for L alone, 2 for L and U.</param>
    public static long PivotingNumbers(FrontTree tree, int factors)
    {
        long kept = 0, waiting = 0, front = (long)tree.MostRows * tree.MostRows, most = 0;
        for (var f = 0; f < tree.Count; f++)
        {
            kept += factors * (long)tree.RowCount(f) * tree.PivotCount(f);
            for (var c = tree.ChildStarts[f]; c < tree.ChildStarts[f + 1]; c++)
                waiting -= Block(tree.UpdateCount(tree.Children[c]));
            waiting += Block(tree.UpdateCount(f));
            most = Math.Max(most, kept + waiting + front);
        }
        return most;

        static long Block(long rows) => (long)BitOperations.RoundUpToPowerOf2((ulong)(rows * rows));
    }

    private long Peak(FrontTree tree)
    {
        long held = 0, most = 0;
        foreach (var subtree in Subtrees)
        {
            held += FrontTree.UpdateSize(tree.UpdateCount(subtree.Last));
            most = Math.Max(most, held + 2 * (MostEven + MostOdd));
        }
        foreach (var front in Top)
        {
            held += FrontTree.UpdateSize(tree.UpdateCount(front));
            most = Math.Max(most, held);
            for (var c = tree.ChildStarts[front]; c < tree.ChildStarts[front + 1]; c++)
                held -= FrontTree.UpdateSize(tree.UpdateCount(tree.Children[c]));
        }
        return most;
    }

    private Subtree Measure(FrontTree tree, int first, int last)
    {
        long even = 0, odd = 0, mostEven = 0, mostOdd = 0;
        for (var f = first; f < last; f++)
        {
            var size = FrontTree.UpdateSize(tree.UpdateCount(f));
            if (IsEven[f])
                mostEven = Math.Max(mostEven, even += size);
            else
                mostOdd = Math.Max(mostOdd, odd += size);
            for (var c = tree.ChildStarts[f]; c < tree.ChildStarts[f + 1]; c++)
            {
                var used = FrontTree.UpdateSize(tree.UpdateCount(tree.Children[c]));
                if (IsEven[f])
                    odd -= used;
                else
                    even -= used;
            }
        }
        return new Subtree(first, last, mostEven, mostOdd);
    }

    /// <summary>Fronts First … Last, the last being the root; numbers (of one plane) that its two stacks take.</summary>
    internal readonly record struct Subtree(int First, int Last, long EvenStack, long OddStack);
}
