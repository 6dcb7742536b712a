using System.Numerics;
using Fieldwright.Matter;
using Fieldwright.Numerics;

namespace Fieldwright.Series.Balls;

/// <summary>A place where the mean force on a floating ball just carries its weight, and what happens when it is nudged.</summary>
/// <remarks>
/// The weight acts along −z. Small motions follow m ẍ = −K x with the mean force keeping up with the motion and no air drag: each eigenvalue λ
/// of K gives rates s = ±√(−λ/m). A positive λ swings, a negative one runs away, and a complex pair (possible because mean forces of currents out
/// of phase have no potential) spirals outwards. Places are exact to 1e-6 of the ball's radius; derived here from the force and its exact slopes.
/// </remarks>
/// <param name="Position">Centre of the ball at rest, m.</param>
/// <param name="Stiffness">K_ij = −∂F_i/∂x_j there, 3×3, N/m.</param>
/// <param name="Eigenvalues">The three eigenvalues of K, N/m, rising real part.</param>
/// <param name="Modes">Direction of motion of each eigenvalue, of length one, a pure number; real part for a complex pair.</param>
/// <param name="IsStable">Whether every eigenvalue is real and positive.</param>
/// <param name="RunawayTime">Time in which the fastest growing motion grows by e, s; infinite when stable.</param>
/// <param name="Response">Force, loss and the rest at that place.</param>
public sealed record BallEquilibrium(
    Vector Position, double[,] Stiffness, IReadOnlyList<Complex> Eigenvalues, IReadOnlyList<Vector> Modes, bool IsStable, double RunawayTime, BallResponse Response)
{
    private const double Tolerance = 1e-8;

    /// <summary>Every height on a vertical line at which the lift equals the weight.</summary>
    /// <param name="ball">The ball and its coils.</param>
    /// <param name="mass">Mass of the ball, kg.</param>
    /// <param name="lowest">Lowest point of the line looked along, m; the ball must be clear of the windings on all of it.</param>
    /// <param name="highest">Height at which the line ends, m; above <paramref name="lowest"/>.</param>
    /// <param name="steps">Intervals in which a change of sign is looked for; two crossings in one interval are missed.</param>
    /// <returns>Places in rising height; empty where the lift is nowhere equal to the weight. On a line that is not an axis of symmetry a sideways force is left over: use <see cref="Near"/> there.</returns>
    /// <exception cref="ArgumentException">A value is out of range, or the ball meets a winding on the way.</exception>
    /// <exception cref="NotConvergedException">The expansion does not settle at some height.</exception>
    public static IReadOnlyList<BallEquilibrium> OnLine(BallOverCoils ball, double mass, Vector lowest, double highest, int steps = 40)
    {
        ArgumentNullException.ThrowIfNull(ball);
        var weight = Guard.Positive(mass) * PhysicalConstants.StandardGravity;
        Guard.Positive(steps);
        if (!(Guard.Finite(highest) > lowest.Z))
            throw new ArgumentOutOfRangeException(nameof(highest), highest, "must lie above the start of the line");
        double Excess(double z) => ball.Evaluate(lowest with { Z = z }, Tolerance).Force.Z - weight;
        var found = new List<BallEquilibrium>();
        double low = lowest.Z, lowExcess = Excess(low);
        for (var i = 1; i <= steps; i++)
        {
            var high = lowest.Z + (highest - lowest.Z) * i / steps;
            var highExcess = Excess(high);
            if (lowExcess == 0 || lowExcess * highExcess < 0)
                found.Add(At(ball, mass, lowest with { Z = Root(Excess, low, lowExcess, high, highExcess) }));
            (low, lowExcess) = (high, highExcess);
        }
        return found;
    }

    /// <summary>The place of rest near a start, in all three directions, stable or not.</summary>
    /// <param name="ball">The ball and its coils.</param>
    /// <param name="mass">Mass of the ball, kg.</param>
    /// <param name="start">Where to begin, m.</param>
    /// <returns>The place.</returns>
    /// <exception cref="ArgumentException">A value is out of range, or the search runs into a winding.</exception>
    /// <exception cref="NotConvergedException">Newton's method finds no rest from this start within 60 steps.</exception>
    public static BallEquilibrium Near(BallOverCoils ball, double mass, Vector start)
    {
        ArgumentNullException.ThrowIfNull(ball);
        var weight = Guard.Positive(mass) * PhysicalConstants.StandardGravity;
        var at = start;
        double residual = double.NaN;
        for (var step = 0; step < 60; step++)
        {
            var (response, k) = ball.WithStiffness(at, Tolerance);
            var rest = response.Force - new Vector(0, 0, weight);
            residual = rest.Length / weight;
            var move = Solve(k, rest); // F(x + d) ≈ F − K d = weight
            var limit = 0.2 * ball.Body.Radius;
            if (residual < 1e-7 && move.Length < 1e-6 * ball.Body.Radius)
                return At(ball, mass, at);
            at += move.Length > limit ? limit / move.Length * move : move;
        }
        throw new NotConvergedException("The place of rest of the ball", residual, 60);
    }

    private static BallEquilibrium At(BallOverCoils ball, double mass, Vector place)
    {
        var (response, k) = ball.WithStiffness(place, Tolerance);
        var parts = MathNet.Numerics.LinearAlgebra.Double.Matrix.Build.DenseOfArray(k).Evd();
        var order = Enumerable.Range(0, 3).OrderBy(i => parts.EigenValues[i].Real).ToArray();
        Complex[] values = [.. order.Select(i => parts.EigenValues[i])];
        Vector[] modes = [.. order.Select(i => new Vector(parts.EigenVectors[0, i], parts.EigenVectors[1, i], parts.EigenVectors[2, i]).Unit())];
        // Pairs equal but for rounding come out complex by as much; that is no spiral.
        var scale = values.Max(Complex.Abs);
        var growth = values.Max(v => Math.Abs(v.Imaginary) < 1e-6 * scale ? v.Real < 0 ? Math.Sqrt(-v.Real / mass) : 0 : Math.Abs(Complex.Sqrt(-v / mass).Real));
        return new BallEquilibrium(place, k, values, modes, growth == 0, growth > 0 ? 1 / growth : double.PositiveInfinity, response);
    }

    // Secant steps kept inside a bracket that halves when they dawdle.
    private static double Root(Func<double, double> f, double a, double fa, double b, double fb)
    {
        for (var i = 0; i < 80 && Math.Abs(b - a) > 1e-10 * (Math.Abs(a) + Math.Abs(b)); i++)
        {
            var x = i % 3 == 2 ? 0.5 * (a + b) : a - fa * (b - a) / (fb - fa);
            var fx = f(x);
            if (fx == 0)
                return x;
            if (fa * fx < 0)
                (b, fb) = (x, fx);
            else
                (a, fa) = (x, fx);
        }
        return Math.Abs(fa) < Math.Abs(fb) ? a : b;
    }

    private static Vector Solve(double[,] k, Vector b)
    {
        Vector x = new(k[0, 0], k[1, 0], k[2, 0]), y = new(k[0, 1], k[1, 1], k[2, 1]), z = new(k[0, 2], k[1, 2], k[2, 2]);
        var determinant = Vector.Dot(x, Vector.Cross(y, z));
        return 1 / determinant * new Vector(Vector.Dot(b, Vector.Cross(y, z)), Vector.Dot(x, Vector.Cross(b, z)), Vector.Dot(x, Vector.Cross(y, b)));
    }
}
