using Fieldwright.Bench.Model;
using Fieldwright.Matter;
using Xunit;

namespace Fieldwright.Tests.Bench.File;

/// <summary>What is written is what is read: every value in SI, alternating ones peak.</summary>
public class ContentTests
{
    private static readonly double RootTwo = Math.Sqrt(2);

    [Fact]
    public void Parts_OfARoundApparatus_StandWhereTheyAreSaidTo()
    {
        var disc = Bench.Disc.Part("disc")!;
        Assert.Equal(new DiscShape(0.065, 0.003), disc.Shape);
        Assert.Equal(new Place(0, 0, 0.01), disc.Place);
        Assert.Equal(Freedom.UpAndDown, disc.Freedom);
        Assert.Equal("aluminium 1050", disc.Material.Name);
        Assert.Null(disc.Mass);
        var ring = Bench.Disc.Part("upper ring")!;
        Assert.Equal(new RingShape(0.02, 0.03, 0.002), ring.Shape);
        Assert.Equal((0.02, 90.0, Freedom.Fixed), (ring.Mass!.Value, ring.Magnetised!.Value, ring.Freedom));
    }

    [Fact]
    public void Parts_OfALongApparatus_AreReadWithTheirMatter()
    {
        var core = Bench.Ring.Part("core")!;
        Assert.Equal(new CoreShape(0.04, 0.065, 0.002, 0), core.Shape);
        Assert.Equal((true, 0.95), (core.Laminated, core.StackingFactor));
        Assert.Equal(2e6, core.Material.Conductivity, 1e-3);
        Assert.Equal((0.001, 2000.0), (core.Material.TemperatureCoefficient, core.Material.RelativePermeability));
        Assert.Equal(7650, core.Material.Density!.Value, 1e-9);
        var bar = Bench.Ring.Part("bar")!;
        Assert.Equal(new Place(0.15, 0.02, 0), bar.Place);
        Assert.Equal((1.1, 1.05), (bar.Material.Remanence, bar.Material.RelativePermeability));
        Assert.Equal(30, bar.Magnetised!.Value, 1e-12);
        Assert.Equal(0.03, Bench.Ring.Depth);
        Assert.Equal(298.15, Bench.Ring.Ambient, 1e-9);
    }

    [Fact]
    public void Windings_OfEveryKind_AreRead()
    {
        var outer = Bench.Disc.Winding("outer")!;
        Assert.Equal(new RoundSpace(0.055, 0.07, -0.06, -0.005), outer.Space);
        Assert.Equal((576.0, true, "F"), (outer.Turns, outer.Reversed, outer.ThermalClass));
        Assert.Equal((0.001, WireTable.OverallDiameter(0.001, 2), "copper", 1), (outer.Wire.BareDiameter, outer.Wire.OverallDiameter, outer.Wire.Metal.Name, outer.Wire.Strands));
        var limb = Assert.IsType<LimbSpace>(Bench.Ring.Winding("primary")!.Space);
        Assert.Equal(("core", 90.0, 0.06, 0.006, 0.001), (limb.Core, Math.Round(limb.CentredAt, 12), limb.Length, limb.Build, limb.Clearance));
        Assert.Equal(2, Bench.Ring.Winding("lamp coil")!.Wire.Strands);
        var straight = Bench.Ring.Winding("straight")!;
        Assert.Equal(new TwoSides(new Box(0.2, 0, 0.01, 0.01), new Box(0.23, 0, 0.01, 0.01)), straight.Space);
        Assert.Equal((0.001, 0.001, "aluminium 1050"), (straight.Wire.BareDiameter, straight.Wire.OverallDiameter, straight.Wire.Metal.Name));
    }

    [Fact]
    public void Supplies_Alternating_ArePeakInside()
    {
        var line = Bench.Disc.Supplies[0];
        Assert.Equal(60 * RootTwo, line.Voltage!.Value, 1e-9);
        Assert.Equal(230 * RootTwo, line.LineVoltage!.Value, 1e-9);
        Assert.Equal(20 * RootTwo, line.Current!.Value, 1e-9);
        Assert.Equal(("variable transformer", "B16", 50.0), (line.Through, line.Breaker, line.Frequency));
        var dial = Bench.Disc.Dials[0];
        Assert.Equal((5 * RootTwo, 25 * RootTwo, 20 * RootTwo, "A"), (dial.From, dial.To, dial.Now, dial.Unit));
    }

    [Fact]
    public void Supply_WithPeakWritten_IsTakenAsItStands()
    {
        var apparatus = Bench.Read(
            """
            apparatus: Peak
            symmetry: round
            windings: {coil: {turns: 10, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: -60 mm, to z: -5 mm}}
            supplies: {source: {current: 20 A peak, frequency: 50 Hz, feeds: coil, phase: 90 deg}}
            claims: [{say: a, measure: current in coil, about: 20 A peak, within: 1 A}, {say: b, measure: current in coil, about: 20 A, within: 5 %}]
            """);
        Assert.Equal((20.0, 90.0), (apparatus.Supplies[0].Current!.Value, Math.Round(apparatus.Supplies[0].PhaseDegrees, 12)));
        // Currents are answered as rms, so the bound is too.
        Assert.Equal(20 / RootTwo - 1, apparatus.Claims[0].Bound.Lower, 1e-9);
        Assert.Equal((19.0, 21.0), (Math.Round(apparatus.Claims[1].Bound.Lower, 12), Math.Round(apparatus.Claims[1].Bound.Upper, 12)));
    }

    [Fact]
    public void Supply_Direct_IsNeitherPeakNorRms()
    {
        var cell = Bench.Ring.Supplies[0];
        Assert.Equal((SupplyKind.Battery, 12.0, 0.0, 0.05), (cell.Kind, cell.Voltage!.Value, cell.Frequency, Math.Round(cell.InternalResistance, 15)));
    }

    [Fact]
    public void Doubts_OfEveryForm_AreRead()
    {
        var doubts = Bench.Disc.Doubts;
        Assert.Equal(0.05, doubts[0].Relative!.Value, 1e-15);
        Assert.Null(doubts[0].Absolute);
        Assert.Equal(50e-6, doubts[1].Absolute!.Value, 1e-18);
        Assert.Equal(0.2 * RootTwo, doubts[2].Absolute!.Value, 1e-12);
        Assert.Equal(3, doubts[3].Absolute!.Value, 1e-12);
    }

    [Fact]
    public void LoadsStatesAndClaims_AreRead()
    {
        Assert.Equal(new Load("lamp", LoadKind.FilamentLamp, "lamp coil", null, 6, 3), Bench.Ring.Load("lamp"));
        Assert.Equal(10, Bench.Ring.Load("shunt")!.Resistance);
        Assert.Equal(["near", "bare"], Bench.Ring.States.Select(s => s.Name));
        Assert.Equal("air", Bench.Ring.States[1].Settings[0].Word);
        Assert.Equal(0.002, Bench.Ring.States[1].Settings[1].Value);
        var claim = Bench.Ring.Claims[0];
        Assert.Equal(("It pulls", "near", "between 1 N and 2 kN"), (claim.Say, claim.State, claim.Bound.Text));
        Assert.Equal((1.0, 2000.0), (claim.Bound.Lower, claim.Bound.Upper));
        Assert.Equal(["mains"], Bench.Ring.Acknowledged);
    }

    [Fact]
    public void Outline_OfLinesAndArcs_IsRead()
    {
        var apparatus = Bench.Read(
            """
            apparatus: Bowl
            symmetry: round
            parts:
              bowl:
                shape: outline
                of: copper
                mass: 1 kg
                corners:
                  - {at: [0 mm, 0 mm], arc about: [0 mm, 50 mm]}
                  - {at: [50 mm, 50 mm]}
                  - {at: [45 mm, 50 mm], arc about: [0 mm, 50 mm], arc runs: clockwise}
                  - {at: [0 mm, 5 mm]}
            """);
        var corners = Assert.IsType<OutlineShape>(apparatus.Parts[0].Shape).Corners;
        Assert.Equal(new Corner(0, 0, (0, 0.05), true), corners[0]);
        Assert.Equal(new Corner(0.045, 0.05, (0, 0.05), false), corners[2]);
        Assert.Null(corners[1].ArcCentre);
    }

    [Fact]
    public void BhTable_InKiloamperesPerMetre_IsTurnedIntoSi()
    {
        var apparatus = Bench.Read(
            """
            apparatus: Steel
            symmetry: round
            parts: {slug: {shape: bar, radius: 10 mm, length: 30 mm, of: {magnetisation curve: {field strength: kA/m, flux density: mT, points: [[0, 0], [0.2, 800], [1, 1400]]}}}}
            """);
        Assert.Equal(200, apparatus.Parts[0].Material.Curve!.FieldStrength(0.8), 1e-6);
        Assert.Equal("bar", apparatus.Parts[0].Shape.Word);
    }

    [Fact]
    public void Example_FloatingDisc_HasItsDialTurned()
    {
        var apparatus = Bench.Example("floating-disc");
        Assert.Equal(apparatus.Dials[0].Now, apparatus.Supplies[0].Current);
        Assert.True(apparatus.Claims.Count >= 5);
        Assert.NotEmpty(apparatus.Doubts);
    }

    [Fact]
    public void Example_RingAndLamp_HasThreeStates()
    {
        var apparatus = Bench.Example("ring-and-lamp");
        Assert.Equal(3, apparatus.States.Count);
        Assert.All(apparatus.Claims, c => Assert.NotNull(c.State));
    }
}
