using System.Numerics;

namespace Fieldwright.Numerics.Sparse;

/// <summary>
/// How a tree of fronts is shared out: subtrees that one thread does from leaf to root; the fronts above them, each of which waits for its children and for nobody else;
/// and the last few on the way to the root, with nothing left beside them, whose large steps are split.
/// Fixed by the tree alone, so that the memory it takes can be told beforehand.
/// </summary>
internal sealed class FrontSchedule
{
    // A front whose subtree is more of the work than this has nothing of its size beside it.
    private const double Lonely = 0.6;

    private int _taken;

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
        var pieces = new List<Piece>();
        var pieceOf = new int[count];
        for (var f = 0; f < count; f++)
        {
            pieceOf[f] = pieces.Count;
            if (work[f] > limit)
                pieces.Add(new Piece(f, f, 0, 0, work[f] > Lonely * total));
            else if (tree.Parent[f] < 0 || work[tree.Parent[f]] > limit)
                pieces.Add(Measure(tree, first[f], f));
        }
        Pieces = [.. pieces];
        Parent = [.. Pieces.Select(p => tree.Parent[p.Last] < 0 ? -1 : pieceOf[tree.Parent[p.Last]])];
        Rank = LongestPathFirst(tree, work);
        MostEven = Pieces.Max(p => (long?)p.EvenStack) ?? 0;
        MostOdd = Pieces.Max(p => (long?)p.OddStack) ?? 0;
        WaitingNumbers = Waiting(tree);
        PeakNumbers = tree.PanelStarts[count] + 2 * (MostEven + MostOdd) + WaitingNumbers;
    }

    /// <summary>Whether a front's update goes to the even stack of its subtree.</summary>
    public bool[] IsEven { get; }

    /// <summary>Subtrees and single fronts, children before parents.</summary>
    public Piece[] Pieces { get; }

    /// <summary>The piece that waits for each piece; −1 where none does.</summary>
    public int[] Parent { get; }

    /// <summary>Turn of each piece among those that could begin: the more work from it to the root, the sooner, so that no thread is left alone with a long path at the end.</summary>
    public int[] Rank { get; }

    /// <summary>Numbers of one plane that the stacks of any subtree need.</summary>
    public long MostEven { get; }

    /// <inheritdoc cref="MostEven"/>
    public long MostOdd { get; }

    /// <summary>Numbers of one plane held at the worst moment of a factorisation on one or two threads, whatever the order of its pieces: panels, stacks and updates.</summary>
    public long PeakNumbers { get; }

    /// <summary>Numbers of one plane that updates handed from piece to piece need at the worst moment.</summary>
    public long WaitingNumbers { get; }

    /// <summary>Whether this is the first to ask: a first factorisation is where what the analysis left behind can be collected.</summary>
    public bool TakeFirst() => Interlocked.Exchange(ref _taken, 1) == 0;

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

    private int[] LongestPathFirst(FrontTree tree, double[] work)
    {
        var path = new double[Pieces.Length];
        for (var k = Pieces.Length - 1; k >= 0; k--)
        {
            var (first, last) = (Pieces[k].First, Pieces[k].Last);
            path[k] = work[last] + (Parent[k] < 0 ? 0 : path[Parent[k]]);
            for (var c = tree.ChildStarts[last]; first == last && c < tree.ChildStarts[last + 1]; c++)
                path[k] -= work[tree.Children[c]];
        }
        var rank = new int[Pieces.Length];
        var turn = 0;
        foreach (var k in Enumerable.Range(0, rank.Length).OrderByDescending(k => path[k]))
            rank[k] = turn++;
        return rank;
    }

    // Updates that wait are never one another's descendants, so the most they can take is found from the leaves up; two more are being made.
    private long Waiting(FrontTree tree)
    {
        var waiting = new long[Pieces.Length + 1]; // of each piece's subtree; the last entry gathers the roots
        long largest = 0;
        for (var k = 0; k < Pieces.Length; k++)
        {
            var own = FrontTree.UpdateSize(tree.UpdateCount(Pieces[k].Last));
            largest = Math.Max(largest, own);
            waiting[Parent[k] < 0 ? ^1 : Parent[k]] += Math.Max(own, waiting[k]);
        }
        return waiting[^1] + (Pieces.Length > 1 ? 2 * largest : 0);
    }

    private Piece Measure(FrontTree tree, int first, int last)
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
        return new Piece(first, last, mostEven, mostOdd, false);
    }

    /// <summary>
    /// Fronts First … Last, the last being the root of their subtree, or a single front above the subtrees; numbers (of one plane) that its two stacks take;
    /// whether it is done by all threads together after all that are not.
    /// </summary>
    internal readonly record struct Piece(int First, int Last, long EvenStack, long OddStack, bool Together);
}
