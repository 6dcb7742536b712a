using System.Numerics;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Elements;

/// <summary>A capacity: flow = C · d(drop)/dt. Electric (F), thermal (J/K) or hydraulic (m³/Pa).</summary>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="capacity">C; positive.</param>
/// <param name="initialDrop">Drop at the start of a transient; null starts from the steady state.</param>
/// <exception cref="ArgumentOutOfRangeException">The capacity is not positive.</exception>
public sealed class Capacitor(string name, string from, string to, double capacity, double? initialDrop = null) : TwoEnded(name, from, to)
{
    /// <summary>C.</summary>
    public double Capacity { get; } = Guard.Positive(capacity);

    /// <summary>Drop at the start of a transient; null starts from the steady state.</summary>
    public double? InitialDrop { get; } = initialDrop;

    internal override int BranchCount => 1;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], steady ? Tie.FixesFlow : Tie.Conducts)];

    internal override void Evaluate(Balance s)
    {
        s.AddFlow(At[0], s[Branch]);
        s.AddFlow(At[1], -s[Branch]);
        s.AddSlope(At[0], Branch, 1);
        s.AddSlope(At[1], Branch, -1);
        // C dv/dt − i = 0
        s.AddFlow(Branch, -s[Branch]);
        s.AddSlope(Branch, Branch, -1);
        s.AddStored(Branch, Capacity * Drop(s));
        s.AddStoredSlope(Branch, At[0], Capacity);
        s.AddStoredSlope(Branch, At[1], -Capacity);
    }

    internal override void StartWith(double[] q)
    {
        if (InitialDrop is { } drop)
            q[Branch] = Capacity * drop;
    }
}

/// <summary>Coupled coils, each between its own pair of nodes: v = R i + L di/dt with full matrices.</summary>
/// <remarks>
/// The way in for coupled results from elsewhere (a field, a series): real symmetric matrices that hold at every frequency. A single inductor is the case of one pair.
/// The dot of each coil is at its first node.
/// </remarks>
public sealed class CoupledCoils : Element
{
    private readonly double[] resistance, inductance;
    private readonly double[]? initialCurrents;

    /// <summary>Coupled coils.</summary>
    /// <param name="name">Name of the set.</param>
    /// <param name="ends">First and second node of each coil in turn: 2 n names.</param>
    /// <param name="resistance">n × n by rows, Ω; symmetric, no negative diagonal.</param>
    /// <param name="inductance">n × n by rows, H; symmetric and positive definite.</param>
    /// <param name="initialCurrents">n currents at the start of a transient, A; null starts from the steady state.</param>
    /// <exception cref="ArgumentException">Sizes differ, a matrix is not symmetric, or the inductances store negative energy.</exception>
    public CoupledCoils(string name, ReadOnlySpan<string> ends, ReadOnlySpan<double> resistance, ReadOnlySpan<double> inductance, double[]? initialCurrents = null)
        : base(name, ends)
    {
        int n = ends.Length / 2;
        Guard.Length(ends.Length, 2L * Math.Max(n, 1), nameof(ends));
        Guard.Length(resistance.Length, (long)n * n, nameof(resistance));
        Guard.Length(inductance.Length, (long)n * n, nameof(inductance));
        Guard.Finite(resistance);
        Guard.Finite(inductance);
        if (initialCurrents is not null)
            Guard.Length(initialCurrents.Length, n, nameof(initialCurrents));
        this.resistance = resistance.ToArray();
        this.inductance = inductance.ToArray();
        this.initialCurrents = initialCurrents;
        CheckSymmetric(this.resistance, n, nameof(resistance));
        CheckSymmetric(this.inductance, n, nameof(inductance));
        if (!IsPositiveDefinite(this.inductance, n))
            throw new ArgumentException($"The inductances of {name} store negative energy at some currents: a coupling is above 1.", nameof(inductance));
        Count = n;
    }

    /// <summary>How many coils.</summary>
    public int Count { get; }

    internal override int BranchCount => Count;

    /// <summary>A single inductor.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First node.</param>
    /// <param name="to">Second node.</param>
    /// <param name="inductance">L, H; positive.</param>
    /// <param name="resistance">Series resistance, Ω; not negative.</param>
    /// <param name="initialCurrent">Current at the start of a transient, A; null starts from the steady state.</param>
    public static CoupledCoils Inductor(string name, string from, string to, double inductance, double resistance = 0, double? initialCurrent = null) =>
        new(name, [from, to], [Guard.NotNegative(resistance)], [Guard.Positive(inductance)], initialCurrent is { } i ? [i] : null);

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time)
    {
        for (int k = 0; k < Count; k++)
            yield return (At[2 * k], At[2 * k + 1], steady && resistance[k * Count + k] == 0 ? Tie.FixesDrop : Tie.Conducts);
    }

    internal override void Evaluate(Balance s)
    {
        for (int k = 0; k < Count; k++)
        {
            // R i + L di/dt − v = 0
            int own = Branch + k;
            s.AddBranch(own, At[2 * k], At[2 * k + 1]);
            for (int j = 0; j < Count; j++)
            {
                s.AddFlow(own, resistance[k * Count + j] * s[Branch + j]);
                s.AddSlope(own, Branch + j, resistance[k * Count + j]);
                s.AddStored(own, inductance[k * Count + j] * s[Branch + j]);
                s.AddStoredSlope(own, Branch + j, inductance[k * Count + j]);
            }
        }
    }

    internal override void StartWith(double[] q)
    {
        if (initialCurrents is null)
            return;
        for (int k = 0; k < Count; k++)
        {
            q[Branch + k] = 0;
            for (int j = 0; j < Count; j++)
                q[Branch + k] += inductance[k * Count + j] * initialCurrents[j];
        }
    }

    private static void CheckSymmetric(double[] m, int n, string name)
    {
        for (int i = 0; i < n; i++)
            for (int j = 0; j < i; j++)
                if (Math.Abs(m[i * n + j] - m[j * n + i]) > 1e-6 * (Math.Abs(m[i * n + j]) + Math.Sqrt(Math.Abs(m[i * n + i] * m[j * n + j]))))
                    throw new ArgumentException($"The matrix must be symmetric; entries ({i + 1}, {j + 1}) and ({j + 1}, {i + 1}) are {m[i * n + j]:G6} and {m[j * n + i]:G6}.", name);
    }

    private static bool IsPositiveDefinite(double[] m, int n)
    {
        var c = (double[])m.Clone();
        for (int k = 0; k < n; k++)
        {
            if (!(c[k * n + k] > 0))
                return false;
            for (int i = k + 1; i < n; i++)
                for (int j = k + 1; j < n; j++)
                    c[i * n + j] -= c[i * n + k] * c[k * n + j] / c[k * n + k];
        }

        return true;
    }
}

/// <summary>An n-port given by its impedance matrix at one frequency, for phasors only; in steady work it is its real part.</summary>
public sealed class ImpedancePorts : Element
{
    private readonly Complex[] impedance;

    /// <summary>A block of ports.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="ends">First and second node of each port in turn: 2 n names.</param>
    /// <param name="impedance">n × n by rows, Ω, exp(+jωt), at the frequency that will be asked for.</param>
    /// <exception cref="ArgumentException">Sizes differ.</exception>
    public ImpedancePorts(string name, ReadOnlySpan<string> ends, ReadOnlySpan<Complex> impedance)
        : base(name, ends)
    {
        Count = ends.Length / 2;
        Guard.Length(ends.Length, 2L * Math.Max(Count, 1), nameof(ends));
        Guard.Length(impedance.Length, (long)Count * Count, nameof(impedance));
        foreach (var z in impedance)
            PotentialSource.Finite(z);
        this.impedance = impedance.ToArray();
    }

    /// <summary>How many ports.</summary>
    public int Count { get; }

    internal override int BranchCount => Count;

    internal override bool HasPhasorMatrix => true;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time)
    {
        for (int k = 0; k < Count; k++)
            yield return (At[2 * k], At[2 * k + 1], Tie.Conducts);
    }

    internal override void Evaluate(Balance s)
    {
        for (int k = 0; k < Count; k++)
        {
            int own = Branch + k;
            s.AddBranch(own, At[2 * k], At[2 * k + 1]);
            for (int j = 0; j < Count; j++)
            {
                s.AddFlow(own, impedance[k * Count + j].Real * s[Branch + j]);
                s.AddSlope(own, Branch + j, impedance[k * Count + j].Real);
            }
        }
    }

    internal override void EvaluatePhasor(Complex[] matrix, int order)
    {
        for (int k = 0; k < Count; k++)
        {
            int own = Branch + k, from = At[2 * k], to = At[2 * k + 1];
            AddTo(matrix, order, from, own, 1);
            AddTo(matrix, order, to, own, -1);
            AddTo(matrix, order, own, from, -1);
            AddTo(matrix, order, own, to, 1);
            for (int j = 0; j < Count; j++)
                AddTo(matrix, order, own, Branch + j, impedance[k * Count + j]);
        }
    }
}

/// <summary>A linear block between nodes given by its conductance matrix: flow out of node i = Σ Gᵢⱼ uⱼ. Leakage between many nodes enters this way.</summary>
public sealed class ConductanceBlock : Element
{
    private readonly double[] conductance;

    /// <summary>A block.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="nodes">n nodes.</param>
    /// <param name="conductance">n × n by rows; rows that sum to zero leave the block floating.</param>
    /// <exception cref="ArgumentException">Sizes differ or a value is not finite.</exception>
    public ConductanceBlock(string name, ReadOnlySpan<string> nodes, ReadOnlySpan<double> conductance)
        : base(name, nodes)
    {
        Guard.Length(conductance.Length, (long)nodes.Length * nodes.Length, nameof(conductance));
        Guard.Finite(conductance);
        this.conductance = conductance.ToArray();
    }

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time)
    {
        for (int k = 1; k < At.Length; k++)
            yield return (At[k - 1], At[k], Tie.Conducts);
    }

    internal override void Evaluate(Balance s)
    {
        int n = At.Length;
        for (int i = 0; i < n; i++)
        {
            double flow = 0;
            for (int j = 0; j < n; j++)
            {
                flow += conductance[i * n + j] * s[At[j]];
                s.AddSlope(At[i], At[j], conductance[i * n + j]);
            }

            s.AddFlow(At[i], flow);
        }
    }
}
