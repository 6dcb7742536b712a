using System.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>What alternating coils do to a ball at one place. Time averages over a period; peak phasors with exp(+jωt).</summary>
/// <param name="Position">Centre of the ball, m.</param>
/// <param name="Force">Mean force on the ball, N.</param>
/// <param name="Torque">Mean torque on the ball about its own centre, N·m.</param>
/// <param name="Loss">Mean power turned into heat in the ball, W, from the field outside it (Poynting).</param>
/// <param name="ForceError">Estimated absolute error of the force, N: what the degrees left out could add, by the fall of the last ones, and the tolerance asked.</param>
/// <param name="LossError">Estimated absolute error of the loss, W, likewise.</param>
/// <param name="Degrees">Highest degree of solid harmonics used.</param>
/// <param name="NearestRatio">Radius of the ball over the distance of its centre from the nearest winding: terms fall as this to twice the degree.</param>
/// <param name="IsSlow">Whether the ball nearly touches a winding (ratio above 0.9), so that many degrees were needed and the error bar is wider.</param>
public sealed record BallResponse(
    Vector Position, Vector Force, Vector Torque, double Loss, double ForceError, double LossError, int Degrees, double NearestRatio, bool IsSlow)
{
    internal Complex[] Coefficients { get; init; } = [];

    internal SphereResponse Response { get; init; } = null!;
}
