using Fieldwright.Fields.Elements;
using Fieldwright.Fields.Heat;
using Fieldwright.Numerics.Sparse;

namespace Fieldwright.Fields;

/// <summary>Temperatures in the regions of a heat model.</summary>
/// <remarks>Quadratic elements: third order in the temperature. In time second order, steps fitted to the error. Immutable.</remarks>
public sealed class HeatField
{
    private const int MostRounds = 100;
    private const double Tolerance = 1e-10;

    // Nothing of this world: a root is being run away from, K.
    private const double Hopeless = 1e6;
    private readonly HeatRows rows;
    private readonly double[] temperature;

    private HeatField(HeatModel model, HeatRows rows, double[] temperature, double time)
    {
        (Model, this.rows, this.temperature, Time) = (model, rows, temperature, time);
    }

    /// <summary>Unknown temperatures.</summary>
    public int Count => rows.Count;

    /// <summary>What was solved.</summary>
    public HeatModel Model { get; }

    /// <summary>Time, s; zero for a steady field.</summary>
    public double Time { get; }

    /// <summary>Highest temperature at any node, K.</summary>
    public double Highest => temperature.Max();

    /// <summary>Highest temperature at any node of regions, K.</summary>
    /// <param name="regions">The regions.</param>
    public double HighestIn(params IReadOnlyList<int> regions) => rows.Highest(temperature, regions);

    /// <summary>Lowest temperature at any node, K.</summary>
    public double Lowest => temperature.Min();

    /// <summary>Heat leaving all surfaces, W, over the whole turn or the depth.</summary>
    public double SurfaceHeat => rows.SurfaceHeat(temperature);

    /// <summary>Heat being made, W.</summary>
    public double Made => rows.Made(temperature, Time);

    /// <summary>Heat stored above 0 K at the constant heat capacities, J: its differences mean something.</summary>
    public double Stored => rows.Times(rows.Mass, temperature).Sum();

    /// <summary>The steady temperature.</summary>
    /// <param name="model">The model; something must cool it.</param>
    /// <param name="guess">A temperature to start from, K.</param>
    /// <exception cref="FieldNotConvergedException">The iteration did not settle.</exception>
    /// <exception cref="ArgumentException">A conductivity is not positive, or nothing conducts heat.</exception>
    public static HeatField Steady(HeatModel model, double guess = 300)
    {
        ArgumentNullException.ThrowIfNull(model);
        return Uniform(model, guess).Settled();
    }

    /// <summary>The steady temperature of the same model, sought from this one.</summary>
    /// <exception cref="FieldNotConvergedException">The iteration did not settle.</exception>
    /// <exception cref="ArgumentException">Nothing cools it.</exception>
    public HeatField Settled()
    {
        var model = Model;
        if (model.Cooling.Count == 0 && model.CoolingAt is null && model.EndCooling is null) throw new ArgumentException("Without cooling there is no steady temperature.", nameof(model));
        var factor = (RealLdl?)null;
        return new(model, rows, Settle(rows, temperature, 0, Time, null, ref factor), Time);
    }

    /// <summary>A uniform temperature, to start from.</summary>
    /// <param name="model">The model.</param>
    /// <param name="temperature">K.</param>
    public static HeatField Uniform(HeatModel model, double temperature)
    {
        ArgumentNullException.ThrowIfNull(model);
        var rows = new HeatRows(model);
        var start = new double[rows.Count];
        Array.Fill(start, Numerics.Guard.Positive(temperature));
        return new(model, rows, start, 0);
    }

    /// <summary>The temperature a time later.</summary>
    /// <param name="end">Time to stop at, s, later than <see cref="Time"/>.</param>
    /// <param name="relativeError">Error allowed in one step against the range of temperatures passed through.</param>
    /// <param name="fixedSteps">A number of equal steps instead, for studies of order; 0 for steps fitted to the error.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">A step does not settle however short it is.</exception>
    public HeatField After(double end, double relativeError = 1e-4, int fixedSteps = 0, CancellationToken cancellation = default) =>
        Course(end, relativeError, fixedSteps, cancellation: cancellation).Last();

    /// <summary>The temperature after each step on the way to a time; whoever has seen enough stops asking.</summary>
    /// <param name="end">Time to stop at, s, later than <see cref="Time"/>.</param>
    /// <param name="relativeError">Error allowed in one step against the range of temperatures passed through.</param>
    /// <param name="fixedSteps">A number of equal steps instead, for studies of order; 0 for steps fitted to the error.</param>
    /// <param name="firstStep">Length of the first step tried, s; 0 for a thousandth of the whole.</param>
    /// <param name="leastRange">A range of temperatures, K, below which errors are not counted as shares of what was passed through but of this.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="FieldNotConvergedException">A step does not settle however short it is.</exception>
    public IEnumerable<HeatField> Course(double end, double relativeError = 1e-4, int fixedSteps = 0, double firstStep = 0, double leastRange = 1e-6, CancellationToken cancellation = default)
    {
        if (!(end > Time)) throw new ArgumentOutOfRangeException(nameof(end), end, $"must be later than {Time}");
        Numerics.Guard.InRange(relativeError, 1e-9, 0.1);
        return Steps(end, relativeError, fixedSteps, firstStep, leastRange, cancellation);
    }

    private IEnumerable<HeatField> Steps(double end, double relativeError, int fixedSteps, double firstStep, double leastRange, CancellationToken cancellation)
    {
        double time = Time, length = end - Time, h = fixedSteps > 0 ? length / fixedSteps : firstStep > 0 ? firstStep : 1e-3 * length, range = leastRange;
        var now = (double[])temperature.Clone();
        var kept = rows.Times(rows.Mass, now);
        double[] rate = [.. rows.Evaluate(now, time).Rows.Select(v => -v)];
        RealLdl? factor = null;
        while (time < end - (1e-12 * length))
        {
            cancellation.ThrowIfCancellationRequested();
            if (h < 1e-12 * length) throw new FieldNotConvergedException($"The temperature does not settle at {time:G4} s.", []);
            var step = end - time < 1.01 * h ? end - time : h;
            var tau = step * TrBdf2.Diagonal;
            // settled a hundred times closer than a step need be, so that it does not show in the error of the step
            var within = fixedSteps > 0 ? Tolerance : Math.Max(Tolerance, 1e-2 * relativeError * range / now.Max());
            var start = Sum(kept, (tau, rate));
            var middle = Settle(rows, now, tau, time + (TrBdf2.Middle * step), start, ref factor, within);
            var middleRate = Rate(middle, start, tau);
            start = Sum(kept, (step * TrBdf2.Weights[0], rate), (step * TrBdf2.Weights[1], middleRate));
            var next = Settle(rows, Ahead(now, middle), tau, time + step, start, ref factor, within);
            var nextRate = Rate(next, start, tau);
            double[] error = Sum(new double[rows.Count], (step * TrBdf2.ErrorWeights[0] / tau, rate), (step * TrBdf2.ErrorWeights[1] / tau, middleRate), (step * TrBdf2.ErrorWeights[2] / tau, nextRate));
            factor!.Solve(error, error);
            range = Math.Max(range, Math.Max(next.Max(), now.Max()) - Math.Min(next.Min(), now.Min()));
            range = Math.Max(range, next.Max() - temperature.Max());
            var ratio = error.Max(Math.Abs) / (relativeError * range);
            if (ratio > 1 && fixedSteps == 0)
            {
                h = step * Math.Min(0.8, TrBdf2.NextStep(ratio));
                continue;
            }
            (now, rate, time) = (next, nextRate, time + step);
            kept = rows.Times(rows.Mass, now);
            if (fixedSteps == 0) h = step * TrBdf2.NextStep(ratio);
            yield return new(Model, rows, now, time < end - (1e-12 * length) ? time : end);
        }
    }

    // on along the straight line through the start and the middle of a step
    private static double[] Ahead(double[] start, double[] middle)
    {
        var result = new double[start.Length];
        for (var i = 0; i < start.Length; i++) result[i] = start[i] + ((middle[i] - start[i]) / TrBdf2.Middle);
        return result;
    }

    /// <summary>Temperature at a place, K.</summary>
    /// <param name="x">r or x, m.</param>
    /// <param name="y">z or y, m.</param>
    /// <exception cref="ArgumentException">The place is in no region that takes part.</exception>
    public double Temperature(double x, double y)
    {
        if (!Model.Mesh.Inside.TryLocate(x, y, out var e, out var xi, out var eta) || !Model.Matter.ContainsKey(Model.Mesh.Space.Region[e]))
            throw new ArgumentException($"No heat is followed at ({x}, {y}).");
        Span<double> shape = stackalloc double[ElementTables.Functions], gx = stackalloc double[ElementTables.Functions], gy = stackalloc double[ElementTables.Functions];
        ElementTables.Evaluate(xi, eta, shape, gx, gy);
        var t = 0.0;
        for (var i = 0; i < 6; i++) t += shape[i] * temperature[rows.Unknown[Model.Mesh.Space.Triangles[(6 * e) + i]]];
        return t;
    }

    /// <summary>Temperature averaged over the volume of regions, K.</summary>
    /// <param name="regions">The regions.</param>
    public double Mean(params IReadOnlyList<int> regions)
    {
        double sum = 0, volume = 0;
        rows.EachVolumePoint(temperature, (w, t, region, _, _) =>
        {
            if (!regions.Contains(region)) return;
            sum += w * t;
            volume += w;
        });
        return volume > 0 ? sum / volume : throw new ArgumentException("None of the regions takes part.", nameof(regions));
    }

    /// <summary>Sum over the volume of a function of temperature and place: ∫f dV.</summary>
    internal double Integral(Func<double, double, double, double> of)
    {
        var sum = 0.0;
        rows.EachVolumePoint(temperature, (w, t, _, x, y) => sum += w * of(t, x, y));
        return sum;
    }

    /// <summary>The same temperatures under other sources or cooling.</summary>
    /// <param name="changed">The changed model, on the same mesh, of the same matter and gaps.</param>
    public HeatField With(HeatModel changed) => new(changed, new HeatRows(changed, rows), temperature, Time);

    /// <summary>Heat a second into each node of a settled stage, from what it has gained.</summary>
    private double[] Rate(double[] t, double[] kept, double tau)
    {
        var rate = rows.Times(rows.Mass, t);
        for (var i = 0; i < rate.Length; i++) rate[i] = (rate[i] - kept[i]) / tau;
        return rate;
    }

    /// <summary>Solves (M·T − kept)/τ + rows(T) = 0, or rows(T) = 0 without kept, by Newton's method without the slope of the conductivity.</summary>
    private static double[] Settle(HeatRows rows, double[] guess, double tau, double time, double[]? kept, ref RealLdl? factor, double within = Tolerance)
    {
        var t = (double[])guess.Clone();
        var history = new List<double>();
        for (var round = 0; round < MostRounds; round++)
        {
            var (residual, slope) = rows.Evaluate(t, time);
            if (kept is not null)
            {
                var mass = rows.Times(rows.Mass, t);
                for (var i = 0; i < t.Length; i++) residual[i] += (mass[i] - kept[i]) / tau;
                for (var p = 0; p < slope.Length; p++) slope[p] += rows.Mass[p] / tau;
            }
            try
            {
                if (factor is null) factor = RealLdl.Create(rows.Analysis, slope);
                else factor.Refactor(slope);
            }
            catch (ZeroPivotException)
            {
                // heat that grows just as fast with temperature as what leaves: there is no balance here
                factor = null;
                break;
            }
            var step = new double[t.Length];
            factor.Solve(residual, step);
            // never past half the way to absolute zero, nor more than doubled
            for (var i = 0; i < t.Length; i++) t[i] = Math.Clamp(t[i] - step[i], 0.5 * t[i], 2 * t[i]);
            if (t.Max() > Hopeless) break;
            history.Add(step.Max(Math.Abs) / t.Max(Math.Abs));
            if (!double.IsFinite(history[^1])) break;
            if (history[^1] < within) return t;
        }
        throw new FieldNotConvergedException("The temperature did not settle.", history);
    }

    private static double[] Sum(double[] start, params ReadOnlySpan<(double Times, double[] What)> terms)
    {
        var result = (double[])start.Clone();
        foreach (var (times, what) in terms)
            for (var i = 0; i < result.Length; i++) result[i] += times * what[i];
        return result;
    }
}
