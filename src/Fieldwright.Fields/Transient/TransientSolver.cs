using Fieldwright.Fields.Transient;
using Fieldwright.Numerics;

namespace Fieldwright.Fields;

/// <summary>Follows a magnetic field in time, with nonlinear steel, induced currents, circuits and moving bodies.</summary>
/// <remarks>
/// Implicit, second order, with steps fitted to the error (<see cref="TransientOptions.RelativeError"/>). It starts from the static field of the currents at t = 0 and of the
/// magnets. Sources should be continuous except at <see cref="TransientOptions.Breaks"/>; the books of energy do not close over a jump of a held current.
/// Bodies carry their triangles along and the air round them is stretched, so moving matter loses nothing to interpolation; when the air must be meshed anew the
/// currents are carried over by a projection, and what the field's energy loses by that is told apart in the books.
/// </remarks>
public static class TransientSolver
{
    /// <summary>Sizes of the coarser mesh over those of the finer one where bars are asked for.</summary>
    public const double Coarser = 1.4;

    /// <summary>Follows a model to the end of a time.</summary>
    /// <param name="model">The model.</param>
    /// <param name="options">How far, how fine, how exact.</param>
    /// <param name="observe">Shown the field after each step; null if nobody looks.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">The model or an option is out of range.</exception>
    /// <exception cref="FieldNotConvergedException">A step does not settle however short it is, or there are too many.</exception>
    /// <exception cref="NetCurrentException">A long model carries a net current.</exception>
    public static TransientSolution Follow(TransientModel model, TransientOptions options, Action<TransientField>? observe = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(options);
        Guard.Positive(options.End, nameof(options.End));
        Guard.InRange(options.RelativeError, 1e-9, 0.1, nameof(options.RelativeError));
        Guard.NotNegative(options.FirstStep, nameof(options.FirstStep));
        Guard.NotNegative(options.LargestStep, nameof(options.LargestStep));
        Guard.Positive(options.Fineness, nameof(options.Fineness));
        TransientPorts.Check(model);
        return new TransientRun(model, options, cancellation).Follow(observe);
    }

    /// <summary>Follows a model three times and gives what is asked of it with an error bar.</summary>
    /// <remarks>
    /// Once as the options say, once on a mesh whose sizes are <see cref="Coarser"/> times as long, and once more on that with steps twice as long. Steps: of second order, so what they leave is a third of the
    /// difference; the bar takes half of it. Mesh: of order four where the field is smooth, two beside edges of currents and 4/3 at corners of steel, so what it leaves is 0.3, 1.0 and 1.8 of the difference; the bar
    /// takes all of it, and with magnetic matter twice as much. The two
    /// cheaper runs cost about as much as the first. An answer at a landing, or that grows by an instability, may differ more than its bar says;
    /// and so may one on a mesh too coarse for orders to hold: at fineness 1 and steps good to 1 % a coil's current was four bars off. Ask for a fineness of 2 and steps good to a per mille.
    /// </remarks>
    /// <param name="model">The model.</param>
    /// <param name="options">As for <see cref="Follow"/>.</param>
    /// <param name="asked">What is read off a solution, such as the last displacement of a body.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The solution as the options say; value and half-width of each answer, in its unit, in the order asked: mesh and steps.</returns>
    /// <exception cref="ArgumentException">The model or an option is out of range.</exception>
    /// <exception cref="FieldNotConvergedException">A step does not settle however short it is, or there are too many.</exception>
    public static (TransientSolution Solution, IReadOnlyList<(double Value, double ErrorBar)> Answers) FollowWithBars(
        TransientModel model, TransientOptions options, IReadOnlyList<Func<TransientSolution, double>> asked, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(asked);
        var first = options.FirstStep > 0 ? options.FirstStep : 1e-3 * options.End;
        var largest = options.LargestStep > 0 ? options.LargestStep : options.End / 50;
        var coarse = options with { Fineness = options.Fineness / Coarser, FirstStep = first, LargestStep = largest };
        // the error of a step is of third order, so eight times as much is allowed to one twice as long
        var longer = coarse with { FirstStep = 2 * first, LargestStep = 2 * largest, RelativeError = Math.Min(0.1, 8 * options.RelativeError) };
        var solution = Follow(model, options, null, cancellation);
        TransientSolution onCoarse = Follow(model, coarse, null, cancellation), withLonger = Follow(model, longer, null, cancellation);
        var corners = model.Field.Matter.Values.Any(m => m.Curve is not null || m.RelativePermeability > 1.5) ? 2 : 1;
        return (solution, [.. asked.Select(read => (read(solution), (corners * Math.Abs(read(solution) - read(onCoarse))) + (0.5 * Math.Abs(read(onCoarse) - read(withLonger)))))]);
    }
}
