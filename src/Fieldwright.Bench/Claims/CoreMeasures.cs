using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;

namespace Fieldwright.Bench.Claims;

/// <summary>Where the ampere-turns of a ring with coils are spent, and how much of its flux leaks on the way; peak when the current alternates.</summary>
internal sealed class CoreMeasures : MeasureFamily
{
    private static readonly MeasureKind
        Across = new("ampere-turns across gap", "of", SubjectKind.Part, "A", false, "Ampere-turns that drive the flux of a core across its gap, peak when the current alternates; none where it is closed."),
        Along = new("ampere-turns along steel", "of", SubjectKind.Part, "A", false, "Ampere-turns that drive the flux of a core along its steel, peak when the current alternates."),
        Leakage = new("leakage share", "of", SubjectKind.Part, "%", false, "Share of the greatest flux of a core that does not get through the section of least flux: what leaks on the way.");

    /// <inheritdoc/>
    public override IReadOnlyList<MeasureKind> Kinds { get; } = [Across, Along, Leakage];

    /// <inheritdoc/>
    public override Wanted Needs(MeasureKind kind, Apparatus apparatus) => Wanted.Flux;

    /// <inheritdoc/>
    public override string? Missing(MeasureKind kind, string? subject, Apparatus apparatus) =>
        apparatus.Part(subject!)!.Shape is CoreShape && apparatus.Windings.Count > 0 ? null : "a core with a coil on it";

    /// <inheritdoc/>
    public override Answer Answer(Asked asked)
    {
        var point = asked.Point(Wanted.Flux);
        if (!point.Cores.TryGetValue(asked.Measure.Subject!, out var budget))
            throw new RouteFailedException($"This route does not find where the ampere-turns of '{asked.Measure.Subject}' are spent.");
        var found = asked.Kind == Across ? budget.Gap : asked.Kind == Along ? budget.Steel : budget.Leakage;
        return asked.Answer(found.Value, found.Bar, point.Remark);
    }
}
