using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits.Magnetic;

namespace Fieldwright.Bench.Routes;

/// <summary>The circuit route: one ring of steel with coils on it, as reluctances in series and a leakage for each coil.</summary>
internal sealed class CircuitRoute : IRoute
{
    private const int MostRounds = 400;

    private static readonly string Reservation =
        "Lumped reluctances: the bar is half of what fringing and leakage add, and a tenth for the steel; short wide windows are worse still.";

    /// <inheritdoc/>
    public RouteName Name => RouteName.Circuit;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        bool serves = apparatus.Layout == Layout.Long && apparatus.Frequency > 0 && apparatus.Windings.Count > 0
            && apparatus.Parts.Count == 1 && apparatus.Parts[0] is { Shape: CoreShape } core && Magnetic(core) && !FieldModels.Conducts(core)
            && apparatus.Windings.All(w => w.Space is LimbSpace);
        return serves ? Wanted.Impedance | Wanted.Flux : Wanted.None;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var part = apparatus.Parts[0];
        var shape = (CoreShape)part.Shape;
        var ring = new CutRing(shape.InnerRadius, shape.OuterRadius, apparatus.Depth!.Value, shape.Gap, part.Material.Curve, part.Material.RelativePermeability, part.StackingFactor);
        double[] leakage = [.. apparatus.Windings.Select(w => Leakage(w, apparatus))];
        double flux = 1e-3 * ring.Section;
        IReadOnlyDictionary<string, Complex> currents = new Dictionary<string, Complex>();
        for (int round = 0; ; round++)
        {
            cancellation.ThrowIfCancellationRequested();
            currents = SupplyNetwork.Currents(apparatus, Impedance(apparatus, ring.SteelReluctance(flux) + ring.GapReluctance, leakage));
            double next = ring.Flux(Force(apparatus, currents).Magnitude);
            if (Math.Abs(next - flux) <= 1e-9 * ring.Section)
                break;
            // Saturation answers a change of current with a change of inductance against it; half steps in the logarithm settle it.
            flux = Math.Sqrt(Math.Max(flux, 1e-12 * ring.Section) * Math.Max(next, 1e-12 * ring.Section));
            if (round == MostRounds)
                throw new RouteFailedException("Saturated steel and its supply did not settle on one current.");
        }

        double total = ring.SteelReluctance(flux) + ring.GapReluctance;
        double bar = RelativeBar(ring, total, flux, leakage);
        var z = Impedance(apparatus, total, leakage);
        double spread = SupplyNetwork.IsImposed(apparatus) ? 0 : Spread(apparatus, z, currents, bar);
        var estimate = new Estimate(flux, flux * (bar + spread));
        return new OperatingPoint
        {
            Currents = currents,
            CurrentRelativeBar = spread,
            Impedance = z,
            Inductance = FieldModels.Inductances(z, apparatus.Frequency),
            ImpedanceRelativeBar = bar,
            Flux = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase) { [part.Name] = estimate },
            GapPull = shape.Gap == 0 ? new Dictionary<string, Estimate>()
                : new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase) { [part.Name] = new(0.5 * ring.Pull(flux), ring.Pull(flux) * estimate.RelativeBar) },
            Remark = Reservation,
        };
    }

    private static double RelativeBar(CutRing ring, double total, double flux, double[] leakage)
    {
        double gapShare = ring.GapReluctance / total, steelShare = ring.SteelReluctance(flux) / total;
        double fringing = ring.Gap == 0 ? 0 : ring.FringingPermeance / (ring.FacePermeance + ring.FringingPermeance);
        return 0.5 * fringing * gapShare + 0.1 * steelShare + 0.5 * leakage.Max() * total;
    }

    private static double Spread(Apparatus apparatus, Complex[,] z, IReadOnlyDictionary<string, Complex> currents, double bar)
    {
        var shifted = (Complex[,])z.Clone();
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
                shifted[i, j] = new Complex(z[i, j].Real, z[i, j].Imaginary * (1 + bar));
        double size = currents.Values.Max(c => c.Magnitude);
        return SupplyNetwork.Currents(apparatus, shifted).Max(c => (c.Value - currents[c.Key]).Magnitude) / size;
    }

    private static Complex[,] Impedance(Apparatus apparatus, double reluctance, double[] leakage)
    {
        var z = FieldModels.Resistances(apparatus);
        double omega = 2 * Math.PI * apparatus.Frequency;
        for (int i = 0; i < leakage.Length; i++)
            for (int j = 0; j < leakage.Length; j++)
                z[i, j] += new Complex(0, omega * apparatus.Windings[i].Turns * apparatus.Windings[j].Turns * (1 / reluctance + (i == j ? leakage[i] : 0)));
        return z;
    }

    private static Complex Force(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents) =>
        apparatus.Windings.Aggregate(Complex.Zero, (sum, w) => sum + w.Turns * currents[w.Name]);

    private static double Leakage(Winding winding, Apparatus apparatus)
    {
        var space = (LimbSpace)winding.Space;
        return WindingLeakage.Permeance(Warming.MeanTurn(winding, apparatus), space.Clearance, space.Build, space.Length);
    }

    private static bool Magnetic(Part core) => core.Material.Curve is not null || core.Material.RelativePermeability > 10;
}
