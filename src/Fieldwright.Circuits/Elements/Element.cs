using System.Numerics;
using Fieldwright.Circuits.Solving;

namespace Fieldwright.Circuits.Elements;

/// <summary>How an element ties its ends together, for the check on the shape of a network.</summary>
internal enum Tie
{
    /// <summary>The drop sets the flow, or the other way round: it conducts.</summary>
    Conducts,

    /// <summary>It fixes the drop whatever the flow.</summary>
    FixesDrop,

    /// <summary>It fixes the flow whatever the drop.</summary>
    FixesFlow,
}

/// <summary>An element of a network, between named nodes. The node <c>0</c> is the reference.</summary>
/// <remarks>
/// One network serves four vocabularies: the <i>potential</i> is a voltage (V), a magnetic potential (A), a pressure (Pa) or a temperature (K), the <i>flow</i> an
/// electric current (A), a magnetic flux (Wb), a volume flow (m³/s) or a heat flow (W). An element's drop is the potential of its first node less that of its
/// second; its flow is counted positive from the first node through the element to the second.
/// </remarks>
public abstract class Element
{
    private protected Element(string name, params ReadOnlySpan<string> nodes)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(name);
        Name = name;
        foreach (string node in nodes)
            ArgumentException.ThrowIfNullOrWhiteSpace(node, nameof(nodes));
        Nodes = [.. nodes];
    }

    /// <summary>Its name, unique in its network.</summary>
    public string Name { get; }

    /// <summary>Its nodes, in the order of its ends.</summary>
    public IReadOnlyList<string> Nodes { get; }

    /// <summary>Unknowns of the nodes, −1 for the reference; set when a network is solved.</summary>
    internal int[] At { get; set; } = [];

    /// <summary>First unknown of its own.</summary>
    internal int Branch { get; set; } = -1;

    /// <summary>How many flows of its own it adds to the unknowns.</summary>
    internal virtual int BranchCount => 0;

    /// <summary>Times at which its law jumps, s.</summary>
    internal virtual IEnumerable<double> Jumps => [];

    /// <summary>Which of its nodes stand at an absolute temperature, so that their potential is above zero; by place in <see cref="Nodes"/>.</summary>
    internal virtual IEnumerable<int> AboveZero => [];

    /// <summary>Pairs of its ends and how they are tied together.</summary>
    /// <param name="steady">Whether everything has settled (a capacitor then blocks, an inductor is a wire).</param>
    /// <param name="time">Time, s.</param>
    internal abstract IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time);

    /// <summary>Adds its part to the equations.</summary>
    internal abstract void Evaluate(Balance s);

    /// <summary>Right-hand side of its part for phasors; the rows are those of the equations.</summary>
    internal virtual void Excite(Complex[] rightSide)
    {
    }

    /// <summary>Whether it is linear for phasors in a way that its steady law does not show.</summary>
    internal virtual bool HasPhasorMatrix => false;

    /// <summary>Adds its part to the matrix of phasors, by rows, where it has one of its own.</summary>
    internal virtual void EvaluatePhasor(Complex[] matrix, int order)
    {
    }

    /// <summary>Stored quantity it starts a transient with, in its own rows.</summary>
    internal virtual void StartWith(double[] q)
    {
    }

    private protected static void AddTo(Complex[] matrix, int order, int row, int column, Complex value)
    {
        if (row >= 0 && column >= 0)
            matrix[row * order + column] += value;
    }
}

/// <summary>An element with two ends.</summary>
public abstract class TwoEnded : Element
{
    private protected TwoEnded(string name, string from, string to)
        : base(name, from, to)
    {
    }

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.Conducts)];

    private protected double Drop(Balance s) => s[At[0]] - s[At[1]];
}

/// <summary>An element whose flow follows from its drop: flow = g(drop).</summary>
public abstract class FlowFromDrop : TwoEnded
{
    private protected FlowFromDrop(string name, string from, string to)
        : base(name, from, to)
    {
    }

    /// <summary>Flow at a drop.</summary>
    /// <param name="drop">Drop from the first node to the second.</param>
    /// <param name="slope">Slope of the flow against the drop; positive.</param>
    public abstract double Flow(double drop, out double slope);

    internal override void Evaluate(Balance s)
    {
        double flow = Flow(Drop(s), out double slope);
        s.AddFlow(At[0], flow);
        s.AddFlow(At[1], -flow);
        s.AddSlope(At[0], At[0], slope);
        s.AddSlope(At[0], At[1], -slope);
        s.AddSlope(At[1], At[0], -slope);
        s.AddSlope(At[1], At[1], slope);
    }
}

/// <summary>An element whose flow follows from both its potentials, which are absolute temperatures, K: flow = g(first, second).</summary>
public abstract class FlowFromTemperatures : TwoEnded
{
    private protected FlowFromTemperatures(string name, string from, string to)
        : base(name, from, to)
    {
    }

    internal override IEnumerable<int> AboveZero => [0, 1];

    /// <summary>Heat flow from the first node to the second, W.</summary>
    /// <param name="first">Temperature of the first node, K.</param>
    /// <param name="second">Temperature of the second, K.</param>
    /// <param name="slopeFirst">Slope of the flow against the first; positive.</param>
    /// <param name="slopeSecond">Slope against the second; negative.</param>
    public abstract double Flow(double first, double second, out double slopeFirst, out double slopeSecond);

    internal override void Evaluate(Balance s)
    {
        double flow = Flow(s[At[0]], s[At[1]], out double slopeFirst, out double slopeSecond);
        s.AddFlow(At[0], flow);
        s.AddFlow(At[1], -flow);
        s.AddSlope(At[0], At[0], slopeFirst);
        s.AddSlope(At[0], At[1], slopeSecond);
        s.AddSlope(At[1], At[0], -slopeFirst);
        s.AddSlope(At[1], At[1], -slopeSecond);
    }
}

/// <summary>An element whose flow follows from its drop through an effective value of one cycle: a law between amplitudes, in phase.</summary>
public abstract class FlowFromAmplitude : FlowFromDrop
{
    private protected FlowFromAmplitude(string name, string from, string to)
        : base(name, from, to)
    {
    }

    /// <summary>Peak flow against the peak drop, both taken as sines in phase.</summary>
    /// <param name="peakDrop">Peak drop; not negative.</param>
    /// <param name="slope">Slope of the peak flow against the peak drop.</param>
    public abstract double PeakFlow(double peakDrop, out double slope);

    /// <summary>A drive of its own in series with the drop: peak phasor.</summary>
    internal virtual Complex Drive => Complex.Zero;

    // Flow of a phasor u is y(|u|) u; its change for du is a du + c conj(du).
    internal Complex PhasorFlow(Complex drop, out Complex a, out Complex c)
    {
        var u = drop + Drive;
        double size = Complex.Abs(u);
        if (size == 0)
        {
            PeakFlow(0, out double atRest);
            (a, c) = (atRest, Complex.Zero);
            return Complex.Zero;
        }

        double y = PeakFlow(size, out double slope) / size;
        a = 0.5 * (y + slope);
        c = 0.5 * (slope - y) * u * u / (size * size);
        return y * u;
    }
}

/// <summary>An element whose drop follows from its flow: drop = r(flow).</summary>
public abstract class DropFromFlow : TwoEnded
{
    private protected DropFromFlow(string name, string from, string to)
        : base(name, from, to)
    {
    }

    internal override int BranchCount => 1;

    /// <summary>Drop at a flow.</summary>
    /// <param name="flow">Flow from the first node to the second.</param>
    /// <param name="slope">Slope of the drop against the flow; not negative.</param>
    public abstract double DropAt(double flow, out double slope);

    internal override void Evaluate(Balance s)
    {
        double flow = s[Branch], drop = DropAt(flow, out double slope);
        s.AddFlow(At[0], flow);
        s.AddFlow(At[1], -flow);
        s.AddSlope(At[0], Branch, 1);
        s.AddSlope(At[1], Branch, -1);
        s.AddFlow(Branch, Drop(s) - drop);
        s.AddSlope(Branch, At[0], 1);
        s.AddSlope(Branch, At[1], -1);
        s.AddSlope(Branch, Branch, -slope);
    }
}
