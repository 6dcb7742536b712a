#pragma warning disable xUnit1051 // These runs last milliseconds.
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class TransientTests
{
    [Fact]
    public void Capacitor_Discharged_FollowsTheExponentialAndLosesItsEnergy()
    {
        const double c = 100e-6, r = 50, v = 400;
        var t = new Network().Add(new Capacitor("C", "a", "0", c, v)).Add(new Resistor("R", "a", "0", r)).Transient(5 * r * c);
        for (int i = 0; i < t.Times.Count; i++)
            Assert.Equal(v * Math.Exp(-t.Times[i] / (r * c)), t.States[i].Potential("a"), 2e-4 * v);
        double heat = t.Integral(s => s.Power("R"));
        double left = 0.5 * c * Math.Pow(t.Last.Potential("a"), 2);
        Assert.Equal(0.5 * c * v * v, heat + left, 1e-3 * 0.5 * c * v * v);
    }

    // Damped swing of R, L and C: v = V e^{−αt}(cos βt + α/β sin βt).
    [Fact]
    public void SeriesCircuit_Rings_AtTheDampedFrequency()
    {
        const double r = 4, l = 10e-3, c = 100e-6, v = 10;
        double alpha = r / (2 * l), beta = Math.Sqrt(1 / (l * c) - alpha * alpha);
        var t = new Network().Add(new Capacitor("C", "a", "0", c, v)).Add(CoupledCoils.Inductor("L", "a", "b", l, 0, 0)).Add(new Resistor("R", "b", "0", r))
            .Transient(20e-3, new TransientOptions(1e-6));
        for (int i = 0; i < t.Times.Count; i += 7)
        {
            double x = t.Times[i], expected = v * Math.Exp(-alpha * x) * (Math.Cos(beta * x) + alpha / beta * Math.Sin(beta * x));
            Assert.Equal(expected, t.States[i].Potential("a"), 2e-3 * v);
        }
    }

    [Fact]
    public void Step_Halved_ErrorFallsAsItsSquare()
    {
        double Error(double step)
        {
            var t = new Network().Add(new Capacitor("C", "a", "0", 1, 1)).Add(new Resistor("R", "a", "0", 1))
                .Transient(1, new TransientOptions(1e9, step, step));
            return Math.Abs(t.Last.Potential("a") - Math.Exp(-1));
        }

        double rate = Math.Log2(Error(0.05) / Error(0.025));
        Assert.InRange(rate, 1.9, 2.1);
    }

    [Fact]
    public void Switch_ClosesOntoAnInductor_CurrentRisesFromZero()
    {
        var t = new Network().Add(new PotentialSource("E", "a", "0", 12)).Add(new Switch("S", "a", "b", false, 1e-3))
            .Add(CoupledCoils.Inductor("L", "b", "0", 20e-3, 4)).Transient(20e-3);
        for (int i = 0; i < t.Times.Count; i++)
        {
            double after = t.Times[i] - 1e-3, expected = after <= 0 ? 0 : 3 * (1 - Math.Exp(-after * 4 / 20e-3));
            Assert.Equal(expected, t.States[i].Flow("L"), 1e-3);
        }
    }

    [Fact]
    public void Transient_FromSteadyState_StaysThere()
    {
        var t = new Network().Add(new PotentialSource("E", "a", "0", 10)).Add(new Resistor("R", "a", "b", 5)).Add(new Capacitor("C", "b", "0", 1e-6))
            .Add(CoupledCoils.Inductor("L", "b", "0", 1e-3, 5)).Transient(1e-3);
        Assert.All(t.States, s => Assert.Equal(5, s.Potential("b"), 1e-9));
    }

    [Fact]
    public void AlternatingAndTransient_AgreeOnceSettled()
    {
        Network Build() => new Network().Add(PotentialSource.Sine("E", "a", "0", 100, 50)).Add(new Resistor("R", "a", "b", 10))
            .Add(CoupledCoils.Inductor("L", "b", "c", 20e-3)).Add(new Capacitor("C", "c", "0", 200e-6));
        var phasor = Build().Alternating(50).Flow("R");
        var t = Build().Transient(0.2, new TransientOptions(1e-5, 1e-4));
        double now = t.Times[^1];
        double expected = (phasor * System.Numerics.Complex.Exp(new(0, 2 * Math.PI * 50 * now))).Imaginary;
        Assert.Equal(expected, t.Last.Flow("R"), 2e-3 * phasor.Magnitude);
    }

    [Fact]
    public void InductorWithNoPath_OpenedBySwitch_IsReported() =>
        Assert.Equal(["L"], Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new PotentialSource("E", "a", "0", 12)).Add(new Switch("S", "a", "b", true, 1e-3))
            .Add(CoupledCoils.Inductor("L", "b", "0", 20e-3, 4)).Transient(2e-3)).Elements);

    [Fact]
    public void Diode_ChargesACapacitorToThePeakLessItsDrop()
    {
        var t = new Network().Add(PotentialSource.Sine("E", "a", "0", 20, 50)).Add(new Resistor("Rs", "a", "b", 0.5)).Add(new Diode("D", "b", "c"))
            .Add(new Capacitor("C", "c", "0", 100e-6, 0)).Add(new Resistor("R", "c", "0", 1e5)).Transient(0.06, new TransientOptions(1e-3, 2e-4));
        Assert.InRange(t.Last.Potential("c"), 19, 19.8);
    }
}
