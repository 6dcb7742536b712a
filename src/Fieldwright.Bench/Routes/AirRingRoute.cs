using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Series.Coils;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for coils on the limb of a ring that is taken away, or of no iron: the Neumann integral of their true shapes in space.</summary>
internal sealed class AirRingRoute : IRoute
{
    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus) => apparatus.Layout == Layout.Long && apparatus.Windings.Count > 0 && apparatus.Windings.All(w => w.Space is LimbSpace)
        && apparatus.Windings.Select(w => ((LimbSpace)w.Space).Core).Distinct(StringComparer.OrdinalIgnoreCase).Count() == 1
        && apparatus.Parts.All(p => p.Magnetised is null && p.Material.Curve is null && p.Material.RelativePermeability == 1 && (apparatus.Frequency == 0 || !FieldModels.Conducts(p)))
        ? Wanted.Impedance : Wanted.None;

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var coils = apparatus.Windings.Select(w => Coil(w, apparatus)).ToList();
        var z = FieldModels.Resistances(apparatus);
        var l = new double[coils.Count, coils.Count];
        double bar = 0, omega = 2 * Math.PI * apparatus.Frequency;
        for (int i = 0; i < coils.Count; i++)
        {
            var self = coils[i].SelfInductance();
            l[i, i] = self.Value;
            bar = Math.Max(bar, self.Error / self.Value);
        }

        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < coils.Count; j++)
            {
                if (j < i)
                {
                    var mutual = LimbCoil.MutualInductance(coils[i], coils[j]);
                    l[i, j] = l[j, i] = mutual.Value;
                    bar = Math.Max(bar, mutual.Error / Math.Sqrt(l[i, i] * l[j, j]));
                }
            }

        for (int i = 0; i < coils.Count; i++)
            for (int j = 0; j < coils.Count; j++)
                z[i, j] += new Complex(0, omega * l[i, j]);
        var currents = SupplyNetwork.Currents(apparatus, z);
        return new OperatingPoint
        {
            Currents = currents,
            CurrentRelativeBar = SupplyNetwork.IsImposed(apparatus) || omega == 0 ? 0 : SupplyNetwork.Spread(apparatus, z, currents, bar),
            Impedance = z,
            Inductance = l,
            ImpedanceRelativeBar = bar,
            Remark = "Coils of square-cornered turns in air; wire and its insulation are spread evenly.",
        };
    }

    private static LimbCoil Coil(Winding winding, Apparatus apparatus)
    {
        var limb = (LimbSpace)winding.Space;
        var core = (CoreShape)apparatus.Part(limb.Core)!.Shape;
        return new LimbCoil(core.InnerRadius, core.OuterRadius, apparatus.Depth!.Value, limb.Clearance, limb.Build, limb.CentredAt * Math.PI / 180,
            limb.Length / (0.5 * (core.InnerRadius + core.OuterRadius)), winding.Turns);
    }
}
