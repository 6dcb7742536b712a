using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Studies;

/// <summary>The liquids that a channel could be filled with, each with what it would do there, its properties, its hazard and where both come from.</summary>
public static class LiquidStudy
{
    private static readonly string[] Asked = ["standstill pressure", "head", "flow", "fountain height", "Hartmann number"];

    /// <summary>Every known liquid in every channel of an apparatus.</summary>
    /// <param name="apparatus">The apparatus, read and checked.</param>
    /// <param name="state">The state it stands in; null for as the file says.</param>
    /// <param name="relativeTarget">Half-width of the bars to aim for, as a share of each answer.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>One entry a channel and liquid; none when nothing in the file is a channel.</returns>
    public static IReadOnlyList<LiquidInChannel> Of(Apparatus apparatus, string? state, double relativeTarget, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        var found = new List<LiquidInChannel>();
        foreach (var part in apparatus.Parts.Where(p => p.Channel is not null))
            foreach (var liquid in Materials.All.Where(m => m.Conductivity > 0 && MatterHazards.OfLiquid(m.Name) is not null).Append(part.Material).DistinctBy(m => m.Name))
            {
                var filled = Inputs.Apply(apparatus, [new Setting(new InputName("material", part.Name, "material of " + part.Name), double.NaN, liquid.Name)]);
                var panel = new RoutePanel(filled, relativeTarget, cancellation);
                var answers = new List<RoutedAnswer>();
                foreach (string name in Asked.Where(n => n != "fountain height" || part.Channel!.NozzleBore is not null))
                    if (MeasureReader.TryRead($"{name} of {part.Name}", filled, out var measure, out _))
                        answers.Add(panel.Cheapest(measure, state));
                found.Add(new LiquidInChannel(part.Name, filled.Part(part.Name)!.Material, Apparatus.Same(liquid.Name, part.Material.Name), answers, MatterHazards.OfLiquid(liquid.Name)));
            }

        return found;
    }
}

/// <summary>One liquid in one channel.</summary>
/// <param name="Channel">Name of the channel.</param>
/// <param name="Liquid">The liquid, with its properties and their source.</param>
/// <param name="IsThere">Whether the file has it there.</param>
/// <param name="Answers">What it would do: those of the pump's measures for which its properties suffice, by the quickest route.</param>
/// <param name="Hazard">Its hazard; null for matter of the file's own that goes by no known name.</param>
public sealed record LiquidInChannel(string Channel, Material Liquid, bool IsThere, IReadOnlyList<RoutedAnswer> Answers, Caution? Hazard);
