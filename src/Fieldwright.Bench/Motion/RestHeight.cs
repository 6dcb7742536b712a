using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Motion;

/// <summary>Where a body floats, and how stiffly.</summary>
/// <param name="Height">Height of the underside at rest, m; the lowest place when it does not lift.</param>
/// <param name="Stiffness">Vertical stiffness there, N/m, positive when steady; null when it does not lift.</param>
/// <param name="LowestLift">Lift at the lowest place, N; null when the body floats.</param>
public sealed record Rest(Estimate Height, Estimate? Stiffness, Estimate? LowestLift)
{
    /// <summary>Whether the body leaves its lowest place.</summary>
    public bool Floats => Stiffness is not null;
}

/// <summary>Finds the height at which a falling lift curve carries a weight.</summary>
public static class RestHeight
{
    private const int MostSteps = 40;

    // Share of a lift's bar that differs from one height to the next.
    private const double Alone = 0.1;

    /// <summary>Searches upwards from the lowest place for the first height at which the lift falls through the weight.</summary>
    /// <param name="lift">Lift, N, at a height of the underside, m, to a relative half-width (second argument).</param>
    /// <param name="weight">Weight, N; positive.</param>
    /// <param name="lowest">Lowest place of the underside, m.</param>
    /// <param name="span">A length over which the lift changes much, m; sets the first steps.</param>
    /// <param name="guess">A height to start from, m; anything above <paramref name="lowest"/> serves.</param>
    /// <param name="relativeTarget">Half-width to aim for in the lift near rest.</param>
    /// <returns>The rest. Its height bar follows from the lift's bar over the stiffness.</returns>
    /// <exception cref="RouteFailedException">The lift still carries the weight ten spans up, so the model holds it nowhere.</exception>
    /// <remarks>The logarithm of the lift is nearly straight in the height, so secants run on it; the result needs no derivative from the route.</remarks>
    public static Rest Find(Func<double, double, Estimate> lift, double weight, double lowest, double span, double guess, double relativeTarget)
    {
        ArgumentNullException.ThrowIfNull(lift);
        double coarse = Math.Max(relativeTarget, 0.05);
        (double low, double high) = Bracket(height => Excess(lift(height, coarse).Value, weight), lowest, span, Math.Max(guess, lowest));
        if (double.IsNaN(high))
        {
            var lowestLift = lift(lowest, relativeTarget);
            if (lowestLift.Value <= weight)
                return new Rest(new Estimate(lowest, 0), null, lowestLift);
            (low, high) = (lowest, lowest + 0.05 * span);
        }

        // Secants on ln(lift/weight), kept inside the bracket, now with the fine target.
        var samples = new SortedDictionary<double, Estimate>();
        double Fine(double height)
        {
            if (!samples.TryGetValue(height, out var value))
                samples[height] = value = lift(height, relativeTarget);
            return Excess(value.Value, weight);
        }

        double x0 = low + 0.5 * (high - low);
        double slope = (Excess(lift(high, coarse).Value, weight) - Excess(lift(low, coarse).Value, weight)) / (high - low);
        double f0 = Fine(x0);
        for (int step = 0; step < MostSteps; step++)
        {
            double x1 = Math.Clamp(x0 - f0 / slope, lowest, high + (high - low));
            double f1 = Fine(x1);
            if (Math.Abs(x1 - x0) > 1e-4 * span)
                slope = (f1 - f0) / (x1 - x0);
            if (slope >= 0)
                throw new RouteFailedException("The lift does not fall with height where it equals the weight, so there is no steady rest.");
            bool settled = Math.Abs(f1) < 0.1 * Math.Max(samples[x1].RelativeBar, 1e-6);
            (x0, f0) = (x1, f1);
            if (settled)
                break;
            if (step == MostSteps - 1)
                throw new RouteFailedException("The search for the rest height did not settle.");
        }

        return Describe(Fine, samples, weight, x0, f0, slope, span, lowest);
    }

    // The slope of ln(lift) at rest from heights where the lift is a fifth above and below the weight: wide enough to drown what differs from mesh to mesh.
    private static Rest Describe(Func<double, double> fine, SortedDictionary<double, Estimate> samples, double weight, double rest, double atRest, double slope, double span, double lowest)
    {
        double reach = Math.Min(0.2 / -slope, 0.3 * span);
        double below = Math.Max(rest - reach, lowest), above = rest + reach;
        double fb = fine(below), fa = fine(above);
        double hb = rest - below, ha = above - rest;
        double left = hb > 0.05 * reach ? (atRest - fb) / hb : (fa - atRest) / ha, right = (fa - atRest) / ha;
        double gradient = hb > 0.05 * reach ? (left * ha + right * hb) / (ha + hb) : right;
        if (gradient >= 0)
            throw new RouteFailedException("The lift does not fall with height where it equals the weight, so there is no steady rest.");
        double bar = samples.Values.Max(s => s.RelativeBar);
        double stiffness = -gradient * weight;
        // Neighbouring meshes err alike: a tenth of the bar at either end is not trusted to cancel (chosen on one seed of generated discs, judged on others: docs/error-bars.md). What the three points leave out is the third
        // order; it is taken to follow the second as the second follows the first, three times over.
        double gradientBar = (Alone * bar * 2 / (ha + hb)) + 0.5 * (right - left) * (right - left) / Math.Abs(gradient);
        double height = rest - atRest / gradient;
        return new Rest(new Estimate(height, bar / -gradient), new Estimate(stiffness, gradientBar * weight), null);
    }

    private static (double Low, double High) Bracket(Func<double, double> excess, double lowest, double span, double guess)
    {
        double step = 0.25 * span;
        double f = excess(guess);
        double x = guess;
        if (f > 0)
        {
            for (int i = 0; i < 40 && x < lowest + 10 * span; i++)
            {
                double next = x + step;
                if (excess(next) <= 0)
                    return (x, next);
                (x, step) = (next, 1.5 * step);
            }
            throw new RouteFailedException("The lift carries the weight as high as was searched; nothing holds the body at a height.");
        }

        while (x > lowest)
        {
            double next = Math.Max(lowest, x - step);
            if (excess(next) > 0)
                return (next, x);
            x = next;
        }

        return (lowest, double.NaN);
    }

    private static double Excess(double lift, double weight) => lift > 0 ? Math.Log(lift / weight) : -50;
}
