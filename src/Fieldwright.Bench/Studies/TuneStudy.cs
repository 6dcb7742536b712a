using System.Globalization;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Studies;

/// <summary>An input to turn and how far.</summary>
/// <param name="Input">Which input.</param>
/// <param name="From">Lowest value, SI.</param>
/// <param name="To">Highest value, SI.</param>
public sealed record TunedInput(InputName Input, double From, double To)
{
    /// <summary>Whether it comes in whole numbers.</summary>
    public bool Whole => Input.Quantity == "turns";
}

/// <summary>How far a claim lies from its limit, in shares of the limit, so that claims of different kinds can be set beside one another.</summary>
/// <param name="Claim">The claim.</param>
/// <param name="Value">The answer of the quickest route, SI; NaN when there was none.</param>
/// <param name="Margin">Distance of answer and error bar from the limit, positive inside: as a share of the limit (of its height over the hall for a temperature, of half the
/// room for a claim with two limits); −1 or less when there was no answer.</param>
public sealed record TunedMargin(Claim Claim, double Value, double Margin);

/// <summary>A trial: where the inputs stood and what came of it.</summary>
/// <param name="Values">Values of the inputs, SI, in the order asked.</param>
/// <param name="Margins">One margin a claim.</param>
public sealed record TuneTrial(IReadOnlyList<double> Values, IReadOnlyList<TunedMargin> Margins)
{
    /// <summary>The least margin: what is made as large as possible.</summary>
    public double Least => Margins.Count == 0 ? 0 : Margins.Min(m => m.Margin);
}

/// <summary>What tuning found.</summary>
/// <param name="Apparatus">The apparatus as it stood.</param>
/// <param name="Inputs">What was turned.</param>
/// <param name="Start">The trial at the standing values.</param>
/// <param name="Best">The trial with the best least margin.</param>
/// <param name="Trials">How many trials were made.</param>
/// <param name="Settled">Whether the search ended because smaller steps no longer helped, not because the trials ran out.</param>
/// <param name="Settings">The settings of the best trial.</param>
/// <param name="Rehearsal">The apparatus with those settings, rehearsed by every route.</param>
public sealed record TuneReport(
    Apparatus Apparatus, IReadOnlyList<TunedInput> Inputs, TuneTrial Start, TuneTrial Best, int Trials, bool Settled, IReadOnlyList<Setting> Settings, RehearsalReport Rehearsal);

/// <summary>Turns dials until all claims hold with the best least margin.</summary>
/// <remarks>A coarse grid over the ranges, then steps along each input and across them in pairs from the best point, halved when none helps. The least of several margins has edges, so no
/// derivative is used. What is found is the best of what was tried, not proved to be the best there is.</remarks>
public static class TuneStudy
{
    private const double Smallest = 1.0 / 512;

    /// <summary>Runs the search.</summary>
    /// <param name="apparatus">The apparatus; it must make a claim.</param>
    /// <param name="inputs">What to turn: one to six inputs.</param>
    /// <param name="mostTrials">Most trials.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="kept">Trials made so far; null to begin anew.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work; what is in <paramref name="kept"/> stays.</param>
    /// <exception cref="ArgumentException">No input, or more than six, or no claim.</exception>
    public static TuneReport Run(
        Apparatus apparatus, IReadOnlyList<TunedInput> inputs, int mostTrials, RehearsalOptions options, KeptRows? kept = null,
        IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(options);
        if (inputs.Count is 0 or > 6)
            throw new ArgumentException("Between one and six inputs are turned.", nameof(inputs));
        if (apparatus.Claims.Count == 0)
            throw new ArgumentException("The apparatus makes no claim that could be met.", nameof(apparatus));
        var search = new Search(apparatus, inputs, mostTrials, options, kept ?? new KeptRows(null, ""), progress, cancellation);
        var (start, best, settled) = search.Go();
        var settings = inputs.Select((t, i) => new Setting(t.Input, best.Values[i])).ToList();
        var rehearsal = Rehearsal.Run(Inputs.Apply(apparatus, settings), options, progress, cancellation);
        return new TuneReport(apparatus, inputs, start, best, search.Count, settled, settings, rehearsal);
    }

    private sealed class Search(
        Apparatus apparatus, IReadOnlyList<TunedInput> inputs, int mostTrials, RehearsalOptions options, KeptRows kept, IProgress<RehearsalStep>? progress, CancellationToken cancellation)
    {
        private readonly Dictionary<string, TuneTrial> made = [];

        public int Count => made.Count;

        public (TuneTrial Start, TuneTrial Best, bool Settled) Go()
        {
            double[] standing = [.. inputs.Select(t => Math.Clamp((Standing(t) - t.From) / (t.To - t.From), 0, 1))];
            var start = Try(standing)!;
            double[] at = standing;
            var best = start;
            int stops = inputs.Count switch { 1 => 9, 2 => 5, _ => 3 };
            foreach (double[] point in Grid(stops))
                if (Try(point) is { } trial && trial.Least > best.Least)
                    (at, best) = (point, trial);
            double step = 0.5 / (stops - 1);
            while (step >= Smallest)
            {
                bool better = false;
                foreach (double[] direction in Directions())
                {
                    double[] next = [.. at.Select((x, i) => Math.Clamp(x + step * direction[i], 0, 1))];
                    if (Try(next) is not { } trial)
                        return (start, best, false);
                    if (trial.Least > best.Least)
                        (at, best, better) = (next, trial, true);
                }

                step = better ? step : 0.5 * step;
            }

            return (start, best, true);
        }

        private double Standing(TunedInput tuned) => File.Inputs.Find(tuned.Input, apparatus) is { Slot.Value: { } value } ? value : 0.5 * (tuned.From + tuned.To);

        private IEnumerable<double[]> Grid(int stops)
        {
            int total = (int)Math.Pow(stops, inputs.Count);
            for (int n = 0; n < total; n++)
            {
                int rest = n;
                double[] point = new double[inputs.Count];
                for (int i = 0; i < point.Length; i++, rest /= stops)
                    point[i] = (double)(rest % stops) / (stops - 1);
                yield return point;
            }
        }

        private IEnumerable<double[]> Directions()
        {
            int n = inputs.Count;
            for (int i = 0; i < n; i++)
                foreach (double sign in (double[])[1, -1])
                    yield return [.. Enumerable.Range(0, n).Select(k => k == i ? sign : 0)];
            for (int i = 0; i < n; i++)
                for (int j = i + 1; j < n; j++)
                    foreach (var (a, b) in ((double, double)[])[(1, 1), (-1, -1), (1, -1), (-1, 1)])
                        yield return [.. Enumerable.Range(0, n).Select(k => k == i ? a : k == j ? b : 0)];
        }

        // A trial at a point of the unit box; null when no trial is left.
        private TuneTrial? Try(double[] point)
        {
            double[] values = [.. inputs.Select((t, i) =>
            {
                double value = t.From + point[i] * (t.To - t.From);
                return t.Whole ? Math.Round(value) : value;
            })];
            string key = string.Join(' ', values.Select(v => v.ToString("R", CultureInfo.InvariantCulture)));
            if (made.TryGetValue(key, out var known))
                return known;
            if (made.Count >= mostTrials)
                return null;
            cancellation.ThrowIfCancellationRequested();
            progress?.Report(new RehearsalStep(made.Count, mostTrials, "trying " + string.Join(", ", inputs.Select((t, i) => $"{t.Input.Text} {File.Inputs.Write(t.Input, values[i], apparatus)}"))));
            double[] row = kept.At(made.Count, () => Margins(values));
            var margins = apparatus.Claims.Select((c, i) => new TunedMargin(c, row[2 * i], row[2 * i + 1])).ToList();
            return made[key] = new TuneTrial(values, margins);
        }

        private double[] Margins(double[] values)
        {
            const double NoAnswer = -10;
            Apparatus turned;
            try
            {
                turned = File.Inputs.Apply(apparatus, inputs.Select((t, i) => new Setting(t.Input, values[i])));
            }
            catch (ArgumentException)
            {
                // It cannot be built so: bodies overlap, or wire does not fit.
                return [.. apparatus.Claims.SelectMany(_ => (double[])[double.NaN, 2 * NoAnswer])];
            }

            var panel = new RoutePanel(turned, options.RelativeTarget, cancellation);
            panel.ExpectAll(turned.Claims.Select(c => c.Measure));
            return [.. turned.Claims.SelectMany(claim =>
            {
                if (panel.Cheapest(claim.Measure, claim.State).Leading is not { } answer)
                    return (double[])[double.NaN, NoAnswer];
                double size = Size(claim.Bound, panel.UnitOf(claim.Measure), turned.Ambient, answer.Value);
                double margin = Math.Min(answer.Value - claim.Bound.Lower, claim.Bound.Upper - answer.Value) - answer.ErrorBar;
                return (double[])[answer.Value, Math.Max(NoAnswer, margin / size)];
            })];
        }

        private static double Size(Bound bound, string unit, double ambient, double value)
        {
            bool two = double.IsFinite(bound.Lower) && double.IsFinite(bound.Upper);
            double limit = double.IsFinite(bound.Upper) ? bound.Upper : bound.Lower;
            double size = two ? 0.5 * (bound.Upper - bound.Lower) : Math.Abs(limit - (unit == "°C" ? ambient : 0));
            return size > 0 ? size : Math.Max(Math.Abs(value), double.Epsilon);
        }
    }
}
