using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

/// <summary>Two small apparatus that tests of the file share.</summary>
internal static class Bench
{
    public static Apparatus Disc { get; } = Read(
        """
        apparatus: Disc
        symmetry: round
        parts:
          disc: {shape: disc, radius: 65 mm, thickness: 3 mm, at: {z: 10 mm}, of: aluminium 1050, moves: up and down}
          upper ring: {shape: ring, inner radius: 20 mm, outer radius: 30 mm, thickness: 2 mm, at: {z: 50 mm}, of: NdFeB N42, magnetised: up, mass: 20 g}
        windings:
          inner: {turns: 960, wire: 0.8 mm grade 1, between radii: [20 mm, 40 mm], from z: -60 mm, to z: -5 mm}
          outer: {turns: 576, wire: 1 mm grade 2, between radii: [55 mm, 70 mm], from z: -60 mm, to z: -5 mm, sense: reversed, insulation: F}
        supplies:
          line: {mains: 230 V, frequency: 50 Hz, through: variable transformer, set to: 60 V, breaker: B16, feeds: [inner, outer]}
        dials:
          current in inner: {from: 5 A, to: 25 A, now: 20 A}
        doubts:
          conductivity of disc: ± 5 %
          thickness of disc: +/- 50 um
          current in inner: ± 0.2 A
          temperature of hall: ± 3 °C
        """);

    public static Apparatus Ring { get; } = Read(
        """
        apparatus: Ring
        symmetry: long
        depth: 30 mm
        hall: {temperature: 25 °C}
        materials:
          house steel: {resistivity: 5e-7 ohm m, temperature coefficient: 0.001 1/K, relative permeability: 2000, density: 7.65 g/cm3}
        parts:
          core: {shape: core, inner radius: 40 mm, outer radius: 65 mm, gap: 2 mm, gap at: 0 deg, of: house steel, laminated: {stacking factor: 0.95}}
          bar: {shape: bar, width: 10 mm, thickness: 5 mm, at: {x: 150 mm, y: 20 mm}, of: {remanence: 1.1 T, density: 7500 kg/m3}, magnetised: 30 deg}
        windings:
          primary: {turns: 240, wire: 0.8 mm grade 1, on: core, centred at: 90 deg, length: 60 mm, build: 6 mm, clearance: 1 mm}
          lamp coil: {turns: 30, wire: 2 x 0.8 mm grade 1, on: core, centred at: 270 deg, length: 40 mm, build: 6 mm}
          straight: {turns: 5, wire: 1 mm bare aluminium 1050, out: {x: 200 mm, y: 0 mm, width: 10 mm, height: 10 mm}, into: {x: 230 mm, y: 0 mm, width: 10 mm, height: 10 mm}}
        supplies:
          cell: {battery: 12 V, internal resistance: 50 mohm, feeds: primary}
        loads:
          lamp: {filament lamp: 6 V, power: 3 W, on: lamp coil}
          shunt: {resistor: 10 ohm, on: straight}
        states:
          near: {gap in core: 1 mm}
          bare: {material of core: air, gap in core: 2 mm}
        claims:
          - {say: It pulls, measure: pull across gap in core, between: [1 N, 2 kN], in: near}
        acknowledged cautions: [mains]
        """);

    /// <summary>A ring of even steel cut by 2 mm, with one coil; its supply is to be put in.</summary>
    public const string CutRing =
        """
        apparatus: Cut ring
        symmetry: long
        depth: 30 mm
        parts:
          core: {shape: core, inner radius: 40 mm, outer radius: 65 mm, gap: 2 mm, gap at: 0 deg, of: {relative permeability: 2000, density: 7650 kg/m3}, laminated: {stacking factor: 0.95}}
        windings:
          primary: {turns: 240, wire: 0.8 mm grade 1, on: core, centred at: 180 deg, length: 60 mm, build: 6 mm, clearance: 1 mm}
        supplies:
          box: {SUPPLY, feeds: primary}
        """;

    /// <summary>A pump that drives two tubes of one bore side by side.</summary>
    public const string TwoTubes =
        """
        apparatus: Two tubes
        symmetry: board
        board:
          carries: water
          ground: basin
          elements:
            pump: {pump: 20 kPa, open flow: 9 L/min, from: basin, to: fork}
            narrow: {pipe: 2 mm, length: 0.9 m, from: fork, to: basin}
            other: {pipe: 2 mm, length: 0.5 m, from: fork, to: basin}
        """;

    /// <summary>An apparatus of the examples.</summary>
    public static Apparatus Example(string name) => Read(System.IO.File.ReadAllText(Path.Combine(Repository.Root, "examples", name + ".yaml")));

    /// <summary>A measure of an apparatus.</summary>
    public static Measure Measure(string text, Apparatus apparatus)
    {
        Assert.True(MeasureReader.TryRead(text, apparatus, out var measure, out var mistake), mistake?.Finding);
        return measure;
    }

    public static Apparatus Read(string text)
    {
        var reading = ApparatusFile.Read(text, "test.yaml");
        Assert.Equal("", string.Join('\n', reading.Mistakes.Select(ApparatusFileTests.Write)));
        return reading.Apparatus!;
    }
}
