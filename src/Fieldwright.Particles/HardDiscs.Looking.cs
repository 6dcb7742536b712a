using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Fieldwright.Particles;

/// <content>What a disc meets next, and when.</content>
public sealed partial class HardDiscs
{
    // Everything looks anew, whatever it expected.
    private void LookAll()
    {
        for (int i = 0; i < discs.Length; i++)
            (rest[i].Partner, discs[i].Meeting) = (NoPartner, double.PositiveInfinity);
        for (int i = 0; i < discs.Length; i++)
        {
            if (IsOut(i))
                continue;
            Look(i);
        }

        LookForLid();
    }

    // Finds what a disc meets next: first among the discs of its own and the neighbouring cells, then walls that it may reach before.
    private void Look(int i)
    {
        ref var d = ref discs[i];
        ref var own = ref rest[i];
        Leave(i);
        Bring(ref d);
        (own.Partner, d.Meeting) = (NoPartner, double.PositiveInfinity);
        Gather(own.Column, own.Row, Around);
        LookAtThem(i);
        if (!endless)
            LookAtWalls(ref d, ref own);
        FindLeaving(ref d, ref own);
        Commit(i);
    }

    // The first to be met of those gathered, if it is met before what the disc and they already expect. Four at a time; a disc never meets itself, since it does not approach itself.
    private void LookAtThem(int i)
    {
        var (discs, near) = (this.discs, this.near);
        ref var d = ref discs[i];
        near[nearCount] = near[nearCount + 1] = near[nearCount + 2] = i;
        for (int k = 0; k < nearCount; k += 4)
        {
            ref Disc p = ref discs[near[k]], q = ref discs[near[k + 1]], r = ref discs[near[k + 2]], s = ref discs[near[k + 3]];
            var t = Vector256.Create(now) - Vector256.Create(p.Clock, q.Clock, r.Clock, s.Clock);
            Vector256<double> vx = Vector256.Create(p.Vx, q.Vx, r.Vx, s.Vx), vy = Vector256.Create(p.Vy, q.Vy, r.Vy, s.Vy);
            var x = Vector256.Create(p.X, q.X, r.X, s.X) + vx * t - Vector256.Create(d.X);
            var y = Vector256.Create(p.Y, q.Y, r.Y, s.Y) + (vy - t * (0.5 * gravity)) * t - Vector256.Create(d.Y);
            if (endless)
                (x, y) = (Nearest(x, width), Nearest(y, height));
            vx -= Vector256.Create(d.Vx);
            vy -= t * gravity + Vector256.Create(d.Vy);
            var b = x * vx + y * vy;
            var sum = Vector256.Create(p.Radius, q.Radius, r.Radius, s.Radius) + Vector256.Create(d.Radius);
            var gap = x * x + y * y - sum * sum;
            var root = b * b - (vx * vx + vy * vy) * gap;
            var meets = Vector256.LessThan(b, Vector256<double>.Zero) & Vector256.GreaterThanOrEqual(root, Vector256<double>.Zero);
            if (meets.ExtractMostSignificantBits() == 0)
                continue;
            var at = Vector256.Create(now) + Vector256.Max(Vector256<double>.Zero, gap / (Vector256.Sqrt(root) - b));
            meets &= Vector256.LessThan(at, Vector256.Create(p.Meeting, q.Meeting, r.Meeting, s.Meeting)) & Vector256.LessThan(at, Vector256.Create(d.Meeting));
            for (uint left = meets.ExtractMostSignificantBits(); left != 0; left &= left - 1)
            {
                int lane = System.Numerics.BitOperations.TrailingZeroCount(left);
                if (at[lane] < d.Meeting)
                    (d.Meeting, rest[i].Partner) = (at[lane], near[k + lane]);
            }
        }
    }

    // Tells the partner, whose former partner will look again when its turn comes.
    private void Commit(int i)
    {
        ref var d = ref discs[i];
        int partner = rest[i].Partner;
        if (partner >= 0)
        {
            ref var o = ref discs[partner];
            if (rest[partner].Partner != i)
            {
                Leave(partner);
                rest[partner].Partner = i;
            }

            o.Meeting = d.Meeting;
            queue.Set(partner, Math.Min(o.Meeting, o.Leaving));
        }

        queue.Set(i, Math.Min(d.Meeting, d.Leaving));
    }

    private void Leave(int i)
    {
        int former = rest[i].Partner;
        if (former >= 0 && rest[former].Partner == i)
            rest[former].Partner = Stale;
    }

    private void LookAtWalls(ref Disc d, ref Rest own)
    {
        double t = d.Meeting - now, side = d.Vx < 0 ? d.X - d.Radius : width - d.Radius - d.X, foot = d.Y - d.Radius, head = height - d.Radius - d.Y;
        if (!Clear(side, -Math.Abs(d.Vx), 0, t))
            Sooner(d.Vx < 0 ? Left : Right, DownCrossing(side, -Math.Abs(d.Vx), 0), ref t, ref own);
        if (!Clear(foot - shake, d.Vy, -0.5 * gravity, t))
            Sooner(Bottom, FloorTime(ref d), ref t, ref own);
        if (box.Lid is not null)
        {
            if (LidComes(ref d, t))
                Sooner(OnLid, LidTime(ref d) - now, ref t, ref own);
        }
        else if (!box.Open && !Clear(head, -Math.Max(0, d.Vy), 0, t))
            Sooner(Top, DownCrossing(head, -d.Vy, 0.5 * gravity), ref t, ref own);
        if (own.Partner <= Left)
            d.Meeting = now + t;
    }

    private static void Sooner(int wall, double time, ref double t, ref Rest own)
    {
        if (time < t)
            (t, own.Partner) = (time, wall);
    }

    // Whether c0 + c1 t + c2 t² stays above zero up to a time, of a curve that does not bend upwards: it does when both ends do.
    private static bool Clear(double c0, double c1, double c2, double t) => c0 > 0 && c0 + (c1 + c2 * t) * t > 0;

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
        var (c0, c1) = UnderLid(ref d);
        return now + DownCrossing(c0, c1, 0.5 * (gravity - lidFall));
    }

    // Whether a disc and the lid may meet within a time from now.
    private bool LidComes(ref Disc d, double within)
    {
        var (c0, c1) = UnderLid(ref d);
        return !Clear(c0, c1, 0.5 * (gravity - lidFall), within);
    }

    // Room between a disc and the lid, and how fast it grows.
    private (double Room, double Speed) UnderLid(ref Disc d)
    {
        double t = now - d.Clock, y = d.Y + (d.Vy - 0.5 * gravity * t) * t, vy = d.Vy - gravity * t;
        return (LidHeight - d.Radius - y, lidV - lidFall * (now - lidClock) - vy);
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

    private static Vector256<double> Nearest(Vector256<double> difference, double period)
    {
        Vector256<double> half = Vector256.Create(0.5 * period), whole = Vector256.Create(period);
        return difference - (Vector256.GreaterThan(difference, half) & whole) + (Vector256.LessThan(difference, -half) & whole);
    }
}
