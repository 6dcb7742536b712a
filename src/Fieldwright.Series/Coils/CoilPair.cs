namespace Fieldwright.Series.Coils;

/// <summary>Two round coils whose axes do not coincide: off to the side, tilted, or both.</summary>
/// <remarks>
/// The exact field of the first coil is integrated round the turns of the second, Gauss across the section and the trapezoid round the turn,
/// both of exponential convergence while the coils keep a distance; counts double until two answers agree.
/// </remarks>
/// <source key="Neumann1845"/>
public sealed class CoilPair
{
    private readonly ThickCoil first, second;

    /// <summary>Pairs two coils that do not overlap.</summary>
    /// <param name="first">Coil that makes the field.</param>
    /// <param name="second">Coil that stands in it.</param>
    public CoilPair(ThickCoil first, ThickCoil second)
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
        var settled = Settle((point, along, weight) => new Vector(weight * Vector.Dot(first.FieldPerAmpere(point).VectorPotential, along), 0, 0), "The mutual inductance");
        return new(settled.Value.X, settled.Error);
    }

    /// <summary>Force on the second coil per product of currents, N/A².</summary>
    /// <returns>Force in the axes of space with the change at the last doubling as its error.</returns>
    /// <exception cref="NotConvergedException">The coils come so near that the integral does not settle to 1e-6.</exception>
    public Estimate<Vector> Force() =>
        Settle((point, along, weight) => weight * Vector.Cross(along, first.FieldPerAmpere(point).FluxDensity), "The force");

    /// <summary>Torque on the second coil about a point per product of currents, N·m/A².</summary>
    /// <param name="about">The point, m.</param>
    /// <returns>Torque in the axes of space with the change at the last doubling as its error.</returns>
    /// <exception cref="NotConvergedException">The coils come so near that the integral does not settle to 1e-6.</exception>
    public Estimate<Vector> Torque(Vector about) =>
        Settle((point, along, weight) => weight * Vector.Cross(point - about, Vector.Cross(along, first.FieldPerAmpere(point).FluxDensity)), "The torque");

    private Estimate<Vector> Settle(Func<Vector, Vector, double, Vector> contribution, string what) =>
        Settling.Of(step => Sum(contribution, 12 << step, 4 + 3 * step), 6, what);

    private (Vector, double) Sum(Func<Vector, Vector, double, Vector> contribution, int round, int across)
    {
        var loops = second.Filaments(across, across);
        var total = default(Vector);
        double scale = 0;
        for (var k = 0; k < round; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * (k + 0.5) / round);
            var along = second.Frame.Along(cos, sin);
            foreach (var loop in loops)
            {
                var part = contribution(second.Frame.PointAt(loop.Radius, cos, sin, loop.Height), along, 2 * Math.PI / round * loop.Radius * loop.Turns);
                scale += part.Length;
                total += part;
            }
        }
        return (total, scale);
    }
}
