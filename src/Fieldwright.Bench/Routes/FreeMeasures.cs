using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>Measures of bodies anywhere in space: forces and torques along every axis, the field at a probe, stiffnesses in all directions, the foil loop.</summary>
internal static class FreeMeasures
{
    private static readonly string[] Axes = ["x", "y", "z"];

    /// <summary>Their kinds.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        new("force along z", "on", SubjectKind.Part, "N", false, "Force along z, upward, mean over a cycle when the current alternates."),
        .. Axes.Select(a => new MeasureKind("torque about " + a, "on", SubjectKind.Part, "N mm", false, $"Torque about {a} through its own centre, mean over a cycle when the current alternates.")),
        .. Axes.Select(a => new MeasureKind("force along " + a, "on", SubjectKind.Winding, "N", false, $"Force along {a} on a coil, mean over a cycle when the current alternates.")),
        .. Axes.Select(a => new MeasureKind("torque about " + a, "on", SubjectKind.Winding, "N mm", false, $"Torque about {a} on a coil, through its own centre.")),
        new("softest stiffness", "of", SubjectKind.Part, "N/m", false, "Least of the three stiffnesses of a free part against a push, whatever its direction; below zero it runs away."),
        new("middle stiffness", "of", SubjectKind.Part, "N/m", false, "The second of the three."),
        new("hardest stiffness", "of", SubjectKind.Part, "N/m", false, "The greatest of the three."),
        new("run-away time", "of", SubjectKind.Part, "ms", false, "Time in which a push on a free part that runs away grows by e, from its softest stiffness and its mass."),
        new("field", "at", SubjectKind.Part, "mT", false, "Flux density at a probe, rms when it alternates."),
        .. Axes.Select(a => new MeasureKind("field along " + a, "at", SubjectKind.Part, "mT", false, $"Its component along {a}; rms without sign when it alternates.")),
        new("tension", "in", SubjectKind.Part, "mN", false, "Tension in the middle of a foil loop."),
        new("outward push", "on", SubjectKind.Part, "mN/m", false, "Force of a foil loop's own field outwards, per length, mean along it."),
        new("opening", "of", SubjectKind.Part, "mm", false, "Greatest width of a foil loop in the shape it takes."),
        new("sag", "of", SubjectKind.Part, "mm", false, "How far a foil loop hangs below its supports."),
        new("shift", "of", SubjectKind.Part, "mm", false, "How far a foil loop is carried along its own x in the mean, by magnets beside it."),
        new("melting time", "of", SubjectKind.Part, "s", false, "Time in which a foil loop reaches its melting point with no cooling at all: the shortest it can be."),
    ];

    /// <summary>What a kind needs; none when it is not one of these or needs no field.</summary>
    public static Wanted NeedsOf(MeasureKind kind) => kind.Name switch
    {
        "force along z" => Wanted.Forces,
        "softest stiffness" or "middle stiffness" or "hardest stiffness" or "run-away time" => Wanted.Rest,
        "tension" or "outward push" or "opening" or "sag" or "shift" => Wanted.Foil,
        _ when kind.Name.StartsWith("torque about ", StringComparison.Ordinal) || kind.Name.StartsWith("field", StringComparison.Ordinal) => Wanted.Space,
        _ when kind.Name.StartsWith("force along ", StringComparison.Ordinal) && kind.Subject == SubjectKind.Winding => Wanted.Space,
        _ => Wanted.None,
    };

    /// <summary>Whether a kind means something for a part; null when it is not one of these.</summary>
    public static bool? Suits(MeasureKind kind, Part part, Apparatus apparatus) => kind.Name switch
    {
        "lift" or "force along x" or "force along y" or "force along z" when part.Shape is ProbeShape => false,
        "force along x" or "force along y" when apparatus.Layout == Layout.Free => true,
        "force along z" => apparatus.Layout != Layout.Long,
        "melting time" when part.Shape is FoilLoopShape => true,
        "heat" when part.Shape is FoilLoopShape or PumpChannelShape => true,
        "melting time" => false,
        _ => NeedsOf(kind) switch
        {
            Wanted.None => null,
            Wanted.Foil => part.Shape is FoilLoopShape,
            Wanted.Rest => part.Freedom == Freedom.Freely,
            _ => kind.Name.StartsWith("field", StringComparison.Ordinal) == part.Shape is ProbeShape && part.Shape is not FoilLoopShape,
        },
    };

    /// <summary>The answer of an operating point, for a part or a coil; null when the kind is not one of these.</summary>
    public static Estimate? Of(MeasureKind kind, string subject, Apparatus apparatus, OperatingPoint point)
    {
        int axis = Array.IndexOf(Axes, kind.Name[^1..]);
        if (point.FoilLoads.TryGetValue(subject, out var onFoil) && kind.Name.StartsWith("force along ", StringComparison.Ordinal))
            return onFoil.Along(axis);
        if (kind.Name is "force along z")
            return point.Loads.TryGetValue(subject, out var upward) ? upward.Along(2) : Known(point.ForceUp, subject);
        if (kind.Name.StartsWith("force along ", StringComparison.Ordinal) && (apparatus.Layout == Layout.Free || kind.Subject == SubjectKind.Winding))
            return Known(point.Loads, subject).Along(axis);
        if (kind.Name.StartsWith("torque about ", StringComparison.Ordinal))
            return Known(point.Loads, subject).About(axis);
        if (kind.Name is "field")
            return Known(point.Probes, subject) is var field ? new Estimate(field.FluxDensity.Length, field.Bar) : null;
        if (kind.Name.StartsWith("field along ", StringComparison.Ordinal))
            return Known(point.Probes, subject).Along(axis);
        return kind.Name switch
        {
            "softest stiffness" => Known(point.Stiffnesses, subject)[0],
            "middle stiffness" => Known(point.Stiffnesses, subject)[1],
            "hardest stiffness" => Known(point.Stiffnesses, subject)[2],
            "run-away time" => RunAway(apparatus.Part(subject)!, Known(point.Stiffnesses, subject)[0]),
            "tension" => Known(point.Foil, subject).Tension,
            "outward push" => Known(point.Foil, subject).Push,
            "opening" => Known(point.Foil, subject).Opening,
            "sag" => Known(point.Foil, subject).Sag,
            "shift" => Known(point.Foil, subject).Shift,
            _ => null,
        };
    }

    private static Estimate RunAway(Part part, Estimate softest)
    {
        if (softest.Value >= 0)
            throw new RouteFailedException($"'{part.Name}' does not run away: its softest stiffness is {FormattableString.Invariant($"{softest.Value:G3}")} N/m.");
        double time = Math.Sqrt(Motion.Floats.Mass(part) / -softest.Value);
        return new Estimate(time, 0.5 * time * softest.RelativeBar);
    }

    private static T Known<T>(IReadOnlyDictionary<string, T> all, string subject) =>
        all.TryGetValue(subject, out var value) ? value : throw new RouteFailedException($"This route finds no such thing for '{subject}'.");
}
