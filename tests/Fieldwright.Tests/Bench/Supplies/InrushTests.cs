using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Supplies;

/// <summary>What flows in the first moments.</summary>
public class InrushTests
{
    // Without resistance dΨ/dt = V̂ sin ωt from zero swings to 2 V̂/ω, whatever the steel; with a bend at Ψs the rest goes through the second slope.
    [Fact]
    public void SteelInrush_BentCurveWithoutResistance_TakesTheRestThroughTheSecondSlope()
    {
        const double Peak = 30, Frequency = 50, Bend = 0.12, First = 0.5, Second = 0.02;
        double swing = 2 * Peak / (2 * Math.PI * Frequency);
        double Current(double psi) => Math.Abs(psi) <= Bend ? psi / First : Math.Sign(psi) * (Bend / First + (Math.Abs(psi) - Bend) / Second);
        Assert.Equal(Bend / First + (swing - Bend) / Second, SteelInrush.FirstPeak(Current, Peak, Frequency, 0), 1e-4);
        Assert.Equal(Bend / First + (swing + 0.05 - Bend) / Second, SteelInrush.FirstPeak(Current, Peak, Frequency, 0, 0.05), 1e-4);
    }

    // A straight coil has a closed form: i = V̂/Z [sin(ωt − φ) + sin φ e^(−Rt/L)].
    [Theory]
    [InlineData(2, 0.01), InlineData(5, 0.003), InlineData(0.5, 0.05)]
    public void SteelInrush_StraightCurve_IsTheClosedForm(double resistance, double inductance)
    {
        const double Omega = 100 * Math.PI;
        double z = double.Hypot(resistance, Omega * inductance), phi = Math.Atan2(Omega * inductance, resistance);
        double most = Enumerable.Range(0, 4001).Max(k => k * 0.02 / 4000 is var t ? 40 / z * Math.Abs(Math.Sin(Omega * t - phi) + Math.Sin(phi) * Math.Exp(-resistance * t / inductance)) : 0);
        Assert.Equal(most, SteelInrush.FirstPeak(psi => psi / inductance, 40, 50, resistance), 1e-4 * most);
    }

    // Two meshes by hand with the filament cold, twelve thirteenths of an ohm, and the inductances that the same route gives.
    [Fact]
    public void Inrush_ColdLampOfTheRing_ClosesItsTwoMeshes()
    {
        var ring = Read.Example("ring-and-lamp");
        const string State = "ring with a gap";
        double l1 = Ask("inductance of primary", ring, State), l2 = Ask("inductance of secondary", ring, State), m = Ask("mutual inductance of primary and secondary", ring, State);
        double r1 = Ask("resistance of primary", ring, State) + 6, r2 = Ask("resistance of secondary", ring, State) + 12.0 / 13;
        var j = new System.Numerics.Complex(0, 100 * Math.PI);
        var lamp = j * m * 24 * Math.Sqrt(2) / ((r1 + j * l1) * (r2 + j * l2) - j * m * j * m);
        Assert.Equal(lamp.Magnitude, Ask("inrush through lamp", ring, State), 0.005 * lamp.Magnitude);
        Assert.True(Ask("inrush through lamp", ring, State) > Ask("current through lamp", ring, State) * Math.Sqrt(2));
    }

    [Fact]
    public void TransformerInrush_OfTheSafeBox_IsFifteenTimesItsRatedCurrent()
    {
        var ring = Read.Example("ring-and-lamp");
        const string State = "no iron";
        double rated = Ask("current from safe box", ring, State) * Ask("voltage needed of safe box", ring, State) / 230;
        Assert.Equal(15 * rated, Ask("transformer inrush from safe box", ring, State), 1e-6 * rated);
    }

    // The ring's own steel: 24 V swing the closed ring to 0.65 T, switched on at zero to 1.3 T at most, with the steel's kept half 1.6 T.
    [Fact]
    public void PeakCurrent_OfTheClosedRing_LiesBetweenItsSettledPeakAndTheResistance()
    {
        var ring = Read.Example("ring-and-lamp");
        double settled = Ask("current in primary", ring, "closed ring") * Math.Sqrt(2), first = Ask("peak current from safe box", ring, "closed ring");
        double most = 24 * Math.Sqrt(2) / (6 + Ask("resistance of primary", ring, "closed ring"));
        Assert.InRange(first, 0, most);
        Assert.True(first > 0.2 * settled, $"{first} and {settled}");
    }

    internal static double Ask(string measure, Apparatus apparatus, string? state)
    {
        var asked = Read.Measure(measure, apparatus);
        var answer = new RoutePanel(apparatus, 0.01, TestContext.Current.CancellationToken).Cheapest(asked, state);
        return (answer.Leading ?? throw new InvalidOperationException(answer.Silent is [var first, ..] ? first.Reason : "silent")).Value;
    }
}
