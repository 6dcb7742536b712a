using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Travelling;

/// <summary>A loose body started from rest by a thrust that depends on its speed alone: m dv/dt = F(v) − drag.</summary>
internal sealed class Run
{
    private const int Points = 30, Steps = 24;
    private readonly double[] speeds, times, relativeBars;
    private readonly double way;

    private Run(double way, double[] speeds, double[] times, double[] relativeBars, Estimate topSpeed)
    {
        (this.way, this.speeds, this.times, this.relativeBars) = (way, speeds, times, relativeBars);
        TopSpeed = topSpeed;
    }

    /// <summary>Speed at which thrust and drag balance, m/s, of the sign of the field's.</summary>
    public Estimate TopSpeed { get; }

    /// <summary>Time to 95 % of it, s.</summary>
    public Estimate TimeToTop => new(times[^1], times[^1] * relativeBars[^1]);

    /// <summary>The run of a body from rest.</summary>
    /// <param name="thrust">Thrust at a speed, N.</param>
    /// <param name="field">Speed of the field, m/s.</param>
    /// <param name="mass">Mass, kg.</param>
    /// <param name="drag">Steady force against the motion, N.</param>
    /// <exception cref="RouteFailedException">It does not start, or does not settle below the speed of the field.</exception>
    public static Run FromRest(Func<double, Estimate> thrust, double field, double mass, double drag)
    {
        double way = Math.Sign(field), fastest = Math.Abs(field);
        Estimate Spare(double speed)
        {
            var force = thrust(way * speed);
            return new Estimate(way * force.Value - drag, force.Bar);
        }

        var start = Spare(0);
        if (start.Value <= 0)
            throw new RouteFailedException(FormattableString.Invariant($"It does not start: the thrust at standstill is {start.Value + drag:G3} N against a drag of {drag:G3} N."));
        // The first speed at which nothing is left over, upwards from rest. Against no drag at all, harmonics may leave a little at the field's own speed.
        double low = 0, high = double.NaN, atLow = start.Value, atHigh = 0;
        for (int i = 1; i <= Steps && double.IsNaN(high); i++)
        {
            double speed = fastest * i / Steps, left = Spare(speed).Value;
            if (left <= 0)
                (high, atHigh) = (speed, left);
            else
                (low, atLow) = (speed, left);
        }

        if (double.IsNaN(high))
            throw new RouteFailedException("The thrust has not fallen to the drag at the speed of the field.");
        // False position; an end that stays twice counts half, so that both ends move (the Illinois rule, common practice).
        for (int i = 0, stayed = 0; i < 2 * Steps && high - low > 1e-9 * fastest; i++)
        {
            double middle = atLow == atHigh ? 0.5 * (low + high) : (low * atHigh - high * atLow) / (atHigh - atLow), left = Spare(middle).Value;
            if (Math.Abs(left) <= 1e-10 * start.Value)
            {
                low = high = middle;
            }
            else if (left > 0)
            {
                (low, atLow) = (middle, left);
                atHigh *= stayed > 0 ? 0.5 : 1;
                stayed = 1;
            }
            else
            {
                (high, atHigh) = (middle, left);
                atLow *= stayed < 0 ? 0.5 : 1;
                stayed = -1;
            }
        }

        double top = 0.5 * (low + high), below = 0.99 * top;
        double slope = (Spare(below).Value - Spare(top).Value) / (top - below);
        var reached = new Estimate(way * top, slope > 0 ? Math.Min(top, Spare(below).Bar / slope) : top);
        // t = ∫ m dv / (F − drag) to 95 % of the top speed, exact where the spare force is straight between even speeds, its error from every second point.
        var speeds = Enumerable.Range(0, Points + 1).Select(i => 0.95 * top * i / Points).ToArray();
        var spare = speeds.Select(Spare).ToArray();
        var (times, bars) = (new double[Points + 1], new double[Points + 1]);
        double coarse = 0, relative = spare[0].RelativeBar, rule = 0;
        for (int i = 1; i <= Points; i++)
        {
            times[i] = times[i - 1] + mass * Between(speeds[i] - speeds[i - 1], spare[i - 1].Value, spare[i].Value);
            if (i % 2 == 0)
            {
                coarse += mass * Between(speeds[i] - speeds[i - 2], spare[i - 2].Value, spare[i].Value);
                rule = Math.Abs(coarse / times[i] - 1);
            }

            relative = Math.Max(relative, spare[i].RelativeBar);
            bars[i] = relative + rule;
        }

        bars[0] = bars[1];
        return new Run(way, speeds, times, bars, reached);
    }

    /// <summary>Speed after a time from rest, m/s.</summary>
    /// <param name="time">Time, s; zero or more.</param>
    public Estimate SpeedAfter(double time)
    {
        // The last 5 % are reached ever more slowly: between them and the top.
        if (time >= times[^1])
            return new Estimate(0.975 * TopSpeed.Value, TopSpeed.Bar + 0.025 * Math.Abs(TopSpeed.Value));
        int i = Array.FindIndex(times, t => t > time);
        double share = (time - times[i - 1]) / (times[i] - times[i - 1]), speed = speeds[i - 1] + share * (speeds[i] - speeds[i - 1]);
        return new Estimate(way * speed, speed * (relativeBars[i] + 1e-3));
    }

    // ∫ dv / F for a force that goes straight from one value to another.
    private static double Between(double speed, double from, double to) =>
        Math.Abs(from - to) < 1e-6 * from ? 2 * speed / (from + to) : speed * Math.Log(from / to) / (from - to);
}
