using Fieldwright.Matter.Units;
using UnitsNet;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class SiParserTests
{
    [Theory]
    [InlineData("65 mm", 0.065, "m")]
    [InlineData("34 MS/m", 34e6, "S/m")]
    [InlineData("10 A/mm²", 1e7, "A/m^2")]
    [InlineData("10 A/mm^2", 1e7, "A/m²")]
    [InlineData("7850 kg/m3", 7850, "kg/m³")]
    [InlineData("8.89 g/cm3", 8890, "kg m^-3")]
    [InlineData("3 um", 3e-6, "m")]
    [InlineData("3 µm", 3e-6, "m")]
    [InlineData("3 \u03bcm", 3e-6, "m")]
    [InlineData("12 uWb", 12e-6, "V s")]
    [InlineData("2.8e-8 ohm m", 2.8e-8, "Ω m")]
    [InlineData("2.8×10^-8 Ω·m", 2.8e-8, "\u2126 m")]
    [InlineData("3000 rpm", 314.15926535897932, "rad/s")]
    [InlineData("90 deg", 1.5707963267948966, "rad")]
    [InlineData("30°", 0.52359877559829887, "rad")]
    [InlineData("20 °C", 293.15, "K")]
    [InlineData("-40 °C", 233.15, "K")]
    [InlineData("20 K", 20, "K")]
    [InlineData("385 J/(kg °C)", 385, "J/(kg K)")]
    [InlineData("16.5 W/m/K", 16.5, "W m^-1 K^-1")]
    [InlineData("5 %", 0.05, "1")]
    [InlineData("0.39 %/K", 0.0039, "1/K")]
    [InlineData("2.5 volts", 2.5, "V")]
    [InlineData("2.5 Millimetres", 0.0025, "m")]
    [InlineData("1.5 h", 5400, "s")]
    [InlineData("30 min", 1800, "s")]
    [InlineData("5 Gauss", 5e-4, "T")]
    [InlineData("960 A turns", 960, "A")]
    [InlineData("-5mm", -0.005, "m")]
    [InlineData("−5 mm", -0.005, "m")]
    [InlineData("10 cmH2O", 980.665, "Pa")]
    [InlineData("3 l/min", 5e-5, "m^3/s")]
    [InlineData("12 metres per second", 12, "m s⁻¹")]
    [InlineData("9.81 m s-2", 9.81, "m/s²")]
    [InlineData("42", 42, "1")]
    public void Parse_WhatPeopleWrite_GivesSi(string text, double expected, string inUnit)
    {
        Assert.True(SiParser.TryParse(text, out var q, out string? problem), problem);
        Assert.True(SiParser.TryParseUnit(inUnit, out var unit, out problem), problem);
        Assert.Equal(expected, q.Value / unit.Value, Math.Abs(expected) * 4e-16);
        Assert.Equal(unit.Dimension, q.Dimension);
    }

    [Theory]
    [InlineData("", "nothing")]
    [InlineData("mm", "number")]
    [InlineData("NaN mm", "finite")]
    [InlineData("Infinity", "finite")]
    [InlineData("∞ m", "finite")]
    [InlineData("1e400 m", "too large")]
    [InlineData("1e308 km", "too large")]
    [InlineData("1e-400 m", "too small")]
    [InlineData("1e-320 nm", "too small")]
    [InlineData("0,8 mm", "point")]
    [InlineData("1.2.3 mm", "cannot be read")]
    [InlineData("5 W/m K", "two ways")]
    [InlineData("5 J/kg K", "two ways")]
    [InlineData("5 m/", "missing at the end")]
    [InlineData("5 (m", "not closed")]
    [InlineData("5 m)", "does not belong")]
    [InlineData("5 m^", "power")]
    [InlineData("5 m^99", "power")]
    [InlineData("5 khz", "'kHz'")]
    [InlineData("5 mmm", "nearest")]
    [InlineData("5 vlot", "'volt'")]
    [InlineData("5 smoots", "no unit 'smoots'")]
    [InlineData("-300 °C", "absolute zero")]
    [InlineData("5 m 6", "does not belong")]
    [InlineData("5 m^12 m^12 m^12 m^12 m^12 m^12 m^12 m^12 m^12 m^12 m^12", "too high")]
    [InlineData("5 ((((((((((m))))))))))", "too many brackets")]
    public void Parse_Mistake_IsNamed(string text, string says)
    {
        Assert.False(SiParser.TryParse(text, out var q, out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
        Assert.True(double.IsNaN(q.Value));
    }

    [Theory]
    [InlineData("mm"), InlineData("um"), InlineData("km"), InlineData("m"), InlineData("cm")]
    public void Parse_Lengths_AgreeWithUnitsNet(string unit) =>
        Agrees(unit, unit == "um" ? Length.Parse("7.25 µm").Meters : Length.Parse($"7.25 {unit}").Meters);

    [Fact]
    public void Parse_OtherUnits_AgreeWithUnitsNet()
    {
        Agrees("mA", ElectricCurrent.Parse("7.25 mA").Amperes);
        Agrees("kV", ElectricPotential.Parse("7.25 kV").Volts);
        Agrees("kHz", Frequency.Parse("7.25 kHz").Hertz);
        Agrees("mT", MagneticField.Parse("7.25 mT").Teslas);
        Agrees("mH", ElectricInductance.Parse("7.25 mH").Henries);
        Agrees("µF", ElectricCapacitance.Parse("7.25 µF").Farads);
        Agrees("kN", Force.Parse("7.25 kN").Newtons);
        Agrees("MPa", Pressure.Parse("7.25 MPa").Pascals);
        Agrees("bar", Pressure.Parse("7.25 bar").Pascals);
        // The two constants differ in the eighth digit; ours is the conventional 133.322387415 Pa.
        Agrees("mmHg", Pressure.Parse("7.25 mmHg").Pascals, 1e-7);
        Agrees("kWh", Energy.Parse("7.25 kWh").Joules);
        Agrees("mW", (double)Power.Parse("7.25 mW").Watts);
        // Its factor holds eleven digits; ours is π/30.
        Agrees("rpm", RotationalSpeed.Parse("7.25 rpm").RadiansPerSecond, 1e-11);
        Agrees("g", Mass.Parse("7.25 g").Kilograms);
        Agrees("lb", Mass.Parse("7.25 lb").Kilograms);
        Agrees("in", Length.Parse("7.25 in").Meters);
        Agrees("ft", Length.Parse("7.25 ft").Meters);
        Agrees("N·m", Torque.Parse("7.25 N·m").NewtonMeters);
        Agrees("kg/m³", Density.Parse("7.25 kg/m³").KilogramsPerCubicMeter);
        Agrees("L", Volume.Parse("7.25 L").CubicMeters);
        Assert.True(SiParser.TryParse("7.25 °C", out var t, out _));
        Assert.Equal(Temperature.Parse("7.25 °C").Kelvins, t.Value, 1e-12);
    }

    [Fact]
    public void Parse_EverySymbol_IsReadBackWithTheSizeOfItsPrefix()
    {
        foreach (var (prefix, _, factor) in UnitTable.Prefixes)
            foreach (string unit in new[] { "m", "A", "V", "T", "H", "F", "Hz", "N", "Pa", "Wb", "S" })
            {
                Assert.True(SiParser.TryParseUnit(prefix + unit, out var with, out _), prefix + unit);
                Assert.True(SiParser.TryParseUnit(unit, out var alone, out _));
                if (prefix + unit is "cd" or "Pa" or "dam") continue;
                Assert.Equal(factor * alone.Value, with.Value, factor * 1e-15);
                Assert.Equal(alone.Dimension, with.Dimension);
            }
    }

    [Theory]
    [InlineData("34 ± 2 MS/m", 34e6, 2e6, false)]
    [InlineData("34 MS/m ± 2 MS/m", 34e6, 2e6, false)]
    [InlineData("34 MS/m ± 500 kS/m", 34e6, 5e5, false)]
    [InlineData("34 MS/m ± 5 %", 34e6, 0.05, true)]
    [InlineData("34 MS/m +/- 5%", 34e6, 0.05, true)]
    [InlineData("20 °C ± 2 °C", 293.15, 2, false)]
    [InlineData("20 ± 2 °C", 293.15, 2, false)]
    public void Tolerance_WithItsValue_IsRead(string text, double value, double width, bool relative)
    {
        Assert.True(TolerancedQuantity.TryParse(text, out var t, out string? problem), problem);
        Assert.Equal(value, t.Centre!.Value, Math.Abs(value) * 1e-15);
        Assert.Equal(width, t.Tolerance, width * 1e-15);
        Assert.Equal(relative, t.IsRelative);
        Assert.Equal(relative ? value * width : width, t.HalfWidth(t.Centre.Value), width * value * 1e-15);
    }

    [Fact]
    public void Tolerance_Alone_HasNoValue()
    {
        Assert.True(TolerancedQuantity.TryParse("± 5 %", out var share, out _));
        Assert.Null(share.Centre);
        Assert.Equal(0.05, share.Tolerance);
        Assert.True(share.IsRelative);
        Assert.True(TolerancedQuantity.TryParse("±0.2 mm", out var length, out _));
        Assert.Equal(2e-4, length.Tolerance, 1e-18);
        Assert.False(length.IsRelative);
    }

    [Theory]
    [InlineData("34 MS/m ± 2 mm", "differ")]
    [InlineData("34 MS/m", "±")]
    [InlineData("34 MS/m ± -2 MS/m", "negative")]
    [InlineData("34 ± 2 MS/", "missing")]
    [InlineData("± x", "number")]
    public void Tolerance_Mistake_IsNamed(string text, string says)
    {
        Assert.False(TolerancedQuantity.TryParse(text, out _, out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    private static void Agrees(string unit, double expected, double relative = 1e-14)
    {
        Assert.True(SiParser.TryParse($"7.25 {unit}", out var q, out string? problem), problem);
        Assert.Equal(expected, q.Value, Math.Abs(expected) * relative);
    }
}
