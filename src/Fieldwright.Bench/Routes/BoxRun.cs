using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using Fieldwright.Particles;

namespace Fieldwright.Bench.Routes;

/// <summary>A flat box set going, and what is measured of it, in blocks of equal length so that each mean carries an error bar.</summary>
internal sealed class BoxRun
{
    private const int Groups = 16, MeetingsEach = 20, MostMeetings = 400_000;

    // Of discs that repel, followed in steps, shorter blocks and so many meetings' worth of time.
    private const int TurnsEach = 6, MostTurns = 8_000;

    private const int MostBoxes = 200;

    // Of the slip against the stream to come, e⁻⁶ is left when so many touches times their share are over.
    private const double TouchesToStream = 6;

    // Between walls all that a floor drags along comes back above: its drift is that of the layer on it, of a few radii.
    private const double LayerRadii = 5;

    // Student's t for 15 degrees of freedom, 95 %.
    private const double Student = 2.131;

    // A meeting within this share of the mean time between meetings counts as contact and loses nothing (see BoxDescription.ContactTime).
    private const double ContactShare = 1e-3;

    private readonly record struct Block(double Time, double Lid, double Energy, double Speed, double Square, double Drift, double Stream, double Virial, double Slope, double LargeSlope);

    private readonly ParticleBox box;
    private readonly HardDiscs discs;
    private readonly List<Block> blocks = [];
    private readonly int count;
    private readonly double blockLength, meanFree;

    private BoxRun(ParticleBox box, CancellationToken cancellation, int seed = 1)
    {
        this.box = box;
        count = (int)box.Discs.Count;
        // An open box is kept shut until it has come to its temperature.
        discs = new HardDiscs(Description(box with { IsOpen = false }), Start(box, seed));
        // Warm up: forget the rows they stood in; a shaken box also needs to come to its own temperature.
        double spacing = Math.Sqrt(box.Width * box.Height / count), slow = (box.Discs.Moment > 0 ? 2 * spacing : Math.Max(box.Width, box.Height)) / box.Discs.RmsSpeed, warm = box.Floor is { } floor ? Math.Max(100 / floor.Frequency, 10 * slow) : 10 * slow;
        // What streams comes up to speed over some touches of what grips, each of them once up and down the box apart.
        if (IsStream(box))
            warm = Math.Max(warm, TouchesToStream / Math.Max(box.Floor!.Grip, box.Grip) * 2 * box.Height / box.Discs.RmsSpeed);
        if (box.Floor is { } cycles)
            warm = 2 * Math.Ceiling(0.5 * warm * cycles.Frequency) / cycles.Frequency;
        discs.Run(warm, cancellation);
        long before = discs.Meetings;
        discs.Run(1.5 * warm, cancellation);
        meanFree = discs.Meetings > before ? 0.5 * warm * count / (2 * (discs.Meetings - before)) : slow;
        // Discs that repel are turned without a meeting: about once on the way to the next.
        if (box.Discs.Moment > 0)
            meanFree = Math.Min(meanFree, spacing / box.Discs.RmsSpeed);
        blockLength = Math.Max((box.Discs.Moment > 0 ? TurnsEach : MeetingsEach) * meanFree, box.Floor is { } shaking ? 5 / shaking.Frequency : 0);
        if (box.IsOpen)
            discs = new HardDiscs(Description(box), discs.States);
    }

    /// <summary>Why a box cannot be set going; null when it can.</summary>
    public static string? Problem(ParticleBox box)
    {
        try
        {
            _ = new HardDiscs(Description(box), Start(box));
            return null;
        }
        catch (ArgumentException e)
        {
            return e.Message.Split(" (Parameter")[0].TrimEnd('.');
        }
    }

    /// <summary>Everything that can be measured of a box, run until the bars meet the target or four hundred thousand meetings are done.</summary>
    public static Dictionary<string, Estimate> Measure(ParticleBox box, double target, CancellationToken cancellation)
    {
        try
        {
            var found = new BoxRun(box, cancellation).Found(target, cancellation);
            if (box.IsOpen)
                found["escape rate"] = EscapeRate(box, target, cancellation);
            if (Has("pressure ratio on halving", box))
            {
                var halved = new BoxRun(box with { Height = 0.5 * box.Height }, cancellation).Found(target, cancellation);
                Estimate before = found["gas pressure"], after = halved["gas pressure"];
                // The two runs start with the same energy; each keeps it.
                double ratio = after.Value / before.Value;
                found["pressure ratio on halving"] = new Estimate(ratio, ratio * Math.Sqrt(Math.Pow(after.RelativeBar, 2) + Math.Pow(before.RelativeBar, 2)));
            }

            return found;
        }
        catch (ArgumentException e)
        {
            throw new RouteFailedException(e.Message.Split(" (Parameter")[0], e);
        }
    }

    /// <summary>Whether a measure means something for a box.</summary>
    public static bool Has(string measure, ParticleBox? box) => box is not null && measure switch
    {
        "lid height" => box.Lid is not null,
        "gas pressure" => box is { Tilt: 0, Lid: null, Large: null, IsOpen: false },
        "pressure ratio on halving" => GasIsClosed(box) && box.Discs.Moment == 0,
        "diffusion of large disc" => box.Large is not null,
        "drift speed" => box.Floor is { Grip: > 0 },
        "stream speed" => IsStream(box),
        "escape rate" => box.IsOpen,
        _ => true,
    };

    /// <summary>Whether a floor drags the discs round a box whose sides are joined.</summary>
    private static bool IsStream(ParticleBox box) => box is { IsJoined: true, Floor.Grip: > 0 };

    /// <summary>Whether a box holds a gas by itself: nothing drives it, nothing is lost, nothing leans or slides.</summary>
    public static bool GasIsClosed(ParticleBox box) => KeepsItsEnergy(box) && box.Lid is null;

    /// <summary>The same with a lid allowed.</summary>
    public static bool KeepsItsEnergy(ParticleBox box) =>
        box is { Floor: null, IsOpen: false, Tilt: 0, WallRestitution: 1, Grip: 0, Large: null } && box.Discs.Restitution == 1;

    /// <summary>The discs at an instant some way into the run, for a picture, with the heights of floor and lid (NaN without one).</summary>
    public static (IReadOnlyList<DiscState> Discs, double Floor, double Lid) Instant(ParticleBox box, CancellationToken cancellation)
    {
        var run = new BoxRun(box, cancellation);
        return (run.discs.States, Description(box).Floor?.HeightAt(run.discs.Now) ?? 0, run.discs.LidHeight);
    }

    // Discs that leave in a second once the top is taken off: how many in the time in which a tenth of them leave the first box, over many boxes set going otherwise. Counts spread as their root.
    private static Estimate EscapeRate(ParticleBox box, double target, CancellationToken cancellation)
    {
        int gone = 0, boxes = 0;
        long met = 0;
        double time = 0;
        for (; boxes < MostBoxes && met < MostMeetings && !(gone > 0 && 2 / Math.Sqrt(gone) < target); boxes++)
        {
            var run = new BoxRun(box, cancellation, 2 + boxes);
            double start = run.discs.Now, step = 0.5 * run.meanFree, longest = time > 0 ? time : 100 * run.blockLength;
            while (run.discs.Now - start < longest * (1 - 1e-12) && (time > 0 || 10 * run.discs.Escaped < run.count))
                run.discs.Run(Math.Min(start + longest, run.discs.Now + step), cancellation);
            met += run.discs.Meetings;
            // The first box only says how long to look.
            if (time == 0)
                time = run.discs.Now - start;
            else
                gone += run.discs.Escaped;
        }

        double looked = (boxes - 1) * time;
        return looked > 0 ? new Estimate(gone / looked, Math.Max(3, 2 * Math.Sqrt(gone)) / looked) : throw new RouteFailedException("The box was empty before anything could be measured.");
    }

    private Dictionary<string, Estimate> Found(double target, CancellationToken cancellation)
    {
        for (int wanted = Groups; ; wanted *= 2)
        {
            while (blocks.Count < wanted && discs.States.Count > 0)
                blocks.Add(Next(cancellation));
            var found = Means();
            if (found.Values.All(e => e.RelativeBar <= target) || IsLong || discs.States.Count == 0 || (box.IsOpen && discs.Escaped > 0))
                return found;
        }
    }

    private bool IsLong => box.Discs.Moment > 0 ? count * discs.Now > 2 * meanFree * MostTurns : discs.Meetings > MostMeetings;

    private Block Next(CancellationToken cancellation)
    {
        const int Samples = 10, Lag = 3;
        double energy = 0, speed = 0, square = 0, drift = 0, stream = 0, slope = 0, largeSlope = 0;
        double lid = discs.LidHeightIntegral, virial = discs.Virial, start = discs.Now;
        int origins = 0, taken = 0;
        DiscState[] Places() => [.. Enumerable.Range(0, count + (box.Large is null ? 0 : 1)).Select(i => discs[i])];
        // The path between lags 3 and 6 mean free times, several times over: the first, straight stretch does not count.
        for (double at = 0; at + 2 * Lag * meanFree <= blockLength * (1 + 1e-9); at += 2 * Lag * meanFree, origins++)
        {
            var origin = Places();
            discs.Run(start + at + Lag * meanFree, cancellation);
            var near = Places();
            discs.Run(start + at + 2 * Lag * meanFree, cancellation);
            var far = Places();
            double Slope(int i) => (Square(far[i], origin[i]) - Square(near[i], origin[i])) / (4 * Lag * meanFree);
            slope += Enumerable.Range(0, count).Where(i => double.IsFinite(far[i].X)).Select(Slope).DefaultIfEmpty(double.NaN).Average();
            largeSlope += box.Large is null ? 0 : Slope(count);
            foreach (var sample in (DiscState[][])[near, far])
            {
                Sample(sample, ref energy, ref speed, ref square, ref drift, ref stream);
                taken++;
            }
        }

        while (taken < Samples)
        {
            discs.Run(Math.Max(discs.Now, start + blockLength * (taken + 1) / Samples), cancellation);
            Sample(Places(), ref energy, ref speed, ref square, ref drift, ref stream);
            taken++;
        }

        discs.Run(Math.Max(discs.Now, start + blockLength), cancellation);
        double time = discs.Now - start;
        return new Block(time, (discs.LidHeightIntegral - lid) / time, energy / taken, speed / taken, square / taken, drift / taken, stream / taken, (discs.Virial - virial) / time,
            origins == 0 ? double.NaN : slope / origins, origins == 0 ? double.NaN : largeSlope / origins);
    }

    private void Sample(DiscState[] now, ref double energy, ref double speed, ref double square, ref double drift, ref double stream)
    {
        int there = 0, low = 0;
        double near = LayerRadii * box.Discs.Radius, e = 0, v = 0, v2 = 0, vx = 0, along = 0;
        for (int i = 0; i < count; i++)
        {
            if (!double.IsFinite(now[i].Vx))
                continue;
            double s = now[i].Vx * now[i].Vx + now[i].Vy * now[i].Vy;
            (e, v, v2, along, there) = (e + 0.5 * now[i].Mass * s, v + Math.Sqrt(s), v2 + s, along + now[i].Vx, there + 1);
            if (now[i].Y < near)
                (vx, low) = (vx + now[i].Vx, low + 1);
        }

        if (there == 0)
            return;
        double mean = along / there, streaming = IsStream(box) ? 0.5 * box.Discs.Mass * mean * mean : 0;
        (energy, speed, square, drift, stream) = (energy + e / there - streaming, speed + v / there, square + v2 / there, drift + (low > 0 ? vx / low : 0), stream + mean);
    }

    private Dictionary<string, Estimate> Means()
    {
        if (blocks.Count == 0)
            throw new RouteFailedException("The box was empty before anything could be measured.");
        var found = new Dictionary<string, Estimate>();
        int each = Math.Max(1, blocks.Count / Groups), groups = Math.Min(Groups, blocks.Count / each);
        void Add(string name, Func<Block, double> of)
        {
            double[] means = [.. Enumerable.Range(0, groups).Select(g => blocks.Skip(g * each).Take(each).Average(of))];
            double mean = means.Average(), deviation = Math.Sqrt(means.Sum(m => (m - mean) * (m - mean)) / Math.Max(1, groups - 1));
            if (double.IsFinite(mean))
                found[name] = new Estimate(mean, Student * deviation / Math.Sqrt(groups) + 1e-12 * Math.Abs(mean));
        }

        Add("disc temperature", b => b.Energy);
        Add("mean speed", b => b.Speed);
        Add("rms speed", b => Math.Sqrt(b.Square));
        if (box.Lid is not null)
            Add("lid height", b => b.Lid);
        if (box.Floor is { Grip: > 0 })
            Add("drift speed", b => b.Drift);
        if (IsStream(box))
            Add("stream speed", b => b.Stream);
        if (box.Tilt == 0 && box.Lid is null && box.Large is null && !box.IsOpen)
        {
            // The centres have the room of the box less a radius all round; over that room the push of the walls is exact by the virial.
            double room = (box.Width - (box.IsJoined ? 0 : 2 * box.Discs.Radius)) * (box.Height - 2 * box.Discs.Radius);
            Add("gas pressure", b => (count * b.Energy + 0.5 * b.Virial) / room);
        }

        void Diffusion(string name, Func<Block, double> of)
        {
            // Only while the walls are far away in the time looked at, and no stream carries the discs along.
            if (!IsStream(box) && blocks.Average(of) is var d && d > 0 && Math.Sqrt(4 * d * 6 * meanFree) < 0.2 * Math.Min(box.Width, box.Height))
                Add(name, of);
        }

        Diffusion("diffusion coefficient", b => b.Slope);
        if (box.Large is not null)
            Diffusion("diffusion of large disc", b => b.LargeSlope);
        return found;
    }

    private double Square(DiscState a, DiscState b)
    {
        double x = a.X - b.X, y = a.Y - b.Y;
        x -= box.IsJoined ? box.Width * Math.Round(x / box.Width) : 0;
        return x * x + y * y;
    }

    /// <summary>A box as the particles know it.</summary>
    internal static BoxDescription Description(ParticleBox box) => new()
    {
        Width = box.Width,
        Height = box.Height,
        Sides = box.IsJoined ? Sides.Joined : Sides.Walls,
        Gravity = PhysicalConstants.StandardGravity * Math.Sin(box.Tilt),
        Restitution = box.Discs.Restitution,
        WallRestitution = box.WallRestitution,
        ContactTime = box.Discs.Restitution < 1 ? ContactShare * box.Discs.Radius / box.Discs.RmsSpeed : 0,
        Moments = box.Discs.Moment > 0 ? [.. Enumerable.Repeat(box.Discs.Moment, (int)box.Discs.Count), .. box.Large is null ? (double[])[] : [0]] : null,
        Floor = box.Floor is { } floor ? new ShakingFloor(floor.Amplitude, floor.Frequency) : null,
        Drag = box.Floor?.Speed ?? 0,
        Grip = box.Floor?.Grip ?? 0,
        TopGrip = box.Grip,
        Lid = box.Lid is { } lid ? new Lid(lid.Mass, lid.Load, lid.Height) : null,
        Open = box.IsOpen,
    };

    /// <summary>Its discs before they are set going, in rows.</summary>
    /// <exception cref="ArgumentException">There is no room for them.</exception>
    internal static IReadOnlyList<DiscState> Start(ParticleBox box, int seed = 1)
    {
        double foot = box.Floor?.Amplitude ?? 0, ceiling = box.Lid?.Height ?? box.Height, energy = 0.5 * box.Discs.Mass * box.Discs.RmsSpeed * box.Discs.RmsSpeed;
        double below = foot + (box.Large is { } l ? 2 * l.Radius : 0);
        if (below >= ceiling)
            throw new ArgumentException("There is no room for the discs under the lid.");
        var small = Placement.Lattice((int)box.Discs.Count, box.Discs.Radius, box.Discs.Mass, box.Width, ceiling - below, energy, seed).Select(d => d with { Y = d.Y + below });
        return box.Large is { } large ? [.. small, new DiscState(0.5 * box.Width, foot + large.Radius, 0, 0, large.Radius, large.Mass)] : [.. small];
    }
}
