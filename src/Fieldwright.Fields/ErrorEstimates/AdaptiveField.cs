using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Numerics;

namespace Fieldwright.Fields;

/// <summary>What is demanded of an adaptive solution.</summary>
/// <param name="RelativeError">Largest error bar of each goal as a share of its value.</param>
/// <param name="MostUnknowns">Unknowns that must not be exceeded by much; past them the solution stops with the bars it has.</param>
/// <param name="MostLevels">Meshes tried at most.</param>
public sealed record AdaptiveDemand(double RelativeError = 0.01, int MostUnknowns = 200_000, int MostLevels = 10);

/// <summary>One mesh of an adaptive solution.</summary>
/// <param name="Level">0 for the first.</param>
/// <param name="UnknownCount">Unknowns of the field.</param>
/// <param name="WorstRatio">Largest of bar over demanded bar among the goals; at most 1 when the demand is met.</param>
/// <param name="Answers">Values and bars on this mesh.</param>
public sealed record AdaptiveLevel(int Level, int UnknownCount, double WorstRatio, IReadOnlyList<GoalAnswer> Answers);

/// <summary>A field solved on a mesh fit for its goals.</summary>
/// <param name="Field">The field on the last mesh: a <see cref="StaticField"/> or, with a frequency, a <see cref="HarmonicField"/>.</param>
/// <param name="Answers">Value and error bar of each goal, in their order.</param>
/// <param name="Levels">The meshes on the way, oldest first.</param>
/// <param name="DemandMet">Whether every bar meets the demand; if not, the budget ran out and the bars are what they are.</param>
public sealed record AdaptiveResult(MagneticField Field, IReadOnlyList<GoalAnswer> Answers, IReadOnlyList<AdaptiveLevel> Levels, bool DemandMet);

/// <summary>Solves a field, refining where the error of the goals is made, until their error bars meet a demand.</summary>
public static class AdaptiveField
{
    /// <summary>Bar over what is guessed to be left after order three. Chosen on one seed of generated apparatus, judged on others (docs/error-bars.md).</summary>
    private const double Safety = 12;

    /// <summary>Share of the unsigned guess that a bar never falls below, lest contributions cancel by chance.</summary>
    private const double UncancelledShare = 0.5;

    /// <summary>Bar over the square of a correction that is small beside the value, which is true to first order only: it matters on meshes that have not seen a skin or a gap yet.</summary>
    private const double SecondOrder = 3;

    /// <summary>Solves a model for its goals.</summary>
    /// <param name="model">The model; static if its frequency is zero.</param>
    /// <param name="goals">The answers wanted.</param>
    /// <param name="demand">How good they must be; 1 % by default.</param>
    /// <param name="progress">Told after each mesh.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The field, and for each goal a value with its error bar (discretisation only).</returns>
    /// <exception cref="ArgumentException">The model or a goal is out of range.</exception>
    /// <exception cref="FieldNotConvergedException">A nonlinear iteration did not settle.</exception>
    public static AdaptiveResult Solve(FieldModel model, IReadOnlyList<Goal> goals, AdaptiveDemand? demand = null, IProgress<AdaptiveLevel>? progress = null, CancellationToken cancellation = default) =>
        Solve(MeshedModel.Create(model, 1, ArcDefect.DegreesFor((demand ?? new()).RelativeError), cancellation), goals, demand, null, progress, cancellation);

    /// <summary>Solves a model for its goals, starting from a mesh that is there already.</summary>
    /// <param name="start">The first mesh, often that of a neighbouring model.</param>
    /// <param name="goals">The answers wanted.</param>
    /// <param name="demand">How good they must be; 1 % by default.</param>
    /// <param name="near">A field near the answer, from which iterations on saturation start; null for none.</param>
    /// <param name="progress">Told after each mesh.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static AdaptiveResult Solve(
        MeshedModel start, IReadOnlyList<Goal> goals, AdaptiveDemand? demand = null, MagneticField? near = null, IProgress<AdaptiveLevel>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(start);
        ArgumentNullException.ThrowIfNull(goals);
        demand ??= new AdaptiveDemand();
        Guard.Positive(demand.RelativeError, nameof(demand.RelativeError));
        var levels = new List<AdaptiveLevel>();
        var meshed = start;
        var field = near;
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            field = Solve(meshed, field, cancellation);
            var (answers, shares, worst) = Judge(field, goals, demand, cancellation);
            var level = new AdaptiveLevel(levels.Count, meshed.UnknownCount, worst, answers);
            levels.Add(level);
            progress?.Report(level);
            if (worst <= 1 || levels.Count >= demand.MostLevels || meshed.UnknownCount >= demand.MostUnknowns)
                return new(field, answers, levels, worst <= 1);
            var sizes = new RefinedSizes(meshed, shares, demand.MostUnknowns);
            meshed = MeshedModel.Create(meshed.Model, sizes.At, ArcDefect.DegreesFor(demand.RelativeError), cancellation);
        }
    }

    /// <summary>Values and error bars of goals on one mesh, without refining it.</summary>
    /// <param name="field">A solved field.</param>
    /// <param name="goals">The answers wanted.</param>
    public static IReadOnlyList<GoalAnswer> Judge(MagneticField field, IReadOnlyList<Goal> goals) => Judge(field, goals, new AdaptiveDemand(), default).Answers;

    private static MagneticField Solve(MeshedModel meshed, MagneticField? near, CancellationToken cancellation) =>
        meshed.Model.Frequency > 0 ? HarmonicField.Solve(meshed, near as HarmonicField, cancellation) : StaticField.Solve(meshed, cancellation);

    /// <summary>Answers, the share of each triangle in the errors (1 in total would be an unsigned error as large as the demand), and the worst ratio of bar to demand.</summary>
    private static (List<GoalAnswer> Answers, double[] Shares, double Worst) Judge(MagneticField field, IReadOnlyList<Goal> goals, AdaptiveDemand demand, CancellationToken cancellation)
    {
        var answers = new List<GoalAnswer>();
        var shares = new double[field.Meshed.Space.ElementCount];
        var worst = 0.0;
        var defect = ArcDefect.Of(field.Mesh);
        var errors = ErrorEstimate.Of(field, goals, cancellation);
        for (var g = 0; g < goals.Count; g++)
        {
            var goal = goals[g];
            var (asItStands, correction, moved, removed, left, unsigned, own) = errors[g];
            var value = asItStands + (goal.Uncorrected ? 0 : correction);
            var refinable = Safety * Math.Max(left, UncancelledShare * unsigned);
            if (correction != 0) refinable += Math.Abs(correction) * Math.Min(1, SecondOrder * Math.Abs(correction / value));
            if (goal.Uncorrected)
            {
                (refinable, own) = (refinable + moved, removed);
                unsigned = removed.Sum();
            }
            var bar = refinable + (ArcDefect.Sensitivity * defect * Math.Abs(value));
            if (!double.IsFinite(value) || !double.IsFinite(bar)) throw new FieldNotConvergedException($"Goal {goal.Name} has no finite value or error bar.", []);
            answers.Add(new(goal, value, bar));
            var allowed = Math.Max(demand.RelativeError * Math.Abs(value), goal.AbsoluteError);
            if (refinable == 0) continue;
            worst = Math.Max(worst, allowed > 0 ? bar / allowed : double.PositiveInfinity);
            // scaled by the bar rather than the unsigned sum, so that what cancels is not refined away
            var scale = allowed > 0 ? refinable / (unsigned * allowed) : 1 / unsigned;
            for (var e = 0; e < shares.Length; e++) shares[e] = Math.Max(shares[e], scale * own[e]);
        }
        return (answers, shares, worst);
    }
}
