using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using Fieldwright.Numerics;

namespace Fieldwright.Particles;

/// <summary>Hard discs in a box, from one meeting to the next: between meetings every path is known in closed form, so no time step enters.</summary>
/// <remarks>
/// Each disc keeps its path, its next meeting and the time it leaves its cell; a calendar over the discs gives the next event. A disc whose partner was taken by an earlier
/// meeting looks again when its turn comes. All paths are told from one and the same moment, so that two of them are compared without bringing either up to date, and an event changes
/// none but its own; that moment is moved up now and then. Gravity pulls all discs alike, so that two of them meet along a straight line in each other's eyes; floor, lid and top are quadratic equations.
/// One instance is used by one thread at a time; the same start gives the same run.
/// </remarks>
/// <source key="Lubachevsky1991"/>
public sealed partial class HardDiscs
{
    private const int NoPartner = -1, Left = -2, Right = -3, Bottom = -4, Top = -5, OnLid = -6, Stale = -7;

    // Place and speed: of a disc at the common moment, where it would be then on the path it now is on; or at an instant. What a neighbour looks at.
    private struct Path
    {
        public double X, Y, Vx, Vy;
    }

    // From so many discs on they are renumbered after so many events each.
    private const int Many = 400, EventsEach = 50;

    // What else a disc has, in the length of one line of memory. Out of the box when its column is zero.
    private struct Rest
    {
        public double Meeting, Leaving, Radius, Mass, LastMet;
        public int Partner, Column, Row, Place;
        public Side Through;
    }

    private readonly BoxDescription box;
    private readonly Path[] paths;
    private readonly Rest[] rest;
    private readonly EventQueue queue;
    // Whether what leaves at the left comes in at the right, and at the bottom at the top.
    private readonly bool roundX, roundY;
    private readonly double gravity, lidFall, width, height, restitution, contactTime, shake, largest;
    private readonly double heldAtStart;
    // Now, how long after the common moment that is, and that moment.
    private double now, since, epoch, lidY, lidV, lidClock;
    private int untilMoved;
    private long untilRenumbered;

    // Which of the discs now is the one that had a number at the start.
    private readonly int[] number;
    private double fromFloor, lostBetween, lostAtWalls, escapedEnergy, virial, lidImpulse, lidIntegral;
    private long meetings;
    private int escaped;

    /// <summary>Sets discs into a box.</summary>
    /// <param name="box">The box.</param>
    /// <param name="start">The discs; at least one.</param>
    /// <param name="perCell">About how many discs to a cell, while they are spread evenly; null to choose. Only the speed depends on it.</param>
    /// <exception cref="ArgumentException">The description is wrong, or discs overlap one another or stand outside.</exception>
    public HardDiscs(BoxDescription box, IReadOnlyList<DiscState> start, double? perCell = null)
    {
        ArgumentNullException.ThrowIfNull(box);
        ArgumentNullException.ThrowIfNull(start);
        box.Check();
        Guard.Positive(start.Count);
        this.box = box;
        (width, height, gravity, roundX, roundY) = (box.Width, box.Height, box.Gravity, box.Sides != Sides.Walls, box.Sides == Sides.Endless);
        (restitution, contactTime, shake) = (box.Restitution, box.ContactTime, box.Floor?.Amplitude ?? 0);
        largest = start.Max(d => Guard.Positive(d.Radius));
        double area = width * (box.Lid?.Height ?? height) / start.Count, packing = start.Average(d => Math.PI * d.Radius * d.Radius) / area;
        // In a thin gas, where discs go through many cells from one meeting to the next, larger ones.
        double least = 2 * largest * (1 + 1e-9), side = Math.Max(least, Math.Sqrt(area * Guard.Positive(perCell ?? Math.Clamp(0.3 / Math.Sqrt(packing), 0.9, 4))));
        (columns, rows) = (Across(width, side, least, roundX), Across(height, side, least, roundY));
        (cellWidth, cellHeight) = (width / columns, height / rows);
        (columnStep, rowStep, shiftX, shiftY) = (Table(columns, roundX, 1), Table(rows, roundY, columns + 2), Shifts(columns, roundX, width), Shifts(rows, roundY, height));
        Widen(8);
        paths = new Path[start.Count];
        rest = new Rest[start.Count];
        number = [.. Enumerable.Range(0, start.Count)];
        queue = new EventQueue(start.Count + 1);
        if (box.Lid is { } lid)
            (lidY, lidFall) = (lid.Height, gravity + lid.Load / lid.Mass);
        for (int i = 0; i < rest.Length; i++)
        {
            var s = start[i];
            paths[i] = new Path { X = Guard.Finite(s.X), Y = Guard.Finite(s.Y), Vx = Guard.Finite(s.Vx), Vy = Guard.Finite(s.Vy) };
            rest[i] = new Rest { Radius = s.Radius, Mass = Guard.Positive(s.Mass), Partner = NoPartner, LastMet = double.NegativeInfinity, Meeting = double.PositiveInfinity };
            Enter(i, 1 + Math.Clamp((int)(s.X / cellWidth), 0, columns - 1), 1 + Math.Clamp((int)(s.Y / cellHeight), 0, rows - 1));
        }

        CheckPlaces();
        if (box.Moments is { } given)
        {
            if (given.Count != start.Count)
                throw new ArgumentException("Every disc has a moment or none has.", nameof(box));
            moments = [.. given.Select(m => Guard.NotNegative(m))];
            everyoneRepels = moments.All(m => m > 0);
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
            for (int i = 0; i < rest.Length; i++)
                if (!IsOut(i) && Here(i) is var d)
                    sum += 0.5 * rest[i].Mass * (d.Vx * d.Vx + d.Vy * d.Vy);
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
        [.. Enumerable.Range(0, rest.Length).Where(i => !IsOut(number[i])).Select(i => this[i])];

    /// <summary>One disc now, by its place at the start; NaN places when it escaped.</summary>
    public DiscState this[int index]
    {
        get
        {
            int i = number[index];
            ref var own = ref rest[i];
            var d = Here(i);
            return IsOut(i) ? new DiscState(double.NaN, double.NaN, double.NaN, double.NaN, own.Radius, own.Mass) : new DiscState(d.X, d.Y, d.Vx, d.Vy, own.Radius, own.Mass);
        }
    }

    private double Held
    {
        get
        {
            double sum = EnergyOfMotion + held;
            for (int i = 0; gravity != 0 && i < rest.Length; i++)
                if (!IsOut(i))
                    sum += rest[i].Mass * gravity * Here(i).Y;
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
        {
            RunRepelling(until, long.MaxValue, cancellation);
            GoTo(Math.Max(now, until));
            return;
        }

        int count = 0;
        while (Step(until))
        {
            if ((++count & 0xFFFF) == 0)
                cancellation.ThrowIfCancellationRequested();
        }

        GoTo(Math.Max(now, until));
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
        if (box.Restitution != 1 || box.WallRestitution != 1 || box.Floor is not null || box.Open || box.Grip != 0 || box.TopGrip != 0)
            throw new InvalidOperationException("Energy is lost, put in or let out: there is no way back.");
        for (int i = 0; i < rest.Length; i++)
        {
            var d = Here(i);
            (d.Vx, d.Vy) = (-d.Vx, -d.Vy);
            Set(i, d);
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
        GoTo(at);
        if (--untilMoved < 0)
            MoveEpoch();
        if (--untilRenumbered < 0 && rest.Length >= Many && !Repels)
        {
            Renumber();
            return true;
        }

        if (i == rest.Length)
        {
            BringLid();
            lidV = -Math.Abs(lidV);
            LidTurned();
            return true;
        }

        ref var own = ref rest[i];
        int partner = own.Partner;
        if (own.Leaving < own.Meeting)
            Cross(i);
        else if (partner >= 0)
        {
            if (rest[partner].Partner == i && rest[partner].Meeting == own.Meeting)
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
        Path a = Here(i), b = Here(j);
        ref Rest p = ref rest[i], q = ref rest[j];
        double nx = b.X - a.X, ny = b.Y - a.Y;
        if (roundX)
            (nx, ny) = (Nearest(nx, width), roundY ? Nearest(ny, height) : ny);
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
            Set(i, a);
            Set(j, b);
        }

        meetings++;
        p.LastMet = q.LastMet = now;
        p.Partner = q.Partner = NoPartner;
        p.Meeting = q.Meeting = double.PositiveInfinity;
        Look(i);
        if (p.Column == q.Column && p.Row == q.Row)
            LookAround(j);
        else
            Look(j);
    }

    private void MeetWall(int i)
    {
        var d = Here(i);
        ref var own = ref rest[i];
        double e = now - own.LastMet < contactTime ? 1 : box.WallRestitution;
        int wall = own.Partner;
        own.Partner = NoPartner;
        own.Meeting = double.PositiveInfinity;
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
                RubTop(ref d, own.Mass);
                break;
            case Bottom:
                MeetFloor(ref d, lagY, own.Mass, e);
                break;
            default:
                MeetLid(ref d, lagY, own.Mass, e);
                break;
        }

        Set(i, d);
        Look(i);
        if (wall == OnLid)
            LidTurned();
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

    private void MeetFloor(ref Path d, double lag, double mass, double e)
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

    private void MeetLid(ref Path d, double lag, double mass, double e)
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
        RubTop(ref d, mass);
    }

    // Top and lid rest sideways and take some of what slides along them.
    private void RubTop(ref Path d, double mass)
    {
        double before = d.Vx;
        d.Vx *= 1 - box.TopGrip;
        lostAtWalls += 0.5 * mass * (before * before - d.Vx * d.Vx);
    }

    // The lid moves otherwise now: whoever counted on meeting it looks again, and whom it reaches sooner than anything else is told.
    private void LidTurned()
    {
        for (int i = 0; i < rest.Length; i++)
        {
            ref var own = ref rest[i];
            if (own.Partner == OnLid)
            {
                own.Partner = NoPartner;
                own.Meeting = double.PositiveInfinity;
                Look(i);
                continue;
            }

            var d = Here(i);
            if (!LidComes(d, own.Radius, own.Meeting - now))
                continue;
            double t = LidTime(d, own.Radius);
            if (t >= own.Meeting)
                continue;
            Leave(i);
            (own.Partner, own.Meeting) = (OnLid, t);
            queue.Set(i, Math.Min(t, own.Leaving));
        }

        LookForLid();
    }

    private void LookForLid()
    {
        if (box.Lid is null)
            return;
        double t = now - lidClock;
        queue.Set(rest.Length, now + DownCrossing(height - LidHeight, -(lidV - lidFall * t), 0.5 * lidFall));
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

    private void GoTo(double time) => (now, since) = (time, time - epoch);

    // Tells all paths from now on, before so much time has gone by that rounding shows.
    private void MoveEpoch()
    {
        for (int i = 0; i < rest.Length; i++)
            paths[i] = Here(i);
        (epoch, since, untilMoved) = (now, 0, 4 * rest.Length + 8);
    }

    // Where a disc is now, and how fast.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Path Here(int i)
    {
        ref var p = ref paths[i];
        double t = since, fall = gravity * t;
        return new Path { X = p.X + p.Vx * t, Y = p.Y + (p.Vy - 0.5 * fall) * t, Vx = p.Vx, Vy = p.Vy - fall };
    }

    // Lets a disc go on from a place and speed now.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private void Set(int i, in Path here)
    {
        double t = since, fall = gravity * t;
        // As one piece, since it is read as one next.
        Vector256.Create(here.X - here.Vx * t, here.Y - (here.Vy + 0.5 * fall) * t, here.Vx, here.Vy + fall).StoreUnsafe(ref paths[i].X);
    }

    private static double Nearest(double difference, double period) => difference > 0.5 * period ? difference - period : difference < -0.5 * period ? difference + period : difference;
}
