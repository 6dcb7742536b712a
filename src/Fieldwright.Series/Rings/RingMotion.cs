using Fieldwright.Numerics;
using Fieldwright.Series.Coils;

namespace Fieldwright.Series.Rings;

/// <summary>What feeds some coils in series: a held current, or a voltage behind a resistance.</summary>
/// <param name="Coils">Indices of the coils, each with +1 if the circuit's current runs in its positive sense and −1 if against it.</param>
/// <param name="Source">Current, A, or voltage, V, against time, s.</param>
/// <param name="Resistance">Resistance of the whole circuit, wire included, Ω, when the source is a voltage; null when it is a current.</param>
public sealed record RingCircuit(IReadOnlyList<(int Coil, int Sense)> Coils, Func<double, double> Source, double? Resistance = null)
{
    /// <summary>Capacitance in series with a circuit that has a resistance, F; null for none.</summary>
    public double? Capacitance { get; init; }

    /// <summary>Voltage of the capacitor before it is switched on, V, positive when it drives current in the circuit's positive sense.</summary>
    public double CapacitorVoltage { get; init; }

    /// <summary>Time at which its switch closes, s; open before, for a circuit that has a resistance.</summary>
    public double ClosesAt { get; init; }
}

/// <summary>A body of ring currents in time, free to rise and fall over coils of any current.</summary>
/// <remarks>
/// With c the ring currents in the basis whose resistance is one, L their inductance and m_k(z) the flux per ampere of coil k, Faraday's law is dψ/dt = −c with
/// ψ = L·c + Σ m_k·I_k, the linkage of coil k is Σ L_kl·I_l + m_kᵀc, and the force Σ I_k·cᵀ∂m_k/∂z. The rings move with the body, so nothing else is needed.
/// Followed in equal steps of a singly diagonal, L-stable formula of second order; m_k and its slope are interpolated in z between Chebyshev points. The error is the
/// change when the steps are halved. A stop below takes all speed. Shares no code with the field route.
/// </remarks>
/// <source key="Alexander1977"/>
public sealed partial class RingMotion
{
    private static readonly double Gamma = 1 - Math.Sqrt(0.5);
    private readonly double mass, steadyForce, lowest, highest;
    private readonly int n, points;
    private readonly double[] inductance, lifts;
    private readonly double[][] coilInductance;
    private readonly double[][][] mutual, gradient;     // [coil][point][ring current]

    /// <summary>Prepares one body over its coils.</summary>
    /// <param name="rings">Exactly one body; its frequency decides how finely the currents are described and should be the highest that matters.</param>
    /// <param name="mass">Mass, kg.</param>
    /// <param name="steadyForce">Force besides that of the field, N, upwards: −m·g.</param>
    /// <param name="lowest">Lift at which a stop is met below, m from the place the body was described at.</param>
    /// <param name="highest">Lift it will never pass, m; the couplings are tabulated up to there.</param>
    /// <param name="points">Heights the couplings are tabulated at: some ten for each length over which a coil's field changes.</param>
    /// <exception cref="ArgumentException">There is not one body, or a number is out of range.</exception>
    /// <exception cref="NotConvergedException">See <see cref="CoupledRings.At"/>.</exception>
    public RingMotion(CoupledRings rings, double mass, double steadyForce, double lowest, double highest, int points = 40)
    {
        this.points = Guard.InRange(points, 4, 1000);
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
        lifts = new double[points];
        for (var p = 0; p < points; p++)
            lifts[p] = 0.5 * (lowest + highest) - 0.5 * (highest - lowest) * Math.Cos(Math.PI * p / (points - 1));
        coilInductance = new double[rings.Coils.Count][];
        mutual = new double[coilInductance.Length][][];
        gradient = new double[coilInductance.Length][][];
        for (var k = 0; k < coilInductance.Length; k++)
        {
            coilInductance[k] = [.. Enumerable.Range(0, coilInductance.Length).Select(l => rings.CoilInductance(k, l))];
            mutual[k] = new double[points][];
            gradient[k] = new double[points][];
            for (var p = 0; p < points; p++)
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

    /// <summary>Switches the circuits on and follows the body until its lift passes the mouth, falls back to where it lay, or the time is over.</summary>
    /// <param name="circuits">What feeds the coils.</param>
    /// <param name="lift">Lift at t = 0, m.</param>
    /// <param name="mouth">Lift at which it has left, m.</param>
    /// <param name="longest">Time after which nothing more is waited for, s.</param>
    /// <param name="longestStep">Longest step, s; a hundredth of the swing of a capacitor bank is ample.</param>
    /// <returns>The state when it stopped, each number with its error in time.</returns>
    /// <exception cref="ArgumentException">A circuit or a number is out of range.</exception>
    /// <exception cref="NotConvergedException">A step does not settle.</exception>
    public RingShot Shoot(IReadOnlyList<RingCircuit> circuits, double lift, double mouth, double longest, double longestStep)
    {
        ArgumentNullException.ThrowIfNull(circuits);
        Guard.InRange(lift, lowest, highest);
        Guard.InRange(mouth, lift, highest);
        Guard.Positive(longest);
        Guard.Positive(longestStep);
        var steps = (int)Math.Ceiling(longest / longestStep);
        Way coarse = Run(circuits, lift, longest, steps, mouth), fine = Run(circuits, lift, longest, 2 * steps, mouth);
        static Estimate<double> Both(double fine, double coarse) => new(fine, Math.Abs(fine - coarse));
        Estimate<double>[] Each(double[] fine, double[] coarse) => [.. fine.Select((f, i) => Both(f, coarse[i]))];
        return new(fine.Left && coarse.Left, Both(fine.Times[^1], coarse.Times[^1]), Both(fine.Speeds[^1], coarse.Speeds[^1]), Both(fine.Lifts.Max(), coarse.Lifts.Max()),
            Both(fine.BodyHeat, coarse.BodyHeat), Each(fine.CircuitHeat, coarse.CircuitHeat), Each(fine.CapacitorVoltages, coarse.CapacitorVoltages), Both(fine.FieldEnergy, coarse.FieldEnergy), fine.Force);
    }

    private sealed record Way(List<double> Times, List<double> Lifts, List<double> Speeds)
    {
        public bool Left { get; set; }

        public double BodyHeat { get; set; }

        public double FieldEnergy { get; set; }

        public double Force { get; set; }

        public required double[] CircuitHeat { get; init; }

        public required double[] CapacitorVoltages { get; init; }
    }

    private Way Run(IReadOnlyList<RingCircuit> circuits, double lift, double end, int steps, double mouth = double.PositiveInfinity)
    {
        var h = end / steps;
        var stage = new Stage(this, circuits, Gamma * h);
        var way = new Way([0], [lift], [0]) { CircuitHeat = new double[circuits.Count], CapacitorVoltages = [.. circuits.Select(c => c.CapacitorVoltage)] };
        var state = stage.Begin(lift);
        // No ring current flows yet, so no force.
        double z = lift, v = 0, force = 0;
        var risen = false;
        for (var s = 0; s < steps; s++)
        {
            var t = s * h;
            stage.Switch(t + 0.5 * h);
            var held = z <= lowest && v == 0 && force + steadyForce <= 0;
            double from = z, startSpeed = v;
            var first = stage.Solve(t + Gamma * h, state, z, v, force, held);
            var rest = (1 - Gamma) * h;
            state.Advance(rest, first);
            z += rest * first.Speed;
            v += held ? 0 : rest * (first.Force + steadyForce) / mass;
            var last = stage.Solve(t + h, state, z, v, first.Force, held);
            state.Advance(Gamma * h, last);
            (z, v, force) = (last.Place, last.Speed, last.Force);
            if (z < lowest)
                (z, v) = (lowest, Math.Max(0, v));
            // Over the last step place is a parabola, everything else runs straight.
            double share = 1;
            way.Left = z >= mouth;
            if (way.Left)
            {
                double rise = startSpeed * h, bend = z - from - rise, gap = mouth - from;
                share = Math.Clamp(2 * gap / (rise + Math.Sqrt(Math.Max(0, rise * rise + 4 * bend * gap))), 0, 1);
                (z, v) = (mouth, startSpeed + share * (v - startSpeed));
            }
            else if (z > highest)
                throw new NotConvergedException("The flight of the body, which passes the height its couplings were tabulated to,", 1, s);
            way.BodyHeat += share * (rest * first.RingPower + Gamma * h * last.RingPower);
            for (var c = 0; c < circuits.Count; c++)
                way.CircuitHeat[c] += share * (circuits[c].Resistance ?? 0) * (rest * first.Currents[c] * first.Currents[c] + Gamma * h * last.Currents[c] * last.Currents[c]);
            way.Times.Add(t + share * h);
            way.Lifts.Add(z);
            way.Speeds.Add(v);
            risen |= z > lift + 1e-6 * (highest - lowest);
            if (way.Left || (mouth < double.PositiveInfinity && risen && v <= 0 && z <= lift))
                break;
        }
        stage.Read(state, way.CapacitorVoltages);
        (way.FieldEnergy, way.Force) = (stage.Energy(state), force);
        return way;
    }

    // Interpolation through the nearest points of the table, whose spacing is a small share of the length over which the couplings change.
    private void CouplingsInto(double z, double[][] m, double[][] g)
    {
        const int Window = 10;
        int count = Math.Min(Window, points), at = Array.BinarySearch(lifts, z), first = Math.Clamp((at < 0 ? ~at : at) - count / 2, 0, points - count);
        Span<double> weight = stackalloc double[count];
        for (var p = 0; p < count; p++)
        {
            double above = 1, below = 1;
            for (var q = 0; q < count; q++)
                if (q != p)
                    (above, below) = (above * (z - lifts[first + q]), below * (lifts[first + p] - lifts[first + q]));
            weight[p] = above / below;
        }
        for (var k = 0; k < m.Length; k++)
        {
            Array.Clear(m[k]);
            Array.Clear(g[k]);
            for (var p = 0; p < count; p++)
            {
                var w = weight[p];
                double[] from = mutual[k][first + p], slope = gradient[k][first + p];
                for (var i = 0; i < n; i++)
                {
                    m[k][i] += w * from[i];
                    g[k][i] += w * slope[i];
                }
            }
        }
    }
}
