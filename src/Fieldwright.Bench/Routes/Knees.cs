using System.Globalization;
using Fieldwright.Fields;

namespace Fieldwright.Bench.Routes;

/// <summary>What is said of magnets driven beyond the knee of their curve.</summary>
internal static class Knees
{
    /// <summary>A sentence for each such magnet; empty when there is none or no knee is known.</summary>
    public static string Remark(MagneticField field) => string.Join(' ', ((field as StaticField)?.MagnetsBeyondKnee() ?? []).Select(m => string.Create(
        CultureInfo.InvariantCulture,
        $"The magnet '{field.Model.MatterOf(m.Region).Name}' is driven beyond its knee in {Share(m.ShareBeyondKnee)} of its volume, down to {m.LeastFieldStrength / 1e3:0} kA/m: there it loses strength for good, which this answer leaves out.")));

    private static string Share(double share) => share < 0.01 ? "less than 1 %" : string.Create(CultureInfo.InvariantCulture, $"{100 * share:0} %");
}
