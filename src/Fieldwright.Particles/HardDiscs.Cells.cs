using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <content>The cells: who stands where, who is near whom, and the way from one cell to the next. Columns and rows count from one; round them lies a rim of cells that stay empty.</content>
public sealed partial class HardDiscs
{
    private enum Side
    {
        LeftHand,
        RightHand,
        Down,
        Up,
    }

    private static readonly (int Column, int Row)[] Steps = [(-1, 0), (1, 0), (0, -1), (0, 1)];

    private readonly int columns, rows;
    private readonly double cellWidth, cellHeight;

    // For a column or row beside those there are, and each of those: which it is, as a share of a place among the cells; and how far a disc that comes into it is set back.
    private readonly int[] columnStep, rowStep;
    private readonly double[] shiftX, shiftY;

    // Of each cell how many stand in it, and then who; the length of a cell is a multiple of eight.
    private int[] cells = [];

    // Whom a disc looks at, filled up with itself to a multiple of four.
    private int[] near = [];
    private int cellLength, nearCount;

    // How many cells go into a length, none narrower than a side where it can be. Where both ends are joined there are four, so that what stands in a neighbouring cell is seen on the nearer way round.
    private static int Across(double length, double side, double least, bool round)
    {
        int across = Math.Max(1, (int)(length / side));
        return !round || across >= 4 ? across : length >= 4 * least ? 4 : throw new ArgumentException("Where sides are joined there is room for four discs across.", nameof(length));
    }

    private static int[] Table(int count, bool round, int step) => [.. Enumerable.Range(0, count + 2).Select(n => step * (round ? Wrapped(n, count) : n))];

    private static double[] Shifts(int count, bool round, double length) => [.. Enumerable.Range(0, count + 2).Select(n => !round ? 0 : n < 1 ? length : n > count ? -length : 0)];

    private static int Wrapped(int at, int count) => at < 1 ? at + count : at > count ? at - count : at;

    private int CellAt(int column, int row) => (rowStep[row] + columnStep[column]) * cellLength;

    private void Widen(int length)
    {
        int count = (columns + 2) * (rows + 2);
        int[] wider = new int[count * length];
        for (int cell = 0; cellLength > 0 && cell < count; cell++)
            cells.AsSpan(cell * cellLength, cellLength).CopyTo(wider.AsSpan(cell * length));
        (cells, cellLength, near) = (wider, length, new int[9 * length + 8]);
    }

    private void Enter(int i, int column, int row)
    {
        int cell = CellAt(column, row);
        if (cells[cell] == cellLength - 1)
        {
            Widen(2 * cellLength);
            cell = CellAt(column, row);
        }

        ref var own = ref rest[i];
        (own.Column, own.Row, own.Place) = (column, row, ++cells[cell]);
        cells[cell + own.Place] = i;
    }

    private void Depart(int i)
    {
        ref var own = ref rest[i];
        int cell = CellAt(own.Column, own.Row), last = cells[cell + cells[cell]--];
        cells[cell + own.Place] = last;
        rest[last].Place = own.Place;
    }

    // All that stand in the cells of some columns and rows, the last ones included.
    private void Gather(int fromColumn, int toColumn, int fromRow, int toRow)
    {
        var (cells, near, columnStep) = (this.cells, this.near, this.columnStep);
        int at = 0, length = cellLength;
        for (int row = fromRow; row <= toRow; row++)
        {
            int start = rowStep[row];
            for (int column = fromColumn; column <= toColumn; column++)
            {
                // Eight at a time, whoever they are: those beyond the count are overwritten by the next cell.
                int cell = (start + columnStep[column]) * length, count = cells[cell];
                Vector256.LoadUnsafe(ref cells[cell + 1]).StoreUnsafe(ref near[at]);
                for (int k = 8; k < count; k += 8)
                    Vector256.LoadUnsafe(ref cells[cell + 1 + k]).StoreUnsafe(ref near[at + k]);
                at += count;
            }
        }

        nearCount = at;
    }

    private void GatherAround(int column, int row) => Gather(column - 1, column + 1, row - 1, row + 1);

    // Those in the cells that come into sight of a disc that came through a side.
    private void GatherBeyond(int column, int row, Side through)
    {
        var (c, r) = Steps[(int)through];
        Gather(column + c - (r & 1), column + c + (r & 1), row + r - (c & 1), row + r + (c & 1));
    }

    // Goes over into the next cell, where new neighbours come into sight.
    private void Cross(int i)
    {
        ref var own = ref rest[i];
        var through = own.Through;
        int column = own.Column + Steps[(int)through].Column, row = own.Row + Steps[(int)through].Row;
        Depart(i);
        if (box.Open && row > rows)
        {
            Escape(i);
            return;
        }

        if (roundX)
        {
            (Vector256.LoadUnsafe(ref paths[i].X) + Vector256.Create(shiftX[column], shiftY[row], 0, 0)).StoreUnsafe(ref paths[i].X);
            column = Wrapped(column, columns);
            row = roundY ? Wrapped(row, rows) : row;
        }

        Enter(i, column, row);
        int was = own.Partner;
        double before = own.Meeting;
        var here = Here(i);
        GatherBeyond(column, row, through);
        LookAtThem(i, here);
        FindLeaving(here, ref own);
        if (own.Meeting < before)
        {
            if (was >= 0 && rest[was].Partner == i)
                rest[was].Partner = Stale;
            Commit(i);
        }
        else
            queue.Set(i, Math.Min(own.Meeting, own.Leaving));
    }

    private void Escape(int i)
    {
        var d = Here(i);
        ref var own = ref rest[i];
        Leave(i);
        escaped++;
        double withOthers = Repels ? HeldBy(i) : 0;
        held -= withOthers;
        escapedEnergy += 0.5 * own.Mass * (d.Vx * d.Vx + d.Vy * d.Vy) + own.Mass * gravity * d.Y + withOthers;
        own.Column = 0;
        (own.Partner, own.Meeting, own.Leaving) = (NoPartner, double.PositiveInfinity, double.PositiveInfinity);
        queue.Set(i, double.PositiveInfinity);
    }

    // When a disc leaves its cell, and through which side. The outermost cells reach to infinity.
    private void FindLeaving(in Path d, ref Rest own)
    {
        double left = (own.Column - 1) * cellWidth, low = (own.Row - 1) * cellHeight;
        var speed = Vector128.Create(d.Vx, d.Vy);
        var ahead = Vector128.GreaterThan(speed, Vector128<double>.Zero);
        var times = ((Vector128.Create(cellWidth, cellHeight) & ahead) - Vector128.Create(d.X - left, d.Y - low)) / speed;
        times = Vector128.ConditionalSelect(Vector128.Equals(speed, Vector128<double>.Zero), Vector128.Create(double.PositiveInfinity), times);
        uint signs = ahead.ExtractMostSignificantBits();
        int right = (int)(signs & 1), up = (int)(signs >> 1);
        double t = times[0], vertical = times[1];
        if (!roundX && own.Column == 1 + right * (columns - 1))
            t = double.PositiveInfinity;
        if (gravity == 0)
        {
            if (!roundY && own.Row == 1 + up * (rows - 1) && !(box.Open && up == 1))
                vertical = double.PositiveInfinity;
            bool upright = vertical < t;
            own.Through = (Side)(upright ? 2 + up : right);
            own.Leaving = now + Math.Max(0, upright ? vertical : t);
            return;
        }

        // Never if it meets something before, since it looks again then.
        double within = own.Meeting - now;
        own.Through = Side.LeftHand + right;
        t = Math.Min(t, within);
        double above = d.Y - low;
        if (own.Row > 1 && !Clear(above, d.Vy, -0.5 * gravity, t))
            Leaves(Side.Down, DownCrossing(above, d.Vy, -0.5 * gravity), ref t, ref own);
        if ((box.Open || own.Row < rows) && !Clear(cellHeight - above, -Math.Max(0, d.Vy), 0, t))
            Leaves(Side.Up, DownCrossing(cellHeight - above, -d.Vy, 0.5 * gravity), ref t, ref own);
        own.Leaving = t < within ? now + Math.Max(0, t) : double.PositiveInfinity;
    }

    private static void Leaves(Side through, double time, ref double t, ref Rest own)
    {
        if (time < t)
            (t, own.Through) = (time, through);
    }

    // Gives neighbours numbers near one another, so that they lie together in memory: along a curve that goes through the cells quarter by quarter (Morton's order). Nothing else changes.
    private void Renumber()
    {
        untilRenumbered = (long)EventsEach * rest.Length;
        int count = rest.Length;
        int[] from = [.. Enumerable.Range(0, count)], to = new int[count];
        Array.Sort(Array.ConvertAll(rest, r => Spread(r.Column) | Spread(r.Row) << 1), from);
        for (int k = 0; k < count; k++)
            to[from[k]] = k;
        var (pathsThen, restThen) = ((Path[])paths.Clone(), (Rest[])rest.Clone());
        Array.Clear(cells);
        for (int i = 0; i < count; i++)
        {
            (paths[i], rest[i]) = (pathsThen[from[i]], restThen[from[i]]);
            ref var own = ref rest[i];
            own.Partner = own.Partner >= 0 ? to[own.Partner] : own.Partner;
            if (!IsOut(i))
                Enter(i, own.Column, own.Row);
            queue.Set(i, IsOut(i) ? double.PositiveInfinity : Math.Min(own.Meeting, own.Leaving));
            number[i] = to[number[i]];
        }
    }

    // The bits of a number with a gap after each.
    private static ulong Spread(int n)
    {
        ulong bits = 0;
        for (int b = 0; b < 31; b++)
            bits |= ((ulong)n >> b & 1) << 2 * b;
        return bits;
    }

    private void CheckPlaces()
    {
        double lowest = box.Floor is { } floor ? floor.HeightAt(0) : 0, ceiling = box.Lid is null ? height : lidY;
        for (int i = 0; i < paths.Length; i++)
        {
            ref var d = ref paths[i];
            double radius = rest[i].Radius;
            const double Slack = 1e-9;
            double room = radius * (1 - Slack);
            if ((!roundX && (d.X < room || d.X > width - room)) || (!roundY && (d.Y < lowest + room || (!box.Open && d.Y > ceiling - room))))
                throw new ArgumentException(FormattableString.Invariant($"Disc {i} does not stand inside the box."));
            GatherAround(rest[i].Column, rest[i].Row);
            foreach (int j in near.AsSpan(0, nearCount))
            {
                double x = paths[j].X - d.X, y = paths[j].Y - d.Y, sum = rest[j].Radius + radius;
                (x, y) = (roundX ? Nearest(x, width) : x, roundY ? Nearest(y, height) : y);
                if (j != i && x * x + y * y < sum * sum * (1 - Slack))
                    throw new ArgumentException(FormattableString.Invariant($"Discs {i} and {j} overlap."));
            }
        }
    }
}
