using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Balls;

/// <summary>
/// A ball anywhere in space over round coils with any alternating currents of one frequency: mean force, torque, heat, stiffness, what it reflects
/// into the coils, and the field for drawing.
/// </summary>
/// <remarks>
/// The coils' field is expanded in solid harmonics about the ball's centre, degree after degree until the force settles, and each is answered by
/// the exact quasi-static response of the layers. Exact but for truncation: currents are given (coils do not feel one another or the ball unless
/// <see cref="ReflectedImpedance"/> is put into their circuit), turns are spread evenly, materials linear, displacement current left out.
/// Immutable; threads may share it.
/// </remarks>
/// <source key="Smythe1950" at="ch. X, response"/>
/// <source key="EptonDembart1995" at="expansion of the coils' field"/>
public sealed class BallOverCoils
{
    private const int HighestDegree = 64;

    // Enough for a ball with some air below it; the bound of the geometry asks for three times as many as a coil of some section needs, so the fall of the terms themselves decides.
    private const int FirstTried = 12;
    private readonly CoilSource[] sources;
    private SphereResponse response;

    /// <summary>Sets up the ball and its coils.</summary>
    /// <param name="body">The ball.</param>
    /// <param name="sources">The coils with their peak currents; at least one.</param>
    /// <param name="frequency">Frequency, Hz; zero or more.</param>
    /// <exception cref="ArgumentException">There is no coil, a current is not finite or the frequency is out of range.</exception>
    public BallOverCoils(SphereBody body, IReadOnlyList<CoilSource> sources, double frequency)
    {
        ArgumentNullException.ThrowIfNull(body);
        Body = body;
        this.sources = CoilSource.Checked(sources);
        Frequency = Guard.NotNegative(frequency);
        response = new SphereResponse(body, frequency, 12);
    }

    /// <summary>The ball.</summary>
    public SphereBody Body { get; }

    /// <summary>The coils and their peak currents.</summary>
    public IReadOnlyList<CoilSource> Sources => sources;

    /// <summary>Frequency, Hz.</summary>
    public double Frequency { get; }

    /// <summary>Force, torque and loss at one place.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="tolerance">Relative error allowed in force and loss, between 1e-12 and 0.1.</param>
    /// <returns>The answer with its error bars.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">The ball so nearly touches a winding that 64 degrees leave more than 1 % open.</exception>
    public BallResponse Evaluate(Vector position, double tolerance = 1e-7)
    {
        Guard.InRange(tolerance, 1e-12, 0.1);
        var nearest = NearestRatio(position);
        for (var degrees = Math.Min(FirstTried, FirstDegrees(nearest, tolerance)); ; degrees = Math.Min(HighestDegree, degrees + degrees / 2))
        {
            var answer = Evaluate(position, degrees, nearest, tolerance);
            var size = answer.Force.Length;
            var settled = answer.ForceError <= tolerance * size && answer.LossError <= tolerance * answer.Loss || size == 0;
            if (settled)
                return answer;
            if (degrees >= HighestDegree)
                return answer.ForceError <= 0.01 * size ? answer
                    : throw new NotConvergedException(FormattableString.Invariant($"The force on a ball reaching {nearest:P1} of the way to the winding"), answer.ForceError / size, degrees);
        }
    }

    /// <summary>Stiffness matrix at one place: K_ij = −∂F_i/∂x_j, the response keeping up with the motion.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="tolerance">Relative error allowed in the force; the stiffness reaches some ten times that.</param>
    /// <returns>3×3, N/m, rows force, columns displacement. Not symmetric in general: forces of currents out of phase have no potential.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate(Vector, double)"/>.</exception>
    public double[,] Stiffness(Vector position, double tolerance = 1e-8)
    {
        var answer = Evaluate(position, tolerance);
        return BallForces.Stiffness(answer.Coefficients, answer.Response, answer.Degrees, Body.Radius);
    }

    /// <summary>Force and stiffness together, for searches.</summary>
    internal (BallResponse Response, double[,] Stiffness) WithStiffness(Vector position, double tolerance)
    {
        var answer = Evaluate(position, tolerance);
        return (answer, BallForces.Stiffness(answer.Coefficients, answer.Response, answer.Degrees, Body.Radius));
    }

    /// <summary>Impedance the ball adds to the coils: U_i = Σ_j ΔZ_ij I_j on top of what the coils have alone.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="tolerance">Relative error allowed, between 1e-12 and 0.1.</param>
    /// <returns>Symmetric matrix, Ω, coils in the order given; real part is loss, and mostly negative imaginary part of a conducting ball lowers the inductance.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate(Vector, double)"/>.</exception>
    public Complex[,] ReflectedImpedance(Vector position, double tolerance = 1e-7)
    {
        var degrees = Evaluate(position, tolerance).Degrees;
        var answer = ResponseUpTo(degrees);
        var each = new Complex[sources.Length][];
        for (var i = 0; i < sources.Length; i++)
        {
            each[i] = new Complex[SolidHarmonics.Count(degrees)];
            CoilExpansion.Into(sources[i].Coil, position, Body.Radius, degrees, tolerance, each[i]);
        }
        var z = new Complex[sources.Length, sources.Length];
        for (var i = 0; i < sources.Length; i++)
            for (var j = 0; j < sources.Length; j++)
            {
                Complex sum = 0;
                for (var l = 1; l <= degrees; l++)
                    for (var n = l * l; n < (l + 1) * (l + 1); n++)
                        sum += answer.Ratios[l] * each[i][n] * Complex.Conjugate(each[j][n]); // conj c_lm = (−1)^m c_l,−m for the real field of one ampere
                z[i, j] = -4 * Math.PI * Complex.ImaginaryOne * answer.AngularFrequency * PhysicalConstants.MagneticConstant * Body.Radius * sum;
            }
        return z;
    }

    /// <summary>Loss by the other way: the heat σ|E|²/2 summed over the volume of every layer.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="tolerance">Relative error allowed in the expansion.</param>
    /// <returns>Mean power, W, by layer from the centre outwards; their sum is the <see cref="BallResponse.Loss"/>.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate(Vector, double)"/>.</exception>
    public IReadOnlyList<double> LossByLayer(Vector position, double tolerance = 1e-7)
    {
        var answer = Evaluate(position, tolerance);
        return VolumeLoss.ByLayer(Body, answer.Response, answer.Coefficients, answer.Degrees);
    }

    /// <summary>The field of coils and ball together, for drawing.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <param name="tolerance">Relative error allowed in the expansion.</param>
    /// <returns>The field, inside the ball and out.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    /// <exception cref="NotConvergedException">As for <see cref="Evaluate(Vector, double)"/>.</exception>
    public BallField Field(Vector position, double tolerance = 1e-6) => new(this, Evaluate(position, tolerance));

    /// <summary>Radius of the ball over the distance from its centre to the nearest winding.</summary>
    /// <param name="position">Centre of the ball, m.</param>
    /// <returns>Below one while the ball is clear of every winding.</returns>
    /// <exception cref="ArgumentException">The position is not finite, or the ball would reach into a winding.</exception>
    public double NearestRatio(Vector position)
    {
        if (!position.IsFinite)
            throw new ArgumentOutOfRangeException(nameof(position), position, "must be finite");
        double nearest = 0;
        foreach (var source in sources)
        {
            var distance = source.Coil.Distance(position);
            if (!(distance > Body.Radius))
                throw new ArgumentException(FormattableString.Invariant($"The ball of radius {Body.Radius} m reaches into a winding {distance} m from its centre."), nameof(position));
            nearest = Math.Max(nearest, Body.Radius / distance);
        }
        return nearest;
    }

    // Force terms fall as ratio^(2l), the field near the coil being smoothed by its section.
    private static int FirstDegrees(double ratio, double tolerance) =>
        (int)Math.Clamp(Math.Ceiling(Math.Log(tolerance) / (2 * Math.Log(ratio))) + 4, 5, HighestDegree);

    private BallResponse Evaluate(Vector position, int degrees, double nearest, double tolerance)
    {
        var count = SolidHarmonics.Count(degrees);
        var c = new Complex[count];
        Span<Complex> one = new Complex[count];
        foreach (var source in sources)
        {
            CoilExpansion.Into(source.Coil, position, Body.Radius, degrees, 0.1 * tolerance, one);
            for (var i = 1; i < count; i++)
                c[i] += source.PeakCurrent * one[i];
        }
        var answer = ResponseUpTo(degrees);
        Span<double> byDegree = stackalloc double[degrees + 1];
        byDegree.Clear();
        var force = BallForces.Force(c, answer, degrees, byDegree);
        var forceError = Tail(byDegree[..degrees], nearest) + 0.1 * tolerance * force.Length;
        byDegree.Clear();
        var loss = BallForces.Loss(c, answer, degrees, Body.Radius, byDegree);
        var lossError = Tail(byDegree, nearest) + 0.1 * tolerance * loss;
        var torque = BallForces.Torque(c, answer, degrees, Body.Radius);
        if (!force.IsFinite || !torque.IsFinite || !double.IsFinite(loss))
            throw new NotConvergedException("The expansion about the ball", double.NaN, degrees);
        return new BallResponse(position, force, torque, loss, forceError, lossError, degrees, nearest, nearest > 0.9) { Coefficients = c, Response = answer };
    }

    // What a geometric series going on from the last terms would add; the slower of the fall seen and the fall the geometry promises.
    private static double Tail(ReadOnlySpan<double> terms, double nearest)
    {
        var last = terms.Length - 1;
        var size = Math.Max(terms[last], terms[last - 1] * nearest * nearest);
        double seen = 0;
        if (last >= 4 && terms[last - 2] + terms[last - 3] > 0)
            seen = Math.Sqrt((terms[last] + terms[last - 1]) / (terms[last - 2] + terms[last - 3]));
        var fall = Math.Clamp(Math.Max(seen, nearest * nearest), 0, 0.99);
        return size * fall / (1 - fall);
    }

    private SphereResponse ResponseUpTo(int degrees)
    {
        var known = Volatile.Read(ref response);
        if (known.Degrees >= degrees)
            return known;
        known = new SphereResponse(Body, Frequency, degrees);
        Volatile.Write(ref response, known);
        return known;
    }
}
