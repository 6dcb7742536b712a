using Fieldwright.Bench.Duty;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Motion;
using Fieldwright.Circuits.Supplies;
using Fieldwright.Series.Coils;
using Fieldwright.Series.Rings;

namespace Fieldwright.Bench.Routes;

/// <summary>A part thrown, by coupled rings in motion.</summary>
internal static class RingsShot
{
    /// <summary>Throws a ring, disc or tube.</summary>
    /// <param name="apparatus">The apparatus.</param>
    /// <param name="rings">The part over its coils.</param>
    /// <param name="aim">Relative error of the couplings.</param>
    /// <param name="circuit">Circuit of a supply whose sources are stronger by a factor.</param>
    public static Shot Throw(Apparatus apparatus, CoupledRings rings, double aim, Func<Supply, double, RingCircuit> circuit)
    {
        var part = Releases.Part(apparatus);
        double from = rings.Bodies[0].ZFrom, lift = part.Place.Z - from, way = Shots.Way(apparatus), pace = Shots.Pace(apparatus), longest = Shots.Longest(apparatus);
        // A few points for each length over which the field of a coil changes.
        double scale = rings.Coils.Min(c => Math.Min(c.InnerRadius + c.OuterRadius, rings.Bodies[0].OuterRadius));
        var motion = new RingMotion(rings, Floats.Mass(part), -Releases.Weight(part) - part.Drag, lift, lift + 1.2 * way, 30 + (int)Math.Ceiling(12 * way / scale));
        RingShot Run(double strength) => motion.Shoot([.. apparatus.Supplies.Select(s => circuit(s, strength))], lift, lift + way, longest, Math.Min(pace / 100, longest / 200));
        // The force of a stronger source, by as much as the couplings may err, tells what that error does to the shot.
        RingShot shot = Run(1), stronger = Run(1 + 0.5 * aim);
        Estimate Each(Func<RingShot, Fieldwright.Series.Estimate<double>> of) => new(of(shot).Value, of(shot).Error + Math.Abs(of(stronger).Value - of(shot).Value));
        var heat = new Dictionary<string, Estimate>(StringComparer.OrdinalIgnoreCase);
        double left = 0, leftBar = 0;
        Estimate wire = new(0, 0);
        for (int k = 0; k < apparatus.Supplies.Count; k++)
        {
            var (supply, at) = (apparatus.Supplies[k], k);
            double all = Releases.Resistance(apparatus, supply);
            var circuitHeat = Each(s => s.CircuitHeat[at]);
            wire = new Estimate(wire.Value + circuitHeat.Value, wire.Bar + circuitHeat.Bar);
            foreach (var (winding, _) in Releases.Fed(apparatus, supply))
                heat[winding.Name] = circuitHeat.Times(Warming.Resistance(winding, apparatus) / all);
            if (supply.Capacitance is not { } capacity)
                continue;
            var u = Each(s => s.CapacitorVoltages[at]);
            left += Discharge.StoredEnergy(capacity, u.Value);
            leftBar += capacity * Math.Abs(u.Value) * u.Bar + 0.5 * capacity * u.Bar * u.Bar;
        }

        var top = Each(s => s.Top);
        return new Shot(shot.Left && stronger.Left, Each(s => s.Time), Each(s => s.Speed), top with { Value = from + top.Value }, Each(s => s.BodyHeat), heat, wire, new Estimate(left, leftBar), Each(s => s.FieldEnergy), shot.Force);
    }
}
