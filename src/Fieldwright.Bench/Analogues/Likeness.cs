using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Analogues;

/// <summary>One element and what stands for it in another domain. SI.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Drop">Drop of potential along it, from its first node to its second; negative for what drives.</param>
/// <param name="Flow">Flow through it.</param>
/// <param name="Is">What it is, in words.</param>
/// <param name="Becomes">What stands for it, in words.</param>
/// <param name="RedrawnDrop">Drop along its counterpart, by the counterpart's own law.</param>
/// <param name="RedrawnFlow">Flow through its counterpart, by the counterpart's own law.</param>
public sealed record Counterpart(string Name, double Drop, double Flow, string Is, string Becomes, double RedrawnDrop, double RedrawnFlow);

/// <summary>Where the likeness breaks, with the number at which it does.</summary>
/// <param name="What">In a few words.</param>
/// <param name="Why">Why it breaks there, in a sentence or two.</param>
/// <param name="Of">What the number is of.</param>
/// <param name="At">The number at which it breaks, in <paramref name="Unit"/>.</param>
/// <param name="Now">Where it stands on this board, in the same unit.</param>
/// <param name="Unit">The unit of both; empty for a pure number.</param>
/// <param name="Holds">Whether the likeness still holds here.</param>
public sealed record LikenessBreak(string What, string Why, string Of, double At, double Now, string Unit, bool Holds);

/// <summary>A circuit redrawn in another domain with true numbers.</summary>
/// <param name="From">The domain it was in.</param>
/// <param name="To">The domain it is redrawn in.</param>
/// <param name="Original">The circuit.</param>
/// <param name="Redrawn">The same circuit with counterparts of the other domain.</param>
/// <param name="PotentialScale">Potential of the redrawn circuit for each unit of the original's.</param>
/// <param name="FlowScale">Flow of the redrawn circuit for each unit of the original's.</param>
/// <param name="Counterparts">The elements, one by one.</param>
/// <param name="Breaks">Where the likeness breaks.</param>
/// <param name="Remarks">What must be known about the original.</param>
public sealed record Likeness(
    DomainWords From, DomainWords To, Board Original, Board Redrawn, double PotentialScale, double FlowScale,
    IReadOnlyList<Counterpart> Counterparts, IReadOnlyList<LikenessBreak> Breaks, IReadOnlyList<string> Remarks)
{
    /// <summary>The scale of what drives, in words.</summary>
    public string ScaleOfPotential => Scale(PotentialScale, From.PotentialUnit, From.Potential, To.PotentialText, To.Potential);

    /// <summary>The scale of what flows, in words.</summary>
    public string ScaleOfFlow => Scale(FlowScale, From.FlowUnit, From.Flow, To.FlowText, To.Flow);

    // So many units that a number of some size stands for them.
    private static string Scale(double scale, string unit, string what, Func<double, int, string> text, string becomes)
    {
        var shown = Claims.Shown.In(unit);
        double one = 1 / shown.Of(1);
        int times = 1;
        while (times < 100000 && text(times * one * scale, 3) is var written && (written.StartsWith("0.0", StringComparison.Ordinal) || written.Contains('e', StringComparison.Ordinal)))
            times *= 10;
        return $"{times.ToString(System.Globalization.CultureInfo.InvariantCulture)}\u00a0{shown.Unit} of {what} stands as {text(times * one * scale, 3)} of {becomes}";
    }
}
