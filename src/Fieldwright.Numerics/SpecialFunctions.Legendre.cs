namespace Fieldwright.Numerics;

public static partial class SpecialFunctions
{
    /// <summary>Legendre polynomial P_n(x).</summary>
    /// <param name="degree">n, zero or more.</param>
    /// <param name="x">Argument, finite; within [−1, 1] the recurrence is stable, outside it too since P_n grows.</param>
    /// <returns>P_n(x), absolute error some n·1e-16 within [−1, 1].</returns>
    /// <exception cref="ArgumentOutOfRangeException">The degree is negative or x is not finite.</exception>
    /// <source key="DLMF" at="18.9.1"/>
    public static double Legendre(int degree, double x) => LegendreWithDerivative(degree, x).Value;

    /// <summary>Legendre polynomial P_n(x) and its derivative.</summary>
    /// <param name="degree">n, zero or more.</param>
    /// <param name="x">Argument, finite.</param>
    /// <returns>P_n(x) and P′_n(x), the latter by P′_n = P′_{n−2} + (2n − 1)P_{n−1}, sound at x = ±1 as well.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The degree is negative or x is not finite.</exception>
    public static (double Value, double Derivative) LegendreWithDerivative(int degree, double x)
    {
        Guard.NotNegative(degree);
        Guard.Finite(x);
        double before = 0, value = 1, slopeBefore = 0, slope = 0;
        for (var n = 1; n <= degree; n++)
        {
            (before, value, slopeBefore, slope) =
                (value, ((2 * n - 1) * x * value - (n - 1) * before) / n, slope, slopeBefore + (2 * n - 1) * value);
        }
        return (value, slope);
    }

    /// <summary>Legendre polynomials P₀(x) to P_N(x).</summary>
    /// <param name="x">Argument, finite.</param>
    /// <param name="values">Receives P₀, P₁, … to its length.</param>
    /// <exception cref="ArgumentOutOfRangeException">x is not finite.</exception>
    public static void LegendreInto(double x, Span<double> values)
    {
        Guard.Finite(x);
        for (var n = 0; n < values.Length; n++)
            values[n] = n == 0 ? 1 : n == 1 ? x : ((2 * n - 1) * x * values[n - 1] - (n - 1) * values[n - 2]) / n;
    }

    /// <summary>Associated Legendre function P_n^m(x) = (1 − x²)^{m/2} dᵐP_n/dxᵐ, <b>without</b> the phase (−1)^m of Condon and Shortley: P₁¹(cos θ) = sin θ.</summary>
    /// <param name="degree">n, zero or more.</param>
    /// <param name="order">m, from 0 to n.</param>
    /// <param name="x">Argument in [−1, 1], usually cos θ.</param>
    /// <returns>P_n^m(x); beyond n ≈ 150 it may overflow: use <see cref="SphericalLegendre"/>.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    /// <source key="DLMF" at="14.6.1, 14.10.3"/>
    public static double AssociatedLegendre(int degree, int order, double x)
    {
        var factor = 1.0;
        for (var k = degree - order + 1; k <= degree + order; k++)
            factor *= k;
        return SphericalLegendre(degree, order, x) * Math.Sqrt(4 * Math.PI / (2 * degree + 1) * factor);
    }

    /// <summary>
    /// Associated Legendre function normalised for the sphere: √((2n+1)/4π · (n−m)!/(n+m)!) P_n^m(x), without the phase of Condon and Shortley,
    /// so that its square times that of e^{imφ} integrates to 1 over the sphere.
    /// </summary>
    /// <param name="degree">n, zero or more.</param>
    /// <param name="order">m, from 0 to n.</param>
    /// <param name="x">Argument in [−1, 1], usually cos θ.</param>
    /// <returns>The normalised value, error some n·1e-16 of its maximum; never overflows.</returns>
    /// <exception cref="ArgumentOutOfRangeException">An argument is outside its range.</exception>
    /// <source key="DLMF" at="14.30.1, 14.10.3"/>
    public static double SphericalLegendre(int degree, int order, double x)
    {
        Guard.NotNegative(degree);
        Guard.InRange(order, 0, degree);
        Guard.InRange(x, -1, 1);
        var sine = Math.Sqrt((1 - x) * (1 + x));
        var diagonal = Math.Sqrt(1 / (4 * Math.PI));
        for (var k = 1; k <= order; k++)
            diagonal *= Math.Sqrt((2 * k + 1) / (2.0 * k)) * sine;
        if (degree == order)
            return diagonal;
        double before = diagonal, value = x * Math.Sqrt(2 * order + 3) * diagonal, m2 = (double)order * order;
        for (var n = order + 2; n <= degree; n++)
        {
            double square = (double)n * n, less = (n - 1.0) * (n - 1.0);
            var a = Math.Sqrt((4 * square - 1) / (square - m2));
            var b = Math.Sqrt((less - m2) / (4 * less - 1));
            (before, value) = (value, a * (x * value - b * before));
        }
        return value;
    }
}
