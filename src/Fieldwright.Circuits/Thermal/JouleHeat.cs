using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Thermal;

/// <summary>Heat of a given current in a metal that warms: I² R₀ (1 + α (T − T₀)) into a node that stands at T. What is left of a <see cref="HeatedResistor"/> when the current does not change.</summary>
public sealed class JouleHeat : TwoEnded
{
    private readonly double heat, coefficient, reference;

    /// <summary>A source of heat.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="into">Node it heats, K against the reference node at absolute zero.</param>
    /// <param name="heat">Heat at the reference temperature, W; not negative.</param>
    /// <param name="coefficient">α at the reference temperature, 1/K; 0 for a heat that does not change.</param>
    /// <param name="reference">T₀, K.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public JouleHeat(string name, string into, double heat, double coefficient, double reference)
        : base(name, into, Network.Reference)
    {
        this.heat = Guard.NotNegative(heat);
        this.coefficient = Guard.Finite(coefficient);
        this.reference = Guard.NotNegative(reference);
    }

    internal override IEnumerable<int> AboveZero => [0];

    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.FixesFlow)];

    internal override void Evaluate(Balance s)
    {
        // Below a hundredth the straight law of resistance has lost its meaning.
        double share = 1 + coefficient * (s[At[0]] - reference);
        s.AddFlow(At[0], -heat * Math.Max(0.01, share));
        if (share > 0.01)
            s.AddSlope(At[0], At[0], -heat * coefficient);
    }
}
