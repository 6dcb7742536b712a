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
}
