using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Claims;

/// <summary>One stated tolerance and what it does to one answer.</summary>
/// <param name="Doubt">The tolerance.</param>
/// <param name="HalfWidth">Its half-width, SI.</param>
/// <param name="Down">Change of the answer when the input stands at the lower end of its tolerance, SI; zero when it cannot stand there.</param>
/// <param name="Up">Change of the answer when it stands at the upper end, SI; zero when it cannot.</param>
/// <param name="Route">The route that was asked.</param>
public sealed record Swing(Doubt Doubt, double HalfWidth, double Down, double Up, RouteName Route)
{
    /// <summary>The larger of the two changes, SI, not negative.</summary>
    public double Reach => Math.Max(Math.Abs(Down), Math.Abs(Up));

    /// <summary>Standard deviation of the answer when every value within the tolerance is as likely as any other, SI.</summary>
    /// <remarks>Half-width over √3, the rule for an input of which only the limits are known.</remarks>
    /// <source key="GUM2008" at="4.3.7"/>
    public double StandardDeviation => 0.5 * Math.Abs(Up - Down) / Math.Sqrt(3);
}

/// <summary>What the stated tolerances do to one answer, each taken by itself.</summary>
/// <param name="Swings">One entry a tolerance that could be carried through.</param>
public sealed record CarriedDoubts(IReadOnlyList<Swing> Swings)
{
    /// <summary>How far the tolerances may move the answer: twice the standard deviation of all together, and never more than all at their ends at once.</summary>
    /// <source key="GUM2008" at="6.2"/>
    public double Reach => Math.Min(2 * StandardDeviation, Swings.Sum(s => s.Reach));

    /// <summary>Standard deviation of the answer by all tolerances together, taken as independent, SI.</summary>
    public double StandardDeviation => Math.Sqrt(Swings.Sum(s => s.StandardDeviation * s.StandardDeviation));

    /// <summary>Share of one tolerance in the variance of the answer; zero when nothing moves it.</summary>
    public double ShareOf(Swing swing) => StandardDeviation == 0 ? 0 : Math.Pow(swing.StandardDeviation / StandardDeviation, 2);

    /// <summary>Carries every tolerance through to a measure by the quickest route that answers it: at both ends, or at one end only when that route is the field route.</summary>
    internal static CarriedDoubts? Of(Apparatus apparatus, Measure measure, string? state, RoutePanel panel)
    {
        if (apparatus.Doubts.Count == 0 || panel.Cheapest(measure, state).Leading is not { } answer)
            return null;
        var there = Circumstances.Of(apparatus, state, measure.Conditions).Apparatus;
        var swings = new List<Swing>();
        foreach (var doubt in apparatus.Doubts)
        {
            if (HalfWidth(doubt, there) is not { } half)
                continue;
            double? Change(double by) => Doubted(measure, there, doubt, by) is { } moved && panel.Cheapest(moved, state).Leading is { } other ? other.Value - answer.Value : null;
            double? up = Change(half), down = answer.Route is RouteName.Field or RouteName.Motion && up is not null ? -up : Change(-half);
            if (up is not null || down is not null)
                swings.Add(new Swing(doubt, half, down ?? 0, up ?? 0, answer.Route));
        }

        return new CarriedDoubts(swings);
    }

    /// <summary>Half-width of a tolerance where its input stands, SI; null when the input is not there.</summary>
    internal static double? HalfWidth(Doubt doubt, Apparatus there) =>
        Inputs.Find(doubt.Input, there) is { Slot.Value: { } value } ? doubt.Absolute ?? Math.Abs(value) * doubt.Relative!.Value : null;

    /// <summary>The measure with an input moved from where it stands; null when it cannot stand there.</summary>
    internal static Measure? Doubted(Measure measure, Apparatus there, Doubt doubt, double by)
    {
        if (Inputs.Find(doubt.Input, there) is not { Slot.Value: { } value })
            return null;
        var setting = new Setting(doubt.Input, value + by);
        try
        {
            Inputs.Apply(there, [setting]);
        }
        catch (ArgumentException)
        {
            return null;
        }

        return measure with { Conditions = [.. measure.Conditions.Where(c => !Apparatus.Same(c.Input.Text, doubt.Input.Text)), setting] };
    }
}
