using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Fields;
using Fieldwright.Fields.ErrorEstimates;
using Fieldwright.Numerics;

namespace Fieldwright.Bench.Routes;

/// <summary>Inductances and energy without eddy currents, between bounds from two complementary solutions.</summary>
/// <remarks>Round apparatus only: what a plane field leaves out at the ends of its depth has no bounds. In steel that saturates an inductance is the flux linkage with one
/// winding's own current, the others open, over that current.</remarks>
internal static class StaticMagnetics
{
    // What stands for no current where a slope at zero is wanted.
    private const double Trace = 1e-3;

    /// <summary>Bounds of the inductances of linear matter in which nothing is induced; null where there are none.</summary>
    public static Bracket?[,]? Bounds(Apparatus apparatus, MagneticField field)
    {
        if (apparatus.Layout != Layout.Round || apparatus.Windings.Count == 0 || apparatus.Parts.Any(p => p.Material.Curve is not null))
            return null;
        if (apparatus.Frequency > 0 && apparatus.Parts.Any(FieldModels.Conducts))
            return null;
        var still = field as StaticField ?? StaticField.Solve(field.Meshed.With(field.Model with { Frequency = 0, Windings = [.. field.Model.Windings.Select(w => w with { Drive = new ImposedCurrent(1) })] }));
        var bounds = Complementary.Inductances(still);
        int n = bounds.GetLength(0);
        var result = new Bracket?[n, n];
        for (int i = 0; i < n; i++)
            for (int j = 0; j < n; j++)
                result[i, j] = bounds[i, j];
        return result;
    }

    /// <summary>Why the field route gives no bounds of an energy; empty for other routes, which never do.</summary>
    public static string WhyUnbounded(Apparatus apparatus, RouteName route) => route != RouteName.Field ? ""
        : apparatus.Layout != Layout.Round ? "a plane section does not see its ends"
        : apparatus.Frequency > 0 && apparatus.Parts.Any(FieldModels.Conducts) ? "induced currents flow"
        : apparatus.Frequency > 0 && apparatus.Parts.Any(p => p.Material.Curve is not null) ? "steel saturates under alternating current"
        : "";

    /// <summary>Why the field route gives no bounds of an inductance.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="route">The route that answered.</param>
    /// <param name="winding">The winding; null between two.</param>
    public static string WhyUnbounded(Apparatus apparatus, RouteName route, string? winding) => route != RouteName.Field ? ""
        : WhyUnbounded(apparatus, route) is { Length: > 0 } general ? general
        : !apparatus.Parts.Any(p => p.Material.Curve is not null) ? ""
        : winding is null ? "mutual inductance in steel that saturates"
        : apparatus.Parts.Any(p => p.Magnetised is not null) ? "a magnet links the winding without a current"
        : "no current flows in it";

    /// <summary>A static point with its energy and, in steel that saturates, inductances by linkage, all bounded where they can be.</summary>
    public static OperatingPoint Added(OperatingPoint point, Apparatus apparatus, StaticField field, CancellationToken cancellation)
    {
        bool round = apparatus.Layout == Layout.Round;
        var energy = AdaptiveField.Judge(field, [new EnergyGoal("energy")])[0];
        (Bracket Energy, Bracket Linked)? bounds = round ? Complementary.EnergyAndLinked(field, cancellation) : null;
        point = point with
        {
            StoredEnergy = new Estimate(energy.Value, energy.ErrorBar + (energy.Value * point.ImpedanceRelativeBar)),
            StoredEnergyBounds = bounds?.Energy,
        };
        return apparatus.Parts.Any(p => p.Material.Curve is not null) ? ByLinkage(point, apparatus, field, bounds?.Linked, cancellation) : point;
    }

    private static OperatingPoint ByLinkage(OperatingPoint point, Apparatus apparatus, StaticField field, Bracket? linked, CancellationToken cancellation)
    {
        bool round = linked is not null;
        int n = apparatus.Windings.Count;
        var inductance = new double[n, n];
        var bounds = new Bracket?[n, n];
        for (int j = 0; j < n; j++)
        {
            double own = point.Currents[apparatus.Windings[j].Name].Real, current = own == 0 ? Trace : own;
            var alone = StaticField.Solve(field.Meshed.With(field.Model with
            {
                Windings = [.. field.Model.Windings.Select((w, k) => w with { Drive = new ImposedCurrent(k == j ? new Complex(current, 0) : 0) })],
            }), cancellation);
            for (int i = 0; i < n; i++)
                inductance[i, j] = alone.FluxLinkage(apparatus.Windings[i].Name) / current;
            // remanence would link the winding without a current
            if (round && own != 0 && apparatus.Parts.All(p => p.Magnetised is null))
                // what a single winding links is bounded with the energy already
                bounds[j, j] = n == 1 ? linked!.Value.Times(1 / (current * current)) : Complementary.FluxLinkage(alone, apparatus.Windings[j].Name, cancellation).Times(1 / current);
        }

        return point with { Inductance = inductance, InductanceBounds = round ? bounds : null };
    }
}
