using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Solving;
using Fieldwright.Numerics;

namespace Fieldwright.Circuits.Thermal;

/// <summary>A resistance that warms by its own current: R = R₂₀ (1 + α (T − 20 °C)) between two electric nodes, its heat v i driven into a third node that stands at T.</summary>
/// <remarks>
/// Steady and transient work; alternating quantities enter as rms, so that the heat is the mean. In phasor work it is the resistance at 20 °C. Below a hundredth
/// of R₂₀ the straight law has lost its meaning and R stays there.
/// </remarks>
public sealed class HeatedResistor : Element
{
    private const double Reference = 293.15, LeastShare = 0.01;
    private readonly double resistance20, coefficient;

    /// <summary>A resistor that warms.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="from">First electric node.</param>
    /// <param name="to">Second electric node.</param>
    /// <param name="hot">Node of its temperature, K against the reference node at absolute zero.</param>
    /// <param name="resistance20">R₂₀, Ω; positive.</param>
    /// <param name="coefficient">α at 20 °C, 1/K.</param>
    /// <exception cref="ArgumentOutOfRangeException">The resistance is not positive.</exception>
    public HeatedResistor(string name, string from, string to, string hot, double resistance20, double coefficient)
        : base(name, from, to, hot, Network.Reference)
    {
        this.resistance20 = Guard.Positive(resistance20);
        this.coefficient = Guard.Finite(coefficient);
    }

    internal override IEnumerable<int> AboveZero => [2];

    internal override bool HasPhasorMatrix => true;

    /// <summary>Resistance at a temperature, Ω.</summary>
    /// <param name="temperature">Temperature, K.</param>
    public double ResistanceAt(double temperature) => resistance20 * Math.Max(LeastShare, 1 + coefficient * (temperature - Reference));

    // The hot end takes heat in whatever stands there; it ties nothing.
    internal override IEnumerable<(int From, int To, Tie Tie)> Ties(bool steady, double time) => [(At[0], At[1], Tie.Conducts)];

    internal override void Evaluate(Balance s)
    {
        double v = s[At[0]] - s[At[1]], r = ResistanceAt(s[At[2]]), g = 1 / r;
        double dg = r > LeastShare * resistance20 ? -g * g * resistance20 * coefficient : 0;
        s.AddFlow(At[0], g * v);
        s.AddFlow(At[1], -g * v);
        s.AddFlow(At[2], -g * v * v);
        for (int k = 0; k < 2; k++)
        {
            double sign = k == 0 ? 1 : -1;
            s.AddSlope(At[k], At[0], sign * g);
            s.AddSlope(At[k], At[1], -sign * g);
            s.AddSlope(At[k], At[2], sign * dg * v);
        }

        s.AddSlope(At[2], At[0], -2 * g * v);
        s.AddSlope(At[2], At[1], 2 * g * v);
        s.AddSlope(At[2], At[2], -dg * v * v);
    }

    internal override void EvaluatePhasor(System.Numerics.Complex[] matrix, int order)
    {
        for (int k = 0; k < 2; k++)
        {
            AddTo(matrix, order, At[k], At[k], 1 / resistance20);
            AddTo(matrix, order, At[k], At[1 - k], -1 / resistance20);
        }
    }
}
