using Fieldwright.Bench;
using Fieldwright.Bench.Claims;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.Travelling;

/// <summary>A direct-current pump through the apparatus file, held to I·B/h, Ohm and Bernoulli.</summary>
public class PumpChannelTests
{
    // Plates of magnet so wide that the field between them is even over the channel; a probe beside the channel reads it.
    private const string Text =
        """
        apparatus: Pump
        symmetry: free
        materials: {hard: {remanence: 1.2 T, recoil permeability: "1.0"}}
        parts:
          metal: {shape: pump channel, length: 12 mm, width: 6 mm, thickness: 4 mm, carries: 50 A, at: {z: -2 mm}, of: galinstan, channel: {lift: 5 mm, nozzle bore: 2 mm}}
          low: {shape: block, length: 300 mm, width: 300 mm, thickness: 40 mm, at: {z: -50 mm}, of: hard, magnetised: up}
          high: {shape: block, length: 300 mm, width: 300 mm, thickness: 40 mm, at: {z: 10 mm}, of: hard, magnetised: up}
          needle: {shape: probe, at: {x: 0 mm, y: 8 mm, z: 0 mm}, of: air}
        """;

    private static readonly Apparatus Pump = File.Bench.Read(Text);

    [Fact]
    public void Pressure_IsCurrentTimesFieldOverHeight()
    {
        var without = File.Bench.Read(string.Join('\n', Text.Split('\n').Where(l => !l.Contains("metal:", StringComparison.Ordinal))));
        double field = Ask(without, "field along z at needle").Value;
        // 12 mm of channel and as much of fringe in a field whose curvature over ±15 mm is that of 300 mm plates: some parts in a thousand.
        Assert.Equal(field * 50 / 0.004, Ask(Pump, "standstill pressure of metal").Value, 5e-3 * field * 50 / 0.004);
        Assert.Equal(field * 50 * 0.006, Ask(Pump, "force along x on metal").Value, 5e-3 * field * 50 * 0.006);
    }

    [Fact]
    public void Leads_TurnedRound_DriveTheOtherWay()
    {
        Assert.Equal(-Ask(Pump, "standstill pressure of metal").Value, Ask(Pump, "standstill pressure of metal at current in metal -50 A").Value, 1e-9);
        Assert.Contains("other way", Ask(Pump, "flow of metal at current in metal -50 A").Remark, StringComparison.Ordinal);
    }

    [Fact]
    public void Fountain_OfAPumpWithoutPipe_IsBernoullisLessTheWalls()
    {
        double head = Ask(Pump, "head of metal").Value, rise = Ask(Pump, "fountain height of metal").Value, weight = 6440 * 9.80665;
        Assert.InRange(rise, 0.5 * (head - 0.005), head - 0.005);
        // What is missing is the friction of the wall layers of Hartmann's flow at the speed in the channel.
        double speed = Math.Sqrt(2 * 9.80665 * rise) * Math.PI * 1e-6 / (0.006 * 0.004), ha = Ask(Pump, "Hartmann number of metal").Value;
        double wall = 2.4e-3 * speed * 0.012 / (0.002 * 0.002) * ha * ha / (ha - 1);
        Assert.Equal(head - 0.005 - rise, wall / weight, 0.15 * (head - rise));
    }

    [Fact]
    public void Voltage_IsOhmsAlongTheSpreadCurrent()
    {
        double conductivity = 3.46e6, conductance = 12.0 / 6 + 2 * Math.Log(2) / Math.PI;
        double voltage = 50 / (conductivity * 0.004 * conductance);
        Assert.Equal(voltage, Ask(Pump, "electrode voltage of metal").Value, 1e-4 * voltage);
        Assert.Equal(50 * voltage, Ask(Pump, "heat in metal").Value, 1e-4 * 50 * voltage);
    }

    [Theory]
    [InlineData("electrode voltage of metal")]
    [InlineData("heat in metal")]
    [InlineData("electrode voltage of metal at current in metal -50 A")]
    public void Resistance_OfTheChannel_IsThatOfANetToo(string measure)
    {
        var answers = Rehearsal.Ask(Pump, File.Bench.Measure(measure, Pump), new RehearsalOptions(0.01), null, TestContext.Current.CancellationToken).Answers;
        Assert.Equal([RouteName.Series, RouteName.Circuit], answers.Select(a => a.Route));
        Assert.InRange(answers[1].ErrorBar, 1e-4 * Math.Abs(answers[0].Value), 0.05 * Math.Abs(answers[0].Value));
        Assert.InRange(answers[0].Value, answers[1].Value - answers[1].ErrorBar, answers[1].Value + answers[1].ErrorBar);
    }

    private static Answer Ask(Apparatus apparatus, string measure)
    {
        var read = File.Bench.Measure(measure, apparatus);
        return Rehearsal.Ask(apparatus, read, new RehearsalOptions(0.01), null, TestContext.Current.CancellationToken).Leading!;
    }
}
