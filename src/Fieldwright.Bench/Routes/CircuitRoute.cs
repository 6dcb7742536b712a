using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Magnetic;
using Fieldwright.Matter;

namespace Fieldwright.Bench.Routes;

/// <summary>The circuit route: one ring of steel with coils on it, as a chain of reluctances with leakage from everywhere.</summary>
internal sealed class CircuitRoute : IRoute
{
    // What the magnetic circuit states of itself against a plane field while the gap is narrow: a few per cent of each inductance.
    private const double OwnBar = 0.03;

    private const string Reservation = "Lumped reluctances: the bar is what the flat faces could leak, and three per cent for the model itself.";

    /// <inheritdoc/>
    public RouteName Name => RouteName.Circuit;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        bool serves = apparatus.Layout == Layout.Long && apparatus.Windings.Count > 0
            && apparatus.Parts is [{ Shape: CoreShape } core] && (core.Material.Curve is not null || core.Material.RelativePermeability >= 30)
            && !FieldModels.Conducts(core) && apparatus.Windings.All(w => w.Space is LimbSpace);
        return serves ? Wanted.Impedance | Wanted.Flux : Wanted.None;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        try
        {
            var part = apparatus.Parts[0];
            var ring = Ring(apparatus, LeakageFrom.AllFaces);
            bool direct = apparatus.Frequency == 0;
            RingState At(GappedRing its, IReadOnlyDictionary<string, Complex> currents) => direct
                ? its.Steady([.. apparatus.Windings.Select(w => currents[w.Name].Real)])
                : its.Alternating([.. apparatus.Windings.Select(w => currents[w.Name])]);
            var start = apparatus.Windings.ToDictionary(w => w.Name, _ => Complex.One * 1e-3, StringComparer.OrdinalIgnoreCase);
            // Resistance alone sets a direct current.
            var currents = direct
                ? SupplyNetwork.Currents(apparatus, FieldModels.Resistances(apparatus))
                : SupplyNetwork.Settle(apparatus, start, c => Impedance(apparatus, At(ring, c)), 1e-6, cancellation);
            RingState state = At(ring, currents), plane = At(Ring(apparatus, LeakageFrom.BoreAndOutside), currents);
            double bar = OwnBar + Enumerable.Range(0, apparatus.Windings.Count).Max(i => Math.Abs(1 - plane.Inductances[i, i] / state.Inductances[i, i]));
            var z = Impedance(apparatus, state);
            double spread = direct || SupplyNetwork.IsImposed(apparatus) ? 0 : SupplyNetwork.Spread(apparatus, z, currents, bar);
            double flux = state.Fluxes[state.Fluxes.Count / 2].Magnitude;
            return new OperatingPoint
            {
                Currents = currents,
                CurrentRelativeBar = spread,
                Impedance = z,
                Inductance = state.Inductances,
                ImpedanceRelativeBar = bar,
                Flux = One(part.Name, new Estimate(flux, flux * (bar + spread))),
                Cores = new Dictionary<string, CoreBudget>(StringComparer.OrdinalIgnoreCase)
                {
                    [part.Name] = CoreBudget.Divided(new Estimate(state.GapAmpereTurns, 0), state.IronAmpereTurns, spread, bar,
                        new Estimate(state.LeakageShare, Math.Abs(state.LeakageShare - plane.LeakageShare) + OwnBar)),
                },
                GapPull = state.GapFluxDensity is { } density ? One(part.Name, Pull((CoreShape)part.Shape, apparatus.Depth!.Value, density, bar + spread, direct)) : One(),
                Remark = Reservation,
            };
        }
        catch (NetworkNotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <summary>The ring of an apparatus that this route serves, at given currents.</summary>
    internal static RingState StateOf(Apparatus apparatus, IReadOnlyDictionary<string, Complex> currents)
    {
        var ring = Ring(apparatus, LeakageFrom.AllFaces);
        return apparatus.Frequency == 0
            ? ring.Steady([.. apparatus.Windings.Select(w => currents[w.Name].Real)])
            : ring.Alternating([.. apparatus.Windings.Select(w => currents[w.Name])]);
    }

    private static Dictionary<string, Estimate> One(string? name = null, Estimate value = default) =>
        name is null ? [] : new(StringComparer.OrdinalIgnoreCase) { [name] = value };

    // The faces' own field only: B² A / 2μ₀, and half of that as the mean over a cycle of peak B.
    private static Estimate Pull(CoreShape core, double depth, double density, double bar, bool direct)
    {
        double pull = density * density * (core.OuterRadius - core.InnerRadius) * depth / ((direct ? 2 : 4) * PhysicalConstants.MagneticConstant);
        return new Estimate(pull, 2 * bar * pull);
    }

    private static Complex[,] Impedance(Apparatus apparatus, RingState state)
    {
        var z = FieldModels.Resistances(apparatus);
        for (int i = 0; i < z.GetLength(0); i++)
            for (int j = 0; j < z.GetLength(1); j++)
                z[i, j] += new Complex(0, 2 * Math.PI * apparatus.Frequency * state.Inductances[i, j]);
        return z;
    }

    private static GappedRing Ring(Apparatus apparatus, LeakageFrom leakage)
    {
        const double Degree = Math.PI / 180;
        var part = apparatus.Parts[0];
        var shape = (CoreShape)part.Shape;
        var matter = new PathMatter(part.Material.Curve, part.Material.RelativePermeability, part.StackingFactor);
        var core = new RingCore(shape.InnerRadius, shape.OuterRadius, apparatus.Depth!.Value, matter, shape.Gap, shape.GapAt * Degree);
        return GappedRing.Create(core, [.. apparatus.Windings.Select(w => (w, (LimbSpace)w.Space)).Select(t =>
            new LimbCoil(t.w.Name, t.w.Turns, t.Item2.CentredAt * Degree, t.Item2.Length, t.Item2.Build, t.Item2.Clearance))], leakage);
    }
}
