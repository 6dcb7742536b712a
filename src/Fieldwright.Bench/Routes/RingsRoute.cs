using System.Globalization;
using System.Numerics;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Series;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;

namespace Fieldwright.Bench.Routes;

/// <summary>The series route for round apparatus: coaxial coils and discs, rings and tubes of metal that is not magnetic, as coupled rings.</summary>
internal sealed class RingsRoute : IReleasingRoute, IThrowingRoute
{
    // Ring–ring couplings do not change when a body is raised or a current turned, so they are kept from one point to the next.
    private readonly Dictionary<string, CoupledRings> kept = [];

    /// <inheritdoc/>
    public RouteName Name => RouteName.Series;

    /// <inheritdoc/>
    public Wanted Serves(Apparatus apparatus)
    {
        bool moves = double.IsFinite(Shots.Pace(apparatus));
        bool serves = apparatus.Layout == Layout.Round && moves && apparatus.Windings.Count > 0
            && apparatus.Windings.All(w => w.Space is RoundSpace) && apparatus.Parts.Any(FieldModels.Conducts)
            && apparatus.Parts.All(p => p.Shape is DiscShape or RingShape && p.Material.Curve is null && p.Material.RelativePermeability == 1 && p.Magnetised is null);
        var wanted = serves && apparatus.Frequency > 0 ? Wanted.Forces | Wanted.Heat | Wanted.Impedance : Wanted.None;
        if (serves && apparatus.Frequency > 0 && apparatus.Parts is [var alone] && Floats.MassIsKnown(alone))
            wanted |= Wanted.Sideways;
        if (serves && apparatus.Parts.Count == 1 && Releases.Suits(apparatus))
            wanted |= Shots.Suits(apparatus) ? Wanted.Release | Wanted.Shot : Wanted.Release;
        return wanted;
    }

    /// <inheritdoc/>
    public OperatingPoint Solve(Apparatus apparatus, Wanted wanted, double relativeTarget, CancellationToken cancellation)
    {
        var parts = apparatus.Parts.Where(FieldModels.Conducts).ToList();
        var coils = apparatus.Windings.Select(Coil).ToList();
        try
        {
            var rings = Rings(apparatus, parts, coils, Math.Min(1e-3, 0.1 * relativeTarget));
            var response = rings.At([.. parts.Select((p, i) => p.Place.Z - rings.Bodies[i].ZFrom)]);
            var (z, bar) = Impedance(apparatus, response);
            var currents = SupplyNetwork.Currents(apparatus, z);
            double spread = SupplyNetwork.IsImposed(apparatus) ? 0 : bar;
            var solution = response.With([.. apparatus.Windings.Select(w => currents[w.Name])]);
            Dictionary<string, Estimate> Each(Func<int, Estimate<double>> of) => parts.Select((p, i) => (p.Name, of(i))).ToDictionary(
                t => t.Name, t => new Estimate(t.Item2.Value, t.Item2.Error + 2 * spread * Math.Abs(t.Item2.Value)), StringComparer.OrdinalIgnoreCase);
            return new OperatingPoint
            {
                Currents = currents,
                CurrentRelativeBar = spread,
                Strays = wanted.HasFlag(Wanted.Sideways) ? new(StringComparer.OrdinalIgnoreCase)
                {
                    [parts[0].Name] = new(() => DiscStray.Of(parts[0], apparatus, (currents, spread), Math.Clamp(0.05 * relativeTarget, 1e-5, 1e-3))),
                } : new Dictionary<string, Lazy<DiscStray>>(),
                ForceUp = Each(solution.Lift),
                Heat = Each(solution.Loss),
                Impedance = z,
                Inductance = FieldModels.Inductances(z, apparatus.Frequency),
                ImpedanceRelativeBar = bar,
            };
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public Flight Release(Apparatus apparatus, double time, double relativeTarget, CancellationToken cancellation)
    {
        var part = Releases.Part(apparatus);
        double lowest = Releases.Lowest(apparatus), height = part.Place.Z, weight = Releases.Weight(part);
        double aim = Math.Min(1e-3, 0.1 * relativeTarget);
        try
        {
            var rings = Rings(apparatus, [part], [.. apparatus.Windings.Select(Coil)], aim);
            double from = rings.Bodies[0].ZFrom;
            var motion = new RingMotion(rings, Floats.Mass(part), -weight, height + lowest - from, height - from + 3 * Floats.Of(apparatus, part).Span);
            RingTrack Run(double strength) => motion.Release([.. apparatus.Supplies.Select(s => Circuit(apparatus, s, strength))], height - from, time, 0.01 * Shots.Pace(apparatus));
            // The lift of a stronger source, by as much as the couplings may err, tells what that error does to the flight.
            RingTrack track = Run(1), stronger = Run(1 + 0.5 * aim);
            return new Flight(
                new Estimate(from + track.Lift.Value, track.Lift.Error + Math.Abs(stronger.Lift.Value - track.Lift.Value)),
                new Estimate(track.Speed.Value, track.Speed.Error + Math.Abs(stronger.Speed.Value - track.Speed.Value)));
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    /// <inheritdoc/>
    public Shot Throw(Apparatus apparatus, double relativeTarget, CancellationToken cancellation)
    {
        double aim = Math.Min(1e-3, 0.1 * relativeTarget);
        try
        {
            return RingsShot.Throw(apparatus, Rings(apparatus, [Releases.Part(apparatus)], [.. apparatus.Windings.Select(Coil)], aim), aim, (s, strength) => Circuit(apparatus, s, strength));
        }
        catch (NotConvergedException e)
        {
            throw new RouteFailedException(e.Message, e);
        }
    }

    private static RingCircuit Circuit(Apparatus apparatus, Supply supply, double strength)
    {
        var source = Releases.Source(apparatus, supply);
        var fed = Releases.Fed(apparatus, supply).ToList();
        double? resistance = supply.Current is null ? Releases.Resistance(apparatus, supply) : null;
        return new RingCircuit([.. fed.Select(f => (apparatus.IndexOf(f.Winding), f.Sense))], t => strength * source(t), resistance)
        {
            Capacitance = supply.Capacitance, CapacitorVoltage = supply.Capacitance is null ? 0 : strength * supply.Voltage!.Value, ClosesAt = supply.Delay,
        };
    }

    private CoupledRings Rings(Apparatus apparatus, List<Part> parts, List<ThickCoil> coils, double relativeError)
    {
        var bodies = parts.Select(p => Body(p, apparatus.Ambient)).ToList();
        // The currents of a bank are described as finely as those of the second harmonic of its swing.
        double frequency = apparatus.Frequency > 0 ? apparatus.Frequency : 2 / Shots.Pace(apparatus);
        string key = string.Create(CultureInfo.InvariantCulture, $"{frequency:R} {relativeError:R}")
            + string.Concat(bodies.Select(b => string.Create(CultureInfo.InvariantCulture, $"|{b.InnerRadius:R} {b.OuterRadius:R} {b.ZTo - b.ZFrom:G12} {b.Conductivity:R}")))
            + string.Concat(coils.Select(c => string.Create(CultureInfo.InvariantCulture, $"|{c.InnerRadius:R} {c.OuterRadius:R} {c.ZFrom:R} {c.ZTo:R} {c.Turns:R}")));
        if (!kept.TryGetValue(key, out var rings))
            kept[key] = rings = new CoupledRings(bodies, coils, frequency, relativeError);
        return rings;
    }

    private static (Complex[,] Impedance, double RelativeBar) Impedance(Apparatus apparatus, RingResponse response)
    {
        var z = FieldModels.Resistances(apparatus);
        double bar = 0;
        for (int i = 0; i < apparatus.Windings.Count; i++)
            for (int j = 0; j < apparatus.Windings.Count; j++)
            {
                var mutual = response.Impedance(i, j);
                z[i, j] += mutual.Value;
                if (i == j)
                    bar = Math.Max(bar, mutual.Error / mutual.Value.Magnitude);
            }

        return (z, bar);
    }

    internal static ThickCoil Coil(Winding winding)
    {
        var space = (RoundSpace)winding.Space;
        return new ThickCoil(space.InnerRadius, space.OuterRadius, space.FromZ, space.ToZ, winding.Turns);
    }

    private static RingBody Body(Part part, double ambient) => part.Shape switch
    {
        DiscShape d => new RingBody(0, d.Radius, part.Place.Z, part.Place.Z + d.Thickness, part.Material.ConductivityAt(ambient)),
        RingShape r => new RingBody(r.InnerRadius, r.OuterRadius, part.Place.Z, part.Place.Z + r.Height, part.Material.ConductivityAt(ambient)),
        _ => throw new RouteFailedException($"'{part.Name}' has no rectangular section."),
    };
}
