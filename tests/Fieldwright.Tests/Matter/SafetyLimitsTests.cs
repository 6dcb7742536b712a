using Fieldwright.Matter;
using Fieldwright.Matter.Safety;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class SafetyLimitsTests
{
    // exposure-limits.csv, its rows of ICNIRP 2010 and 2009 (read at second hand).
    [Theory]
    [InlineData(50, 200e-6)]
    [InlineData(60, 200e-6)]
    public void ForPublic_MainsFrequency_AgreesWithTheTable(double frequency, double tesla) => Assert.Equal(tesla, FieldLimits.ForPublic(frequency).Value, 1e-12);

    [Fact]
    public void ForWorkers_SixtyHertz_AgreesWithTheTable() => Assert.Equal(1e-3, FieldLimits.ForWorkers(60).Value, 1e-12);

    [Fact]
    public void Static_PublicAndWorkers_AgreeWithTheTable()
    {
        Assert.Equal(0.4, FieldLimits.ForPublic(0).Value);
        Assert.Equal(2, FieldLimits.ForWorkers(0).Value);
        Assert.Equal(0.5e-3, FieldLimits.Implants.Value);
    }

    // The bands meet without a step: the guideline's curve is continuous to its rounding.
    [Theory]
    [InlineData(8)]
    [InlineData(25)]
    [InlineData(400)]
    [InlineData(3000)]
    public void ForPublic_AtTheEndOfABand_TakesNoStep(double frequency) =>
        Assert.InRange(FieldLimits.ForPublic(frequency * (1 + 1e-9)).Value / FieldLimits.ForPublic(frequency).Value, 0.98, 1.02);

    [Theory]
    [InlineData(8)]
    [InlineData(25)]
    [InlineData(300)]
    [InlineData(3000)]
    public void ForWorkers_AtTheEndOfABand_TakesNoStep(double frequency) =>
        Assert.InRange(FieldLimits.ForWorkers(frequency * (1 + 1e-9)).Value / FieldLimits.ForWorkers(frequency).Value, 0.98, 1.02);

    [Theory]
    [InlineData(1)]
    [InlineData(50)]
    [InlineData(1000)]
    [InlineData(1e5)]
    public void ForWorkers_AnyFrequency_IsAboveThePublic(double frequency) => Assert.True(FieldLimits.ForWorkers(frequency).Value > FieldLimits.ForPublic(frequency).Value);

    [Fact]
    public void ForPublic_BelowOneHertz_IsRefused() => Assert.Throws<ArgumentOutOfRangeException>(() => FieldLimits.ForPublic(0.5));

    // burn-threshold-metal.csv: 65 to 70 °C at 1 s, 51 °C at 1 min.
    [Fact]
    public void Burns_BareMetal_AgreesWithTheTable()
    {
        Assert.Equal(65, TouchLimits.BurnsInASecond.Value - PhysicalConstants.ZeroCelsius, 1e-9);
        Assert.Equal(51, TouchLimits.BurnsInAMinute.Value - PhysicalConstants.ZeroCelsius, 1e-9);
    }
}
