using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Balls;

/// <summary>What steady fields do to a permeable ball at one place, and what the ball does back.</summary>
/// <remarks>No torque: an even, permeable ball takes on its magnetisation along the field. Exact for steel of even permeability but for the degrees left out, which are
/// chosen for the force; the field they leave out just off the surface is larger, of the order of the root of the tolerance.</remarks>
/// <source key="Smythe1950" at="sphere in a field; higher degrees from the same boundary conditions"/>
public sealed class BallAmongMagnets
{
    private const int HighestDegree = 64;

    private readonly Complex[] moments;
    private readonly BallInterior interior;
    private readonly Func<Vector, Vector> applied;
    private readonly int degrees;
    private readonly double radius;

    /// <summary>Finds force and field for a ball at rest in a steady field.</summary>
    /// <param name="body">The ball; only its permeability answers a steady field.</param>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="fluxDensity">Flux density of everything else at a point, T. Its currents must not flow through the ball; those of a rigid magnet are on
    /// its rim only, so that a ball may touch its end face.</param>
    /// <param name="tolerance">Relative error allowed in the force, between 1e-10 and 0.1.</param>
    /// <exception cref="ArgumentException">The tolerance is out of range.</exception>
    /// <exception cref="NotConvergedException">Currents flow so near the ball that 64 degrees leave more than 1 % open.</exception>
    /// <remarks>The field is expanded in solid harmonics on the surface of the ball, more and more of them until the force settles, and each is answered by the exact response.</remarks>
    public BallAmongMagnets(SphereBody body, Vector position, Func<Vector, Vector> fluxDensity, double tolerance = 1e-6)
    {
        ArgumentNullException.ThrowIfNull(body);
        ArgumentNullException.ThrowIfNull(fluxDensity);
        Guard.InRange(tolerance, 1e-10, 0.1);
        Position = position;
        radius = body.Radius;
        applied = fluxDensity;
        var last = default(Vector);
        for (degrees = 6; ; degrees = Math.Min(HighestDegree, degrees + Math.Max(3, degrees / 2)))
        {
            var response = new SphereResponse(body, 0, degrees);
            var c = new Complex[SolidHarmonics.Count(degrees)];
            CoilExpansion.FromSphere(fluxDensity, position, radius, degrees, c);
            // The mean over a cycle of peak phasors is half of what the same steady field does.
            interior = new BallInterior(response, c, degrees, radius);
            Force = 2 * BallForces.Force(c, response, degrees, new double[degrees + 1]);
            var change = (Force - last).Length;
            moments = new Complex[c.Length];
            double largest = 0;
            for (var l = 1; l <= degrees; l++)
                for (var n = l * l; n < (l + 1) * (l + 1); n++)
                {
                    moments[n] = response.Ratios[l] * c[n] / radius;
                    largest = Math.Max(largest, moments[n].Magnitude * c[n].Magnitude);
                }

            // Symmetry may leave no force at all: then it is known to the rounding of the terms it is the difference of.
            var floor = 1e-13 * 4 * Math.PI * PhysicalConstants.MagneticConstant * radius * largest;
            if (degrees > 6 && change <= Math.Max(tolerance * Force.Length, floor))
            {
                ForceError = Math.Max(change, floor);
                return;
            }

            if (degrees == HighestDegree)
            {
                if (change > 0.01 * Force.Length)
                    throw new NotConvergedException("The force on a ball so near to currents", change / Force.Length, degrees);
                ForceError = change;
                return;
            }

            last = Force;
        }
    }

    /// <summary>Centre of the ball, m.</summary>
    public Vector Position { get; }

    /// <summary>Force on the ball, N.</summary>
    public Vector Force { get; }

    /// <summary>Change of the force by the last degrees added, N.</summary>
    public double ForceError { get; }

    /// <summary>Flux density that the ball's own magnetisation adds, T.</summary>
    /// <param name="point">Point, m; outside the ball or in it.</param>
    /// <returns>B in the axes of space, to be added to the field the ball stands in.</returns>
    public Vector FluxDensity(Vector point)
    {
        var rel = point - Position;
        if (rel.Length < radius * (1 - 1e-9))
            return interior.At(rel).FluxDensity.Real - applied(point);
        var h = SolidHarmonics.IrregularSlope(moments, degrees, 1 / radius * rel);
        return PhysicalConstants.MagneticConstant * h.Real;
    }
}
