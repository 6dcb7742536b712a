using System.Numerics;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Circuits.Supplies;
using Xunit;
using Read = Fieldwright.Tests.Bench.File.Bench;

namespace Fieldwright.Tests.Bench.Supplies;

/// <summary>Currents through the network of the circuit room against the same circuits solved by hand.</summary>
public class SupplyNetworkTests
{
    private static readonly Complex Z11 = new(4, 20), Z22 = new(6, 15), M = new(0.8, 6);
    private static readonly double RootTwo = Math.Sqrt(2);

    private static Apparatus With(string supplies, string loads = "", string sense = "forward") => Read.Read($$"""
        apparatus: Coils
        symmetry: round
        windings:
          first: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: -60 mm, to z: -5 mm}
          second: {turns: 10, wire: 1 mm grade 1, between radii: [55 mm, 70 mm], from z: -60 mm, to z: -5 mm, sense: {{sense}}}
          third: {turns: 10, wire: 1 mm grade 1, between radii: [75 mm, 90 mm], from z: -60 mm, to z: -5 mm}
        supplies:
          {{supplies}}
        {{loads}}
        """);

    private static Complex[,] Pair => new[,] { { Z11, M, 0 }, { M, Z22, 0 }, { 0, 0, new Complex(5, 10) } };

    private static void Near(Complex expected, Complex actual) => Assert.True((expected - actual).Magnitude <= 1e-11 * (1 + expected.Magnitude), $"{expected} and {actual}");

    [Theory]
    [InlineData("forward", 1), InlineData("reversed", -1)]
    public void Series_WithInternalResistance_IsOneLoop(string sense, double sign)
    {
        var found = SupplyNetwork.Currents(With("line: {mains: 24 V, frequency: 50 Hz, internal resistance: 0.5 ohm, feeds: [first, second]}", sense: sense), Pair);
        var expected = 24 * RootTwo / (Z11 + Z22 + 2 * sign * M + 0.5);
        Near(expected, found["first"]);
        Near(sign * expected, found["second"]);
        Near(0, found["third"]);
    }

    // Two meshes behind one resistance, by Cramer's rule.
    [Fact]
    public void Parallel_WithInternalResistance_IsTwoMeshes()
    {
        var found = SupplyNetwork.Currents(With("line: {mains: 24 V, frequency: 50 Hz, internal resistance: 0.5 ohm, feeds: [first, second], connection: parallel, phase: 30 deg}"), Pair);
        Complex a = Z11 + 0.5, b = M + 0.5, d = Z22 + 0.5, e = Complex.FromPolarCoordinates(24 * RootTwo, Math.PI / 6), det = a * d - b * b;
        Near(e * (d - b) / det, found["first"]);
        Near(e * (a - b) / det, found["second"]);
    }

    // With i₂ = −v₂/R(i₂) the loop of the second winding closes on the lamp's own law.
    [Fact]
    public void Lamp_OnTheOtherWinding_ClosesItsLoop()
    {
        var apparatus = With("line: {mains: 24 V, frequency: 50 Hz, feeds: first}", "loads: {lamp: {filament lamp: 6 V, power: 3 W, on: second}}");
        var found = SupplyNetwork.Currents(apparatus, Pair);
        Near(24 * RootTwo, Z11 * found["first"] + M * found["second"]);
        double rms = found["second"].Magnitude / RootTwo, resistance = SupplyCircuit.Lamp(apparatus.Loads[0]).ResistanceAtCurrent(rms);
        var loop = M * found["first"] + (Z22 + resistance) * found["second"];
        Assert.InRange(loop.Magnitude, 0, 1e-7);
    }

    [Fact]
    public void Battery_Direct_IsOhmsLaw()
    {
        var found = SupplyNetwork.Currents(With("cell: {battery: 12 V, internal resistance: 2 ohm, feeds: first}"), new Complex[,] { { 4, 0, 0 }, { 0, 6, 0 }, { 0, 0, 5 } });
        Near(2, found["first"]);
        Near(0, found["second"]);
    }

    // 12 V over 4 Ω would be 3 A: with a limit of 2 A the current acts, with 5 A the voltage.
    [Theory]
    [InlineData(2, 2, true), InlineData(5, 3, false)]
    public void BenchSupply_GivesTheLesser(double limit, double expected, bool acts)
    {
        var apparatus = With(FormattableString.Invariant($"box: {{bench supply: 12 V, current limit: {limit} A, feeds: first}}"));
        var found = SupplyNetwork.Currents(apparatus, new Complex[,] { { 4, 0, 0 }, { 0, 6, 0 }, { 0, 0, 5 } });
        Near(expected, found["first"]);
        Assert.Equal(acts, SupplyNetwork.AtLimit(apparatus, apparatus.Supplies[0], found));
    }

    // Unequal impedances in star: the currents sum to nothing and the lines keep their voltage; in delta each winding has the line's.
    [Theory]
    [InlineData("star"), InlineData("delta"), InlineData("star", "reversed"), InlineData("delta", "reversed")]
    public void ThreePhases_KeepLineVoltages(string connection, string order = "forward")
    {
        var apparatus = With($"line: {{mains: 40 V, frequency: 50 Hz, feeds: [first, second, third], connection: {connection}, phase order: {order}}}");
        double way = order == "forward" ? 1 : -1;
        var z = Pair;
        var found = SupplyNetwork.Currents(apparatus, z);
        Complex[] i = [found["first"], found["second"], found["third"]];
        Complex[] v = [z[0, 0] * i[0] + z[0, 1] * i[1], z[1, 0] * i[0] + z[1, 1] * i[1], z[2, 2] * i[2]];
        Complex Line(int k) => Complex.FromPolarCoordinates(40 * RootTwo, -way * 2 * Math.PI * k / 3);
        if (connection == "star")
        {
            Near(0, i[0] + i[1] + i[2]);
            // L1 against L2 runs a twelfth of a turn ahead of L1, or behind it when two leads are changed over.
            Near(Line(0) * Complex.FromPolarCoordinates(1, way * Math.PI / 6), v[0] - v[1]);
            Near(Line(1) * Complex.FromPolarCoordinates(1, way * Math.PI / 6), v[1] - v[2]);
        }
        else
            for (int k = 0; k < 3; k++)
                Near(Line(k), v[k]);

        var at = SupplyNetwork.AtTerminals(apparatus, apparatus.Supplies[0], new OperatingPoint { Currents = found, Impedance = z });
        Assert.Equal(40 * RootTwo, at.Voltage, 1e-9);
        Assert.Equal(0.5 * Enumerable.Range(0, 3).Sum(k => (v[k] * Complex.Conjugate(i[k])).Real), at.Real, 1e-9);
    }

    [Fact]
    public void ThreePhaseCurrents_AreAThirdOfATurnApart()
    {
        var found = SupplyNetwork.ImposedCurrents(With("line: {current: 3 A, frequency: 50 Hz, feeds: [first, second, third], connection: star}"));
        Near(Complex.FromPolarCoordinates(3 * RootTwo, -2 * Math.PI / 3), found["second"]);
        Near(0, found["first"] + found["second"] + found["third"]);
    }

    [Fact]
    public void Capacitor_BeforeOneOfAPair_SplitsThePhase()
    {
        var apparatus = With("line: {mains: 24 V, frequency: 50 Hz, feeds: [first, second], connection: parallel, capacitor: {of: 150 uF, before: second}}");
        var found = SupplyNetwork.Currents(apparatus, Pair);
        var split = PhaseSplit.With([Z11, M, M, Z22], 24, 50, 150e-6);
        Near(split.Direct, found["first"]);
        Near(split.Shifted, found["second"]);
    }

    [Fact]
    public void LoopOfSources_IsReported()
    {
        var apparatus = With("line: {mains: 24 V, frequency: 50 Hz, feeds: first}");
        Assert.Throws<RouteFailedException>(() => SupplyNetwork.Currents(apparatus, new Complex[3, 3]));
    }

    [Theory]
    [InlineData("line: {mains: 24 V, frequency: 50 Hz, feeds: [first, second], connection: star}", "a multiple of three")]
    [InlineData("line: {battery: 24 V, feeds: [first, second, third], connection: delta}", "an alternating supply")]
    [InlineData("line: {mains: 24 V, frequency: 50 Hz, feeds: [first, second], capacitor: {of: 10 uF, before: first}}", "connection: parallel")]
    [InlineData("line: {mains: 24 V, frequency: 50 Hz, feeds: [first, second], connection: parallel, capacitor: {of: 10 uF, before: third}}", "first or second")]
    [InlineData("line: {mains: 24 V, frequency: 50 Hz, feeds: first, fuse: X 3}", "a fuse such as")]
    [InlineData("line: {mains: 24 V, frequency: 50 Hz, phases: 3, feeds: [first, second, third]}", "connection: star, or delta")]
    [InlineData("line: {capacitor bank: 24 V, capacitance: 1 mF, feeds: [first, second, third], connection: star}", "an alternating supply")]
    public void Supply_ThatCannotBeJoined_IsAMistake(string supply, string expectation)
    {
        var reading = Fieldwright.Bench.File.ApparatusFile.Read($$"""
            apparatus: Coils
            symmetry: round
            windings:
              first: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: -60 mm, to z: -5 mm}
              second: {turns: 10, wire: 1 mm grade 1, between radii: [55 mm, 70 mm], from z: -60 mm, to z: -5 mm}
              third: {turns: 10, wire: 1 mm grade 1, between radii: [75 mm, 90 mm], from z: -60 mm, to z: -5 mm}
            supplies:
              {{supply}}
            """, "test.yaml");
        Assert.Contains(reading.Mistakes, m => m.Expectation.Contains(expectation, StringComparison.Ordinal));
    }
}
