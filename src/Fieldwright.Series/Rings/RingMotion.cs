using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>What feeds some coils in series: a held current, or a voltage behind a resistance.</summary>
/// <param name="Coils">Indices of the coils, each with +1 if the circuit's current runs in its positive sense and −1 if against it.</param>
/// <param name="Source">Current, A, or voltage, V, against time, s.</param>
/// <param name="Resistance">Resistance of the whole circuit, wire included, Ω, when the source is a voltage; null when it is a current.</param>
public sealed record RingCircuit(IReadOnlyList<(int Coil, int Sense)> Coils, Func<double, double> Source, double? Resistance = null);

/// <summary>A body of ring currents in time, free to rise and fall over coils of any current.</summary>
/// <remarks>
/// With c the ring currents in the basis whose resistance is one, L their inductance and m_k(z) the flux per ampere of coil k, Faraday's law is dψ/dt = −c with
/// ψ = L·c + Σ m_k·I_k, the linkage of coil k is Σ L_kl·I_l + m_kᵀc, and the force Σ I_k·cᵀ∂m_k/∂z. The rings move with the body, so nothing else is needed.
/// Followed in equal steps of a singly diagonal, L-stable formula of second order; m_k and its slope are interpolated in z between Chebyshev points. The error is the
/// change when the steps are halved. A stop below takes all speed. Shares no code with the field route.
/// </remarks>
/// <source key="Alexander1977"/>
public sealed class RingMotion
{
    private const int Points = 40;
    private static readonly double Gamma = 1 - Math.Sqrt(0.5);
    private readonly double mass, steadyForce, lowest, highest;
    private readonly int n;
    private readonly double[] inductance, lifts;
    private readonly double[][] coilInductance;
    private readonly double[][][] mutual, gradient;     // [coil][point][ring current]

    /// <summary>Prepares one body over its coils.</summary>
    /// <param name="rings">Exactly one body; its frequency decides how finely the currents are described and should be the highest that matters.</param>
    /// <param name="mass">Mass, kg.</param>
    /// <param name="steadyForce">Force besides that of the field, N, upwards: −m·g.</param>
    /// <param name="lowest">Lift at which a stop is met below, m from the place the body was described at.</param>
    /// <param name="highest">Lift it will never pass, m; the couplings are tabulated up to there.</param>
    /// <exception cref="ArgumentException">There is not one body, or a number is out of range.</exception>
    /// <exception cref="NotConvergedException">See <see cref="CoupledRings.At"/>.</exception>
    public RingMotion(CoupledRings rings, double mass, double steadyForce, double lowest, double highest)
    {
        ArgumentNullException.ThrowIfNull(rings);
        if (rings.Bodies.Count != 1)
            throw new ArgumentException("One body at a time is followed.", nameof(rings));
        this.mass = Guard.Positive(mass);
        this.steadyForce = Guard.Finite(steadyForce);
        this.lowest = Guard.Finite(lowest);
        this.highest = Guard.Finite(highest);
        if (highest <= lowest)
            throw new ArgumentOutOfRangeException(nameof(highest), highest, FormattableString.Invariant($"must lie above {lowest}"));
        // Settled where the couplings are hardest: lowest, or where a coil is passed.
        var matrices = rings.At(lowest).Matrices;
        var basis = matrices.Bases[0];
        n = basis.Count;
        inductance = (double[])matrices.Inductance.Clone();
        for (var i = 0; i < n; i++)
            for (var j = 0; j < i; j++)
                inductance[j * n + i] = inductance[i * n + j];
        lifts = new double[Points];
        for (var p = 0; p < Points; p++)
            lifts[p] = 0.5 * (lowest + highest) - 0.5 * (highest - lowest) * Math.Cos(Math.PI * p / (Points - 1));
        coilInductance = new double[rings.Coils.Count][];
        mutual = new double[coilInductance.Length][][];
        gradient = new double[coilInductance.Length][][];
        for (var k = 0; k < coilInductance.Length; k++)
        {
            coilInductance[k] = [.. Enumerable.Range(0, coilInductance.Length).Select(l => rings.CoilInductance(k, l))];
            mutual[k] = new double[Points][];
            gradient[k] = new double[Points][];
            for (var p = 0; p < Points; p++)
            {
                (mutual[k][p], gradient[k][p]) = (new double[n], new double[n]);
                basis.MutualInto(rings.Coils[k].SectionAboutZ, rings.Coils[k].TurnsAboutZ, lifts[p], mutual[k][p], gradient[k][p]);
            }
        }
    }

    /// <summary>Lets the body go and follows it.</summary>
    /// <param name="circuits">What feeds the coils; a coil that is in none carries no current. Voltage-fed circuits start without current.</param>
    /// <param name="lift">Lift at t = 0, m.</param>
    /// <param name="end">Time to stop at, s.</param>
    /// <param name="longestStep">Longest step, s; a hundredth of the period of the source is ample.</param>
    /// <returns>Lift and speed at the end, each with its error, and the way there.</returns>
    /// <exception cref="ArgumentException">A circuit or a number is out of range.</exception>
    /// <exception cref="NotConvergedException">The body flies beyond what was tabulated.</exception>
    public RingTrack Release(IReadOnlyList<RingCircuit> circuits, double lift, double end, double longestStep)
    {
        ArgumentNullException.ThrowIfNull(circuits);
        Guard.InRange(lift, lowest, highest);
        Guard.Positive(end);
        Guard.Positive(longestStep);
        var steps = (int)Math.Ceiling(end / longestStep);
        var coarse = Run(circuits, lift, end, steps);
        var fine = Run(circuits, lift, end, 2 * steps);
        return new(fine.Times, fine.Lifts, fine.Speeds,
            new(fine.Lifts[^1], Math.Abs(fine.Lifts[^1] - coarse.Lifts[^1])), new(fine.Speeds[^1], Math.Abs(fine.Speeds[^1] - coarse.Speeds[^1])));
    }

    private (double[] Times, double[] Lifts, double[] Speeds) Run(IReadOnlyList<RingCircuit> circuits, double lift, double end, int steps)
    {
        var h = end / steps;
        var stage = new Stage(this, circuits, Gamma * h);
        double[] times = new double[steps + 1], places = new double[steps + 1], speeds = new double[steps + 1];
        var (psi, linkage) = stage.Begin(lift);
        // No ring current flows yet, so no force.
        double z = lift, v = 0, force = 0;
        places[0] = z;
        for (var s = 0; s < steps; s++)
        {
            var t = s * h;
            var held = z <= lowest && v == 0 && force + steadyForce <= 0;
            var first = stage.Solve(t + Gamma * h, psi, linkage, z, v, force, held);
            var rest = (1 - Gamma) * h;
            for (var i = 0; i < n; i++)
                psi[i] += rest * first.PsiRate[i];
            for (var c = 0; c < linkage.Length; c++)
                linkage[c] += rest * first.LinkageRate[c];
            z += rest * first.Speed;
            v += held ? 0 : rest * (first.Force + steadyForce) / mass;
            var last = stage.Solve(t + h, psi, linkage, z, v, first.Force, held);
            for (var i = 0; i < n; i++)
                psi[i] += Gamma * h * last.PsiRate[i];
            for (var c = 0; c < linkage.Length; c++)
                linkage[c] += Gamma * h * last.LinkageRate[c];
            (z, v, force) = (last.Place, last.Speed, last.Force);
            if (z < lowest)
                (z, v) = (lowest, Math.Max(0, v));
            if (z > highest)
                throw new NotConvergedException("The flight of the body, which passes the height its couplings were tabulated to,", 1, s);
            (times[s + 1], places[s + 1], speeds[s + 1]) = (t + h, z, v);
        }
        return (times, places, speeds);
    }

    // Barycentric interpolation between Chebyshev points of the second kind.
    private void CouplingsInto(double z, double[][] m, double[][] g)
    {
        Span<double> weight = stackalloc double[Points];
        var sum = 0.0;
        for (var p = 0; p < Points; p++)
        {
            var distance = z - lifts[p];
            if (Math.Abs(distance) < 1e-15 * (highest - lowest))
            {
                weight.Clear();
                (weight[p], sum) = (1, 1);
                break;
            }
            weight[p] = (p % 2 == 0 ? 1 : -1) * (p is 0 or Points - 1 ? 0.5 : 1) / distance;
            sum += weight[p];
        }
        for (var k = 0; k < m.Length; k++)
        {
            Array.Clear(m[k]);
            Array.Clear(g[k]);
            for (var p = 0; p < Points; p++)
            {
                var w = weight[p] / sum;
                if (w == 0)
                    continue;
                double[] from = mutual[k][p], slope = gradient[k][p];
                for (var i = 0; i < n; i++)
                {
                    m[k][i] += w * from[i];
                    g[k][i] += w * slope[i];
                }
            }
        }
    }

    private readonly record struct StageResult(double[] PsiRate, double[] LinkageRate, double Place, double Speed, double Force);

    // One implicit stage of share τ: (L + τ)c = ψ~ − Σ m I, and the circuits round it.
    private sealed class Stage
    {
        private readonly RingMotion motion;
        private readonly IReadOnlyList<RingCircuit> circuits;
        private readonly double tau;
        private readonly double[] cholesky;
        private readonly int[] free;
        private readonly double[][] coils;      // per circuit, sense of each coil
        private readonly double[][] m, g, own, slope;

        public Stage(RingMotion motion, IReadOnlyList<RingCircuit> circuits, double tau)
        {
            (this.motion, this.circuits, this.tau) = (motion, circuits, tau);
            var count = motion.coilInductance.Length;
            coils = new double[circuits.Count][];
            var used = new HashSet<int>();
            for (var c = 0; c < coils.Length; c++)
            {
                coils[c] = new double[count];
                foreach (var (coil, sense) in circuits[c].Coils)
                {
                    if (!used.Add(Guard.InRange(coil, 0, count - 1)))
                        throw new ArgumentException($"Coil {coil} is fed twice.", nameof(circuits));
                    coils[c][coil] = sense;
                }
            }
            free = [.. Enumerable.Range(0, circuits.Count).Where(c => circuits[c].Resistance is not null)];
            m = NewRows(count);
            g = NewRows(count);
            own = NewRows(circuits.Count);
            slope = NewRows(circuits.Count);
            cholesky = Factor();
        }

        public (double[] Psi, double[] Linkage) Begin(double lift)
        {
            Couple(lift);
            var psi = new double[motion.n];
            var linkage = new double[free.Length];
            for (var c = 0; c < circuits.Count; c++)
            {
                var current = circuits[c].Resistance is null ? circuits[c].Source(0) : 0;
                for (var i = 0; i < psi.Length; i++)
                    psi[i] += own[c][i] * current;
                for (var f = 0; f < free.Length; f++)
                    linkage[f] += Inductance(free[f], c) * current;
            }
            return (psi, linkage);
        }

        public StageResult Solve(double time, double[] psi, double[] linkage, double z, double v, double force, bool held)
        {
            var speed = 0.0;
            var place = z;
            double[] c = [], currents = [];
            for (var round = 0; round < 50; round++)
            {
                speed = held ? 0 : v + tau * (force + motion.steadyForce) / motion.mass;
                var next = z + tau * speed;
                if (round > 0 && Math.Abs(next - place) <= 1e-10 * (motion.highest - motion.lowest))
                {
                    place = next;
                    return Result(psi, c, currents, time, place, speed, force);
                }
                place = next;
                Couple(Math.Clamp(place, motion.lowest, motion.highest));
                (c, currents) = Fields(time, psi, linkage);
                force = 0;
                for (var k = 0; k < currents.Length; k++)
                    force += currents[k] * Dot(slope[k], c);
            }
            throw new NotConvergedException("The place of the body within a step", 1, 50);
        }

        private StageResult Result(double[] psi, double[] c, double[] currents, double time, double place, double speed, double force)
        {
            var rate = new double[psi.Length];
            for (var i = 0; i < rate.Length; i++)
                rate[i] = -c[i];
            var linkageRate = new double[free.Length];
            for (var f = 0; f < free.Length; f++)
                linkageRate[f] = circuits[free[f]].Source(time) - circuits[free[f]].Resistance!.Value * currents[free[f]];
            return new(rate, linkageRate, place, speed, force);
        }

        private (double[] C, double[] Currents) Fields(double time, double[] psi, double[] linkage)
        {
            var currents = new double[circuits.Count];
            var right = (double[])psi.Clone();
            for (var k = 0; k < currents.Length; k++)
            {
                if (circuits[k].Resistance is not null)
                    continue;
                currents[k] = circuits[k].Source(time);
                for (var i = 0; i < right.Length; i++)
                    right[i] -= own[k][i] * currents[k];
            }
            SolveInPlace(right);
            if (free.Length == 0)
                return (right, currents);
            // Σ_l (L_kl + τR δ_kl − m_kᵀ(L + τ)⁻¹m_l) I_l = λ~ + τe − m_kᵀ(L + τ)⁻¹(…) − what held currents link.
            var answers = free.Select(k =>
            {
                var x = (double[])own[k].Clone();
                SolveInPlace(x);
                return x;
            }).ToArray();
            var a = new double[free.Length, free.Length];
            var b = new double[free.Length];
            for (var f = 0; f < free.Length; f++)
            {
                b[f] = linkage[f] + tau * circuits[free[f]].Source(time) - Dot(own[free[f]], right);
                for (var k = 0; k < currents.Length; k++)
                    if (circuits[k].Resistance is null)
                        b[f] -= Inductance(free[f], k) * currents[k];
                for (var l = 0; l < free.Length; l++)
                    a[f, l] = Inductance(free[f], free[l]) - Dot(own[free[f]], answers[l]);
                a[f, f] += tau * circuits[free[f]].Resistance!.Value;
            }
            Eliminate(a, b);
            for (var f = 0; f < free.Length; f++)
            {
                currents[free[f]] = b[f];
                for (var i = 0; i < right.Length; i++)
                    right[i] -= answers[f][i] * b[f];
            }
            return (right, currents);
        }

        private void Couple(double lift)
        {
            motion.CouplingsInto(lift, m, g);
            for (var c = 0; c < own.Length; c++)
            {
                Array.Clear(own[c]);
                Array.Clear(slope[c]);
                for (var k = 0; k < m.Length; k++)
                    for (var i = 0; i < motion.n && coils[c][k] != 0; i++)
                    {
                        own[c][i] += coils[c][k] * m[k][i];
                        slope[c][i] += coils[c][k] * g[k][i];
                    }
            }
        }

        private double Inductance(int a, int b)
        {
            var sum = 0.0;
            for (var k = 0; k < m.Length; k++)
                for (var l = 0; l < m.Length; l++)
                    sum += coils[a][k] * coils[b][l] * motion.coilInductance[k][l];
            return sum;
        }

        private double[] Factor()
        {
            var n = motion.n;
            var l = (double[])motion.inductance.Clone();
            for (var j = 0; j < n; j++)
            {
                l[j * n + j] += tau;
                for (var i = j; i < n; i++)
                {
                    var sum = l[i * n + j];
                    for (var k = 0; k < j; k++)
                        sum -= l[i * n + k] * l[j * n + k];
                    l[i * n + j] = i == j ? Math.Sqrt(sum) : sum / l[j * n + j];
                }
            }
            return l;
        }

        private void SolveInPlace(double[] x)
        {
            var n = x.Length;
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < i; j++)
                    x[i] -= cholesky[i * n + j] * x[j];
                x[i] /= cholesky[i * n + i];
            }
            for (var i = n - 1; i >= 0; i--)
            {
                x[i] /= cholesky[i * n + i];
                for (var j = 0; j < i; j++)
                    x[j] -= cholesky[i * n + j] * x[i];
            }
        }

        // Symmetric positive definite: no pivoting is needed.
        private static void Eliminate(double[,] a, double[] b)
        {
            for (var k = 0; k < b.Length; k++)
                for (var i = k + 1; i < b.Length; i++)
                {
                    var factor = a[i, k] / a[k, k];
                    for (var j = k; j < b.Length; j++)
                        a[i, j] -= factor * a[k, j];
                    b[i] -= factor * b[k];
                }
            for (var k = b.Length - 1; k >= 0; k--)
            {
                for (var j = k + 1; j < b.Length; j++)
                    b[k] -= a[k, j] * b[j];
                b[k] /= a[k, k];
            }
        }

        private static double Dot(double[] a, double[] b)
        {
            var sum = 0.0;
            for (var i = 0; i < a.Length; i++)
                sum += a[i] * b[i];
            return sum;
        }

        private double[][] NewRows(int count) => [.. Enumerable.Range(0, count).Select(_ => new double[motion.n])];
    }
}

/// <summary>The way of a body that was let go.</summary>
/// <param name="Times">Times, s, from zero.</param>
/// <param name="Lifts">Lift at each, m.</param>
/// <param name="Speeds">Speed at each, m/s, upwards.</param>
/// <param name="Lift">Lift at the end with its error in time, m.</param>
/// <param name="Speed">Speed at the end with its error in time, m/s.</param>
public sealed record RingTrack(IReadOnlyList<double> Times, IReadOnlyList<double> Lifts, IReadOnlyList<double> Speeds, Estimate<double> Lift, Estimate<double> Speed);
