using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>What alternating coils do to a ball that moves and spins and is warm. Time averages over a period.</summary>
/// <param name="Force">Mean force, N, with that by the lag of its currents behind its motion.</param>
/// <param name="Torque">Mean torque about its own centre, N·m.</param>
/// <param name="Heat">Mean power turned into heat in it, W.</param>
/// <param name="FedPower">Mean power that comes through the field, W: heat and torque times spin.</param>
/// <param name="ForceError">Estimated absolute error of the force by the degrees left out, N.</param>
/// <param name="Haste">How much the field it meets changes in a radian of the alternation, because it moves, over that field: the force leaves out its square.</param>
public readonly record struct BallInMotion(Vector Force, Vector Torque, double Heat, double FedPower, double ForceError, double Haste);

/// <summary>A ball over coils that moves and spins.</summary>
/// <remarks>
/// <para>The ball spinning with Ω sees every part of the field of order m about its spin at ω + mΩ, so its moments are p = T(ω + Ω·J) c, J the angular momentum that turns the coefficients: exact
/// for a ball that is alike all round. T is taken as a Chebyshev polynomial in Ω·J, which needs no turning of axes.</para>
/// <para>The ball moving with v meets a field that changes by ċ = (v·∇)c; its moments lag by −j T′(ω + Ω·J) ċ, exact to first order in the change over a radian. That gives the damping.</para>
/// <para>A metal that has warmed has another conductivity: T is a function of ωσ, so it is read at another frequency.</para>
/// Threads may share it.
/// </remarks>
/// <source key="LandauLifshitz1984" at="rotation of a conductor in a field: the field seen from the conductor; degrees above one and the lag derived here"/>
public sealed class BallMotion
{
    private const int FewestTerms = 4, MostTerms = 128;
    private const double Settled = 1e-8;
    private readonly BallOverCoils ball;
    private BallSpectrum spectrum;

    /// <summary>Prepares a ball.</summary>
    /// <param name="ball">The ball and its coils; their frequency is not zero.</param>
    /// <exception cref="ArgumentException">The frequency is zero.</exception>
    public BallMotion(BallOverCoils ball)
    {
        ArgumentNullException.ThrowIfNull(ball);
        this.ball = ball;
        Guard.Positive(ball.Frequency, nameof(ball));
        spectrum = new BallSpectrum(ball.Body, 2 * Omega, 12);
    }

    private BallMotion(BallOverCoils ball, BallSpectrum spectrum) => (this.ball, this.spectrum) = (ball, spectrum);

    /// <summary>The same ball in other currents of the same frequency; what is known of its response is kept.</summary>
    /// <param name="other">The same ball over the same coils.</param>
    /// <returns>It in those currents.</returns>
    public BallMotion In(BallOverCoils other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return new BallMotion(other, Volatile.Read(ref spectrum));
    }

    private double Omega => 2 * Math.PI * ball.Frequency;

    /// <summary>Force, torque and heat.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="velocity">Its velocity, m/s.</param>
    /// <param name="spin">Its spin, rad/s.</param>
    /// <param name="conductivity">Its conductivity over that of the ball as described, for all its layers alike; positive.</param>
    /// <param name="tolerance">Relative error allowed in the force, between 1e-12 and 0.1.</param>
    /// <returns>Means over a period, with the error of the force.</returns>
    /// <exception cref="ArgumentException">A number is out of range, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">The ball all but touches a winding.</exception>
    public BallInMotion At(Vector position, Vector velocity, Vector spin, double conductivity = 1, double tolerance = 1e-6)
    {
        Guard.Positive(conductivity);
        if (!velocity.IsFinite || !spin.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(velocity), "velocity and spin must be finite");
        var still = ball.Evaluate(position, tolerance);
        int degrees = still.Degrees;
        double a = ball.Body.Radius, turning = spin.Length, highest = conductivity * (Omega + degrees * turning);
        var table = TableUpTo(highest, degrees);
        var c = still.Coefficients;
        var slopes = new Complex[3][];
        int count = SolidHarmonics.Count(degrees - 1);
        for (int i = 0; i < 3; i++)
            slopes[i] = new Complex[count];
        SolidHarmonics.SlopeInto(c, degrees, slopes[0], slopes[1], slopes[2]);
        var change = new Complex[c.Length]; // dc/dt; nothing is known of its highest degree
        double all = 0, moved = 0;
        for (int n = 1; n < count; n++)
        {
            change[n] = (velocity.X * slopes[0][n] + velocity.Y * slopes[1][n] + velocity.Z * slopes[2][n]) / a;
            all += Size(c[n]);
            moved += Size(change[n]);
        }

        Complex[] moments = new Complex[c.Length], lag = new Complex[c.Length], turned = new Complex[c.Length];
        var axis = turning > 0 ? 1 / turning * spin : new Vector(0, 0, 1);
        for (int l = 1; l <= degrees; l++)
            Respond(table, l, axis, turning, conductivity, c, change, moments, lag, turned);
        double mu = PhysicalConstants.MagneticConstant, x = 0, y = 0, z = 0, fed = 0, work = 0;
        for (int n = 1; n < count; n++)
        {
            var p = Complex.Conjugate(moments[n] + lag[n]);
            x += (slopes[0][n] * p).Real;
            y += (slopes[1][n] * p).Real;
            z += (slopes[2][n] * p).Real;
        }

        for (int n = 1; n < c.Length; n++)
        {
            fed += (Complex.Conjugate(c[n]) * moments[n]).Imaginary;
            work += (Complex.Conjugate(turned[n]) * moments[n]).Imaginary;
        }

        double power = 2 * Math.PI * mu * a;
        fed *= power * Omega;
        return new BallInMotion(-2 * Math.PI * mu * new Vector(x, y, z), Torque(c, moments, lag, degrees, power), fed + power * turning * work, fed, still.ForceError,
            all > 0 ? Math.Sqrt(moved / all) / Omega : 0);
    }

    // Moments of one degree, their lag, and Ω·J c over Ω.
    private void Respond(BallSpectrum table, int l, Vector axis, double turning, double conductivity, Complex[] c, Complex[] change, Complex[] moments, Complex[] lag, Complex[] turned)
    {
        int first = l * l, size = 2 * l + 1;
        ReadOnlySpan<Complex> of = c.AsSpan(first, size), moving = change.AsSpan(first, size);
        Turn(l, axis, of, turned.AsSpan(first, size));
        if (turning == 0)
        {
            var (ratio, slope) = table.At(l, conductivity * Omega);
            for (int i = 0; i < size; i++)
                (moments[first + i], lag[first + i]) = (ratio * of[i], -Complex.ImaginaryOne * conductivity * slope * moving[i]);
            return;
        }

        Complex[] ratios = [], slopes = [];
        for (int terms = FewestTerms; terms <= MostTerms; terms *= 2)
        {
            double[] cosines = BallSpectrum.Cosines(terms);
            (ratios, slopes) = (new Complex[terms], new Complex[terms]);
            for (int j = 0; j < terms; j++)
                (ratios[j], slopes[j]) = table.At(l, conductivity * (Omega + turning * l * cosines[2 * j + 1]));
            (ratios, slopes) = (BallSpectrum.Transformed(ratios), BallSpectrum.Transformed(slopes));
            if (ratios[^1].Magnitude + ratios[^2].Magnitude < Settled)
                break;
        }

        Sum(l, axis, ratios, of, moments.AsSpan(first, size));
        Sum(l, axis, slopes, moving, lag.AsSpan(first, size));
        for (int i = 0; i < size; i++)
            lag[first + i] *= -Complex.ImaginaryOne * conductivity;
    }

    // Σ a_k T_k(n·J/l) v.
    private static void Sum(int l, Vector axis, Complex[] terms, ReadOnlySpan<Complex> v, Span<Complex> sum)
    {
        int size = v.Length;
        Complex[] before = v.ToArray(), now = new Complex[size], next = new Complex[size];
        Turn(l, axis, v, now);
        for (int i = 0; i < size; i++)
        {
            now[i] /= l;
            sum[i] = terms[0] * v[i] + terms[1] * now[i];
        }

        for (int k = 2; k < terms.Length; k++)
        {
            Turn(l, axis, now, next);
            for (int i = 0; i < size; i++)
            {
                next[i] = 2.0 / l * next[i] - before[i];
                sum[i] += terms[k] * next[i];
            }

            (before, now, next) = (now, next, before);
        }
    }

    // n·J on the orders of one degree.
    private static void Turn(int l, Vector n, ReadOnlySpan<Complex> v, Span<Complex> into)
    {
        Complex up = new(0.5 * n.X, -0.5 * n.Y), down = new(0.5 * n.X, 0.5 * n.Y);
        for (int m = -l; m <= l; m++)
        {
            int i = m + l;
            var sum = n.Z * m * v[i];
            if (m > -l)
                sum += up * (SolidHarmonics.Root(l - m + 1) * SolidHarmonics.Root(l + m)) * v[i - 1];
            if (m < l)
                sum += down * (SolidHarmonics.Root(l + m + 1) * SolidHarmonics.Root(l - m)) * v[i + 1];
            into[i] = sum;
        }
    }

    // −2π μ₀ a Re j Σ (J c) conj p.
    private static Vector Torque(Complex[] c, Complex[] moments, Complex[] lag, int degrees, double power)
    {
        Span<double> about = stackalloc double[3];
        Vector[] axes = [new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)];
        for (int l = 1; l <= degrees; l++)
        {
            var turned = new Complex[2 * l + 1];
            for (int k = 0; k < 3; k++)
            {
                Turn(l, axes[k], c.AsSpan(l * l, 2 * l + 1), turned);
                for (int i = 0; i < turned.Length; i++)
                    about[k] += (turned[i] * Complex.Conjugate(moments[l * l + i] + lag[l * l + i])).Imaginary;
            }
        }

        return power * new Vector(about[0], about[1], about[2]);
    }

    private BallSpectrum TableUpTo(double highest, int degrees)
    {
        var known = Volatile.Read(ref spectrum);
        if (known.Highest >= highest && known.Degrees >= degrees)
            return known;
        known = new BallSpectrum(ball.Body, Math.Max(known.Highest, 2 * highest), Math.Max(known.Degrees, degrees + 4));
        Volatile.Write(ref spectrum, known);
        return known;
    }

    private static double Size(Complex z) => z.Real * z.Real + z.Imaginary * z.Imaginary;
}
