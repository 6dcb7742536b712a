using System.Globalization;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Claims;

/// <summary>Where a magnet works on its recoil line, in the mean over its volume: flux density and field strength along its remanence, and what its flux meets outside.</summary>
/// <remarks>H = (B − Bᵣ)/(μᵣμ₀). The flux of a magnet of length L and section A = V/L, against the magnetomotive force −H·L that it has to spare, makes the reluctance.</remarks>
internal sealed class MagnetMeasures : MeasureFamily
{
    private static readonly MeasureKind
        Density = new("working flux density", "of", SubjectKind.Part, "T", false, "Flux density of a magnet along its remanence, mean over its volume."),
        Strength = new("working field strength", "of", SubjectKind.Part, "kA/m", false, "Field strength in a magnet along its remanence, mean over its volume; below zero it works against the remanence."),
        Reluctance = new("reluctance", "seen by", SubjectKind.Part, "MA/Wb", false, "What the way of its flux outside a magnet sets against it: magnetomotive force over flux, both means over its volume.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Density, Strength, Reluctance];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Magnets;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) => apparatus.Frequency == 0 && apparatus.Part(subject!) is { Magnetised: not null } part && (kind != Reluctance || Length(part) > 0)
        ? null : kind == Reluctance ? "a disc, ring, plate or block that is magnetised along one of its own edges" : "a magnet among steady fields";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        var matter = part.Material;
        var point = asked.Point(Wanted.Magnets);
        if (!point.Working.TryGetValue(part.Name, out var density))
            throw new RouteFailedException($"This route does not find where '{part.Name}' works.");
        double permeability = PhysicalConstants.MagneticConstant * matter.RelativePermeability, strength = (density.Value - matter.Remanence) / permeability;
        string knee = matter.Knee is { } k ? string.Create(CultureInfo.InvariantCulture, $"Its knee lies at {-k * 1e-3:0.#} kA/m; at its edges the field is stronger than in the mean.") : "";
        if (asked.Kind == Density)
            return asked.Answer(density.Value, density.Bar, knee, point.Remark);
        if (asked.Kind == Strength)
            return asked.Answer(strength, density.Bar / permeability, knee, point.Remark);
        double length = Length(part), section = Floats.Volume(part.Shape, asked.Apparatus.Depth) / length, flux = density.Value * section;
        if (density.Bar >= Math.Abs(density.Value))
            throw new RouteFailedException($"The flux of '{part.Name}' cannot be told from none.");
        double reluctance = -strength * length / flux;
        return asked.Answer(reluctance, Math.Abs(reluctance) * density.RelativeBar + length * density.Bar / (permeability * Math.Abs(flux)), point.Remark);
    }

    // Length along the remanence; 0 when that lies along none of its edges.
    private static double Length(Part part)
    {
        var (sin, cos) = Math.SinCos(part.Magnetised!.Value * Math.PI / 180);
        bool upright = Math.Abs(cos) < 1e-9, level = Math.Abs(sin) < 1e-9;
        return part.Shape switch
        {
            DiscShape d when upright => d.Thickness,
            RingShape r when upright => r.Height,
            RectangleShape r => upright ? r.Height : level ? r.Width : 0,
            BlockShape b => upright ? b.Thickness : level ? b.Length : 0,
            _ => 0,
        };
    }
}
