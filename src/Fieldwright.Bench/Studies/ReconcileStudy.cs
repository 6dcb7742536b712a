using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Logs;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using MathNet.Numerics;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;

namespace Fieldwright.Bench.Studies;

/// <summary>A reading beside its prediction.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Prediction">What every route says.</param>
/// <param name="Tolerances">What the stated tolerances do to the prediction; null when there are none.</param>
/// <param name="Difference">Reading less prediction, SI; NaN without a prediction.</param>
/// <param name="Deviations">The difference in standard deviations of reading, error bar and tolerances together.</param>
public sealed record SetBeside(LoggedReading Reading, RoutedAnswer Prediction, CarriedDoubts? Tolerances, double Difference, double Deviations);

/// <summary>An input whose shift would explain readings that miss.</summary>
/// <param name="Input">The input.</param>
/// <param name="Shift">The shift that explains most, SI.</param>
/// <param name="Standing">Where the input stands, SI.</param>
/// <param name="InTolerances">The shift in half-widths of its stated tolerance; null when none is stated.</param>
/// <param name="Left">The sum of squares that is left with the shift.</param>
public sealed record Explanation(InputName Input, double Shift, double Standing, double? InTolerances, double Left);

/// <summary>How readings and predictions agree as a whole.</summary>
public enum Agreement
{
    /// <summary>As well as their bars and tolerances allow.</summary>
    Agrees,

    /// <summary>Chance would bring so large a misfit in fewer than 1 of 20 cases.</summary>
    Strained,

    /// <summary>Chance would bring so large a misfit in fewer than 1 of 1000 cases.</summary>
    Disagrees,

    /// <summary>There was nothing to compare.</summary>
    Nothing,
}

/// <summary>What setting a log beside the predictions found.</summary>
/// <param name="Apparatus">The apparatus.</param>
/// <param name="Readings">One entry a reading.</param>
/// <param name="SumOfSquares">Sum of squares of the deviations, what tolerances move together counted as moving together; to be set beside the number of readings.</param>
/// <param name="Count">How many readings have a prediction.</param>
/// <param name="ChanceOfWorse">Share of cases in which chance alone would give a larger sum.</param>
/// <param name="Agreement">The same in a word.</param>
/// <param name="Explanations">Inputs that would explain the misfit, the best first.</param>
public sealed record ReconcileReport(
    Apparatus Apparatus, IReadOnlyList<SetBeside> Readings, double SumOfSquares, int Count, double ChanceOfWorse, Agreement Agreement, IReadOnlyList<Explanation> Explanations);

/// <summary>Sets readings taken at the bench beside the predictions.</summary>
/// <remarks>Half-widths of readings, error bars and tolerances are taken as limits within which every value is as likely as any other (standard deviation half-width over √3), readings and bars as
/// independent of one another, tolerances as moving all predictions together. The sum of squares is rᵀC⁻¹r with that covariance C.</remarks>
/// <source key="GUM2008" at="4.3.7"/>
public static class ReconcileStudy
{
    private const double SuspectStep = 0.01;

    /// <summary>Sets a log beside the predictions.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="suspects">Inputs without a stated tolerance that might explain a misfit.</param>
    /// <param name="options">How hard to try.</param>
    /// <param name="progress">Told of each step; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static ReconcileReport Run(
        Apparatus apparatus, IReadOnlyList<LoggedReading> readings, IReadOnlyList<InputName> suspects, RehearsalOptions options,
        IProgress<RehearsalStep>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(suspects);
        ArgumentNullException.ThrowIfNull(options);
        var panel = new RoutePanel(apparatus, options.RelativeTarget, cancellation);
        panel.ExpectAll(readings.Select(r => r.Measure));
        // Suspects are doubted for the derivatives only; they add nothing to the covariance.
        var suspected = apparatus with { Doubts = [.. suspects.Where(s => !apparatus.Doubts.Any(d => d.Input == s)).Select(s => new Doubt(s, null, SuspectStep))] };
        var beside = new List<SetBeside>();
        var moved = new List<IReadOnlyList<Swing>>();
        foreach (var reading in readings)
        {
            progress?.Report(new RehearsalStep(beside.Count, readings.Count, reading.Measure.Text));
            var prediction = panel.Answer(reading.Measure, reading.State);
            var carried = CarriedDoubts.Of(apparatus, reading.Measure, reading.State, panel);
            beside.Add(Beside(reading, prediction, carried));
            moved.Add([.. carried?.Swings ?? [], .. CarriedDoubts.Of(suspected, reading.Measure, reading.State, panel)?.Swings ?? []]);
        }

        int[] there = [.. Enumerable.Range(0, beside.Count).Where(i => double.IsFinite(beside[i].Difference))];
        if (there.Length == 0)
            return new ReconcileReport(apparatus, beside, double.NaN, 0, double.NaN, Agreement.Nothing, []);
        return Weigh(apparatus, suspected, beside, moved, there);
    }

    private static SetBeside Beside(LoggedReading reading, RoutedAnswer prediction, CarriedDoubts? carried)
    {
        if (prediction.Leading is not { } leading)
            return new SetBeside(reading, prediction, carried, double.NaN, double.NaN);
        double difference = reading.Value - leading.Value, tolerance = carried?.StandardDeviation ?? 0;
        double own = (reading.Bar * reading.Bar + leading.ErrorBar * leading.ErrorBar) / 3;
        return new SetBeside(reading, prediction, carried, difference, difference / Math.Sqrt(own + tolerance * tolerance));
    }

    private static ReconcileReport Weigh(Apparatus apparatus, Apparatus suspected, List<SetBeside> beside, List<IReadOnlyList<Swing>> moved, int[] there)
    {
        int n = there.Length;
        var r = DenseVector.OfEnumerable(there.Select(i => beside[i].Difference));
        var own = DenseMatrix.OfDiagonalArray([.. there.Select(i => (Math.Pow(beside[i].Reading.Bar, 2) + Math.Pow(beside[i].Prediction.Leading!.ErrorBar, 2)) / 3)]);
        // Change of each prediction for a shift of an input by its half-width.
        Vector<double> Slope(Doubt doubt) => DenseVector.OfEnumerable(there.Select(i => moved[i].FirstOrDefault(s => s.Doubt == doubt) is { } s ? Slope1(s) : 0));
        static double Slope1(Swing s) => s is { Down: 0 } or { Up: 0 } ? s.Up - s.Down : 0.5 * (s.Up - s.Down);
        var slopes = apparatus.Doubts.Select(d => (Doubt: d, Slope: Slope(d))).ToList();
        Matrix<double> Covariance(Doubt? without) => slopes.Where(s => s.Doubt != without).Aggregate((Matrix<double>)own, (sum, s) => sum + s.Slope.OuterProduct(s.Slope) / 3);
        double sum = r * Covariance(null).Solve(r);
        double chance = SpecialFunctions.GammaUpperRegularized(0.5 * n, 0.5 * sum);
        var explanations = new List<Explanation>();
        foreach (var doubt in apparatus.Doubts.Concat(suspected.Doubts))
        {
            var slope = Slope(doubt);
            var covariance = Covariance(doubt);
            double weight = slope * covariance.Solve(slope);
            if (!(weight > 0) || Inputs(apparatus, doubt) is not { } at)
                continue;
            double shift = slope * covariance.Solve(r) / weight;
            var left = r - shift * slope;
            explanations.Add(new Explanation(doubt.Input, shift * at.Half, at.Standing, apparatus.Doubts.Contains(doubt) ? shift : null, left * covariance.Solve(left)));
        }

        return new ReconcileReport(
            apparatus, beside, sum, n, chance, chance > 0.05 ? Agreement.Agrees : chance > 0.001 ? Agreement.Strained : Agreement.Disagrees, [.. explanations.OrderBy(e => e.Left)]);
    }

    private static (double Half, double Standing)? Inputs(Apparatus apparatus, Doubt doubt) =>
        File.Inputs.Find(doubt.Input, apparatus) is { Slot.Value: { } value } && CarriedDoubts.HalfWidth(doubt, apparatus) is { } half ? (half, value) : null;
}
