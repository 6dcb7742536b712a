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

    private static readonly (int Column, int Row)[] Around = [(-1, -1), (0, -1), (1, -1), (-1, 0), (0, 0), (1, 0), (-1, 1), (0, 1), (1, 1)];

    // The cells that come into sight of a disc that came through a side.
    private static readonly (int Column, int Row)[][] Beyond =
        [[(-1, -1), (-1, 0), (-1, 1)], [(1, -1), (1, 0), (1, 1)], [(-1, -1), (0, -1), (1, -1)], [(-1, 1), (0, 1), (1, 1)]];

    private static readonly (int Column, int Row)[] Steps = [(-1, 0), (1, 0), (0, -1), (0, 1)];

    private readonly int columns, rows;
    private readonly double cellWidth, cellHeight;

    // Of each cell how many stand in it, and then who; the length of a cell is a multiple of four.
    private int[] cells = [];

    // Whom a disc looks at, filled up with itself to a multiple of four.
    private int[] near = [];
    private int cellLength, nearCount;

    private int CellAt(int column, int row) => (row * (columns + 2) + column) * cellLength;

    private void Widen(int length)
    {
        int count = (columns + 2) * (rows + 2);
        int[] wider = new int[count * length];
        for (int cell = 0; cellLength > 0 && cell < count; cell++)
            cells.AsSpan(cell * cellLength, cellLength).CopyTo(wider.AsSpan(cell * length));
        (cells, cellLength, near) = (wider, length, new int[9 * length + 4]);
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

    // All that stand in some of the cells about one.
    private void Gather(int column, int row, (int Column, int Row)[] which)
    {
        nearCount = 0;
        if (endless && (column == 1 || column == columns || row == 1 || row == rows))
            foreach (var (c, r) in which)
                GatherCell(CellAt(Wrapped(column + c, columns), Wrapped(row + r, rows)));
        else
            foreach (var (c, r) in which)
                GatherCell(CellAt(column + c, row + r));
    }

    // Four at a time, whoever they are: those beyond the count are overwritten by the next cell.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void GatherCell(int cell)
    {
        var (cells, near, at) = (this.cells, this.near, nearCount);
        int count = cells[cell];
        Vector128.LoadUnsafe(ref cells[cell + 1]).StoreUnsafe(ref near[at]);
        for (int k = 4; k < count; k += 4)
            Vector128.LoadUnsafe(ref cells[cell + 1 + k]).StoreUnsafe(ref near[at + k]);
        nearCount = at + count;
    }

    private static int Wrapped(int at, int count) => at < 1 ? at + count : at > count ? at - count : at;

    // Goes over into the next cell, where new neighbours come into sight.
    private void Cross(int i)
    {
        ref var d = ref discs[i];
        ref var own = ref rest[i];
        Bring(ref d);
        var through = own.Through;
        int column = own.Column + Steps[(int)through].Column, row = own.Row + Steps[(int)through].Row;
        Depart(i);
        if (box.Open && row > rows)
        {
            Escape(i);
            return;
        }

        if (endless)
        {
            d.X -= column < 1 ? -width : column > columns ? width : 0;
            d.Y -= row < 1 ? -height : row > rows ? height : 0;
            (column, row) = (Wrapped(column, columns), Wrapped(row, rows));
        }

        Enter(i, column, row);
        int was = own.Partner;
        double before = d.Meeting;
        Gather(column, row, Beyond[(int)through]);
        LookAtThem(i);
        FindLeaving(ref d, ref own);
        if (d.Meeting < before)
        {
            if (was >= 0 && rest[was].Partner == i)
                rest[was].Partner = Stale;
            Commit(i);
        }
        else
            queue.Set(i, Math.Min(d.Meeting, d.Leaving));
    }

    private void Escape(int i)
    {
        ref var d = ref discs[i];
        ref var own = ref rest[i];
        Leave(i);
        escaped++;
        double withOthers = Repels ? HeldBy(i) : 0;
        held -= withOthers;
        escapedEnergy += 0.5 * own.Mass * (d.Vx * d.Vx + d.Vy * d.Vy) + own.Mass * gravity * d.Y + withOthers;
        own.Column = 0;
        (own.Partner, d.Meeting, d.Leaving) = (NoPartner, double.PositiveInfinity, double.PositiveInfinity);
        queue.Set(i, double.PositiveInfinity);
    }

    // When a disc that is brought up to now leaves its cell, and through which side; never if it meets something before, since it looks again then. The outermost cells reach to infinity.
    private void FindLeaving(ref Disc d, ref Rest own)
    {
        int right = d.Vx > 0 ? 1 : 0, up = d.Vy > 0 ? 1 : 0;
        double within = d.Meeting - now, left = (own.Column - 1) * cellWidth, low = d.Y - (own.Row - 1) * cellHeight, t = double.PositiveInfinity;
        if (d.Vx != 0 && (endless || (own.Column > 1 - right && own.Column < columns + 1 - right)))
            t = (left + right * cellWidth - d.X) / d.Vx;
        own.Through = Side.LeftHand + right;
        bool below = endless || own.Row > 1, above = endless || box.Open || own.Row < rows;
        if (gravity == 0)
        {
            if (d.Vy != 0 && (up == 1 ? above : below))
                Leaves(Side.Down + up, (up * cellHeight - low) / d.Vy, ref t, ref own);
        }
        else
        {
            t = Math.Min(t, within);
            if (below && !Clear(low, d.Vy, -0.5 * gravity, t))
                Leaves(Side.Down, DownCrossing(low, d.Vy, -0.5 * gravity), ref t, ref own);
            if (above && !Clear(cellHeight - low, -Math.Max(0, d.Vy), 0, t))
                Leaves(Side.Up, DownCrossing(cellHeight - low, -d.Vy, 0.5 * gravity), ref t, ref own);
        }

        d.Leaving = t < within ? now + Math.Max(0, t) : double.PositiveInfinity;
    }

    private static void Leaves(Side through, double time, ref double t, ref Rest own)
    {
        if (time < t)
            (t, own.Through) = (time, through);
    }

    private void CheckPlaces()
    {
        double lowest = box.Floor is { } floor ? floor.HeightAt(0) : 0, ceiling = box.Lid is null ? height : lidY;
        for (int i = 0; i < discs.Length; i++)
        {
            ref var d = ref discs[i];
            const double Slack = 1e-9;
            if (!endless && (d.X < d.Radius * (1 - Slack) || d.X > width - d.Radius * (1 - Slack) || d.Y < lowest + d.Radius * (1 - Slack) || (!box.Open && d.Y > ceiling - d.Radius * (1 - Slack))))
                throw new ArgumentException(FormattableString.Invariant($"Disc {i} does not stand inside the box."));
            Gather(rest[i].Column, rest[i].Row, Around);
            foreach (int j in near.AsSpan(0, nearCount))
            {
                double x = discs[j].X - d.X, y = discs[j].Y - d.Y, sum = discs[j].Radius + d.Radius;
                if (endless)
                    (x, y) = (Nearest(x, width), Nearest(y, height));
                if (j != i && x * x + y * y < sum * sum * (1 - 1e-9))
                    throw new ArgumentException(FormattableString.Invariant($"Discs {i} and {j} overlap."));
            }
        }
    }
}
