using System.Numerics;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Cylinders;

/// <summary>Which way a field vector goes round.</summary>
public enum SpinSense
{
    /// <summary>It only swings to and fro.</summary>
    None,

    /// <summary>Counter-clockwise seen against the axis (from x to y).</summary>
    CounterClockwise,

    /// <summary>Clockwise (from y to x).</summary>
    Clockwise,
}

/// <summary>
/// The ellipse a field vector traces in a plane at one point: b(t) = Re(B e^(jωt)). A small free conducting cylinder held there across the plane
/// turns the way the vector goes round.
/// </summary>
/// <param name="X">Peak phasor of the component along x, exp(+jωt); T or A/m.</param>
/// <param name="Y">Peak phasor of the component along y, same unit; x, y and the cylinder's axis are right-handed.</param>
/// <remarks>Exact, by definition of the ellipse; everything is in the unit of the components.</remarks>
public readonly record struct FieldEllipse(Complex X, Complex Y)
{
    // Counter-clockwise: Y lags X by 90°, Y = −jX.

    /// <summary>Amplitude of the part turning counter-clockwise: half of X + jY, in their unit.</summary>
    public Complex CounterClockwise => 0.5 * (X + Complex.ImaginaryOne * Y);

    /// <summary>Amplitude of the part turning clockwise: half of X − jY, in their unit.</summary>
    public Complex Clockwise => 0.5 * (X - Complex.ImaginaryOne * Y);

    /// <summary>Half the long axis of the ellipse, in the unit of the components.</summary>
    public double SemiMajor => CounterClockwise.Magnitude + Clockwise.Magnitude;

    /// <summary>Half the short axis, in the same unit; zero for a field that only swings.</summary>
    public double SemiMinor => Math.Abs(CounterClockwise.Magnitude - Clockwise.Magnitude);

    /// <summary>Area of the ellipse, positive when traced counter-clockwise: π Im(X·conj Y), in the square of their unit.</summary>
    public double SignedArea => Math.PI * (X * Complex.Conjugate(Y)).Imaginary;

    /// <summary>Angle of the long axis from x, rad, between −π/2 and π/2.</summary>
    public double Tilt
    {
        get
        {
            // The long axis lies where both turning parts meet: half the sum of their angles.
            var half = 0.5 * (CounterClockwise.Phase - Clockwise.Phase);
            return Math.Atan(Math.Tan(half));
        }
    }

    /// <summary>Which way the vector goes round.</summary>
    /// <param name="leastRatio">Short over long axis below which the sense is not called, between 0 and 1.</param>
    /// <returns>The sense.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The ratio is outside its range.</exception>
    public SpinSense Sense(double leastRatio = 1e-6)
    {
        Guard.InRange(leastRatio, 0, 1);
        return SemiMinor <= leastRatio * SemiMajor ? SpinSense.None : SignedArea > 0 ? SpinSense.CounterClockwise : SpinSense.Clockwise;
    }

    /// <summary>The ellipse seen along an axis in space.</summary>
    /// <param name="field">Peak phasors of the field, T or A/m.</param>
    /// <param name="axis">Axis of the cylinder, of any length; counter-clockwise is right-handed about it.</param>
    /// <returns>The part of the field across the axis.</returns>
    /// <exception cref="ArgumentException">The axis is zero or not finite.</exception>
    public static FieldEllipse Across(ComplexVector field, Vector axis)
    {
        var n = axis.Unit();
        var least = Math.Abs(n.X) <= Math.Abs(n.Y) && Math.Abs(n.X) <= Math.Abs(n.Z) ? new Vector(1, 0, 0)
            : Math.Abs(n.Y) <= Math.Abs(n.Z) ? new Vector(0, 1, 0) : new Vector(0, 0, 1);
        var u = (least - Vector.Dot(least, n) * n).Unit();
        var v = Vector.Cross(n, u);
        return new FieldEllipse(field.X * u.X + field.Y * u.Y + field.Z * u.Z, field.X * v.X + field.Y * v.Y + field.Z * v.Z);
    }

    /// <summary>Area vector of the ellipse in space, (π/2) Im of B × conj B: its direction is the axis about which a cylinder turns most readily.</summary>
    /// <param name="field">Peak phasors of the field, T or A/m.</param>
    /// <returns>The vector, in the square of the field's unit; its component along any unit axis is the <see cref="SignedArea"/> seen along it.</returns>
    public static Vector AreaVector(ComplexVector field) => Math.PI * new Vector(
        (field.Y * Complex.Conjugate(field.Z)).Imaginary, (field.Z * Complex.Conjugate(field.X)).Imaginary, (field.X * Complex.Conjugate(field.Y)).Imaginary);
}
