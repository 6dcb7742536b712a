using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;

namespace Fieldwright.Bench.Routes;

/// <summary>The energy of the field of an operating point.</summary>
internal static class StoredEnergy
{
    /// <summary>As the route found it, or ½ΣL·I·I of its inductances (mean over a cycle: a quarter of the peaks).</summary>
    public static Answer Of(Apparatus apparatus, OperatingPoint point, RouteName route)
    {
        if (point.StoredEnergy is { } found)
            return new Answer(found.Value, found.Bar, route, point.Remark).Within(point.StoredEnergyBounds, StaticMagnetics.WhyUnbounded(apparatus, route));
        var l = point.Inductance ?? throw new RouteFailedException("The route gave no inductances.");
        double factor = apparatus.Frequency > 0 ? 0.25 : 0.5, energy = 0, spread = 0;
        double? half = point.InductanceBounds is null ? null : 0;
        for (int i = 0; i < apparatus.Windings.Count; i++)
            for (int j = 0; j < apparatus.Windings.Count; j++)
            {
                var (first, second) = (point.Currents[apparatus.Windings[i].Name], point.Currents[apparatus.Windings[j].Name]);
                double product = (System.Numerics.Complex.Conjugate(first) * second).Real;
                var bounds = point.InductanceBounds?[i, j];
                half += bounds?.HalfWidth * Math.Abs(factor * product);
                energy += factor * product * (bounds?.Middle ?? l[i, j]);
                spread += factor * first.Magnitude * second.Magnitude * Math.Sqrt(Math.Abs(l[i, i] * l[j, j]));
            }

        var answer = new Answer(energy, (spread * point.ImpedanceRelativeBar) + (2 * Math.Abs(energy) * point.CurrentRelativeBar), route, point.Remark);
        // currents that are only known to a bar leave nothing that bounds could enclose
        bool known = point.CurrentRelativeBar == 0;
        return answer.Within(half is { } h && known ? new(energy - h, energy + h) : null, half is null || route != RouteName.Field ? StaticMagnetics.WhyUnbounded(apparatus, route) : "its currents are known to a bar only");
    }
}
