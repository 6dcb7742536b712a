namespace Fieldwright.Numerics.Ordinary;

/// <summary>One step of a way, continuous between its ends.</summary>
internal sealed class WayPiece(double start, double length, double[][] c)
{
    public double Start => start;

    public double Length => length;

    public int Count => c[0].Length;

    public void Into(double share, Span<double> state)
    {
        double rest = 1 - share;
        for (int i = 0; i < state.Length; i++)
            state[i] = c[0][i] + share * (c[1][i] + rest * (c[2][i] + share * (c[3][i] + rest * c[4][i])));
    }
}

/// <summary>A way that was followed, at any time between its ends to fourth order. Immutable; threads may share it.</summary>
public sealed class FollowedWay
{
    private readonly List<WayPiece> pieces;

    internal FollowedWay(List<WayPiece> pieces, double end, int? ended) => (this.pieces, End, Ended) = (pieces, end, ended);

    /// <summary>Where it begins.</summary>
    public double Start => pieces[0].Start;

    /// <summary>Where it ends: as asked, or by an event.</summary>
    public double End { get; }

    /// <summary>Which of the watched quantities ended it; null when none did.</summary>
    public int? Ended { get; }

    /// <summary>Steps taken.</summary>
    public int Steps => pieces.Count;

    /// <summary>The state at a time.</summary>
    /// <param name="time">Time between <see cref="Start"/> and <see cref="End"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The time lies outside.</exception>
    public double[] At(double time)
    {
        Guard.InRange(time, Start, End);
        int low = 0, high = pieces.Count - 1;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = pieces[middle].Start <= time ? (middle, high) : (low, middle - 1);
        }

        double[] state = new double[pieces[low].Count];
        pieces[low].Into((time - pieces[low].Start) / pieces[low].Length, state);
        return state;
    }
}
