using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Matter.Safety;
using static Fieldwright.Bench.Cautions.InWords;

namespace Fieldwright.Bench.Cautions;

/// <summary>What a box of shaken discs does to those around it.</summary>
internal static class BoxHazards
{
    /// <summary>Discs that leave through the open top: the fastest one to be expected.</summary>
    /// <remarks>In two dimensions the share of a gas above an energy E is exp(−E/kT), so that among n discs looked at a thousand times one has ln(1000 n) times the mean energy.</remarks>
    public static IEnumerable<Caution> FlyingDiscs(WorstOf worst)
    {
        if (worst.Apparatus.Box is not { IsOpen: true } box)
            yield break;
        var limit = BlowLimits.HardProjectile;
        double rms = worst.Most("rms speed", SubjectKind.Nothing, null) ?? box.Discs.RmsSpeed;
        double energy = 0.5 * box.Discs.Mass * rms * rms * Math.Log(1000 * box.Discs.Count), speed = Math.Sqrt(2 * energy / box.Discs.Mass);
        yield return new Caution(
            "flying discs",
            Text($"The top is open: the fastest discs leave with about {speed:0.0} m/s and {1e3 * energy:0.#} mJ."),
            Text($"{1e3 * limit.Value:0} mJ for a hard body that flies freely among people"),
            limit.Document, limit.Grade,
            energy > limit.Value ? "A pane or a net over the top, eye protection for whoever stands over it." : "Below the limit, yet an eye is not a hand: nobody leans over it without glasses, and sweep up before someone slips.",
            false);
    }

    /// <summary>Discs that a small child can swallow.</summary>
    public static IEnumerable<Caution> SmallParts(WorstOf worst)
    {
        var limit = BlowLimits.SmallPart;
        if (worst.Apparatus.Box is not { } box || 2 * box.Discs.Radius >= limit.Value)
            yield break;
        yield return new Caution(
            "small parts",
            Text($"{box.Discs.Count:0} loose discs of {2e3 * box.Discs.Radius:0.#} mm: a small child can swallow or breathe one in."),
            Text($"{1e3 * limit.Value:0.#} mm, the cylinder that no part for children under three may fit into"),
            limit.Document, limit.Grade,
            box.Discs.Moment > 0
                ? "They are magnets: two that are swallowed close on the gut between them, which needs a surgeon. Glue the box shut, count them, keep them from children of every age and a hand's breadth from pacemakers and cards."
                : "Count them out and in; keep the box closed where children under three are, and never use magnets as discs there.",
            false);
    }

    /// <summary>Hands that hold a shaking floor.</summary>
    public static IEnumerable<Caution> ShakenHands(WorstOf worst)
    {
        if (Acceleration(worst) is not { } shake)
            yield break;
        var limit = BlowLimits.HandArmVibration;
        if (shake.Rms <= limit.Value)
            yield break;
        // The dose goes with the square of the acceleration; weighting by frequency, which would allow more above 16 Hz, is left out.
        double allowed = 8 * 3600 * Math.Pow(limit.Value / shake.Rms, 2);
        yield return new Caution(
            "shaken hands",
            Text($"The floor shakes with {shake.Rms:0} m/s² rms at {shake.Frequency:0.#} Hz: whoever holds it has a day's dose after {Time(allowed)}."),
            Text($"{limit.Value:0.#} m/s² over a working day, weighting by frequency left out"),
            limit.Document, limit.Grade,
            "Clamp the shaker to a heavy table and keep hands off; screw down what stands beside it, for it will walk.",
            false);
    }

    /// <summary>A box that rattles.</summary>
    public static IEnumerable<Caution> Rattle(WorstOf worst)
    {
        if (Acceleration(worst) is not { } shake || shake.Rms < Matter.PhysicalConstants.StandardGravity)
            yield break;
        var limit = BlowLimits.Noise;
        yield return new Caution(
            "rattle",
            Text($"{worst.Apparatus.Box!.Discs.Count:0} hard discs meet the walls at every stroke of a floor that shakes {shake.Frequency:0.#} times a second; how loud cannot be told from the motion."),
            Text($"{limit.Value:0} dB(A) over a working day"),
            limit.Document, limit.Grade,
            "Felt under the box, a pane before it, and measure before the first show.",
            false);
    }

    private static (double Rms, double Frequency)? Acceleration(WorstOf worst) => worst.States.Select(worst.In)
        .Select(a => a.Box?.Floor is { Frequency: > 0 } f ? (f.Amplitude * Math.Pow(2 * Math.PI * f.Frequency, 2) / Math.Sqrt(2), f.Frequency) : default((double, double)?))
        .MaxBy(s => s?.Item1);
}
