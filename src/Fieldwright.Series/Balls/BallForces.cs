using System.Numerics;
using Fieldwright.Matter;

namespace Fieldwright.Series.Balls;

/// <summary>
/// Mean force, torque, stiffness and loss from the coefficients ĉ_lm of the applied field and the response T_l: every one a sum of products of
/// neighbouring coefficients, none a numerical derivative.
/// </summary>
/// <remarks>
/// The ball acts outside as magnetic charge with moments −4π T_l a^(2l+1) c_lm; the force on charge q is μ₀qH. Moving the ball changes c by the
/// slope operators of <see cref="SolidHarmonics"/>, so the stiffness is exact too, with the response following the motion at once.
/// </remarks>
internal static class BallForces
{
    private const double Mu0 = PhysicalConstants.MagneticConstant;

    /// <summary>Force and, by degree, the size of what each degree adds to it and to the loss.</summary>
    public static Vector Force(ReadOnlySpan<Complex> c, SphereResponse response, int degrees, Span<double> forceByDegree)
    {
        var count = SolidHarmonics.Count(degrees - 1);
        Span<Complex> x = new Complex[count], y = new Complex[count], z = new Complex[count];
        SolidHarmonics.SlopeInto(c, degrees, x, y, z);
        var total = default(Vector);
        for (var l = 1; l < degrees; l++)
        {
            Complex fx = 0, fy = 0, fz = 0;
            for (var i = l * l; i < (l + 1) * (l + 1); i++)
            {
                var conjugate = Complex.Conjugate(c[i]);
                fx += x[i] * conjugate;
                fy += y[i] * conjugate;
                fz += z[i] * conjugate;
            }
            var t = Complex.Conjugate(response.Ratios[l]);
            var part = -2 * Math.PI * Mu0 * new Vector((t * fx).Real, (t * fy).Real, (t * fz).Real);
            forceByDegree[l] = part.Length;
            total += part;
        }
        return total;
    }

    /// <summary>Torque about the centre.</summary>
    public static Vector Torque(ReadOnlySpan<Complex> c, SphereResponse response, int degrees, double a)
    {
        Complex x = 0, y = 0, z = 0;
        for (var l = 1; l <= degrees; l++)
        {
            Complex plus = 0, minus = 0;
            double about = 0;
            for (var m = -l; m <= l; m++)
            {
                var i = SolidHarmonics.Index(l, m);
                about += m * (c[i].Real * c[i].Real + c[i].Imaginary * c[i].Imaginary);
                if (m < l)
                    plus += SolidHarmonics.Root(l - m) * SolidHarmonics.Root(l + m + 1) * c[i] * Complex.Conjugate(c[i + 1]);
                if (m > -l)
                    minus += SolidHarmonics.Root(l + m) * SolidHarmonics.Root(l - m + 1) * c[i] * Complex.Conjugate(c[i - 1]);
            }
            // j·conj(T): the moments follow the field by T.
            var t = Complex.ImaginaryOne * Complex.Conjugate(response.Ratios[l]);
            x += 0.5 * t * (plus + minus);
            y += 0.5 * t * (plus - minus) / Complex.ImaginaryOne;
            z += t * about;
        }
        return -2 * Math.PI * Mu0 * a * new Vector(x.Real, y.Real, z.Real);
    }

    /// <summary>Loss and what each degree adds to it.</summary>
    public static double Loss(ReadOnlySpan<Complex> c, SphereResponse response, int degrees, double a, Span<double> byDegree)
    {
        double total = 0;
        for (var l = 1; l <= degrees; l++)
        {
            byDegree[l] = 2 * Math.PI * response.AngularFrequency * Mu0 * a * response.Ratios[l].Imaginary * Size2(c, l);
            total += byDegree[l];
        }
        return total;
    }

    /// <summary>Σ over m of |ĉ_lm|² of one degree.</summary>
    public static double Size2(ReadOnlySpan<Complex> c, int l)
    {
        double sum = 0;
        for (var i = l * l; i < (l + 1) * (l + 1); i++)
            sum += c[i].Real * c[i].Real + c[i].Imaginary * c[i].Imaginary;
        return sum;
    }

    /// <summary>K_ij = −∂F_i/∂x_j, N/m.</summary>
    public static double[,] Stiffness(ReadOnlySpan<Complex> c, SphereResponse response, int degrees, double a)
    {
        var first = new Complex[3][];
        var second = new Complex[3][][];
        var count = SolidHarmonics.Count(degrees - 1);
        for (var i = 0; i < 3; i++)
            first[i] = new Complex[count];
        SolidHarmonics.SlopeInto(c, degrees, first[0], first[1], first[2]);
        for (var i = 0; i < 3; i++)
        {
            second[i] = [new Complex[count], new Complex[count], new Complex[count]];
            SolidHarmonics.SlopeInto(first[i], degrees - 1, second[i][0], second[i][1], second[i][2]);
        }
        var k = new double[3, 3];
        for (var i = 0; i < 3; i++)
            for (var j = 0; j < 3; j++)
            {
                double sum = 0;
                for (var l = 1; l < degrees - 1; l++)
                {
                    Complex part = 0;
                    for (var n = l * l; n < (l + 1) * (l + 1); n++)
                        part += second[i][j][n] * Complex.Conjugate(c[n]) + first[i][n] * Complex.Conjugate(first[j][n]);
                    sum += (Complex.Conjugate(response.Ratios[l]) * part).Real;
                }
                k[i, j] = 2 * Math.PI * Mu0 / a * sum;
            }
        return k;
    }
}
