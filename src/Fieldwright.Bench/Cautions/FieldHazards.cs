using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>How near people may stand, and what they must take off.</summary>
internal static class FieldHazards
{
    // A finger ring: mean radius and section, m and m².
    private const double RingRadius = 10e-3, RingSection = 3e-6;

    /// <summary>Distances at which the field has fallen to the levels for implants, the public and people at work.</summary>
    public static IEnumerable<Caution> StrayField(WorstOf worst)
    {
        double frequency = worst.Apparatus.Frequency;
        if (Strays(worst) is not { Count: > 0 } strays)
            yield break;
        var line = frequency > 0 ? FieldLimits.ForPublic(Math.Max(1, frequency)) : FieldLimits.Implants;
        var near = frequency > 0 ? FieldLimits.ForWorkers(Math.Max(1, frequency)) : FieldLimits.FlyingIron;
        double reach = strays.Max(s => s.Reach(line.Value));
        if (reach == 0)
            yield break;
        double close = strays.Max(s => s.Reach(near.Value));
        string rms = frequency > 0 ? " rms" : "", bound = strays.Exists(s => s.IsUpperBound) ? "at most " : "";
        string nearer = frequency > 0
            ? close > 0 ? Text($" and to {Field(near.Value)} rms, the level for people at work, {bound}{Distance(close)} away") : ""
            : close > 0 ? Text($" and to {Field(near.Value)}, from where loose iron may fly, {bound}{Distance(close)} away") : "";
        yield return new Caution(
            "stray field",
            Text($"The field falls to {Field(line.Value)}{rms} {bound}{Distance(reach)} from the middle of the apparatus{nearer}."),
            frequency > 0
                ? Text($"{Field(line.Value)} rms for the public at {frequency:0.##} Hz; for implants ask the wearer's physician at any strength")
                : Text($"{Field(line.Value)} for implants and loose iron"),
            line.Document == near.Document ? line.Document : $"{line.Document}; the nearer level: {near.Document}", Worse(line.Grade, near.Grade),
            "Mark that line on the floor; keep the audience and anyone with an implant beyond it, and ask for implants before the show.",
            false);
    }

    /// <summary>Finger rings and watches near strong alternating coils: the heat of a gold ring held against them.</summary>
    public static IEnumerable<Caution> RingsOnFingers(WorstOf worst)
    {
        double frequency = worst.Apparatus.Frequency;
        if (frequency == 0 || Strays(worst) is not { Count: > 0 } strays)
            yield break;
        double field = strays.Max(s => s.Outside);
        // EMF of a thin ring across the field over its resistance: an upper bound, for its own field is left out.
        double emf = 2 * Math.PI * frequency * field * Math.PI * RingRadius * RingRadius;
        double resistance = Gold.ResistivityAt(worst.Apparatus.Ambient) * 2 * Math.PI * RingRadius / RingSection;
        double heat = emf * emf / resistance;
        if (heat < 0.5)
            yield break;
        yield return new Caution(
            "rings on fingers",
            Text($"A gold ring held at the edge of the apparatus, where the field is {Field(field)} rms, would take up to {heat:0.#} W."),
            "half a watt makes a ring unpleasantly hot within a minute",
            "common practice, no source", 'c',
            "Rings, watches and bracelets off for everyone who reaches in; keep keys and cards away.",
            false);
    }

    private static Material Gold { get; } = new("gold") { Conductivity = 4.5e7, TemperatureCoefficient = 0.0034, Source = "from memory (c)" };

    // A state whose field cannot be found has none to show; its claims say why.
    private static List<StrayField> Strays(WorstOf worst) => worst.Strays ??= [.. worst.States.Select(state => Stray(worst, state)).OfType<StrayField>()];

    private static StrayField? Stray(WorstOf worst, string? state)
    {
        try
        {
            return worst.CurrentsIn(state) is { } currents ? Cautions.StrayField.Of(worst.In(state), currents, worst.Cancellation) : null;
        }
        catch (RouteFailedException)
        {
            return null;
        }
    }
}
