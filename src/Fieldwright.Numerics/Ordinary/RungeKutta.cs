namespace Fieldwright.Numerics.Ordinary;

/// <summary>The right-hand side of y′ = f(t, y).</summary>
/// <param name="time">t.</param>
/// <param name="state">y.</param>
/// <param name="slope">Receives y′, as long as <paramref name="state"/>.</param>
public delegate void Slope(double time, ReadOnlySpan<double> state, Span<double> slope);

/// <summary>A quantity that ends the way when it falls through zero.</summary>
/// <param name="time">t.</param>
/// <param name="state">y.</param>
public delegate double Watched(double time, ReadOnlySpan<double> state);

/// <summary>How closely a way is followed.</summary>
/// <param name="RelativeError">Error a step may make, relative to each component.</param>
/// <param name="AbsoluteErrors">What is added to that for each component, in its own unit; positive.</param>
/// <param name="LongestStep">Longest step.</param>
public sealed record StepOptions(double RelativeError, IReadOnlyList<double> AbsoluteErrors, double LongestStep = double.PositiveInfinity)
{
    /// <summary>Steps, refused ones included, after which the way is given up.</summary>
    public int MostSteps { get; init; } = 1_000_000;
}

/// <summary>The steps shrank to nothing, or there were too many.</summary>
public sealed class StepsFailedException(string message, double time) : Exception(message)
{
    /// <summary>Time that was reached.</summary>
    public double Time => time;
}

/// <summary>Explicit Runge–Kutta of order 5 with an error of order 4 for steps of fitted length, a continuous way between the steps, and ends by events.</summary>
/// <remarks>For smooth equations that are not stiff: a component that settles fast holds the steps at some three of its time constants. The error of the whole way is not bounded by that of its
/// steps; follow it twice with two demands to know it. Deterministic; holds no state.</remarks>
/// <source key="DormandPrince1980"/>
/// <source key="HairerNorsettWanner1993" at="II.4 step control, II.6 continuous way"/>
public static class RungeKutta
{
    private const int Stages = 7;
    private const double Safety = 0.9, Least = 0.1, Most = 5, Damping = 0.04;

    private static readonly double[] Nodes = [0, 1.0 / 5, 3.0 / 10, 4.0 / 5, 8.0 / 9, 1, 1];

    private static readonly double[][] Weights =
    [
        [],
        [1.0 / 5],
        [3.0 / 40, 9.0 / 40],
        [44.0 / 45, -56.0 / 15, 32.0 / 9],
        [19372.0 / 6561, -25360.0 / 2187, 64448.0 / 6561, -212.0 / 729],
        [9017.0 / 3168, -355.0 / 33, 46732.0 / 5247, 49.0 / 176, -5103.0 / 18656],
        [35.0 / 384, 0, 500.0 / 1113, 125.0 / 192, -2187.0 / 6784, 11.0 / 84],
    ];

    // Order 5 less order 4.
    private static readonly double[] ErrorWeights = [71.0 / 57600, 0, -71.0 / 16695, 71.0 / 1920, -17253.0 / 339200, 22.0 / 525, -1.0 / 40];

    private static readonly double[] Between =
    [
        -12715105075.0 / 11282082432, 0, 87487479700.0 / 32700410799, -10690763975.0 / 1880347072, 701980252875.0 / 199316789632, -1453857185.0 / 822651844, 69997945.0 / 29380423,
    ];

    /// <summary>Follows y′ = f(t, y) from a start to an end, or to the first of the watched quantities that falls through zero within a step.</summary>
    /// <param name="slope">The right-hand side.</param>
    /// <param name="from">Start.</param>
    /// <param name="start">y there.</param>
    /// <param name="to">End, later than the start.</param>
    /// <param name="options">How closely.</param>
    /// <param name="watched">Quantities that end the way; one that starts at or below zero must first rise above it. What falls and rises again within one step is missed.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">A number is out of range.</exception>
    /// <exception cref="StepsFailedException">The steps shrink to nothing, or there are too many.</exception>
    public static FollowedWay Follow(
        Slope slope, double from, ReadOnlySpan<double> start, double to, StepOptions options, IReadOnlyList<Watched>? watched = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(slope);
        ArgumentNullException.ThrowIfNull(options);
        Guard.Finite(from);
        Guard.Positive(to - from);
        Guard.InRange(options.RelativeError, 1e-14, 0.1);
        Guard.Length(options.AbsoluteErrors.Count, start.Length);
        int n = start.Length;
        double[] y = start.ToArray(), next = new double[n], trial = new double[n];
        double[][] k = [.. Enumerable.Range(0, Stages).Select(_ => new double[n])];
        var pieces = new List<WayPiece>();
        slope(from, y, k[0]);
        double t = from, h = Math.Min(Math.Min(options.LongestStep, to - from), FirstStep(slope, from, y, k[0], to - from, options)), lastError = 1e-4;
        double[] before = [.. (watched ?? []).Select(w => w(from, y))];
        for (int step = 0; t < to; step++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (step >= options.MostSteps)
                throw new StepsFailedException(FormattableString.Invariant($"{options.MostSteps} steps did not reach the end."), t);
            if (!(h > 4e-16 * Math.Max(Math.Abs(t), to - from)))
                throw new StepsFailedException("The steps shrink to nothing.", t);
            bool last = t + 1.0001 * h >= to;
            if (last)
                h = to - t;
            for (int s = 1; s < Stages; s++)
            {
                for (int i = 0; i < n; i++)
                {
                    double sum = 0;
                    for (int j = 0; j < s; j++)
                        sum += Weights[s][j] * k[j][i];
                    trial[i] = y[i] + h * sum;
                }

                slope(t + Nodes[s] * h, trial, k[s]);
            }

            trial.CopyTo(next, 0); // the last stage stands at the end of the step
            double error = 0;
            for (int i = 0; i < n; i++)
            {
                double sum = 0;
                for (int j = 0; j < Stages; j++)
                    sum += ErrorWeights[j] * k[j][i];
                double scaled = h * sum / (options.AbsoluteErrors[i] + options.RelativeError * Math.Max(Math.Abs(y[i]), Math.Abs(next[i])));
                error += scaled * scaled;
            }

            error = Math.Sqrt(error / n);
            double shrink = Math.Clamp(Math.Pow(error, 0.2 - 0.75 * Damping) / Math.Pow(lastError, Damping) / Safety, 1 / Most, 1 / Least);
            if (!(error <= 1))
            {
                h = double.IsFinite(error) ? h / Math.Min(1 / Least, Math.Pow(error, 0.2 - 0.75 * Damping) / Safety) : 0.1 * h;
                continue;
            }

            lastError = Math.Max(error, 1e-4);
            var piece = new WayPiece(t, h, Continuous(y, next, k, h));
            pieces.Add(piece);
            if (Ended(piece, watched, before) is { } end)
                return new FollowedWay(pieces, end.Time, end.Which);
            t = last ? to : t + h;
            (y, next) = (next, y);
            (k[0], k[Stages - 1]) = (k[Stages - 1], k[0]);
            h = Math.Min(options.LongestStep, h / shrink);
        }

        return new FollowedWay(pieces, to, null);
    }

    // The first of the watched to fall through zero in a piece, and when.
    private static (double Time, int Which)? Ended(WayPiece piece, IReadOnlyList<Watched>? watched, double[] before)
    {
        (double Time, int Which)? first = null;
        double[] state = new double[piece.Count];
        for (int w = 0; w < before.Length; w++)
        {
            double At(double share)
            {
                piece.Into(share, state);
                return watched![w](piece.Start + share * piece.Length, state);
            }

            double now = At(1);
            if (before[w] > 0 && now <= 0)
            {
                double low = 0, high = 1;
                for (int i = 0; i < 60 && high - low > 1e-12; i++)
                {
                    double middle = 0.5 * (low + high);
                    (low, high) = At(middle) > 0 ? (middle, high) : (low, middle);
                }

                double time = piece.Start + high * piece.Length;
                if (first is null || time < first.Value.Time)
                    first = (time, w);
            }

            before[w] = now;
        }

        return first;
    }

    private static double[][] Continuous(double[] y, double[] next, double[][] k, double h)
    {
        int n = y.Length;
        double[][] c = [[.. y], new double[n], new double[n], new double[n], new double[n]];
        for (int i = 0; i < n; i++)
        {
            double rise = next[i] - y[i], bend = h * k[0][i] - rise, sum = 0;
            for (int j = 0; j < Stages; j++)
                sum += Between[j] * k[j][i];
            (c[1][i], c[2][i], c[3][i], c[4][i]) = (rise, bend, rise - h * k[Stages - 1][i] - bend, h * sum);
        }

        return c;
    }

    // A step over which an explicit step of first order would change little, then looked at for bending.
    private static double FirstStep(Slope slope, double from, double[] y, double[] first, double span, StepOptions options)
    {
        double Size(ReadOnlySpan<double> v, double[] at)
        {
            double sum = 0;
            for (int i = 0; i < v.Length; i++)
            {
                double scaled = v[i] / (options.AbsoluteErrors[i] + options.RelativeError * Math.Abs(at[i]));
                sum += scaled * scaled;
            }

            return Math.Sqrt(sum / v.Length);
        }

        double size = Size(y, y), steep = Size(first, y);
        double h = Math.Min(size < 1e-5 || steep < 1e-5 ? 1e-6 * span : 0.01 * size / steep, span);
        double[] there = new double[y.Length], bend = new double[y.Length];
        for (int i = 0; i < y.Length; i++)
            there[i] = y[i] + h * first[i];
        slope(from + h, there, bend);
        for (int i = 0; i < y.Length; i++)
            bend[i] -= first[i];
        double most = Math.Max(steep, Size(bend, y) / h);
        return Math.Min(100 * h, most <= 1e-15 ? Math.Max(1e-6 * span, 1e-3 * h) : Math.Pow(0.01 / most, 0.2));
    }
}
