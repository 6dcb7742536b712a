using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Travelling;

/// <summary>A liquid in a channel set beside mercury, the liquid of the old books: how much harder the same coils push it.</summary>
/// <remarks>Mercury needs licensed handling; gallium–indium–tin is the usual substitute. Only its number enters here.</remarks>
internal sealed class LiquidMeasures : MeasureFamily
{
    private static readonly MeasureKind
        Pressure = new("pressure against mercury", "of", SubjectKind.Part, "%", false, "Standstill pressure with the liquid there is over that with mercury in its place."),
        Conductivity = new("conductivity against mercury", "of", SubjectKind.Part, "%", false, "Conductivity of a part over that of mercury, at the temperature of the hall.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Pressure, Conductivity];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => kind == Pressure ? Wanted.Forces : Wanted.None;

    /// <inheritdoc/>
    public override bool StandsAlone(MeasureKind kind) => kind == Conductivity;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) => apparatus.Part(subject!) is not { Channel: not null, Shape: RectangleShape } part ? "a channel of liquid in a travelling field"
        : part.Material.Conductivity > 0 ? null : "a liquid that conducts";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var part = asked.Apparatus.Part(asked.Measure.Subject!)!;
        var mercury = Materials.Find("mercury")!;
        if (asked.Kind == Conductivity)
            return asked.Answer(part.Material.ConductivityAt(asked.Apparatus.Ambient) / mercury.ConductivityAt(asked.Apparatus.Ambient), 0, "From the tables: " + mercury.Name + " 1.04 MS/m, from memory.");
        var beside = asked.Circumstances.With(new Setting(new InputName("material", part.Name, "material of " + part.Name), double.NaN, mercury.Name));
        var (here, remark) = TravelMeasures.Thrust(asked.Session!, TravelMeasures.AtSpeed(asked.Circumstances, part, 0), part);
        var (there, _) = TravelMeasures.Thrust(asked.Session!, TravelMeasures.AtSpeed(beside, beside.Apparatus.Part(part.Name)!, 0), beside.Apparatus.Part(part.Name)!);
        if (there.Value == 0)
            throw new RouteFailedException("Nothing would push mercury here.");
        double ratio = here.Value / there.Value;
        return asked.Answer(ratio, Math.Abs(ratio) * (here.RelativeBar + there.RelativeBar), remark);
    }
}
