using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Fieldwright.Particles;

/// <content>What a disc meets next, and when.</content>
public sealed partial class HardDiscs
{
    // Longer than anything takes, and still finite when squared and multiplied by a speed, s.
    private const double Ever = 1e100;

    // Everything looks anew, whatever it expected.
    private void LookAll()
    {
        if (areCellsBehind)
            CatchUpCells();
        for (int i = 0; i < paths.Length; i++)
            (rest[i].Partner, rest[i].Meeting) = (NoPartner, double.PositiveInfinity);
        for (int i = 0; i < paths.Length; i++)
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
        GatherAround(rest[i].Column, rest[i].Row);
        LookAround(i);
    }

    // The same, when those around have been gathered.
    private void LookAround(int i)
    {
        ref var own = ref rest[i];
        Leave(i);
        var here = Here(i);
        (own.Partner, own.Meeting) = (NoPartner, double.PositiveInfinity);
        LookAtThem(i, here);
        if (!roundY)
            LookAtWalls(here, ref own);
        FindLeaving(here, ref own);
        Commit(i);
    }

    // The first to be met of those gathered, if it is met before what the disc and they already expect. A sieve of four at a time, without a division or a root, lets few through; a disc never meets itself,
    // since it does not approach itself.
    private void LookAtThem(int i, in Path here)
    {
        var (paths, near) = (this.paths, this.near);
        ref var own = ref rest[i];
        near[nearCount] = near[nearCount + 1] = near[nearCount + 2] = i;
        var path = Vector256.LoadUnsafe(ref paths[i].X);
        double reach = own.Radius + largest;
        bool atSeam = (roundX && (own.Column == 1 || own.Column == columns)) || (roundY && (own.Row == 1 || own.Row == rows));
        Vector256<double> t = Vector256.Create(since), square = Vector256.Create(reach * reach), within = Vector256.Create(Math.Min(own.Meeting - now, Ever));
        for (int k = 0; k < nearCount; k += 4)
        {
            // Four rows of x, y, vx, vy turned into columns.
            Vector256<double> p = Vector256.LoadUnsafe(ref paths[near[k]].X) - path, q = Vector256.LoadUnsafe(ref paths[near[k + 1]].X) - path;
            Vector256<double> r = Vector256.LoadUnsafe(ref paths[near[k + 2]].X) - path, s = Vector256.LoadUnsafe(ref paths[near[k + 3]].X) - path;
            Vector256<double> xvx = Low(p, q), yvy = High(p, q), xvx2 = Low(r, s), yvy2 = High(r, s);
            Vector256<double> vx = Upper(xvx, xvx2), vy = Upper(yvy, yvy2);
            Vector256<double> x = Vector256.FusedMultiplyAdd(vx, t, Lower(xvx, xvx2)), y = Vector256.FusedMultiplyAdd(vy, t, Lower(yvy, yvy2));
            if (atSeam)
                (x, y) = (Nearest(x, width), roundY ? Nearest(y, height) : y);
            // They approach (b < 0), near enough to touch (root > 0), and do so within the time: then they overlap (f < 0), or have passed the middle.
            var b = Vector256.FusedMultiplyAdd(x, vx, y * vy);
            var speeds = Vector256.FusedMultiplyAdd(vx, vx, vy * vy);
            var gap = Vector256.FusedMultiplyAdd(x, x, y * y) - square;
            var root = b * b - speeds * gap;
            var then = Vector256.FusedMultiplyAdd(speeds, within, b);
            var f = Vector256.FusedMultiplyAdd(then + b, within, gap);
            uint meets = (b & ~root & (f | ~then)).ExtractMostSignificantBits();
            if (meets == 0)
                continue;
            for (; meets != 0; meets &= meets - 1)
            {
                int j = near[k + System.Numerics.BitOperations.TrailingZeroCount(meets)];
                double at = MeetingTime(here, own.Radius, j);
                if (at < own.Meeting && at < rest[j].Meeting)
                    (own.Meeting, own.Partner) = (at, j);
            }

            within = Vector256.Create(Math.Min(own.Meeting - now, Ever));
        }
    }

    // When a disc here meets another; infinite when they pass by.
    private double MeetingTime(in Path here, double radius, int j)
    {
        var other = Here(j);
        double x = other.X - here.X, y = other.Y - here.Y, vx = other.Vx - here.Vx, vy = other.Vy - here.Vy, sum = radius + rest[j].Radius;
        if (roundX)
            x = Nearest(x, width);
        if (roundY)
            y = Nearest(y, height);
        double b = x * vx + y * vy, gap = x * x + y * y - sum * sum, root = b * b - (vx * vx + vy * vy) * gap;
        return b < 0 && root >= 0 ? now + Math.Max(0, gap / (Math.Sqrt(root) - b)) : double.PositiveInfinity;
    }

    // Of two pairs of rows the first or the second of each pair of columns, and of two of those the halves.
    private static Vector256<double> Low(Vector256<double> a, Vector256<double> b) => Avx.IsSupported ? Avx.UnpackLow(a, b) : Vector256.Create(a[0], b[0], a[2], b[2]);

    private static Vector256<double> High(Vector256<double> a, Vector256<double> b) => Avx.IsSupported ? Avx.UnpackHigh(a, b) : Vector256.Create(a[1], b[1], a[3], b[3]);

    private static Vector256<double> Lower(Vector256<double> a, Vector256<double> b) => Avx.IsSupported ? Avx.Permute2x128(a, b, 0x20) : Vector256.Create(a.GetLower(), b.GetLower());

    private static Vector256<double> Upper(Vector256<double> a, Vector256<double> b) => Avx.IsSupported ? Avx.Permute2x128(a, b, 0x31) : Vector256.Create(a.GetUpper(), b.GetUpper());

    // Tells the partner, whose former partner will look again when its turn comes.
    private void Commit(int i)
    {
        ref var d = ref rest[i];
        int partner = d.Partner;
        if (partner >= 0)
        {
            ref var o = ref rest[partner];
            if (o.Partner != i)
            {
                Leave(partner);
                o.Partner = i;
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

    private void LookAtWalls(in Path d, ref Rest own)
    {
        double t = own.Meeting - now, radius = own.Radius, side = d.Vx < 0 ? d.X - radius : width - radius - d.X, foot = d.Y - radius, head = height - radius - d.Y;
        if (!roundX && !Clear(side, -Math.Abs(d.Vx), 0, t))
            Sooner(d.Vx < 0 ? Left : Right, DownCrossing(side, -Math.Abs(d.Vx), 0), ref t, ref own);
        if (!Clear(foot - shake, d.Vy, -0.5 * gravity, t))
            Sooner(Bottom, FloorTime(d, radius), ref t, ref own);
        if (box.Lid is not null)
        {
            if (LidComes(d, radius, t))
                Sooner(OnLid, LidTime(d, radius) - now, ref t, ref own);
        }
        else if (!box.Open && !Clear(head, -Math.Max(0, d.Vy), 0, t))
            Sooner(Top, DownCrossing(head, -d.Vy, 0.5 * gravity), ref t, ref own);
        if (own.Partner <= Left)
            own.Meeting = now + t;
    }

    private static void Sooner(int wall, double time, ref double t, ref Rest own)
    {
        if (time < t)
            (t, own.Partner) = (time, wall);
    }

    // Whether c0 + c1 t + c2 t² stays above zero up to a time, of a curve that does not bend upwards: it does when both ends do.
    private static bool Clear(double c0, double c1, double c2, double t) => c0 > 0 && c0 + (c1 + c2 * t) * t > 0;

    // Time from now.
    private double FloorTime(in Path d, double radius)
    {
        double gap = d.Y - radius;
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
    private double LidTime(in Path d, double radius)
    {
        var (c0, c1) = UnderLid(d, radius);
        return now + DownCrossing(c0, c1, 0.5 * (gravity - lidFall));
    }

    // Whether a disc and the lid may meet within a time from now.
    private bool LidComes(in Path d, double radius, double within)
    {
        var (c0, c1) = UnderLid(d, radius);
        return !Clear(c0, c1, 0.5 * (gravity - lidFall), within);
    }

    // Room between a disc and the lid, and how fast it grows.
    private (double Room, double Speed) UnderLid(in Path d, double radius) => (LidHeight - radius - d.Y, lidV - lidFall * (now - lidClock) - d.Vy);

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
