using System.Numerics;
using Fieldwright.Matter;

namespace Fieldwright.Series.Balls;

/// <summary>The field inside a ball, from the coefficients of the field it stands in and its response.</summary>
internal sealed class BallInterior
{
    private readonly SphereResponse response;
    private readonly Complex[] coefficients, surface;
    private readonly int degrees;
    private readonly double radius;

    /// <summary>Takes what is known of the ball.</summary>
    public BallInterior(SphereResponse response, Complex[] coefficients, int degrees, double radius)
    {
        (this.response, this.coefficients, this.degrees, this.radius) = (response, coefficients, degrees, radius);
        surface = new Complex[degrees + 1];
        // f_l(a) per ĉ.
        for (var l = 1; l <= degrees; l++)
            surface[l] = PhysicalConstants.MagneticConstant / (l + 1) * (1 - (l + 1.0) / l * response.Ratios[l]);
    }

    /// <summary>Flux density, T, and current density, A/m², at a point from the centre, m, not beyond the surface.</summary>
    public (ComplexVector FluxDensity, ComplexVector CurrentDensity) At(Vector rel)
    {
        // B_r = l(l+1) f C/r, B_t = (rf)′ ∇₁C/r, E = −jω f ∇₁C × r̂, with ∇₁C from the slope of the solid harmonic on the unit sphere.
        if (!rel.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(rel), rel, "must be finite");
        var r = Math.Max(rel.Length, 1e-6 * radius);
        var direction = rel.Length > 0 ? rel.Unit() : Vector.AlongZ;
        Span<Complex> f = new Complex[degrees + 1], slope = new Complex[degrees + 1];
        response.RadialInto(r, f, slope);
        var layer = response.LayerAt(r);
        var values = new Complex[SolidHarmonics.Count(degrees)];
        SolidHarmonics.RegularInto(direction, degrees, values);
        // Weighted coefficients, so that one slope serves all degrees.
        Complex radial = 0;
        Complex[] tangential = new Complex[values.Length], turning = new Complex[values.Length];
        for (var l = 1; l <= degrees; l++)
            for (var n = l * l; n < (l + 1) * (l + 1); n++)
            {
                var amplitude = surface[l] * coefficients[n];
                radial += l * (l + 1) * f[l] / r * amplitude * values[n];
                tangential[n] = slope[l] / r * amplitude;
                turning[n] = f[l] * amplitude;
            }
        var along = Tangential(SolidHarmonics.RegularSlope(tangential, degrees, direction), direction);
        var flux = along + ComplexVector.Scaled(radial, direction);
        if (!(layer.Conductivity > 0) || double.IsInfinity(layer.Conductivity))
            return (flux, default);
        var t = SolidHarmonics.RegularSlope(turning, degrees, direction);
        var factor = -Complex.ImaginaryOne * response.AngularFrequency * layer.Conductivity;
        var cross = new ComplexVector(t.Y * direction.Z - t.Z * direction.Y, t.Z * direction.X - t.X * direction.Z, t.X * direction.Y - t.Y * direction.X);
        return (flux, new ComplexVector(factor * cross.X, factor * cross.Y, factor * cross.Z));
    }

    private static ComplexVector Tangential(ComplexVector v, Vector direction)
    {
        var radial = v.X * direction.X + v.Y * direction.Y + v.Z * direction.Z;
        return v + ComplexVector.Scaled(-radial, direction);
    }
}
