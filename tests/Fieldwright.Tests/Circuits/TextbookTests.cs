#pragma warning disable xUnit1051 // These runs last milliseconds.
using System.Numerics;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Loads;
using Fieldwright.Circuits.Magnetic;
using Fieldwright.Circuits.Supplies;
using Xunit;

namespace Fieldwright.Tests.Circuits;

/// <summary>Worked examples of textbooks, recalled from memory and worked again by hand.</summary>
public class TextbookTests
{
    private static double Degrees(Complex z) => z.Phase * 180 / Math.PI;

    // Alexander and Sadiku, Fundamentals of Electric Circuits, example 13.1: 12 V, −j4 Ω, coils j5 and j6 Ω with j3 between them, 12 Ω. I₁ = 13.01∠−49.39° A, I₂ = 2.91∠14.04° A.
    [Fact]
    public void CoupledCoils_AlexanderSadikuExample131()
    {
        double w = 2 * Math.PI * 50;
        var s = new Network().Add(new PotentialSource("V", "a", "0", 0, 12)).Add(new Capacitor("C", "a", "b", 1 / (4 * w)))
            .Add(new CoupledCoils("T", ["b", "0", "c", "0"], [0, 0, 0, 0], [5 / w, 3 / w, 3 / w, 6 / w])).Add(new Resistor("R", "c", "0", 12)).Alternating(50);
        Assert.Equal(13.01, s.Flow("C").Magnitude, 0.006);
        Assert.Equal(-49.39, Degrees(s.Flow("C")), 0.01);
        Assert.Equal(2.91, s.Flow("R").Magnitude, 0.006);
        Assert.Equal(14.04, Degrees(s.Flow("R")), 0.01);
    }

    // Fitzgerald, Kingsley and Umans, Electric Machinery, example 1.1: 9 cm², 30 cm of steel of 70 000, gap 0.5 mm, 500 turns; 1.0 T takes 0.80 A (reluctances 3.79e3 and 4.42e5 A/Wb).
    [Fact]
    public void MagneticCircuit_FitzgeraldExample11()
    {
        Network Around(params Element[] more)
        {
            var net = new Network().Add(new Reluctance("steel", "g", "0", 0.3, 9e-4, new PathMatter(null, 70000))).Add(new Reluctance("gap", "m", "g", 5e-4, 9e-4, new PathMatter(null)));
            foreach (var e in more)
                net.Add(e);
            return net;
        }

        var s = Around(new PotentialSource("ampere-turns", "m", "0", 500 * 0.80)).Steady();
        Assert.Equal(9.0e-4, s.Flow("gap"), 0.007 * 9e-4);
        Assert.Equal(3.79e3, s.Drop("steel") / s.Flow("steel"), 5.0);
        Assert.Equal(4.42e5, s.Drop("gap") / s.Flow("gap"), 500.0);

        // The same through the turns themselves: L = N²/(R_c + R_g) = 0.561 H, which the example after it gives; the current rises with L/R.
        const double r = 2.8, v = 2.24;
        var t = Around(new PotentialSource("battery", "e", "0", v), new CoilOnPath("coil", "e", "0", "0", "m", 500, r)).Transient(0.4, new TransientOptions(1e-5));
        double tau = 0.561 / r;
        // The steady state before time zero is the full current: it stays.
        Assert.Equal(0.8, t.Last.Flow("coil"), 1e-6);
        var rising = Around(new PotentialSource("battery", "e", "0", v), new Switch("switch", "e", "f", false, 1e-6), new CoilOnPath("coil", "f", "0", "0", "m", 500, r)).Transient(0.4, new TransientOptions(1e-5));
        for (int i = 0; i < rising.Times.Count; i += 5)
            Assert.Equal(0.8 * (1 - Math.Exp(-rising.Times[i] / tau)), rising.States[i].Flow("coil"), 0.002 * 0.8);
    }

    // The lamp between two nodes is the lamp of its ratings, whatever feeds it: 6 V, 3 W behind 4 Ω on 8 V rms.
    [Fact]
    public void LampBehindAResistor_StandsWhereBothLawsMeet()
    {
        var lamp = new FilamentLamp(6, 3);
        Network Build() => new Network().Add(new PotentialSource("E", "a", "0", 8, 8 * Math.Sqrt(2))).Add(new Resistor("R", "a", "b", 4)).Add(new LampFilament("lamp", "b", "0", lamp));
        double low = 0, high = 8;
        for (int i = 0; i < 200; i++)
        {
            double u = 0.5 * (low + high);
            (low, high) = lamp.CurrentAtVoltage(u) < (8 - u) / 4 ? (u, high) : (low, u);
        }

        Assert.Equal(low, Build().Steady().Drop("lamp"), 1e-9);
        Assert.Equal(low, Build().Alternating(50).Drop("lamp").Magnitude / Math.Sqrt(2), 1e-9);
    }

    // Closed form and stepped network on one discharge, under and over critical damping.
    [Theory]
    [InlineData(0.05, 100e-6), InlineData(2.0, 100e-6), InlineData(0.6325, 100e-6)]
    public void Discharge_ClosedFormAndTransient_Agree(double resistance, double inductance)
    {
        const double v = 400, c = 1e-3;
        var closed = Discharge.Of(v, c, resistance, inductance);
        var t = new Network().Add(new Capacitor("bank", "a", "0", c, v)).Add(CoupledCoils.Inductor("coil", "a", "0", inductance, resistance, 0)).Transient(3e-3, new TransientOptions(1e-6, 5e-6));
        int peak = Enumerable.Range(0, t.Times.Count).MaxBy(i => t.States[i].Flow("coil"));
        Assert.Equal(closed.PeakCurrent, t.States[peak].Flow("coil"), 1e-3 * closed.PeakCurrent);
        Assert.Equal(closed.TimeToPeak, t.Times[peak], 0.03 * closed.TimeToPeak);
        Assert.Equal(80, Discharge.StoredEnergy(c, v), 1e-9);
        Assert.Equal(10 * Math.Log(400.0 / 60), Discharge.BleedTime(c, 10e3, v, 60), 1e-9);
    }

    // IEC 60909: κ = 1.02 + 0.98 e^(−3R/X), from memory; it rounds the true worst case, to some 3 % where the resistance is not small.
    [Theory]
    [InlineData(0.02), InlineData(0.1), InlineData(0.3), InlineData(0.6)]
    public void Inrush_WorstInstant_FollowsTheShortCircuitFactor(double ratio)
    {
        double kappa = 1.02 + 0.98 * Math.Exp(-3 * ratio);
        Assert.Equal(kappa, Inrush.WorstFactor(ratio, 1), 0.03 * kappa);
        // The transient itself, switched on at the zero of the voltage, reaches all of it but for the best choice of the instant.
        double w = 2 * Math.PI * 50, size = double.Hypot(ratio, 1);
        var t = new Network().Add(PotentialSource.Sine("line", "a", "0", size, 50)).Add(CoupledCoils.Inductor("coil", "a", "0", 1 / w, ratio, 0)).Transient(0.02, new TransientOptions(1e-6, 1e-4));
        double peak = t.States.Max(s => s.Flow("coil"));
        Assert.InRange(peak, 0.97 * Inrush.WorstFactor(ratio, 1), 1.001 * Inrush.WorstFactor(ratio, 1));
    }
}
