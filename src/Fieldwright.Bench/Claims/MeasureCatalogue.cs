using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Claims;

/// <summary>What a measure is asked of.</summary>
public enum SubjectKind
{
    /// <summary>The whole apparatus.</summary>
    Nothing,

    /// <summary>A part.</summary>
    Part,

    /// <summary>A winding.</summary>
    Winding,

    /// <summary>Two windings, joined by <c>and</c>.</summary>
    TwoWindings,

    /// <summary>A supply.</summary>
    Supply,

    /// <summary>A load.</summary>
    Load,

    /// <summary>A polyphase winding as a whole.</summary>
    Row,

    /// <summary>An element of a board.</summary>
    Element,

    /// <summary>A node of a board.</summary>
    Node,
}

/// <summary>A kind of measure: its words, its unit and what it is asked of.</summary>
/// <param name="Name">The words before the subject: <c>lift</c>, <c>rest height</c>.</param>
/// <param name="Link">The word that joins name and subject: <c>on</c>, <c>of</c>, <c>in</c>; empty when it has no subject.</param>
/// <param name="Subject">What it is asked of.</param>
/// <param name="Unit">The unit people read it in.</param>
/// <param name="NeedsTime">Whether <c>after 30 s</c> must follow.</param>
/// <param name="Meaning">One sentence on what it is.</param>
public sealed record MeasureKind(string Name, string Link, SubjectKind Subject, string Unit, bool NeedsTime, string Meaning)
{
    /// <summary>The measure as people write it, for one subject.</summary>
    public string Write(string? subject, string? other = null, string? after = null) =>
        Name + (Link.Length == 0 ? "" : " " + Link + " " + subject) + (other is null ? "" : " and " + other) + (NeedsTime ? " after " + (after ?? "30 s") : "");
}

/// <summary>Every kind of measure there is. Routes say which of them they can answer.</summary>
public static class MeasureCatalogue
{
    /// <summary>All kinds, in the order they are listed to people.</summary>
    public static IReadOnlyList<MeasureKind> Kinds { get; } =
    [
        new("lift", "on", SubjectKind.Part, "N", false, "Upward force, mean over a cycle when the current alternates."),
        new("weight", "of", SubjectKind.Part, "N", false, "Mass times standard gravity."),
        new("rest height", "of", SubjectKind.Part, "mm", false, "Height of the underside at which the lift carries the weight, steady against vertical pushes."),
        new("vertical stiffness", "of", SubjectKind.Part, "N/m", false, "How fast the lift falls with height at rest; positive is steady."),
        new("sideways stiffness", "of", SubjectKind.Part, "N/m", false, "How strongly a ball, or a disc or ring that may tilt as it slides, is pushed back when it strays sideways, least over all directions; below zero it runs away."),
        new("tilting stiffness", "of", SubjectKind.Part, "N mm", false, "Torque that rights a floating disc or ring for each radian of tilt about its centre; below zero it tips."),
        new("swing period", "of", SubjectKind.Part, "ms", false, "Period of small up-and-down swings about rest, from stiffness and mass."),
        new("height", "of", SubjectKind.Part, "mm", true, "Height of the underside a time after the supplies are switched on and it is let go from its place."),
        new("speed", "of", SubjectKind.Part, "m/s", true, "Speed upwards a time after the supplies are switched on and it is let go from its place."),
        new("force along x", "on", SubjectKind.Part, "N", false, "Force along x."),
        new("force along y", "on", SubjectKind.Part, "N", false, "Force along y."),
        new("pull across gap", "in", SubjectKind.Part, "N", false, "Pull that closes the gap of a core."),
        new("heat", "in", SubjectKind.Part, "W", false, "Mean power turned into heat by induced currents."),
        new("flux", "in", SubjectKind.Part, "µWb", false, "Flux along the limb of a core, peak when the current alternates."),
        new("flux density", "in", SubjectKind.Part, "T", false, "Mean flux density over the section of a core opposite its gap, peak when the current alternates."),
        new("current", "in", SubjectKind.Winding, "A", false, "Current, rms when it alternates."),
        new("voltage", "across", SubjectKind.Winding, "V", false, "Voltage at the terminals, rms when it alternates."),
        new("resistance", "of", SubjectKind.Winding, "ohm", false, "Resistance of the wire at the temperature of the hall."),
        new("inductance", "of", SubjectKind.Winding, "mH", false, "Flux linkage with its own current over that current, the others open and the metal in place."),
        new("mutual inductance", "of", SubjectKind.TwoWindings, "mH", false, "Flux linkage of one with the current of the other over that current."),
        new("coupling", "of", SubjectKind.TwoWindings, "%", false, "Mutual inductance over the mean of the two inductances (geometric)."),
        new("reluctance", "seen by", SubjectKind.Winding, "MA/Wb", false, "Its turns squared over its inductance: what the way of its flux sets against it."),
        new("stored energy", "", SubjectKind.Nothing, "J", false, "Energy of the magnetic field, mean over a cycle when the current alternates."),
        new("copper loss", "in", SubjectKind.Winding, "W", false, "Power turned into heat in the wire, mean over a cycle."),
        new("voltage needed", "of", SubjectKind.Supply, "V", false, "Voltage the supply must be set to for the currents asked, rms when it alternates."),
        new("current", "from", SubjectKind.Supply, "A", false, "Current drawn from the supply, rms when it alternates."),
        new("power", "from", SubjectKind.Supply, "W", false, "Real power drawn from the supply at the windings."),
        new("power factor", "of", SubjectKind.Supply, "%", false, "Real power over the product of voltage and current."),
        new("voltage", "at", SubjectKind.Load, "V", false, "Voltage across a load, rms when it alternates."),
        new("current", "through", SubjectKind.Load, "A", false, "Current through a load, rms when it alternates."),
        new("power", "in", SubjectKind.Load, "W", false, "Power taken by a load."),
        .. Travelling.TravelMeasures.Kinds,
        new("brightness", "of", SubjectKind.Load, "%", false, "Light of a filament lamp over its light at rated voltage."),
        .. Routes.FreeMeasures.Kinds,
        .. GasMeasures.Kinds,
        .. Routes.MeasureFamily.All.SelectMany(f => f.Kinds),
    ];

    /// <summary>The kind a measure is of.</summary>
    /// <exception cref="ArgumentException">No kind has that name and subject.</exception>
    public static MeasureKind KindOf(Measure measure, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(measure);
        ArgumentNullException.ThrowIfNull(apparatus);
        return Kinds.FirstOrDefault(k => k.Name == measure.Kind && (measure.Subject is null || Subjects(k.Subject, apparatus).Contains(measure.Subject, StringComparer.OrdinalIgnoreCase)))
            ?? throw new ArgumentException($"No measure is called '{measure.Kind}'.", nameof(measure));
    }

    /// <summary>Names of everything of one kind of subject in an apparatus.</summary>
    public static IEnumerable<string> Subjects(SubjectKind kind, Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return kind switch
        {
            SubjectKind.Part => apparatus.Parts.Select(p => p.Name),
            SubjectKind.Winding or SubjectKind.TwoWindings => apparatus.Windings.Select(w => w.Name),
            SubjectKind.Supply => apparatus.Supplies.Select(s => s.Name),
            SubjectKind.Load => apparatus.Loads.Select(l => l.Name),
            SubjectKind.Element => apparatus.Board?.Elements.Select(e => e.Name) ?? [],
            SubjectKind.Node => apparatus.Board?.Nodes ?? [],
            SubjectKind.Row => apparatus.Polyphases().Select(p => p.Name),
            _ => [],
        };
    }
}
