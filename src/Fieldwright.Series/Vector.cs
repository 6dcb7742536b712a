using System.Numerics;

namespace Fieldwright.Series;

/// <summary>A real vector in space, in right-handed Cartesian components.</summary>
/// <param name="X">Component along x; its unit is that of the quantity.</param>
/// <param name="Y">Component along y, same unit.</param>
/// <param name="Z">Component along z, same unit.</param>
/// <remarks>Plain values, exact to rounding by definition; an operation is in the unit of what goes into it.</remarks>
public readonly record struct Vector(double X, double Y, double Z)
{
    /// <summary>The unit vector along +z: the default axis of every coil.</summary>
    public static Vector AlongZ => new(0, 0, 1);

    /// <summary>Euclidean length, in the unit of the components.</summary>
    public double Length => Math.Sqrt(X * X + Y * Y + Z * Z);

    /// <summary>Whether every component is finite.</summary>
    public bool IsFinite => double.IsFinite(X) && double.IsFinite(Y) && double.IsFinite(Z);

    /// <summary>Sum of two vectors.</summary>
    /// <param name="a">First vector, in its unit.</param>
    /// <param name="b">Second vector, in its unit.</param>
    public static Vector operator +(Vector a, Vector b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    /// <summary>Difference of two vectors.</summary>
    /// <param name="a">First vector, in its unit.</param>
    /// <param name="b">Vector taken away, in its unit.</param>
    public static Vector operator -(Vector a, Vector b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    /// <summary>The opposite vector.</summary>
    /// <param name="a">Vector, in its unit.</param>
    public static Vector operator -(Vector a) => new(-a.X, -a.Y, -a.Z);

    /// <summary>A vector made <paramref name="s"/> times longer.</summary>
    /// <param name="s">Factor.</param>
    /// <param name="a">Vector, in its unit.</param>
    public static Vector operator *(double s, Vector a) => new(s * a.X, s * a.Y, s * a.Z);

    /// <summary>Scalar product.</summary>
    /// <param name="a">First vector, in its unit.</param>
    /// <param name="b">Second vector, in its unit.</param>
    /// <returns>a·b, in the product of the two units.</returns>
    public static double Dot(Vector a, Vector b) => a.X * b.X + a.Y * b.Y + a.Z * b.Z;

    /// <summary>Vector product, right-handed.</summary>
    /// <param name="a">First vector, in its unit.</param>
    /// <param name="b">Second vector, in its unit.</param>
    /// <returns>a×b, in the product of the two units.</returns>
    public static Vector Cross(Vector a, Vector b) =>
        new(a.Y * b.Z - a.Z * b.Y, a.Z * b.X - a.X * b.Z, a.X * b.Y - a.Y * b.X);

    /// <summary>The vector of length one in the same direction.</summary>
    /// <returns>The direction, a pure number.</returns>
    /// <exception cref="ArgumentException">The vector is zero or not finite, so it has no direction.</exception>
    public Vector Unit()
    {
        var length = Length;
        return double.IsFinite(length) && length > 0 ? 1 / length * this
            : throw new ArgumentException("A direction must be a finite vector other than zero.");
    }
}

/// <summary>Three complex components: peak phasors with exp(+jωt).</summary>
/// <param name="X">Component along x; its unit is that of the quantity.</param>
/// <param name="Y">Component along y, same unit.</param>
/// <param name="Z">Component along z, same unit.</param>
/// <remarks>Plain values, exact to rounding by definition; an operation is in the unit of what goes into it.</remarks>
public readonly record struct ComplexVector(Complex X, Complex Y, Complex Z)
{
    /// <summary>Sum of two phasor vectors.</summary>
    /// <param name="a">First vector, in its unit.</param>
    /// <param name="b">Second vector, in its unit.</param>
    public static ComplexVector operator +(ComplexVector a, ComplexVector b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    /// <summary>A real vector times a phasor.</summary>
    /// <param name="s">Phasor factor.</param>
    /// <param name="a">Real vector, in its unit.</param>
    /// <returns>s·a, in the product of the two units.</returns>
    public static ComplexVector Scaled(Complex s, Vector a) => new(s * a.X, s * a.Y, s * a.Z);

    /// <summary>The part in phase with the reference, same unit.</summary>
    public Vector Real => new(X.Real, Y.Real, Z.Real);

    /// <summary>The part in quadrature with the reference, same unit.</summary>
    public Vector Imaginary => new(X.Imaginary, Y.Imaginary, Z.Imaginary);
}
