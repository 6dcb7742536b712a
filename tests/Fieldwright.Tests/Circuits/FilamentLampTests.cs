using Fieldwright.Circuits.Loads;
using Xunit;

namespace Fieldwright.Tests.Circuits;

public class FilamentLampTests
{
    private static readonly FilamentLamp Lamp = new(6, 3);

    // Encyclopaedia article "Lamp rerating": exponents 0.55 and 3.4; at 90 % voltage current 0.944, light 0.699.
    [Fact]
    public void Lamp_NinetyPerCentVoltage_FollowsThePublishedExponents()
    {
        Assert.Equal(0.944, Lamp.CurrentAtVoltage(5.4) / 0.5, 5e-4);
        Assert.Equal(0.699, Lamp.LightAt(5.4), 5e-4);
    }

    [Theory]
    [InlineData(6)]
    [InlineData(4)]
    [InlineData(1)]
    [InlineData(0.005)]
    public void Lamp_ResistanceTimesCurrent_GivesTheVoltageBack(double voltage)
    {
        double current = Lamp.CurrentAtVoltage(voltage);
        Assert.Equal(voltage, current * Lamp.ResistanceAtCurrent(current), 1e-12);
    }

    [Fact]
    public void Lamp_NoCurrent_IsCold() => Assert.Equal(12.0 / 13, Lamp.ResistanceAtCurrent(0), 1e-12);
}
