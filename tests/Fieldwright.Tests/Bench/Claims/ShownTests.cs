using Fieldwright.Bench.Claims;
using Xunit;

namespace Fieldwright.Tests.Bench.Claims;

public class ShownTests
{
    [Theory]
    [InlineData("mm", 0.01132, 0.00005, "11.32 ± 0.05 mm")]
    [InlineData("mm", 0.0113249, 0.00012, "11.32 ± 0.12 mm")]
    [InlineData("mm", 0.01132, 0.0000501, "11.32 ± 0.06 mm")]
    [InlineData("N", 1234.5, 30, "1230 ± 30 N")]
    [InlineData("N", 1234.5, 0.4, "1234.5 ± 0.4 N")]
    [InlineData("N", -0.5, 0.25, "−0.5 ± 0.3 N")]
    [InlineData("°C", 311.42, 0.3, "38.3 ± 0.3 °C")]
    [InlineData("ohm", 1.23456, 0, "1.235 Ω")]
    [InlineData("µWb", 350e-6, 4e-6, "350 ± 4 µWb")]
    [InlineData("%", 0.523, 0.01, "52.3 ± 1.0 %")]
    [InlineData("N", 1.23456789, 1e-12, "1.234568 ± 0.000001 N")]
    [InlineData("%", 1.529e-12, 1.3e-16, "0 %")]
    [InlineData("%", 8.8e-10, 7e-11, "0 %")]
    [InlineData("%", 8.8e-8, 7e-9, "0.0000088 ± 0.0000007 %")]
    [InlineData("N", 8.8e-8, 7e-9, "(8.8 ± 0.7)e−8 N")]
    [InlineData("N", -8.8e-9, 1.3e-8, "(−0.9 ± 1.3)e−8 N")]
    [InlineData("N", -3e-13, 2e-17, "0 N")]
    [InlineData("N", 0, 1e-11, "0 N")]
    [InlineData("ohm", 0, 0, "0 Ω")]
    [InlineData("s", 599, 2, "599 ± 2 s")]
    [InlineData("s", 1800, 60, "30.0 ± 1.0 min")]
    [InlineData("s", 86400, 0, "24 h")]
    [InlineData("cm2", 6e-4, 0, "6 cm²")]
    public void ValueAndBar_Printed_KeepsTheDigitsThatTheBarAllows(string unit, double value, double bar, string expected) =>
        Assert.Equal(expected, Shown.In(unit).ValueAndBar(value, bar));

    [Fact]
    public void Bar_Rounded_IsNeverSmallerThanItIs()
    {
        var random = new Random(5);
        for (int i = 0; i < 2000; i++)
        {
            double value = Math.Pow(10, 6 * random.NextDouble() - 3), bar = value * Math.Pow(10, -5 * random.NextDouble());
            string[] pieces = Shown.In("N").ValueAndBar(value, bar).Split(' ');
            double shown = double.Parse(pieces[2], System.Globalization.CultureInfo.InvariantCulture), mean = double.Parse(pieces[0], System.Globalization.CultureInfo.InvariantCulture);
            Assert.True(shown >= bar * (1 - 1e-6), string.Join(' ', pieces));
            Assert.True(shown <= 2.05 * bar || shown <= 1.1e-6 * value, string.Join(' ', pieces));
            Assert.True(Math.Abs(mean - value) <= Math.Max(0.51 * bar, 1e-6 * value), string.Join(' ', pieces));
        }
    }

    [Theory]
    [InlineData(0.000317, "0.032 %")]
    [InlineData(-0.0697, "7 %")]
    [InlineData(1e-9, "below 0.001 %")]
    public void Share_Printed_IsInPerCent(double share, string expected) => Assert.Equal(expected, Shown.Share(share));

    [Theory]
    [InlineData(4.2e-9, 3.36, "")]
    [InlineData(4.2e-6, 3.36, "4.2e−6 A")]
    [InlineData(0.01, 3.36, "0.01 A")]
    public void Reach_Printed_IsEmptyWhereNobodyCouldReadIt(double reach, double value, string expected) => Assert.Equal(expected, Shown.In("A").Reach(reach, value));

    [Fact]
    public void Unit_Unknown_IsRefused() => Assert.Throws<ArgumentException>(() => Shown.In("furlong"));
}
