using System.Runtime.CompilerServices;
using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <summary>Hard discs in a box, from one meeting to the next: between meetings every path is known in closed form, so no time step enters.</summary>
/// <remarks>
/// Each disc keeps its own clock, its next meeting and the time it leaves its cell; a heap over the discs gives the next event. A disc whose partner was taken by an earlier
/// meeting looks again when its turn comes. Gravity pulls all discs alike, so that two of them meet along a straight line in each other's eyes; floor, lid and top are quadratic equations.
/// One instance is used by one thread at a time; the same start gives the same run.
/// </remarks>
/// <source key="Lubachevsky1991"/>
public sealed partial class HardDiscs
{
    private const int NoPartner = -1, Left = -2, Right = -3, Bottom = -4, Top = -5, OnLid = -6, Stale = -7;

    // What a neighbour looks at comes first, in one line of memory.
    private struct Disc
    {
        public double X, Y, Vx, Vy, Clock, Meeting, Radius;
        public int Next, Cell;
        public double Mass, Leaving, LastMet;
        public int Partner, Previous;
    }

    private readonly BoxDescription box;
    private readonly Disc[] discs;
    private readonly int[] heads;
    private readonly EventQueue queue;
    private readonly int columns, rows;
    private readonly double cellWidth, cellHeight;
    private readonly bool endless;
    private readonly double gravity, lidFall, width, height;
    private readonly double heldAtStart;
    private double now, lidY, lidV, lidClock;
    private double fromFloor, lostBetween, lostAtWalls, escapedEnergy, virial, lidImpulse, lidIntegral;
    private long meetings;
    private int escaped;

    /// <summary>Sets discs into a box.</summary>
    /// <param name="box">The box.</param>
    /// <param name="start">The discs; at least one.</param>
    /// <param name="perCell">About how many discs to a cell; only the speed depends on it.</param>
    /// <exception cref="ArgumentException">The description is wrong, or discs overlap one another or stand outside.</exception>
    public HardDiscs(BoxDescription box, IReadOnlyList<DiscState> start, double perCell = 1.2)
    {
        ArgumentNullException.ThrowIfNull(box);
        ArgumentNullException.ThrowIfNull(start);
        box.Check();
        Guard.Positive(start.Count);
        Guard.Positive(perCell);
        this.box = box;
        (width, height, gravity, endless) = (box.Width, box.Height, box.Gravity, box.Sides == Sides.Endless);
        double largest = start.Max(d => Guard.Positive(d.Radius));
        double side = Math.Max(2 * largest * (1 + 1e-9), Math.Sqrt(perCell * width * height / start.Count));
        columns = Math.Max(1, (int)(width / side));
        rows = Math.Max(1, (int)(height / side));
        if (endless && (columns < 3 || rows < 3))
            throw new ArgumentException("Endless sides need room for three discs across.", nameof(start));
        (cellWidth, cellHeight) = (width / columns, height / rows);
        heads = new int[columns * rows];
        Array.Fill(heads, -1);
        discs = new Disc[start.Count];
        queue = new EventQueue(start.Count + 1);
        if (box.Lid is { } lid)
            (lidY, lidFall) = (lid.Height, gravity + lid.Load / lid.Mass);
        for (int i = 0; i < discs.Length; i++)
        {
            var s = start[i];
            discs[i] = new Disc
            {
                X = Guard.Finite(s.X), Y = Guard.Finite(s.Y), Vx = Guard.Finite(s.Vx), Vy = Guard.Finite(s.Vy), Radius = s.Radius, Mass = Guard.Positive(s.Mass),
                Partner = NoPartner, Meeting = double.PositiveInfinity, LastMet = double.NegativeInfinity,
            };
            Enter(i, CellOf(s.X, s.Y));
        }

        CheckPlaces();
        heldAtStart = Held;
        for (int i = 0; i < discs.Length; i++)
        {
            discs[i].Leaving = LeavingTime(ref discs[i]);
            Look(i);
        }

        LookForLid();
    }

    /// <summary>Time since the start, s.</summary>
    public double Now => now;

    /// <summary>Meetings of two discs so far.</summary>
    public long Meetings => meetings;

    /// <summary>Discs that have left through the open top.</summary>
    public int Escaped => escaped;

    /// <summary>Height of the lid, m; NaN without one.</summary>
    public double LidHeight => box.Lid is null ? double.NaN : lidY + (lidV - 0.5 * lidFall * (now - lidClock)) * (now - lidClock);

    /// <summary>Integral of the lid's height over time, m s.</summary>
    public double LidHeightIntegral => lidIntegral + LidArea(now - lidClock);

    /// <summary>Sum over all meetings of impulse times distance of the centres, J s: the virial of the gas. Pressure times area is N kT plus half of it a second.</summary>
    public double Virial => virial;

    /// <summary>Impulse that discs gave the lid or the top, N s.</summary>
    public double LidImpulse => lidImpulse;

    /// <summary>Energy of motion of the discs, J.</summary>
    public double EnergyOfMotion
    {
        get
        {
            double sum = 0;
            foreach (ref var d in discs.AsSpan())
            {
                double vy = d.Vy - gravity * (now - d.Clock);
                sum += d.Cell < 0 ? 0 : 0.5 * d.Mass * (d.Vx * d.Vx + vy * vy);
            }

            return sum;
        }
    }

    /// <summary>Where energy came from and went.</summary>
    public EnergyLedger Ledger => new()
    {
        Held = Held, HeldAtStart = heldAtStart, FromFloor = fromFloor, LostBetweenDiscs = lostBetween, LostAtWalls = lostAtWalls, Escaped = escapedEnergy,
    };

    /// <summary>All discs now; those that escaped are left out.</summary>
    public IReadOnlyList<DiscState> States =>
        [.. discs.Where(d => d.Cell >= 0).Select(d => (d, t: now - d.Clock)).Select(p =>
            new DiscState(p.d.X + p.d.Vx * p.t, p.d.Y + (p.d.Vy - 0.5 * gravity * p.t) * p.t, p.d.Vx, p.d.Vy - gravity * p.t, p.d.Radius, p.d.Mass))];

    /// <summary>One disc now, by its place at the start; NaN places when it escaped.</summary>
    public DiscState this[int index]
    {
        get
        {
            ref var d = ref discs[index];
            double t = now - d.Clock;
            return d.Cell < 0 ? new DiscState(double.NaN, double.NaN, double.NaN, double.NaN, d.Radius, d.Mass)
                : new DiscState(d.X + d.Vx * t, d.Y + (d.Vy - 0.5 * gravity * t) * t, d.Vx, d.Vy - gravity * t, d.Radius, d.Mass);
        }
    }

    private double Held
    {
        get
        {
            double sum = EnergyOfMotion;
            foreach (ref var d in discs.AsSpan())
                if (d.Cell >= 0)
                    sum += d.Mass * gravity * (d.Y + (d.Vy - 0.5 * gravity * (now - d.Clock)) * (now - d.Clock));
            if (box.Lid is { } lid)
            {
                double v = lidV - lidFall * (now - lidClock);
                sum += lid.Mass * (0.5 * v * v + lidFall * LidHeight);
            }

            return sum;
        }
    }

    /// <summary>Runs until a time.</summary>
    /// <param name="until">The time, s; not before <see cref="Now"/>.</param>
    /// <param name="cancellation">Stops the work between meetings.</param>
    public void Run(double until, CancellationToken cancellation = default)
    {
        int count = 0;
        while (queue.FirstKey <= until)
        {
            Step();
            if ((++count & 0xFFFF) == 0)
                cancellation.ThrowIfCancellationRequested();
        }

        now = Math.Max(now, until);
    }

    /// <summary>Runs until so many discs have met, or a time has come.</summary>
    /// <param name="more">How many meetings more.</param>
    /// <param name="until">The time that ends it all the same, s.</param>
    public void RunMeetings(long more, double until = double.PositiveInfinity)
    {
        long end = meetings + more;
        while (meetings < end && queue.FirstKey <= until)
            Step();
    }

    /// <summary>Turns every speed round, lid included: the run goes back the way it came, up to rounding. Only without losses and with the floor at rest.</summary>
    /// <exception cref="InvalidOperationException">Energy is lost or put in, so that there is no way back.</exception>
    public void TurnBack()
    {
        if (box.Restitution != 1 || box.WallRestitution != 1 || box.Floor is not null || box.Open || box.Grip != 0)
            throw new InvalidOperationException("Energy is lost, put in or let out: there is no way back.");
        for (int i = 0; i < discs.Length; i++)
        {
            Bring(ref discs[i]);
            (discs[i].Vx, discs[i].Vy, discs[i].Partner, discs[i].Meeting) = (-discs[i].Vx, -discs[i].Vy, NoPartner, double.PositiveInfinity);
        }

        BringLid();
        lidV = -lidV;
        for (int i = 0; i < discs.Length; i++)
        {
            discs[i].Leaving = LeavingTime(ref discs[i]);
            Look(i);
        }

        LookForLid();
    }

    private void Step()
    {
        int i = queue.First;
        now = queue.FirstKey;
        if (i == discs.Length)
        {
            BringLid();
            lidV = -Math.Abs(lidV);
            LidTurned();
            return;
        }

        ref var d = ref discs[i];
        if (d.Leaving < d.Meeting)
            Cross(i);
        else if (d.Partner >= 0)
        {
            ref var other = ref discs[d.Partner];
            if (other.Partner == i && other.Meeting == d.Meeting)
                Meet(i, d.Partner);
            else
                Look(i);
        }
        else if (d.Partner == Stale || d.Partner == NoPartner)
            Look(i);
        else
            MeetWall(i);
    }

    private void Meet(int i, int j)
    {
        ref var a = ref discs[i];
        ref var b = ref discs[j];
        Bring(ref a);
        Bring(ref b);
        double nx = b.X - a.X, ny = b.Y - a.Y;
        if (endless)
            (nx, ny) = (Nearest(nx, width), Nearest(ny, height));
        double distance = Math.Sqrt(nx * nx + ny * ny);
        (nx, ny) = (nx / distance, ny / distance);
        double approach = (b.Vx - a.Vx) * nx + (b.Vy - a.Vy) * ny;
        if (approach < 0)
        {
            double e = now - Math.Max(a.LastMet, b.LastMet) < box.ContactTime ? 1 : box.Restitution;
            double reduced = a.Mass * b.Mass / (a.Mass + b.Mass), impulse = -(1 + e) * reduced * approach;
            a.Vx -= impulse / a.Mass * nx;
            a.Vy -= impulse / a.Mass * ny;
            b.Vx += impulse / b.Mass * nx;
            b.Vy += impulse / b.Mass * ny;
            lostBetween += 0.5 * reduced * (1 - e * e) * approach * approach;
            virial += impulse * distance;
        }

        meetings++;
        a.LastMet = b.LastMet = now;
        a.Partner = b.Partner = NoPartner;
        a.Meeting = b.Meeting = double.PositiveInfinity;
        a.Leaving = LeavingTime(ref a);
        b.Leaving = LeavingTime(ref b);
        Look(i);
        Look(j);
    }

    private void MeetWall(int i)
    {
        ref var d = ref discs[i];
        Bring(ref d);
        double e = now - d.LastMet < box.ContactTime ? 1 : box.WallRestitution;
        int wall = d.Partner;
        d.Partner = NoPartner;
        d.Meeting = double.PositiveInfinity;
        d.LastMet = now;
        switch (wall)
        {
            case Left or Right:
                lostAtWalls += 0.5 * d.Mass * (1 - e * e) * d.Vx * d.Vx;
                d.Vx = (wall == Left ? 1 : -1) * e * Math.Abs(d.Vx);
                break;
            case Top:
                lostAtWalls += 0.5 * d.Mass * (1 - e * e) * d.Vy * d.Vy;
                lidImpulse += d.Mass * (1 + e) * Math.Abs(d.Vy);
                d.Vy = -e * Math.Abs(d.Vy);
                break;
            case Bottom:
                MeetFloor(ref d, e);
                break;
            default:
                MeetLid(ref d, e);
                d.Leaving = LeavingTime(ref d);
                Look(i);
                LidTurned();
                return;
        }

        d.Leaving = LeavingTime(ref d);
        Look(i);
    }

    private void MeetFloor(ref Disc d, double e)
    {
        double floor = box.Floor?.SpeedAt(now) ?? 0, approach = d.Vy - floor;
        if (approach >= 0)
            return;
        double before = d.Vx * d.Vx + d.Vy * d.Vy, slip = d.Vx - box.Drag, kept = (1 - box.Grip) * slip;
        d.Vy = floor - e * approach;
        d.Vx = box.Drag + kept;
        double lost = 0.5 * d.Mass * ((1 - e * e) * approach * approach + slip * slip - kept * kept);
        lostAtWalls += lost;
        fromFloor += 0.5 * d.Mass * (d.Vx * d.Vx + d.Vy * d.Vy - before) + lost;
    }

    private void MeetLid(ref Disc d, double e)
    {
        BringLid();
        double mass = box.Lid!.Mass, reduced = d.Mass * mass / (d.Mass + mass), approach = lidV - d.Vy;
        if (approach >= 0)
            return;
        double impulse = -(1 + e) * reduced * approach;
        d.Vy -= impulse / d.Mass;
        lidV += impulse / mass;
        lidImpulse += impulse;
        lostAtWalls += 0.5 * reduced * (1 - e * e) * approach * approach;
    }

    // The lid moves otherwise now: whoever counted on meeting it looks again, and whom it reaches sooner than anything else is told.
    private void LidTurned()
    {
        for (int i = 0; i < discs.Length; i++)
        {
            ref var d = ref discs[i];
            if (d.Partner == OnLid)
            {
                d.Partner = NoPartner;
                d.Meeting = double.PositiveInfinity;
                Look(i);
                continue;
            }

            double t = LidTime(ref d);
            if (t >= d.Meeting)
                continue;
            Leave(i);
            (d.Partner, d.Meeting) = (OnLid, t);
            queue.Set(i, Math.Min(t, d.Leaving));
        }

        LookForLid();
    }

    private void LookForLid()
    {
        if (box.Lid is null)
            return;
        double t = now - lidClock;
        queue.Set(discs.Length, now + DownCrossing(height - LidHeight, -(lidV - lidFall * t), 0.5 * lidFall));
    }

    private void BringLid()
    {
        double t = now - lidClock;
        lidIntegral += LidArea(t);
        lidY += (lidV - 0.5 * lidFall * t) * t;
        lidV -= lidFall * t;
        lidClock = now;
    }

    private double LidArea(double t) => (lidY + (0.5 * lidV - lidFall * t / 6) * t) * t;

    // Brings a disc's own clock to now.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Bring(ref Disc d)
    {
        double t = now - d.Clock;
        d.X += d.Vx * t;
        d.Y += (d.Vy - 0.5 * gravity * t) * t;
        d.Vy -= gravity * t;
        d.Clock = now;
    }

    private static double Nearest(double difference, double period) => difference > 0.5 * period ? difference - period : difference < -0.5 * period ? difference + period : difference;
}
