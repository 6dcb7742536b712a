using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>Field of coils and ball together at any point, inside the ball, outside and inside the windings. Peak phasors, exp(+jωt). Threads may share it.</summary>
public sealed class BallField
{
    private readonly BallOverCoils owner;
    private readonly BallResponse answer;
    private readonly Complex[] moments;
    private readonly Complex[] surface;

    internal BallField(BallOverCoils owner, BallResponse answer)
    {
        this.owner = owner;
        this.answer = answer;
        var a = owner.Body.Radius;
        moments = new Complex[answer.Coefficients.Length];
        surface = new Complex[answer.Degrees + 1];
        for (var l = 1; l <= answer.Degrees; l++)
        {
            // f_l(a) per ĉ, and d_lm = T ĉ a^(l+1) kept as T ĉ a for distances counted in radii.
            surface[l] = PhysicalConstants.MagneticConstant / (l + 1) * (1 - (l + 1.0) / l * answer.Response.Ratios[l]);
            for (var n = l * l; n < (l + 1) * (l + 1); n++)
                moments[n] = answer.Response.Ratios[l] * answer.Coefficients[n] / a;
        }
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
            return Inside(rel).FluxDensity;
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
        return rel.Length < owner.Body.Radius ? Inside(rel).CurrentDensity : default;
    }

    // B_r = l(l+1) f C/r, B_t = (rf)′ ∇₁C/r, E = −jω f ∇₁C × r̂, with ∇₁C from the slope of the solid harmonic on the unit sphere.
    private (ComplexVector FluxDensity, ComplexVector CurrentDensity) Inside(Vector rel)
    {
        if (!rel.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(rel), rel, "must be finite");
        var degrees = answer.Degrees;
        var r = Math.Max(rel.Length, 1e-6 * owner.Body.Radius);
        var direction = rel.Length > 0 ? rel.Unit() : Vector.AlongZ;
        Span<Complex> f = new Complex[degrees + 1], slope = new Complex[degrees + 1];
        answer.Response.RadialInto(r, f, slope);
        var layer = answer.Response.LayerAt(r);
        var values = new Complex[SolidHarmonics.Count(degrees)];
        SolidHarmonics.RegularInto(direction, degrees, values);
        // Weighted coefficients, so that one slope serves all degrees.
        Complex radial = 0;
        Complex[] tangential = new Complex[values.Length], turning = new Complex[values.Length];
        for (var l = 1; l <= degrees; l++)
            for (var n = l * l; n < (l + 1) * (l + 1); n++)
            {
                var amplitude = surface[l] * answer.Coefficients[n];
                radial += l * (l + 1) * f[l] / r * amplitude * values[n];
                tangential[n] = slope[l] / r * amplitude;
                turning[n] = f[l] * amplitude;
            }
        var along = Tangential(SolidHarmonics.RegularSlope(tangential, degrees, direction), direction);
        var flux = along + ComplexVector.Scaled(radial, direction);
        if (!(layer.Conductivity > 0) || double.IsInfinity(layer.Conductivity))
            return (flux, default);
        var t = SolidHarmonics.RegularSlope(turning, degrees, direction);
        var factor = -Complex.ImaginaryOne * answer.Response.AngularFrequency * layer.Conductivity;
        var cross = new ComplexVector(t.Y * direction.Z - t.Z * direction.Y, t.Z * direction.X - t.X * direction.Z, t.X * direction.Y - t.Y * direction.X);
        return (flux, new ComplexVector(factor * cross.X, factor * cross.Y, factor * cross.Z));
    }

    private static ComplexVector Tangential(ComplexVector v, Vector direction)
    {
        var radial = v.X * direction.X + v.Y * direction.Y + v.Z * direction.Z;
        return v + ComplexVector.Scaled(-radial, direction);
    }
}
