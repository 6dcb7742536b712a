using System.Runtime.CompilerServices;
using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <summary>Hard discs in a box, from one meeting to the next: between meetings every path is known in closed form, so no time step enters.</summary>
/// <remarks>
/// Each disc keeps its own clock, its next meeting and the time it leaves its cell; a calendar over the discs gives the next event. A disc whose partner was taken by an earlier
/// meeting looks again when its turn comes. Gravity pulls all discs alike, so that two of them meet along a straight line in each other's eyes; floor, lid and top are quadratic equations.
/// One instance is used by one thread at a time; the same start gives the same run.
/// </remarks>
/// <source key="Lubachevsky1991"/>
public sealed partial class HardDiscs
{
    private const int NoPartner = -1, Left = -2, Right = -3, Bottom = -4, Top = -5, OnLid = -6, Stale = -7;

    // What a neighbour looks at, in the length of one line of memory.
    private struct Disc
    {
        public double X, Y, Vx, Vy, Clock, Meeting, Radius, Leaving;
    }

    // What only the disc itself needs. Out of the box when its column is zero.
    private struct Rest
    {
        public double Mass, LastMet;
        public int Partner, Column, Row, Place;
        public Side Through;
    }

    private readonly BoxDescription box;
    private readonly Disc[] discs;
    private readonly Rest[] rest;
    private readonly EventQueue queue;
    private readonly bool endless;
    private readonly double gravity, lidFall, width, height, restitution, contactTime, shake;
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
        (restitution, contactTime, shake) = (box.Restitution, box.ContactTime, box.Floor?.Amplitude ?? 0);
        double largest = start.Max(d => Guard.Positive(d.Radius));
        double side = Math.Max(2 * largest * (1 + 1e-9), Math.Sqrt(perCell * width * height / start.Count));
        columns = Math.Max(1, (int)(width / side));
        rows = Math.Max(1, (int)(height / side));
        if (endless && (columns < 3 || rows < 3))
            throw new ArgumentException("Endless sides need room for three discs across.", nameof(start));
        (cellWidth, cellHeight) = (width / columns, height / rows);
        Widen(8);
        discs = new Disc[start.Count];
        rest = new Rest[start.Count];
        queue = new EventQueue(start.Count + 1);
        if (box.Lid is { } lid)
            (lidY, lidFall) = (lid.Height, gravity + lid.Load / lid.Mass);
        for (int i = 0; i < discs.Length; i++)
        {
            var s = start[i];
            discs[i] = new Disc
            {
                X = Guard.Finite(s.X), Y = Guard.Finite(s.Y), Vx = Guard.Finite(s.Vx), Vy = Guard.Finite(s.Vy), Radius = s.Radius, Meeting = double.PositiveInfinity,
            };
            rest[i] = new Rest { Mass = Guard.Positive(s.Mass), Partner = NoPartner, LastMet = double.NegativeInfinity };
            Enter(i, 1 + Math.Clamp((int)(s.X / cellWidth), 0, columns - 1), 1 + Math.Clamp((int)(s.Y / cellHeight), 0, rows - 1));
        }

        CheckPlaces();
        if (box.Moments is { } given)
        {
            if (given.Count != start.Count)
                throw new ArgumentException("Every disc has a moment or none has.", nameof(box));
            moments = [.. given.Select(m => Guard.NotNegative(m))];
            (px, py, ax, ay, strength) = (new double[start.Count + 4], new double[start.Count + 4], new double[start.Count + 4], new double[start.Count + 4], new double[start.Count + 4]);
            Array.Fill(px, 1e6);
            FindPushes();
            ChooseStep();
        }

        heldAtStart = Held;
        LookAll();
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
            for (int i = 0; i < discs.Length; i++)
            {
                ref var d = ref discs[i];
                double vy = d.Vy - gravity * (now - d.Clock);
                sum += IsOut(i) ? 0 : 0.5 * rest[i].Mass * (d.Vx * d.Vx + vy * vy);
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
        [.. Enumerable.Range(0, discs.Length).Where(i => !IsOut(i)).Select(i => this[i])];

    /// <summary>One disc now, by its place at the start; NaN places when it escaped.</summary>
    public DiscState this[int index]
    {
        get
        {
            ref var d = ref discs[index];
            double t = now - d.Clock;
            return IsOut(index) ? new DiscState(double.NaN, double.NaN, double.NaN, double.NaN, d.Radius, rest[index].Mass)
                : new DiscState(d.X + d.Vx * t, d.Y + (d.Vy - 0.5 * gravity * t) * t, d.Vx, d.Vy - gravity * t, d.Radius, rest[index].Mass);
        }
    }

    private double Held
    {
        get
        {
            double sum = EnergyOfMotion + held;
            for (int i = 0; gravity != 0 && i < discs.Length; i++)
                if (!IsOut(i))
                    sum += rest[i].Mass * gravity * this[i].Y;
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
        if (Repels)
            RunRepelling(until, long.MaxValue, cancellation);
        int count = 0;
        while (Step(until))
        {
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
        if (Repels)
        {
            RunRepelling(until, end, CancellationToken.None);
            return;
        }

        while (meetings < end && Step(until))
        {
        }
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
            (discs[i].Vx, discs[i].Vy) = (-discs[i].Vx, -discs[i].Vy);
        }

        BringLid();
        lidV = -lidV;
        LookAll();
    }

    private bool IsOut(int i) => rest[i].Column == 0;

    // Does what comes next, unless it comes after a time.
    private bool Step(double until)
    {
        var (i, at) = queue.First();
        if (!(at <= until))
            return false;
        now = at;
        if (i == discs.Length)
        {
            BringLid();
            lidV = -Math.Abs(lidV);
            LidTurned();
            return true;
        }

        ref var d = ref discs[i];
        int partner = rest[i].Partner;
        if (d.Leaving < d.Meeting)
            Cross(i);
        else if (partner >= 0)
        {
            if (rest[partner].Partner == i && discs[partner].Meeting == d.Meeting)
                Meet(i, partner);
            else
                Look(i);
        }
        else if (partner is Stale or NoPartner)
            Look(i);
        else
            MeetWall(i);
        return true;
    }

    private void Meet(int i, int j)
    {
        ref var a = ref discs[i];
        ref var b = ref discs[j];
        ref Rest p = ref rest[i], q = ref rest[j];
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
            (double X, double Y) lagA = Lag(i), lagB = Lag(j);
            approach += Pressing(approach, (lagB.X - lagA.X) * nx + (lagB.Y - lagA.Y) * ny);
            double e = now - Math.Max(p.LastMet, q.LastMet) < contactTime ? 1 : restitution;
            double reduced = p.Mass * q.Mass / (p.Mass + q.Mass), impulse = -(1 + e) * reduced * approach;
            a.Vx -= impulse / p.Mass * nx;
            a.Vy -= impulse / p.Mass * ny;
            b.Vx += impulse / q.Mass * nx;
            b.Vy += impulse / q.Mass * ny;
            lostBetween += 0.5 * reduced * (1 - e * e) * approach * approach;
            virial += impulse * distance;
        }

        meetings++;
        p.LastMet = q.LastMet = now;
        p.Partner = q.Partner = NoPartner;
        a.Meeting = b.Meeting = double.PositiveInfinity;
        Look(i);
        Look(j);
    }

    private void MeetWall(int i)
    {
        ref var d = ref discs[i];
        ref var own = ref rest[i];
        Bring(ref d);
        double e = now - own.LastMet < contactTime ? 1 : box.WallRestitution;
        int wall = own.Partner;
        own.Partner = NoPartner;
        d.Meeting = double.PositiveInfinity;
        own.LastMet = now;
        var (lagX, lagY) = Lag(i);
        switch (wall)
        {
            case Left:
                d.Vx = Back(d.Vx, lagX, e, own.Mass);
                break;
            case Right:
                d.Vx = -Back(-d.Vx, -lagX, e, own.Mass);
                break;
            case Top:
                double up = d.Vy;
                d.Vy = -Back(-d.Vy, -lagY, e, own.Mass);
                lidImpulse += own.Mass * (up - d.Vy);
                break;
            case Bottom:
                MeetFloor(ref d, lagY, own.Mass, e);
                break;
            default:
                MeetLid(ref d, lagY, own.Mass, e);
                Look(i);
                LidTurned();
                return;
        }

        Look(i);
    }

    // Speed away from a wall after a meeting, of a speed towards it (below zero).
    private double Back(double speed, double lag, double e, double mass)
    {
        lag = Pressing(speed, lag);
        double approach = speed + lag;
        lostAtWalls += 0.5 * mass * (1 - e * e) * approach * approach;
        return -e * approach - lag;
    }

    // The lag of a speed of approach (below zero), unless the approach would be over with it.
    private static double Pressing(double approach, double lag) => approach + lag < 0 ? lag : 0;

    private void MeetFloor(ref Disc d, double lag, double mass, double e)
    {
        double floor = box.Floor?.SpeedAt(now) ?? 0, approach = d.Vy - floor;
        if (approach >= 0)
            return;
        lag = Pressing(approach, lag);
        approach += lag;
        double before = d.Vx * d.Vx + (d.Vy + lag) * (d.Vy + lag), slip = d.Vx - box.Drag, kept = (1 - box.Grip) * slip, rising = floor - e * approach;
        d.Vy = rising - lag;
        d.Vx = box.Drag + kept;
        double lost = 0.5 * mass * ((1 - e * e) * approach * approach + slip * slip - kept * kept);
        lostAtWalls += lost;
        fromFloor += 0.5 * mass * (d.Vx * d.Vx + rising * rising - before) + lost;
    }

    private void MeetLid(ref Disc d, double lag, double mass, double e)
    {
        BringLid();
        double lid = box.Lid!.Mass, reduced = mass * lid / (mass + lid), approach = lidV - d.Vy;
        if (approach >= 0)
            return;
        approach += Pressing(approach, -lag);
        double impulse = -(1 + e) * reduced * approach;
        d.Vy -= impulse / mass;
        lidV += impulse / lid;
        lidImpulse += impulse;
        lostAtWalls += 0.5 * reduced * (1 - e * e) * approach * approach;
    }

    // The lid moves otherwise now: whoever counted on meeting it looks again, and whom it reaches sooner than anything else is told.
    private void LidTurned()
    {
        for (int i = 0; i < discs.Length; i++)
        {
            ref var d = ref discs[i];
            if (rest[i].Partner == OnLid)
            {
                rest[i].Partner = NoPartner;
                d.Meeting = double.PositiveInfinity;
                Look(i);
                continue;
            }

            if (!LidComes(ref d, d.Meeting - now))
                continue;
            double t = LidTime(ref d);
            if (t >= d.Meeting)
                continue;
            Leave(i);
            (rest[i].Partner, d.Meeting) = (OnLid, t);
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
