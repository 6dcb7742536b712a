using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Supplies;

/// <summary>The ring with a battery and the ring with a lamp, by the circuit route alone.</summary>
public class KickTests
{
    private static Answer Ask(string measure, Apparatus apparatus, string? state = null)
    {
        var asked = Read.Measure(measure, apparatus);
        var circumstances = Circumstances.Of(apparatus, state, asked.Conditions);
        return MeasureOnRoute.Of(MeasureCatalogue.KindOf(asked, apparatus), asked, circumstances, new RouteSession(new CircuitRoute(), 0.01, TestContext.Current.CancellationToken));
    }

    // Charge of the kick two ways: flux over resistance, and the stepped transient summed up.
    [Fact]
    public void Kick_ChargeFromTheFlux_IsThatOfTheTransient()
    {
        var apparatus = Read.Example("battery-kick");
        var point = new CircuitRoute().Solve(apparatus, Wanted.Impedance, 0.01, TestContext.Current.CancellationToken);
        var l = point.Inductance!;
        double[] r = [Fieldwright.Bench.Duty.Warming.Resistance(apparatus.Windings[0], apparatus), 0, 0, Fieldwright.Bench.Duty.Warming.Resistance(apparatus.Windings[1], apparatus)];
        double m = 0.5 * (l[0, 1] + l[1, 0]);
        var (times, currents) = new SupplyCircuit(apparatus, (name, ends) => new Fieldwright.Circuits.Elements.CoupledCoils(name, ends, r, [l[0, 0], m, m, l[1, 1]], [0, 0])).SwitchedOn(12 * l[0, 0] / (r[0] + 1.2));
        double charge = 0, before = 0, time = 0;
        for (int i = 0; i < times.Count; i++)
        {
            charge += 0.5 * (before + currents[1][i]) * (times[i] - time);
            (before, time) = (currents[1][i], times[i]);
        }

        Assert.Equal(Ask("kick charge through galvanometer", apparatus).Value, Math.Abs(charge), 5e-3 * Math.Abs(charge));
    }

    // Broken at once the current dies as e^(−Rt/L), so what it carries in all is peak times L/R: that must be the charge that the flux drives.
    [Fact]
    public void BreakPeak_DyingAway_CarriesTheChargeOfTheKick()
    {
        var apparatus = Read.Example("battery-kick");
        double own = Ask("inductance of secondary", apparatus).Value, resistance = Fieldwright.Bench.Duty.Warming.Resistance(apparatus.Windings[1], apparatus) + 50;
        double charge = Ask("kick charge through galvanometer", apparatus).Value;
        Assert.Equal(charge, Ask("break peak through galvanometer", apparatus).Value * own / resistance, 1e-6 * charge);
    }

    // The chain mains, winding, flux, lamp, by hand for the whole ring: an ideal transformer 240 : 64 with both wires' resistance and the box's 6 Ω, the lamp near its 12 Ω.
    // Magnetising current and leakage are left out, which take about a per cent.
    [Fact]
    public void RingAndLamp_WholeRing_IsNearlyAnIdealTransformer()
    {
        var apparatus = Read.Example("ring-and-lamp");
        double ratio = 240.0 / 64, primary = Fieldwright.Bench.Duty.Warming.Resistance(apparatus.Windings[0], apparatus) + 6, secondary = Fieldwright.Bench.Duty.Warming.Resistance(apparatus.Windings[1], apparatus);
        double current = 24 / ratio / (12 + secondary + primary / (ratio * ratio));
        Assert.Equal(12 * current, Ask("voltage at lamp", apparatus, "closed ring").Value, 0.02 * 12 * current);
        double gap = Ask("voltage at lamp", apparatus, "ring with a gap").Value;
        Assert.InRange(gap, 0.5, 5.9);
        // Without iron the circuit is silent; the field says dark.
        Assert.Equal(Wanted.None, new CircuitRoute().Serves(Circumstances.Of(apparatus, "no iron", []).Apparatus));
    }
}
