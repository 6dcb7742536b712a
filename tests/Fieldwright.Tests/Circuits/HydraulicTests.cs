using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Hydraulic;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class HydraulicTests
{
    private const double Water = 998, Viscosity = 1.0e-3;

    // Hagen and Poiseuille: Q = π Δp D⁴/(128 μ L), exact below the turn.
    [Fact]
    public void Pipe_Creeping_ObeysOhm()
    {
        var s = new Network().Add(new PotentialSource("head", "a", "0", 50)).Add(new Pipe("tube", "a", "0", 1, 4e-3, Water, Viscosity)).Steady();
        Assert.Equal(Math.PI * 50 * Math.Pow(4e-3, 4) / (128 * Viscosity), s.Flow("tube"), 1e-7 * s.Flow("tube"));
    }

    // White, Fluid Mechanics, section 6.6, from memory: oil of 900 kg/m³ and 1e-5 m²/s at 0.2 m³/s through 500 m of cast iron of 200 mm (0.26 mm rough): Re 128 000, f 0.0225, head 116 m.
    [Fact]
    public void Pipe_OilOfTheTextbook_HasItsFrictionAndHead()
    {
        var pipe = new Pipe("line", "a", "b", 500, 0.2, 900, 900 * 1e-5, 0.26e-3);
        Assert.Equal(128e3, pipe.Reynolds(0.2), 1000.0);
        // Read off the diagram by the book; Churchill's formula promises 2 %.
        Assert.Equal(0.0225, Pipe.Friction(128e3, 0.0013), 0.02 * 0.0225);
        Assert.Equal(116, pipe.DropAt(0.2, out _) / (900 * 9.81), 0.025 * 116);
    }

    // Colebrook's implicit law, solved here by itself: 1/√f = −2 log₁₀(ε/3.7 + 2.51/(Re √f)).
    [Theory]
    [InlineData(1e4, 0.0), InlineData(1e5, 1e-4), InlineData(1e6, 1e-3), InlineData(1e7, 1e-2)]
    public void Friction_Turbulent_FollowsColebrook(double reynolds, double roughness)
    {
        double f = 0.02;
        for (int i = 0; i < 100; i++)
            f = Math.Pow(-2 * Math.Log10(roughness / 3.7 + 2.51 / (reynolds * Math.Sqrt(f))), -2);
        Assert.Equal(f, Pipe.Friction(reynolds, roughness), 0.025 * f);
    }

    [Fact]
    public void Jet_FromATank_LeavesAtTorricellisSpeed()
    {
        // 2 m of water through an opening of 10 mm.
        var s = new Network().Add(new PotentialSource("tank", "a", "0", Water * 9.80665 * 2)).Add(new Fitting("jet", "a", "0", 1, 10e-3, Water, Viscosity)).Steady();
        double speed = s.Flow("jet") / (0.25 * Math.PI * 1e-4);
        // The creeping term, K₁/Re at Re 62 000, takes a quarter per cent of the speed.
        Assert.Equal(Math.Sqrt(2 * 9.80665 * 2), speed, 0.004 * speed);
    }

    // Where pump and system meet: 60 kPa − 2e8 Q falls on the loss of two pipes side by side, found here by bisection.
    [Fact]
    public void Pump_OnTwoPipes_MeetsTheirSum()
    {
        Pipe First() => new("first", "p", "0", 5, 12e-3, Water, Viscosity);
        Pipe Second() => new("second", "p", "0", 5, 8e-3, Water, Viscosity, 0.05e-3);
        var s = new Network().Add(new Pump("pump", "0", "p", [0, 3e-4], [60e3, 0])).Add(First()).Add(Second()).Add(new DropMeter("manometer", "p", "0")).Steady();
        double FlowAt(Pipe pipe, double pressure)
        {
            double low = 0, high = 1e-2;
            for (int i = 0; i < 100; i++)
            {
                double q = 0.5 * (low + high);
                (low, high) = pipe.DropAt(q, out _) < pressure ? (q, high) : (low, q);
            }

            return low;
        }

        double lowest = 0, highest = 60e3;
        for (int i = 0; i < 100; i++)
        {
            double p = 0.5 * (lowest + highest);
            (lowest, highest) = FlowAt(First(), p) + FlowAt(Second(), p) < (60e3 - p) / 2e8 ? (p, highest) : (lowest, p);
        }

        Assert.Equal(lowest, s.Drop("manometer"), 1e-5 * lowest);
        Assert.Equal(s.Flow("pump"), s.Flow("first") + s.Flow("second"), 1e-12);
        Assert.Throws<ArgumentException>(() => new Pump("bad", "0", "p", [0, 1], [1, 2]));
    }
}
