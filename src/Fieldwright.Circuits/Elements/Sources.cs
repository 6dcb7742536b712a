using System.Numerics;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Elements;

/// <summary>Fixes the potential of its first node above its second: a voltage source, a magnetomotive force, a pump head, a held temperature.</summary>
/// <remarks>Its flow is counted from the first node through it to the second; a source that delivers therefore shows a negative flow.</remarks>
public sealed class PotentialSource : TwoEnded
{
    private readonly Func<double, double> value;
    private readonly double[] jumps;

    /// <summary>A steady source.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node that stands higher.</param>
    /// <param name="to">Node that stands lower.</param>
    /// <param name="steady">Value in steady and transient work; finite.</param>
    /// <param name="phasor">Peak phasor in alternating work, exp(+jωt).</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite.</exception>
    public PotentialSource(string name, string from, string to, double steady, Complex phasor = default)
        : base(name, from, to)
    {
        Guard.Finite(steady);
        Phasor = Finite(phasor);
        value = _ => steady;
        jumps = [];
    }

    /// <summary>A source that varies in time.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node that stands higher.</param>
    /// <param name="to">Node that stands lower.</param>
    /// <param name="value">Value at a time, s.</param>
    /// <param name="phasor">Peak phasor in alternating work.</param>
    /// <param name="jumps">Times at which the value jumps, s.</param>
    public PotentialSource(string name, string from, string to, Func<double, double> value, Complex phasor = default, params ReadOnlySpan<double> jumps)
        : base(name, from, to)
    {
        ArgumentNullException.ThrowIfNull(value);
        this.value = value;
        Phasor = Finite(phasor);
        this.jumps = jumps.ToArray();
    }

    /// <summary>Peak phasor in alternating work, exp(+jωt).</summary>
    public Complex Phasor { get; }

    internal override int BranchCount => 1;

    internal override IEnumerable<double> Jumps => jumps;

    /// <summary>A sine, zero phase at time zero, with its phasor.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node that stands higher in the first half cycle.</param>
    /// <param name="to">The other node.</param>
    /// <param name="peak">Peak value.</param>
    /// <param name="frequency">Frequency, Hz; positive.</param>
    /// <param name="phase">Phase at time zero, rad.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite or the frequency not positive.</exception>
    public static PotentialSource Sine(string name, string from, string to, double peak, double frequency, double phase = 0)
    {
        double omega = 2 * Math.PI * Guard.Positive(frequency);
        Guard.Finite(peak);
        Guard.Finite(phase);
        // Im(V exp(jωt)) with V = peak·exp(jφ): the reference of the phasor is the sine.
        return new(name, from, to, t => peak * Math.Sin(omega * t + phase), Complex.FromPolarCoordinates(peak, phase));
    }

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.FixesDrop)];

    internal override void Evaluate(Balance s)
    {
        s.AddFlow(At[0], s[Branch]);
        s.AddFlow(At[1], -s[Branch]);
        s.AddSlope(At[0], Branch, 1);
        s.AddSlope(At[1], Branch, -1);
        s.AddFlow(Branch, Drop(s) - s.SourceShare * value(s.Time));
        s.AddSlope(Branch, At[0], 1);
        s.AddSlope(Branch, At[1], -1);
    }

    internal override void Excite(Complex[] rightSide) => rightSide[Branch] += Phasor;

    internal static Complex Finite(Complex value)
    {
        Guard.Finite(value.Real, nameof(value));
        Guard.Finite(value.Imaginary, nameof(value));
        return value;
    }
}

/// <summary>Drives a given flow out of its second node, drawn from its first: a current source, a flux, a heat input.</summary>
public sealed class FlowSource : TwoEnded
{
    private readonly Func<double, double> value;
    private readonly double[] jumps;

    /// <summary>A steady source.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node the flow is drawn from.</param>
    /// <param name="to">Node the flow is driven into.</param>
    /// <param name="steady">Flow in steady and transient work; finite.</param>
    /// <param name="phasor">Peak phasor in alternating work, exp(+jωt).</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite.</exception>
    public FlowSource(string name, string from, string to, double steady, Complex phasor = default)
        : this(name, from, to, _ => steady, phasor) => Guard.Finite(steady);

    /// <summary>A source that varies in time.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Node the flow is drawn from.</param>
    /// <param name="to">Node the flow is driven into.</param>
    /// <param name="value">Flow at a time, s.</param>
    /// <param name="phasor">Peak phasor in alternating work.</param>
    /// <param name="jumps">Times at which the flow jumps, s.</param>
    public FlowSource(string name, string from, string to, Func<double, double> value, Complex phasor = default, params ReadOnlySpan<double> jumps)
        : base(name, from, to)
    {
        ArgumentNullException.ThrowIfNull(value);
        this.value = value;
        Phasor = PotentialSource.Finite(phasor);
        this.jumps = jumps.ToArray();
    }

    /// <summary>Peak phasor in alternating work, exp(+jωt).</summary>
    public Complex Phasor { get; }

    internal override IEnumerable<double> Jumps => jumps;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.FixesFlow)];

    internal override void Evaluate(Balance s)
    {
        double flow = s.SourceShare * value(s.Time);
        s.AddFlow(At[0], flow);
        s.AddFlow(At[1], -flow);
    }

    internal override void Excite(Complex[] rightSide)
    {
        if (At[0] >= 0)
            rightSide[At[0]] -= Phasor;
        if (At[1] >= 0)
            rightSide[At[1]] += Phasor;
    }
}
