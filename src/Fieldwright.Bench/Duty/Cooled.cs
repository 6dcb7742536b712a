using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Duty;

/// <summary>A question put to a heat network with every doubt of its own: what cooling leaves open, and what the currents and heats leave open.</summary>
/// <param name="apparatus">The apparatus.</param>
/// <param name="input">Heat put in.</param>
/// <param name="relativeBar">Relative bar of the currents, or half of that of heats.</param>
internal sealed class Cooled(Apparatus apparatus, HeatInput input, double relativeBar)
{
    /// <summary>Longest time that is followed, s: a day.</summary>
    public const double Day = 86400;

    /// <summary>The input.</summary>
    public HeatInput Input => input;

    /// <summary>The answer with its bar: the widest that better or worse cooling and more or less heat make it.</summary>
    /// <param name="question">What is read off a network.</param>
    public Estimate Ask(Func<HeatNetwork, double> question)
    {
        double value = question(new HeatNetwork(apparatus, input, Cooling.AsReckoned)), bar = 0;
        foreach (var cooling in new[] { Cooling.Better, Cooling.Worse })
            bar = Math.Max(bar, Math.Abs(question(new HeatNetwork(apparatus, input, cooling)) - value));
        if (relativeBar > 0)
            bar += Math.Abs(question(new HeatNetwork(apparatus, input.Times(1 + relativeBar), Cooling.AsReckoned)) - value);
        return new Estimate(value, bar);
    }

    /// <summary>The answer with no cooling at all.</summary>
    /// <param name="question">What is read off a network.</param>
    public double Uncooled(Func<HeatNetwork, double> question) => question(new HeatNetwork(apparatus, input, Cooling.None));
}
