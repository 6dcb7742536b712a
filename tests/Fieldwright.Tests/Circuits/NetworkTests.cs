using System.Numerics;
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class NetworkTests
{
    // Unbalanced bridge, solved by hand in fractions: 10 V over (1 Ω, 2 Ω) and (3 Ω, 4 Ω) with 5 Ω across.
    // Node equations: a(1 + 1/2 + 1/5) − b/5 = 10; b(1/3 + 1/4 + 1/5) − a/5 = 10/3.
    [Fact]
    public void Steady_UnbalancedBridge_MatchesHandSolution()
    {
        var s = new Network()
            .Add(new PotentialSource("E", "top", "0", 10))
            .Add(new Resistor("R1", "top", "a", 1)).Add(new Resistor("R2", "a", "0", 2))
            .Add(new Resistor("R3", "top", "b", 3)).Add(new Resistor("R4", "b", "0", 4))
            .Add(new Resistor("R5", "a", "b", 5)).Steady();
        double det = 1.7 * (47.0 / 60) - 0.04;
        Assert.Equal((10 * 47.0 / 60 + 10.0 / 15) / det, s.Potential("a"), 1e-12);
        Assert.Equal((1.7 * 10 / 3 + 2) / det, s.Potential("b"), 1e-12);
        Assert.Equal((s.Potential("a") - s.Potential("b")) / 5, s.Flow("R5"), 1e-12);
        double drawn = new[] { "R1", "R2", "R3", "R4", "R5" }.Sum(s.Power);
        Assert.Equal(-s.Power("E"), drawn, 1e-11);
    }

    [Fact]
    public void Alternating_SeriesResonance_LeavesTheResistance()
    {
        const double l = 0.1, c = 10e-6, r = 5;
        double f0 = 1 / (2 * Math.PI * Math.Sqrt(l * c));
        var net = new Network().Add(new PotentialSource("E", "a", "0", 0, 10)).Add(new Resistor("R", "a", "b", r))
            .Add(CoupledCoils.Inductor("L", "b", "c", l)).Add(new Capacitor("C", "c", "0", c));
        var s = net.Alternating(f0);
        Assert.Equal(2, s.Flow("R").Real, 1e-9);
        Assert.Equal(0, s.Flow("R").Imaginary, 1e-9);
        // Voltage over the capacitor is Q times that of the source, a quarter period behind.
        Assert.Equal(-10 * Math.Sqrt(l / c) / r, s.Drop("C").Imaginary, 1e-6);
        Assert.Equal(10, s.Power("R").Real, 1e-9);
        Assert.Equal(-s.Power("E").Real, s.Power("R").Real, 1e-9);
        Assert.Equal(-s.Power("C").Imaginary, s.Power("L").Imaginary, 1e-7);
    }

    // Transformer equations with a resistive load: Z_in = jωL1 + ω²M²/(R + jωL2).
    [Fact]
    public void Alternating_CoupledCoils_ShowTheReflectedImpedance()
    {
        const double l1 = 0.2, l2 = 0.05, m = 0.09, load = 12, f = 50;
        double w = 2 * Math.PI * f;
        var s = new Network().Add(new PotentialSource("E", "a", "0", 0, 100))
            .Add(new CoupledCoils("T", ["a", "0", "b", "0"], [0, 0, 0, 0], [l1, m, m, l2]))
            .Add(new Resistor("R", "b", "0", load)).Alternating(f);
        var expected = new Complex(0, w * l1) + w * w * m * m / new Complex(load, w * l2);
        var actual = s.Drop("T") / s.Flow("T");
        Assert.Equal(expected.Real, actual.Real, 1e-9);
        Assert.Equal(expected.Imaginary, actual.Imaginary, 1e-9);
        Assert.Equal(-s.Power("E").Real, s.Power("R").Real, 1e-8);
    }

    [Fact]
    public void Alternating_ImpedancePorts_GiveWhatTheCoilsGive()
    {
        const double f = 50, w = 2 * Math.PI * f;
        Complex[] z = [new(1, w * 0.2), new(0, w * 0.09), new(0, w * 0.09), new(2, w * 0.05)];
        Network Around(Element e) => new Network().Add(new PotentialSource("E", "a", "0", 0, 100)).Add(e).Add(new Resistor("R", "b", "0", 12));
        var ports = Around(new ImpedancePorts("T", ["a", "0", "b", "0"], z)).Alternating(f);
        var coils = Around(new CoupledCoils("T", ["a", "0", "b", "0"], [1, 0, 0, 2], [0.2, 0.09, 0.09, 0.05])).Alternating(f);
        Assert.True(Complex.Abs(ports.Flow("R") - coils.Flow("R")) < 1e-12 * Complex.Abs(coils.Flow("R")));
        Assert.True(Complex.Abs(ports.Flow("T") - coils.Flow("T")) < 1e-12 * Complex.Abs(coils.Flow("T")));
    }

    [Fact]
    public void Alternating_ThreePhaseStar_LeavesNoCurrentInTheNeutral()
    {
        var net = new Network();
        for (int k = 0; k < 3; k++)
            net.Add(PotentialSource.Sine($"E{k}", $"p{k}", "0", 325, 50, -2 * Math.PI * k / 3)).Add(new Resistor($"R{k}", $"p{k}", "star", 10));
        net.Add(new FlowMeter("N", "star", "0"));
        Assert.True(Complex.Abs(net.Alternating(50).Flow("N")) < 1e-10);
    }

    [Fact]
    public void IdealTransformer_MatchesALoad()
    {
        var s = new Network().Add(new PotentialSource("E", "a", "0", 0, 100)).Add(new Resistor("Rg", "a", "b", 90))
            .Add(new IdealTransformer("T", "b", "0", "c", "0", 3)).Add(new Resistor("R", "c", "0", 10)).Alternating(50);
        // 10 Ω seen through 3:1 is 90 Ω: half the voltage stands on the primary.
        Assert.Equal(50, s.Potential("b").Real, 1e-10);
        Assert.Equal(50.0 / 3, s.Potential("c").Real, 1e-10);
        Assert.Equal(-s.Flow("T", 0).Real * 3, s.Flow("T", 1).Real, 1e-10);
    }

    // ln and exp of the junction law: the drop at which a diode carries what the resistor lets through, by bisection.
    [Fact]
    public void Steady_DiodeAndResistor_MeetOnTheLoadLine()
    {
        var diode = new Diode("D", "b", "0");
        var s = new Network().Add(new PotentialSource("E", "a", "0", 5)).Add(new Resistor("R", "a", "b", 100)).Add(diode).Steady();
        double low = 0, high = 5;
        for (int i = 0; i < 200; i++)
        {
            double v = 0.5 * (low + high);
            if (diode.Flow(v, out _) > (5 - v) / 100)
                high = v;
            else
                low = v;
        }

        Assert.Equal(low, s.Potential("b"), 1e-9);
        var reversed = new Network().Add(new PotentialSource("E", "a", "0", -5)).Add(new Resistor("R", "a", "b", 100)).Add(new Diode("D", "b", "0")).Steady();
        Assert.InRange(Math.Abs(reversed.Flow("R")), 0, 1e-6);
    }

    [Fact]
    public void Meter_Burden_PullsTheReadingDown()
    {
        // 9 V through 1 MΩ + 1 MΩ read with 10 MΩ: 9·(10/11)/(1 + 10/11) = 4.2857 V.
        var s = new Network().Add(new PotentialSource("E", "a", "0", 9)).Add(new Resistor("R1", "a", "b", 1e6)).Add(new Resistor("R2", "b", "0", 1e6))
            .Add(new DropMeter("V", "b", "0", 10e6)).Steady();
        Assert.Equal(9 * (10.0 / 11) / (1 + 10.0 / 11), s.Drop("V"), 1e-12);
    }

    [Fact]
    public void IllPosed_FloatingPart_IsNamed()
    {
        var e = Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new PotentialSource("E", "a", "0", 1)).Add(new Resistor("R1", "a", "0", 1))
            .Add(new Resistor("R2", "x", "y", 1)).Steady());
        Assert.Equal(["R2"], e.Elements);
        Assert.Equal(["x", "y"], e.Nodes);
    }

    [Fact]
    public void IllPosed_LoopOfSources_IsNamed()
    {
        var e = Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new PotentialSource("E1", "a", "0", 1)).Add(new PotentialSource("E2", "b", "0", 2))
            .Add(new FlowMeter("M", "a", "b")).Add(new Resistor("R", "a", "0", 1)).Steady());
        Assert.Equal(["E1", "E2", "M"], e.Elements.Order());
    }

    [Fact]
    public void IllPosed_CutOfCurrentSources_IsNamed()
    {
        var e = Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new FlowSource("I1", "0", "a", 1)).Add(new FlowSource("I2", "a", "0", 2))
            .Add(new Resistor("R", "b", "0", 1)).Add(new PotentialSource("E", "b", "0", 1)).Steady());
        Assert.Equal(["I1", "I2"], e.Elements.Order());
        Assert.Equal(["a"], e.Nodes);
    }

    [Fact]
    public void IllPosed_CapacitorBlocksSteadyState_IsNamed()
    {
        var e = Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new FlowSource("I", "0", "a", 1)).Add(new Capacitor("C", "a", "0", 1e-6)).Steady());
        Assert.Equal(["C", "I"], e.Elements.Order());
    }

    [Fact]
    public void IllPosed_TransformerWithLooseSecondary_IsNamed()
    {
        var e = Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new PotentialSource("E", "a", "0", 0, 1))
            .Add(new CoupledCoils("T", ["a", "0", "p", "q"], [1, 0, 0, 1], [1, 0.5, 0.5, 1])).Add(new Resistor("R", "p", "q", 1)).Alternating(50));
        Assert.Contains("p", e.Nodes);
    }

    [Fact]
    public void IllPosed_NoReference_IsSaid() =>
        Assert.Throws<IllPosedNetworkException>(() => new Network().Add(new Resistor("R", "a", "b", 1)).Steady());

    [Fact]
    public void Add_SameNameTwice_IsRefused() =>
        Assert.Throws<ArgumentException>(() => new Network().Add(new Resistor("R", "a", "0", 1)).Add(new Resistor("R", "b", "0", 1)));

    [Fact]
    public void CoupledCoils_CouplingAboveOne_IsRefused() =>
        Assert.Throws<ArgumentException>(() => new CoupledCoils("T", ["a", "0", "b", "0"], [0, 0, 0, 0], [1, 1.1, 1.1, 1]));

    [Fact]
    public void Superposition_TwoSources_AddUp()
    {
        var random = new Random(7);
        Network Build(double e, double i, double[] r) => new Network().Add(new PotentialSource("E", "a", "0", e)).Add(new FlowSource("I", "0", "c", i))
            .Add(new Resistor("R1", "a", "b", r[0])).Add(new Resistor("R2", "b", "0", r[1])).Add(new Resistor("R3", "b", "c", r[2])).Add(new Resistor("R4", "c", "a", r[3]));
        for (int k = 0; k < 20; k++)
        {
            double[] r = [.. Enumerable.Range(0, 4).Select(_ => Math.Exp(6 * random.NextDouble()))];
            double both = Build(3, 0.2, r).Steady().Potential("b"), one = Build(3, 0, r).Steady().Potential("b"), other = Build(0, 0.2, r).Steady().Potential("b");
            Assert.Equal(both, one + other, 1e-9 * (Math.Abs(one) + Math.Abs(other)));
        }
    }
}
