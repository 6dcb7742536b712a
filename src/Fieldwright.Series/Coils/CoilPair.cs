using Fieldwright.Series.Currents;

namespace Fieldwright.Series.Coils;

/// <summary>Two coils of any shape that do not share an axis: off to the side, tilted, or both.</summary>
/// <remarks>
/// The exact field of the first coil is integrated round the turns of the second, Gauss across the section and the trapezoid round the turn,
/// both of exponential convergence while the coils keep a distance; counts double until two answers agree.
/// </remarks>
/// <source key="Neumann1845"/>
public sealed class CoilPair
{
    private readonly ICoil first, second;

    /// <summary>Pairs two coils that do not overlap.</summary>
    /// <param name="first">Coil that makes the field.</param>
    /// <param name="second">Coil that stands in it.</param>
    public CoilPair(ICoil first, ICoil second)
    {
        ArgumentNullException.ThrowIfNull(first);
        ArgumentNullException.ThrowIfNull(second);
        this.first = first;
        this.second = second;
    }

    /// <summary>Mutual inductance, in H, positive when positive currents add their fluxes.</summary>
    /// <returns>M with the change at the last doubling as its error.</returns>
    /// <exception cref="NotConvergedException">The coils come so near that the integral does not settle to 1e-6.</exception>
    public Estimate<double> MutualInductance()
    {
        var settled = Settle(piece => new Vector(Vector.Dot(first.VectorPotential(piece.Point), piece.Moment), 0, 0), "The mutual inductance");
        return new(settled.Value.X, settled.Error);
    }

    /// <summary>Force on the second coil per product of currents, N/A².</summary>
    /// <returns>Force in the axes of space with the change at the last doubling as its error.</returns>
    /// <exception cref="NotConvergedException">The coils come so near that the integral does not settle to 1e-6.</exception>
    public Estimate<Vector> Force() =>
        Settle(piece => Vector.Cross(piece.Moment, first.FluxDensity(piece.Point)), "The force");

    /// <summary>Torque on the second coil about a point per product of currents, N·m/A².</summary>
    /// <param name="about">The point, m.</param>
    /// <returns>Torque in the axes of space with the change at the last doubling as its error.</returns>
    /// <exception cref="NotConvergedException">The coils come so near that the integral does not settle to 1e-6.</exception>
    public Estimate<Vector> Torque(Vector about) =>
        Settle(piece => Vector.Cross(piece.Point - about, Vector.Cross(piece.Moment, first.FluxDensity(piece.Point))), "The torque");

    private Estimate<Vector> Settle(Func<CurrentElement, Vector> contribution, string what) => Settling.Of(step =>
    {
        var pieces = new List<CurrentElement>();
        second.AddElements(step, pieces);
        var total = default(Vector);
        double scale = 0;
        foreach (var piece in pieces)
        {
            var part = contribution(piece);
            scale += part.Length;
            total += part;
        }

        return (total, scale);
    }, 6, what);
}
