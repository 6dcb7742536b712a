using System.Runtime.CompilerServices;

namespace Fieldwright.Particles;

/// <content>Where discs are and what they meet next.</content>
public sealed partial class HardDiscs
{
    // Finds what a disc meets next: walls first, then the discs of its own and the neighbouring cells.
    private void Look(int i)
    {
        ref var d = ref discs[i];
        Leave(i);
        Bring(ref d);
        (d.Partner, d.Meeting) = endless ? (NoPartner, double.PositiveInfinity) : WallTime(ref d);
        int column = d.Cell % columns, row = d.Cell / columns;
        for (int dr = -1; dr <= 1; dr++)
            for (int dc = -1; dc <= 1; dc++)
                LookInto(i, ref d, column + dc, row + dr);
        Commit(i, ref d);
    }

    private void LookInto(int i, ref Disc d, int column, int row)
    {
        if (endless)
        {
            column = column < 0 ? columns - 1 : column >= columns ? 0 : column;
            row = row < 0 ? rows - 1 : row >= rows ? 0 : row;
        }
        else if ((uint)column >= (uint)columns || (uint)row >= (uint)rows)
            return;
        var discs = this.discs;
        for (int j = heads[row * columns + column]; j >= 0; j = discs[j].Next)
        {
            if (j == i)
                continue;
            ref var o = ref discs[j];
            double t = now - o.Clock;
            double x = o.X + o.Vx * t - d.X, y = o.Y + (o.Vy - 0.5 * gravity * t) * t - d.Y;
            if (endless)
                (x, y) = (Nearest(x, width), Nearest(y, height));
            double vx = o.Vx - d.Vx, vy = o.Vy - gravity * t - d.Vy;
            double b = x * vx + y * vy;
            if (b >= 0)
                continue;
            double sum = o.Radius + d.Radius, speed = vx * vx + vy * vy, gap = x * x + y * y - sum * sum, root = b * b - speed * gap;
            if (root < 0)
                continue;
            double at = now + Math.Max(0, gap / (Math.Sqrt(root) - b));
            if (at < d.Meeting && at < o.Meeting)
                (d.Meeting, d.Partner) = (at, j);
        }
    }

    // Tells the partner, whose former partner will look again when its turn comes.
    private void Commit(int i, ref Disc d)
    {
        if (d.Partner >= 0)
        {
            ref var o = ref discs[d.Partner];
            if (o.Partner != i)
            {
                Leave(d.Partner);
                o.Partner = i;
            }

            o.Meeting = d.Meeting;
            queue.Set(d.Partner, Math.Min(o.Meeting, o.Leaving));
        }

        queue.Set(i, Math.Min(d.Meeting, d.Leaving));
    }

    private void Leave(int i)
    {
        int former = discs[i].Partner;
        if (former >= 0 && discs[former].Partner == i)
            discs[former].Partner = Stale;
    }

    private void Cross(int i)
    {
        ref var d = ref discs[i];
        Bring(ref d);
        int column = d.Cell % columns, row = d.Cell / columns;
        // The side it leaves by is the one it has reached and goes through.
        double left = d.X - column * cellWidth, right = (column + 1) * cellWidth - d.X, below = d.Y - row * cellHeight, above = (row + 1) * cellHeight - d.Y;
        double across = d.Vx > 0 ? right : d.Vx < 0 ? left : double.PositiveInfinity, along = d.Vy > 0 ? above : d.Vy < 0 ? below : double.PositiveInfinity;
        bool sideways = Math.Abs(across) * cellHeight <= Math.Abs(along) * cellWidth;
        if (!endless)
        {
            // At the edges of the grid there is nothing to leave to.
            if (sideways && (uint)(column + Math.Sign(d.Vx)) >= (uint)columns)
                sideways = false;
            else if (!sideways && !(box.Open && d.Vy > 0 && row == rows - 1) && (uint)(row + Math.Sign(d.Vy)) >= (uint)rows)
                sideways = true;
        }

        int stepColumn = sideways ? Math.Sign(d.Vx) : 0, stepRow = sideways ? 0 : Math.Sign(d.Vy);
        if (box.Open && row + stepRow >= rows)
        {
            Escape(i, ref d);
            return;
        }

        column += stepColumn;
        row += stepRow;
        if (endless)
        {
            if (column < 0)
                (column, d.X) = (columns - 1, d.X + width);
            else if (column >= columns)
                (column, d.X) = (0, d.X - width);
            if (row < 0)
                (row, d.Y) = (rows - 1, d.Y + height);
            else if (row >= rows)
                (row, d.Y) = (0, d.Y - height);
        }

        Depart(i);
        Enter(i, row * columns + column);
        d.Leaving = LeavingTime(ref d);
        int was = d.Partner;
        double before = d.Meeting;
        for (int k = -1; k <= 1; k++)
            LookInto(i, ref d, sideways ? column + stepColumn : column + k, sideways ? row + k : row + stepRow);
        if (d.Meeting < before)
        {
            if (was >= 0 && discs[was].Partner == i)
                discs[was].Partner = Stale;
            Commit(i, ref d);
        }
        else
            queue.Set(i, Math.Min(d.Meeting, d.Leaving));
    }

    private void Escape(int i, ref Disc d)
    {
        Leave(i);
        Depart(i);
        escaped++;
        escapedEnergy += 0.5 * d.Mass * (d.Vx * d.Vx + d.Vy * d.Vy) + d.Mass * gravity * d.Y;
        d.Cell = -1;
        (d.Partner, d.Meeting, d.Leaving) = (NoPartner, double.PositiveInfinity, double.PositiveInfinity);
        queue.Set(i, double.PositiveInfinity);
    }

    // When a disc that is brought up to now leaves its cell; the outermost cells reach to infinity.
    private double LeavingTime(ref Disc d)
    {
        int column = d.Cell % columns, row = d.Cell / columns;
        double t = double.PositiveInfinity;
        if (d.Vx > 0 && (endless || column < columns - 1))
            t = ((column + 1) * cellWidth - d.X) / d.Vx;
        else if (d.Vx < 0 && (endless || column > 0))
            t = (column * cellWidth - d.X) / d.Vx;
        if (endless || row > 0)
            t = Math.Min(t, DownCrossing(d.Y - row * cellHeight, d.Vy, -0.5 * gravity));
        if (endless || row < rows - 1 || box.Open)
            t = Math.Min(t, DownCrossing((row + 1) * cellHeight - d.Y, -d.Vy, 0.5 * gravity));
        return now + Math.Max(0, t);
    }

    private (int Wall, double Time) WallTime(ref Disc d)
    {
        int wall = NoPartner;
        double t = double.PositiveInfinity;
        if (d.Vx < 0)
            (wall, t) = (Left, Math.Max(0, (d.Radius - d.X) / d.Vx));
        else if (d.Vx > 0)
            (wall, t) = (Right, Math.Max(0, (width - d.Radius - d.X) / d.Vx));
        double floor = FloorTime(ref d);
        if (floor < t)
            (wall, t) = (Bottom, floor);
        double top = box.Lid is null && !box.Open ? DownCrossing(height - d.Radius - d.Y, -d.Vy, 0.5 * gravity) : double.PositiveInfinity;
        if (top < t)
            (wall, t) = (Top, top);
        double at = now + t, lid = LidTime(ref d);
        return lid < at ? (OnLid, lid) : (wall, at);
    }

    // Time from now.
    private double FloorTime(ref Disc d)
    {
        double gap = d.Y - d.Radius;
        if (box.Floor is not { Amplitude: > 0 } floor)
            return DownCrossing(gap, d.Vy, -0.5 * gravity);
        // Nothing can happen before the disc is as low as the floor comes.
        double t = gap > floor.Amplitude ? DownCrossing(gap - floor.Amplitude, d.Vy, -0.5 * gravity) : 0;
        if (double.IsInfinity(t))
            return t;
        double half = 0.5 / floor.Frequency;
        long arc = (long)Math.Floor((now + t) / half);
        for (int tries = 0; tries < 100_000; tries++, arc++)
        {
            double sign = (arc & 1) == 0 ? 1 : -1, begin = arc * half - now, end = begin + half;
            double from = Math.Max(0, Math.Max(t, begin));
            // Height over the floor, from 'from' on: h = c0 + c1 u + c2 u²; floor = ±4A (s − s²), s = (from − begin + u)/half.
            double s = (from - begin) / half, c0 = gap + (d.Vy - 0.5 * gravity * from) * from - sign * 4 * floor.Amplitude * s * (1 - s);
            double c1 = d.Vy - gravity * from - sign * 4 * floor.Amplitude * (1 - 2 * s) / half, c2 = -0.5 * gravity + sign * 4 * floor.Amplitude / (half * half);
            double u = DownCrossing(c0, c1, c2);
            if (from + u <= end)
                return from + u;
            if (gravity == 0 && d.Vy >= 0 && gap + d.Vy * end > floor.Amplitude)
                return double.PositiveInfinity;
        }

        return double.PositiveInfinity;
    }

    // The time itself; infinite when it does not reach the lid.
    private double LidTime(ref Disc d)
    {
        if (box.Lid is null)
            return double.PositiveInfinity;
        double t = now - d.Clock, y = d.Y + (d.Vy - 0.5 * gravity * t) * t, vy = d.Vy - gravity * t, u = now - lidClock;
        return now + DownCrossing(LidHeight - d.Radius - y, lidV - lidFall * u - vy, 0.5 * (gravity - lidFall));
    }

    /// <summary>The first time, from zero on, at which c0 + c1 t + c2 t² falls through zero; infinite when it never does. A gap that is already a rounding error below zero and closing counts as met at once.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static double DownCrossing(double c0, double c1, double c2)
    {
        if (c2 == 0)
            return c1 < 0 ? Math.Max(0, -c0 / c1) : double.PositiveInfinity;
        double root = c1 * c1 - 4 * c2 * c0;
        if (c1 < 0)
            return root < 0 ? c0 < 0 ? 0 : double.PositiveInfinity : Math.Max(0, 2 * c0 / (Math.Sqrt(root) - c1));
        // Rising: it comes back only if the curve bends down.
        return c2 < 0 && root >= 0 ? (c1 + Math.Sqrt(root)) / (-2 * c2) : double.PositiveInfinity;
    }

    private int CellOf(double x, double y) => Math.Clamp((int)(y / cellHeight), 0, rows - 1) * columns + Math.Clamp((int)(x / cellWidth), 0, columns - 1);

    private void Enter(int i, int cell)
    {
        ref var d = ref discs[i];
        d.Cell = cell;
        d.Previous = -1;
        d.Next = heads[cell];
        if (d.Next >= 0)
            discs[d.Next].Previous = i;
        heads[cell] = i;
    }

    private void Depart(int i)
    {
        ref var d = ref discs[i];
        if (d.Previous >= 0)
            discs[d.Previous].Next = d.Next;
        else
            heads[d.Cell] = d.Next;
        if (d.Next >= 0)
            discs[d.Next].Previous = d.Previous;
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
            int column = d.Cell % columns, row = d.Cell / columns;
            for (int dr = -1; dr <= 1; dr++)
                for (int dc = -1; dc <= 1; dc++)
                    CheckAgainst(i, column + dc, row + dr);
        }
    }

    private void CheckAgainst(int i, int column, int row)
    {
        if (endless)
            (column, row) = ((column + columns) % columns, (row + rows) % rows);
        else if ((uint)column >= (uint)columns || (uint)row >= (uint)rows)
            return;
        for (int j = heads[row * columns + column]; j >= 0; j = discs[j].Next)
        {
            double x = discs[j].X - discs[i].X, y = discs[j].Y - discs[i].Y, sum = discs[j].Radius + discs[i].Radius;
            if (endless)
                (x, y) = (Nearest(x, width), Nearest(y, height));
            if (j != i && x * x + y * y < sum * sum * (1 - 1e-9))
                throw new ArgumentException(FormattableString.Invariant($"Discs {i} and {j} overlap."));
        }
    }
}
