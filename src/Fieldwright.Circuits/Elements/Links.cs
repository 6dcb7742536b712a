using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Elements;

/// <summary>An ideal switch that changes over at given times; steady work takes its state at time zero.</summary>
/// <remarks>Opening it in a purely inductive circuit has no answer and is reported as such: give the spark or the suppressor a path.</remarks>
public sealed class Switch : TwoEnded
{
    private readonly bool closedFirst;
    private readonly double[] changes;

    /// <summary>A switch.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First node.</param>
    /// <param name="to">Second node.</param>
    /// <param name="closedFirst">Whether it is closed before the first change.</param>
    /// <param name="changes">Times at which it changes over, s, rising.</param>
    /// <exception cref="ArgumentException">The times do not rise.</exception>
    public Switch(string name, string from, string to, bool closedFirst, params ReadOnlySpan<double> changes)
        : base(name, from, to)
    {
        Guard.Finite(changes);
        for (int i = 1; i < changes.Length; i++)
            if (changes[i] <= changes[i - 1])
                throw new ArgumentException($"The times of switch {name} must rise.", nameof(changes));
        this.closedFirst = closedFirst;
        this.changes = changes.ToArray();
    }

    internal override int BranchCount => 1;

    internal override IEnumerable<double> Jumps => changes;

    /// <summary>Whether it is closed at a time; at the instant of a change the new state counts.</summary>
    /// <param name="time">Time, s.</param>
    public bool IsClosed(double time) => closedFirst ^ changes.Count(t => t <= time) % 2 == 1;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => IsClosed(time) ? [(At[0], At[1], Tie.FixesDrop)] : [];

    internal override void Evaluate(Balance s)
    {
        s.AddFlow(At[0], s[Branch]);
        s.AddFlow(At[1], -s[Branch]);
        s.AddSlope(At[0], Branch, 1);
        s.AddSlope(At[1], Branch, -1);
        if (IsClosed(s.Time))
        {
            s.AddFlow(Branch, Drop(s));
            s.AddSlope(Branch, At[0], 1);
            s.AddSlope(Branch, At[1], -1);
        }
        else
        {
            s.AddFlow(Branch, s[Branch]);
            s.AddSlope(Branch, Branch, 1);
        }
    }
}

/// <summary>An ideal transformer: v₁ = n v₂, i₂ = −n i₁, with n the ratio of turns. It passes steady flow too, which a real one does not.</summary>
/// <param name="name">Its name.</param>
/// <param name="from1">First node of the primary (dot).</param>
/// <param name="to1">Second node of the primary.</param>
/// <param name="from2">First node of the secondary (dot).</param>
/// <param name="to2">Second node of the secondary.</param>
/// <param name="ratio">Primary over secondary turns; not zero.</param>
/// <exception cref="ArgumentException">The ratio is zero or not finite.</exception>
public sealed class IdealTransformer(string name, string from1, string to1, string from2, string to2, double ratio) : Element(name, from1, to1, from2, to2)
{
    /// <summary>Primary over secondary turns.</summary>
    public double Ratio { get; } = Guard.Finite(ratio) != 0 ? ratio : throw new ArgumentException("The ratio of turns must not be zero.", nameof(ratio));

    internal override int BranchCount => 1;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.Conducts), (At[2], At[3], Tie.Conducts)];

    internal override void Evaluate(Balance s)
    {
        double[] sides = [1, -1, -Ratio, Ratio];
        for (int k = 0; k < 4; k++)
        {
            s.AddFlow(At[k], sides[k] * s[Branch]);
            s.AddSlope(At[k], Branch, sides[k]);
            s.AddFlow(Branch, sides[k] * s[At[k]]);
            s.AddSlope(Branch, At[k], sides[k]);
        }
    }
}

/// <summary>A junction diode after Shockley, continued in a straight line above a drop at which the exponential has lost its meaning.</summary>
/// <source key="Shockley1949"/>
public sealed class Diode : FlowFromDrop
{
    private readonly double saturation, thermal, knee;

    /// <summary>A diode.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">Anode.</param>
    /// <param name="to">Cathode.</param>
    /// <param name="forwardDrop">Drop at the rated current, V; positive.</param>
    /// <param name="ratedCurrent">Current at that drop, A; positive.</param>
    /// <param name="emission">Emission coefficient n of exp(v / n V_T), V_T = 25.85 mV at 300 K.</param>
    public Diode(string name, string from, string to, double forwardDrop = 0.8, double ratedCurrent = 1, double emission = 1.8)
        : base(name, from, to)
    {
        thermal = Guard.Positive(emission) * 0.025852;
        saturation = Guard.Positive(ratedCurrent) / double.ExpM1(Guard.Positive(forwardDrop) / thermal);
        knee = forwardDrop + 5 * thermal;
    }

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.Conducts)];

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope)
    {
        // The least slope, a leak of 1e-12 S, keeps a blocked branch solvable.
        const double Leak = 1e-12;
        if (drop > knee)
        {
            slope = saturation * Math.Exp(knee / thermal) / thermal + Leak;
            return saturation * double.ExpM1(knee / thermal) + Leak * knee + slope * (drop - knee);
        }

        double exp = Math.Exp(Math.Max(drop / thermal, -700));
        slope = saturation * exp / thermal + Leak;
        return saturation * (exp - 1) + Leak * drop;
    }
}

/// <summary>An ammeter or flow meter: a drop of zero, or of its burden.</summary>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="burden">Its own resistance; not negative.</param>
public sealed class FlowMeter(string name, string from, string to, double burden = 0) : DropFromFlow(name, from, to)
{
    private readonly double burden = Guard.NotNegative(burden);

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], burden == 0 ? Tie.FixesDrop : Tie.Conducts)];

    /// <inheritdoc/>
    public override double DropAt(double flow, out double slope)
    {
        slope = burden;
        return burden * flow;
    }
}

/// <summary>A voltmeter, manometer or thermometer across two nodes: it draws nothing, or what its burden lets through.</summary>
/// <param name="name">Its name.</param>
/// <param name="from">First node.</param>
/// <param name="to">Second node.</param>
/// <param name="burden">Its own resistance; positive; null draws nothing.</param>
public sealed class DropMeter(string name, string from, string to, double? burden = null) : FlowFromDrop(name, from, to)
{
    private readonly double conductance = burden is { } r ? 1 / Guard.Positive(r, nameof(burden)) : 0;

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => conductance > 0 ? [(At[0], At[1], Tie.Conducts)] : [];

    /// <inheritdoc/>
    public override double Flow(double drop, out double slope)
    {
        slope = conductance;
        return conductance * drop;
    }
}
