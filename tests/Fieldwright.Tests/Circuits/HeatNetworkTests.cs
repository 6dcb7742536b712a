#pragma warning disable xUnit1051 // These runs last milliseconds.
using Fieldwright.Circuits;
using Fieldwright.Circuits.Elements;
using Fieldwright.Circuits.Thermal;
using Fieldwright.Matter;
using Fieldwright.Matter.Heat;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class HeatNetworkTests
{
    // Incropera, DeWitt, Bergman, Lavine (2007), example 9.2, from memory: glass door 0.71 m high at 232 °C in a room of 23 °C, Ra 1.813e9, Pr 0.690: Nu 147, h 7.0 W/(m² K).
    [Fact]
    public void Wall_GlassDoorOfTheTextbook_HasItsCoefficient()
    {
        Assert.Equal(147, NaturalConvection.Nusselt(Facing.Upright, 1.813e9, 0.690), 0.5);
        // Their air is tabulated at 400 K; ours differs by the 3 % it promises, which moves h by less.
        Assert.Equal(7.0, NaturalConvection.Coefficient(Facing.Upright, 0.71, 505, 296), 0.02 * 7 + 0.05);
    }

    // The same, example 9.4, from memory: steam pipe of 0.1 m at 165 °C in a room of 23 °C, emissivity 0.85: Ra 5.073e6, Nu 23.3, 325 + 441 = 766 W a metre.
    // The formula as it is printed gives 23.1 for these numbers, 1 % below what is remembered; air adds its 3 %.
    [Fact]
    public void SteamPipe_OfTheTextbook_LosesItsHeat()
    {
        Assert.Equal(23.3, NaturalConvection.Nusselt(Facing.LevelCylinder, 5.073e6, 0.697), 0.01 * 23.3);
        var s = new Network().Add(new PotentialSource("room", "air", "0", 296)).Add(new PotentialSource("steam", "pipe", "0", 438))
            .Add(new NaturalConvection("convection", "pipe", "air", Math.PI * 0.1, Facing.LevelCylinder, 0.1))
            .Add(new Radiation("radiation", "pipe", "air", Math.PI * 0.1, 0.85)).Steady();
        Assert.Equal(441, s.Flow("radiation"), 1.0);
        Assert.Equal(325, s.Flow("convection"), 0.03 * 325);
        Assert.Equal(-s.Flow("steam"), s.Flow("convection") + s.Flow("radiation"), 1e-9);
    }

    // Table A.4 of the same book, from memory: at 300 K k 26.3e-3, ν 15.89e-6, α 22.5e-6; at 400 K 33.8e-3, 26.41e-6, 38.3e-6.
    [Theory]
    [InlineData(300, 26.3e-3, 15.89e-6, 22.5e-6), InlineData(400, 33.8e-3, 26.41e-6, 38.3e-6)]
    public void Air_AgreesWithTheTableOfTheTextbook(double temperature, double k, double nu, double alpha)
    {
        Assert.Equal(k, Air.ThermalConductivity(temperature), 0.03 * k);
        Assert.Equal(nu, Air.KinematicViscosity(temperature), 0.03 * nu);
        Assert.Equal(alpha, Air.Diffusivity(temperature), 0.03 * alpha);
    }

    [Theory]
    [InlineData(Facing.Up, Facing.Down), InlineData(Facing.Down, Facing.Up)]
    public void LevelFace_ColderThanTheAir_ActsLikeItsOtherSide(Facing facing, Facing other)
    {
        double cold = NaturalConvection.Coefficient(facing, 0.1, 290, 310), hot = NaturalConvection.Coefficient(other, 0.1, 310, 290);
        Assert.Equal(hot, cold, 1e-12);
    }

    // A wire that heats itself and only radiates: I²R₂₀(1 + α(T − T₂₀)) = εσA(T⁴ − T₀⁴) has roots below absolute zero too; the one above the room is the answer.
    [Theory]
    [InlineData(0.001, 3.93e-3), InlineData(1, 3.93e-3), InlineData(5, 3.93e-3), InlineData(20, 3.93e-3), InlineData(5, -3e-3), InlineData(60, 3.93e-3)]
    public void RadiatingWire_SteadyCurrent_StandsAboveTheRoom(double current, double coefficient)
    {
        var wire = new HeatedResistor("wire", "a", "0", "hot", 0.5, coefficient);
        var s = new Network().Add(new PotentialSource("room", "air", "0", 293.15)).Add(new FlowSource("supply", "0", "a", current)).Add(wire)
            .Add(new Radiation("glow", "hot", "air", 5e-3, 0.9)).Steady();
        double t = s.Potential("hot");
        Assert.True(t >= 293.15 - 1e-9, $"{t} K");
        double heat = current * current * wire.ResistanceAt(t);
        Assert.Equal(heat, 0.9 * PhysicalConstants.StefanBoltzmann * 5e-3 * (Math.Pow(t, 4) - Math.Pow(293.15, 4)), 1e-8 * heat + 1e-9);
        Assert.Equal(current * s.Potential("a"), s.Flow("glow"), 1e-8 * heat + 1e-9);
    }

    // A block losing heat through one resistance cools as exp(−t/RC) from where it starts.
    [Fact]
    public void Block_OnOneResistance_CoolsExponentially()
    {
        var t = new Network().Add(new PotentialSource("room", "air", "0", 290)).Add(new Resistor("joint", "block", "air", 2)).Add(new Capacitor("block", "block", "0", 50, 390)).Transient(200);
        for (int i = 0; i < t.Times.Count; i++)
            Assert.Equal(290 + 100 * Math.Exp(-t.Times[i] / 100), t.States[i].Potential("block"), 0.05);
    }

    // What goes in stays in or leaves: ∫ I²R dt = heat stored + heat radiated and carried off.
    [Fact]
    public void Transient_OfAWarmingWire_KeepsItsEnergy()
    {
        var t = new Network().Add(new PotentialSource("room", "air", "0", 293)).Add(new FlowSource("supply", "0", "a", 8)).Add(new HeatedResistor("wire", "a", "0", "hot", 0.3, 3.9e-3))
            .Add(new Capacitor("metal", "hot", "0", 12, 293)).Add(new Radiation("glow", "hot", "air", 4e-3, 0.5)).Add(new NaturalConvection("air", "hot", "air", 4e-3, Facing.LevelCylinder, 2e-3))
            .Transient(60, new TransientOptions(1e-5));
        double given = t.Integral(s => 8 * s.Potential("a")), lost = t.Integral(s => s.Flow("glow") + s.Flow("air"));
        Assert.Equal(given, 12 * (t.Last.Potential("hot") - 293) + lost, 1e-3 * given);
        Assert.True(t.Last.Potential("hot") > 320);
    }

    // Preece's current against the network: a long level wire of oxidised copper (emissivity 0.8, from memory) at its melting point in still air. Preece's law is a fit good to some 20 % (from memory).
    [Theory]
    [InlineData(0.5e-3), InlineData(1e-3), InlineData(2e-3)]
    public void CopperWire_AtItsMeltingPoint_CarriesPreecesCurrent(double diameter)
    {
        double melting = Materials.Copper.MeltingPoint!.Value, area = Math.PI * diameter;
        var s = new Network().Add(new PotentialSource("room", "air", "0", 293)).Add(new PotentialSource("melting", "wire", "0", melting))
            .Add(new NaturalConvection("air", "wire", "air", area, Facing.LevelCylinder, diameter)).Add(new Radiation("glow", "wire", "air", area, 0.8)).Steady();
        double resistance = Materials.Copper.ResistivityAt(melting) / (0.25 * Math.PI * diameter * diameter), current = Math.Sqrt(-s.Flow("melting") / resistance);
        double preece = FusingCurrent.Preece("copper", diameter);
        Assert.Equal(preece, current, 0.2 * preece);
    }
}
