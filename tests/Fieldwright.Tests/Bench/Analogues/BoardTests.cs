using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Analogues;

/// <summary>Boards of elements from the file to the answer, against arithmetic done by hand.</summary>
public class BoardTests
{
    private static string Board(string carries, params string[] elements) =>
        $"apparatus: Board\nsymmetry: board\nboard:\n  carries: {carries}\n  elements:\n" + string.Concat(elements.Select(e => "    " + e + "\n"));

    private static Answer Ask(string text, string measure)
    {
        var apparatus = Read.Read(text);
        var asked = Read.Measure(measure, apparatus);
        var answer = Rehearsal.Ask(apparatus, asked, new RehearsalOptions());
        Assert.True(answer.Leading is not null, string.Join(' ', answer.Silent.Select(s => s.Reason)));
        return answer.Leading;
    }

    [Fact]
    public void ElectricBoard_WithABatteryThatLosesSome_DividesItsVoltage()
    {
        string text = Board("electric", "cell: {battery: 6 V, internal resistance: 1 ohm, from: ground, to: a}", "first: {resistor: 2 ohm, from: a, to: b}", "second: {resistor: 3 ohm, from: b, to: ground}");
        Assert.Equal(1, Ask(text, "current in cell").Value, 1e-9);
        Assert.Equal(1, Ask(text, "current in second").Value, 1e-9);
        Assert.Equal(3, Ask(text, "voltage at b").Value, 1e-9);
        Assert.Equal(1.5, Ask(text, "voltage at b at voltage of cell 3 V").Value, 1e-9);
    }

    // Poiseuille: Δp = 128 μ L q / π d⁴, far below Re 2000.
    [Fact]
    public void WaterBoard_InASlowThinTube_FollowsPoiseuille()
    {
        string text = Board("water", "pump: {pump: 1 kPa, from: ground, to: a}", "tube: {pipe: 1 mm, length: 1 m, from: a, to: ground}");
        double expected = 1000 * Math.PI * 1e-12 / (128 * Fieldwright.Matter.Water.Viscosity);
        var answer = Ask(text, "flow in tube");
        Assert.Equal(expected, answer.Value, 1e-6 * expected);
        Assert.InRange(answer.ErrorBar, 0, 0.01 * expected);
        Assert.Equal(answer.Value, Ask(text, "flow in pump").Value, 1e-9 * expected);
    }

    // Where the flow wavers between smooth and turbulent, the bar must say so.
    [Fact]
    public void WaterBoard_BetweenLaminarAndTurbulent_HasAWideBar()
    {
        var answer = Ask(Board("water", "pump: {pump: 5 kPa, from: ground, to: a}", "tube: {pipe: 3 mm, length: 0.9 m, from: a, to: ground}"), "flow in tube");
        Assert.InRange(answer.ErrorBar / answer.Value, 0.05, 0.25);
    }

    [Fact]
    public void MagneticBoard_OfAMagnetAndAGap_StandsOnItsLoadLine()
    {
        // B_m A = B_r A + μ A drop / l with drop = −g B_m / μ₀ for one section throughout.
        string text = Board("magnetic", "magnet: {magnet: 20 mm, area: 4 cm2, of: ferrite Y30, from: ground, to: north}", "gap: {path: 5 mm, area: 4 cm2, from: north, to: ground}");
        double flux = 0.385 * 4e-4 / (1 + 1.07 * 5 / 20);
        Assert.Equal(flux, Ask(text, "flux in gap").Value, 1e-3 * flux);
    }

    [Fact]
    public void HeatBoard_OfABar_IsAsWarmAsItsResistanceSays()
    {
        string text = Board("heat", "heater: {heater: 10 W, from: ground, to: end}", "bar: {bar: 200 mm, area: 4 cm2, of: copper, from: end, to: ground}");
        double rise = 10 * 0.2 / (400 * 4e-4);
        Assert.Equal(293.15 + rise, Ask(text, "temperature at end").Value, 1e-3 * rise);
    }

    [Theory]
    [InlineData("a: {resistor: 2 ohm, from: x, to: y}", "no element ends at 'ground'")]
    [InlineData("a: {resistor: 2 ohm, from: ground, to: ground}", "ends where it starts")]
    [InlineData("a: {pipe: 2 mm, length: 1 m, from: ground, to: b}", "pipe")]
    public void Board_ThatMakesNoSense_IsAMistake(string element, string finding)
    {
        var reading = ApparatusFile.Read(Board("electric", element), "board.yaml");
        Assert.Contains(reading.Mistakes, m => (m.Finding + m.Expectation).Contains(finding, StringComparison.Ordinal));
    }

    [Fact]
    public void Jet_OfANozzleThatIsNotThere_IsAMistakeWithTheNearest()
    {
        string text = Board("water", "pump: {pump: 5 kPa, from: ground, to: a}", "mouth: {nozzle: 5 mm, from: a, to: ground}") + "ball on jet: {nozzle: moth, radius: 20 mm, mass: 2.7 g}\n";
        var mistake = Assert.Single(ApparatusFile.Read(text, "board.yaml").Mistakes);
        Assert.Equal("mouth", mistake.NearestWord);
    }

    // Momentum in = weight, at the height that is answered.
    [Fact]
    public void Jet_AtTheHeightAnswered_BringsMomentumToCarryTheBall()
    {
        string text = Board("water", "pump: {pump: 3 kPa, from: ground, to: a}", "mouth: {nozzle: 6 mm, from: a, to: ground}") + "ball on jet: {nozzle: mouth, radius: 20 mm, mass: 2.7 g}\n";
        double q = Ask(text, "flow in mouth").Value, v0 = q / (0.25 * Math.PI * 36e-6), least = Ask(text, "least flow to carry ball").Value;
        var height = Ask(text, "ball height on jet");
        double v = Math.Sqrt(v0 * v0 - 2 * 9.80665 * height.Value), share = 2.7e-3 * 9.80665 / (Fieldwright.Matter.Water.Density * q * v);
        Assert.InRange(share, 0.5, 1);
        Assert.True(height.Value < height.Bound, "A ball rides lower than the free jet.");
        Assert.InRange(least, 0, q);
        Assert.InRange(Ask(text, "ball wander on jet").Value, 0, 0.02);
    }
}
