using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>Field of coils and ball together at any point, inside the ball, outside and inside the windings. Peak phasors, exp(+jωt). Threads may share it.</summary>
/// <remarks>Outside, the coils' own field to 1e-9 and the moments of the ball; inside, the exact functions of the radius. What is left out are the degrees beyond those that settled force and heat:
/// some 1e-6 of the field at the usual tolerance, more beside a winding the ball all but touches.</remarks>
/// <source key="Smythe1950" at="ch. X; higher degrees and layers from the same boundary conditions"/>
public sealed class BallField
{
    private readonly BallOverCoils owner;
    private readonly BallResponse answer;
    private readonly Complex[] moments;
    private readonly BallInterior interior;

    internal BallField(BallOverCoils owner, BallResponse answer)
    {
        this.owner = owner;
        this.answer = answer;
        var a = owner.Body.Radius;
        moments = new Complex[answer.Coefficients.Length];
        interior = new BallInterior(answer.Response, answer.Coefficients, answer.Degrees, a);
        for (var l = 1; l <= answer.Degrees; l++)
            // d_lm = T ĉ a^(l+1), kept as T ĉ a for distances counted in radii.
            for (var n = l * l; n < (l + 1) * (l + 1); n++)
                moments[n] = answer.Response.Ratios[l] * answer.Coefficients[n] / a;
    }

    /// <summary>Centre of the ball, m.</summary>
    public Vector Position => answer.Position;

    /// <summary>Flux density at a point.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>B as peak phasors in the axes of space, T.</returns>
    /// <exception cref="ArgumentException">The point is not finite.</exception>
    public ComplexVector FluxDensity(Vector point)
    {
        var rel = point - answer.Position;
        if (rel.Length < owner.Body.Radius)
            return interior.At(rel).FluxDensity;
        var total = default(ComplexVector);
        foreach (var source in owner.Sources)
            total += source.Coil.FluxDensity(point, source.PeakCurrent);
        var back = SolidHarmonics.IrregularSlope(moments, answer.Degrees, 1 / owner.Body.Radius * rel);
        const double mu0 = PhysicalConstants.MagneticConstant;
        return total + new ComplexVector(mu0 * back.X, mu0 * back.Y, mu0 * back.Z);
    }

    /// <summary>Current density in the ball.</summary>
    /// <param name="point">Point, m.</param>
    /// <returns>J as peak phasors, A/m²; zero outside the ball and where nothing conducts.</returns>
    /// <exception cref="ArgumentException">The point is not finite.</exception>
    public ComplexVector CurrentDensity(Vector point)
    {
        var rel = point - answer.Position;
        return rel.Length < owner.Body.Radius ? interior.At(rel).CurrentDensity : default;
    }
}
