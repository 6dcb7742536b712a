using Fieldwright.Series.Magnets;

namespace Fieldwright.Series.Currents;

/// <summary>Force and torque of a field on a body of currents: ∫ I dl × B over its pieces, refined until two answers agree.</summary>
/// <source key="Neumann1845"/>
public static class Loads
{
    private const int MostSteps = 5;

    /// <summary>Load of one body of currents on another.</summary>
    /// <param name="source">Body that makes the field; per ampere if a coil.</param>
    /// <param name="body">Body that feels it; per ampere if a coil. The two must not overlap.</param>
    /// <param name="tolerance">Relative change at which the refinement stops, 1e-12 to 1e-2.</param>
    /// <returns>Force and torque about the body's centre with the change at the last refinement as their errors.</returns>
    /// <exception cref="NotConvergedException">The two come so near that the sums do not settle to 1e-5.</exception>
    public static MagnetLoad Between(ICurrents source, ICurrents body, double tolerance = 1e-7)
    {
        ArgumentNullException.ThrowIfNull(source);
        return Of(source.FluxDensity, body, tolerance);
    }

    /// <summary>Load of a given field on a body of currents.</summary>
    /// <param name="fluxDensity">Flux density at a point, T, without the body's own.</param>
    /// <param name="body">Body that feels it; per ampere if a coil.</param>
    /// <param name="tolerance">Relative change at which the refinement stops, 1e-12 to 1e-2.</param>
    /// <returns>Force and torque about the body's centre with the change at the last refinement as their errors.</returns>
    /// <exception cref="NotConvergedException">The field is so uneven over the body that the sums do not settle to 1e-5.</exception>
    public static MagnetLoad Of(Func<Vector, Vector> fluxDensity, ICurrents body, double tolerance = 1e-7)
    {
        ArgumentNullException.ThrowIfNull(fluxDensity);
        ArgumentNullException.ThrowIfNull(body);
        Numerics.Guard.InRange(tolerance, 1e-12, 1e-2);
        var last = Sum(fluxDensity, body, 0);
        for (var step = 1; ; step++)
        {
            var next = Sum(fluxDensity, body, step);
            double df = (next.Force - last.Force).Length, dt = (next.Torque - last.Torque).Length;
            // Sums that vanish by symmetry are only known to the rounding of their terms.
            double f = Math.Max(next.Force.Length, 1e-12 * next.ForceScale), t = Math.Max(next.Torque.Length, Math.Max(1e-12 * next.TorqueScale, 1e-3 * next.Reach * f));
            var settled = df <= tolerance * f && dt <= tolerance * t;
            if (!settled && step < MostSteps)
            {
                last = next;
                continue;
            }

            // What still moves is judged against the sizes of the pieces, of which a sum may be a small difference.
            if (!settled && (df > Math.Max(1e-5 * f, 1e-8 * next.ForceScale) || dt > Math.Max(1e-5 * t, 1e-8 * next.TorqueScale)))
                throw new NotConvergedException("The force between two bodies", df / f, step);
            return new(next.Force, next.Torque, Math.Max(df, 1e-15 * next.ForceScale), Math.Max(dt, 1e-15 * next.TorqueScale));
        }
    }

    private static (Vector Force, Vector Torque, double ForceScale, double TorqueScale, double Reach) Sum(Func<Vector, Vector> fluxDensity, ICurrents body, int refinement)
    {
        var pieces = new List<CurrentElement>();
        body.AddElements(refinement, pieces);
        Vector force = default, torque = default;
        double forceScale = 0, torqueScale = 0, reach = 0;
        foreach (var piece in pieces)
        {
            var f = Vector.Cross(piece.Moment, fluxDensity(piece.Point));
            var arm = piece.Point - body.Centre;
            force += f;
            torque += Vector.Cross(arm, f);
            forceScale += f.Length;
            torqueScale += arm.Length * f.Length;
            reach = Math.Max(reach, arm.Length);
        }

        return (force, torque, forceScale, torqueScale, reach);
    }
}
