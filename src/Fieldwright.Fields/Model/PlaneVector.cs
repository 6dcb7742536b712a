using System.Numerics;

namespace Fieldwright.Fields;

/// <summary>A real vector in the plane of the model: (r, z) when round, (x, y) when long.</summary>
/// <param name="X">Component along r or x, in the unit of the quantity.</param>
/// <param name="Y">Component along z or y, in the unit of the quantity.</param>
public readonly record struct PlaneVector(double X, double Y)
{
    /// <summary>Length of the vector.</summary>
    public double Magnitude => double.Hypot(X, Y);
}

/// <summary>Peak phasor of a vector in the plane, exp(+jωt): (r, z) when round, (x, y) when long.</summary>
/// <param name="X">Phasor of the component along r or x.</param>
/// <param name="Y">Phasor of the component along z or y.</param>
public readonly record struct PlanePhasor(Complex X, Complex Y)
{
    /// <summary>√(|X|² + |Y|²): √2 times the root of the time-mean square of the vector.</summary>
    public double Magnitude => Math.Sqrt((X.Real * X.Real) + (X.Imaginary * X.Imaginary) + (Y.Real * Y.Real) + (Y.Imaginary * Y.Imaginary));

    /// <summary>Greatest length the vector reaches in a period (the longer half axis of the ellipse it traces).</summary>
    public double Peak
    {
        get
        {
            var sum = Magnitude * Magnitude;
            return Math.Sqrt(0.5 * (sum + Complex.Abs((X * X) + (Y * Y))));
        }
    }

    /// <summary>The vector at the instant when ωt has the given value.</summary>
    /// <param name="angle">ωt in rad.</param>
    public PlaneVector At(double angle)
    {
        var (sin, cos) = Math.SinCos(angle);
        return new((X.Real * cos) - (X.Imaginary * sin), (Y.Real * cos) - (Y.Imaginary * sin));
    }
}
