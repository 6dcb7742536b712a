using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Duty;

/// <summary>A question put to the warmth of an apparatus with every doubt of its own: what cooling leaves open, what the currents and heats leave open, and what a mesh leaves open.</summary>
/// <param name="make">The warmth of an input under a cooling; where there is a closer one too, quick rather than close.</param>
/// <param name="input">Heat put in.</param>
/// <param name="relativeBar">Relative bar of the currents, or half of that of heats.</param>
/// <param name="closely">The warmth that gives the value, its distance from the quick one being a doubt; null when they are one.</param>
internal sealed class Cooled(Func<HeatInput, Cooling, Warmth> make, HeatInput input, double relativeBar, Func<HeatInput, Cooling, Warmth>? closely = null)
{
    /// <summary>Longest time that is followed, s: a day.</summary>
    public const double Day = 86400;

    // What settles to rounding is not asked for more.
    private const double Rounding = 1e-7;

    private readonly Warmth quick = make(input, Cooling.AsReckoned);
    private readonly Warmth? close = closely?.Invoke(input, Cooling.AsReckoned);

    /// <summary>The input.</summary>
    public HeatInput Input => input;

    /// <summary>As reckoned, without its doubts.</summary>
    public Warmth Quickly => quick;

    /// <summary>The answer with its bar: the widest that better or worse cooling and more or less heat make it, and how far the close answer lies from the quick one.</summary>
    /// <param name="question">What is read off.</param>
    /// <exception cref="RouteFailedException">There is no answer.</exception>
    public Estimate Ask(Func<Warmth, double> question) => AskOf(at => question(at(1)));

    /// <summary>The same where the question changes the heat itself.</summary>
    /// <param name="question">What is read off warmths at factors on all currents as they stand.</param>
    /// <exception cref="RouteFailedException">There is no answer.</exception>
    public Estimate AskOf(Func<Func<double, Warmth>, double> question)
    {
        double At(Func<HeatInput, Cooling, Warmth> of, double times, Cooling how, Warmth? known) => question(f => f == 1 && known is not null ? known : of(input.Times(f * times), how));
        double value = At(make, 1, Cooling.AsReckoned, quick), bar = 0;
        foreach (var cooling in new[] { Cooling.Better, Cooling.Worse })
            bar = Math.Max(bar, Math.Abs(At(make, 1, cooling, null) - value));
        if (relativeBar > 0)
            bar += Math.Abs(At(make, 1 + relativeBar, Cooling.AsReckoned, null) - value);
        if (closely is null)
            return new Estimate(value, bar);
        double best = At(closely, 1, Cooling.AsReckoned, close);
        return new Estimate(best, bar + Math.Abs(best - value) + Rounding * Math.Abs(best));
    }
}
