namespace Fieldwright.Bench.Model;

/// <summary>Parts that move together, polyphase windings, and the field that travels past them.</summary>
public static class Travel
{
    /// <summary>The polyphase windings of an apparatus, each once.</summary>
    public static IReadOnlyList<Polyphase> Polyphases(this Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        return [.. apparatus.Windings.Select(w => w.Space).OfType<PhaseSpace>().Select(p => p.Of).DistinctBy(p => p.Name)];
    }

    /// <summary>The part whose motion a part shares: itself, or the one it goes with.</summary>
    public static Part LeadOf(this Apparatus apparatus, Part part)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(part);
        return part.GoesWith is { } name && apparatus.Part(name) is { } lead ? lead : part;
    }

    /// <summary>A part with all that is fixed to it.</summary>
    public static IReadOnlyList<Part> Body(this Apparatus apparatus, Part lead)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        ArgumentNullException.ThrowIfNull(lead);
        return [.. apparatus.Parts.Where(p => ReferenceEquals(p, lead) || (p.GoesWith is { } name && Apparatus.Same(name, lead.Name)))];
    }

    /// <summary>Whether a part leads a body that moves or may move.</summary>
    public static bool Leads(Part part)
    {
        ArgumentNullException.ThrowIfNull(part);
        return part.GoesWith is null && (part.Freedom != Freedom.Fixed || part.Speed != 0 || part.TurningSpeed != 0 || part.Channel is not null);
    }

    /// <summary>Speed of the field that windings and supplies send along, m/s (rad/s for a stator): positive along the travel; null when nothing travels.</summary>
    public static double? FieldSpeed(this Apparatus apparatus)
    {
        ArgumentNullException.ThrowIfNull(apparatus);
        if (apparatus.Polyphases() is not [var first, ..] || apparatus.SupplyOf(first.NameOf(0)) is not { Frequency: > 0 } supply)
            return null;
        return (supply.Backwards ? -1 : 1) * first.FieldSpeed(supply.Frequency);
    }
}
