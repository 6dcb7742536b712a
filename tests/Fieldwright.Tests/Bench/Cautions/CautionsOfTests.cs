using System.Globalization;
using System.Numerics;
using System.Text.RegularExpressions;
using Fieldwright.Bench.Cautions;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Routes;
using Fieldwright.Matter;
using Xunit;
using Apparatus = Fieldwright.Bench.Model.Apparatus;

namespace Fieldwright.Tests.Bench.Cautions;

public partial class CautionsOfTests
{
    private const string Coil =
        """
        apparatus: Coil
        symmetry: round
        windings:
          coil: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: -10 mm, to z: 10 mm}
        supplies:
          box: {SUPPLY, feeds: coil}
        """;

    [Theory]
    [InlineData("current: 5 A", false)]
    [InlineData("mains: 230 V, frequency: 50 Hz, through: variable transformer, set to: 20 V, breaker: B16", true)]
    [InlineData("mains: 24 V, frequency: 50 Hz", false)]
    [InlineData("battery: 130 V, internal resistance: 20 ohm", true)]
    public void Mains_AboveExtraLowVoltage_IsNamed(string supply, bool named) => Assert.Equal(named, Of(Coil, supply).Any(c => c.Name == "mains"));

    [Theory]
    [InlineData("mains: 24 V, frequency: 50 Hz", false)]
    [InlineData("mains: 40 V, frequency: 50 Hz", true)]
    [InlineData("battery: 40 V", false)]
    public void LiveTerminals_AboveWhatMayBeTouched_AreNamed(string supply, bool named) => Assert.Equal(named, Of(Coil, supply).Any(c => c.Name == "live terminals"));

    [Theory]
    [InlineData("mains: 230 V, frequency: 50 Hz, breaker: B16, internal resistance: 10 ohm", "may trip or hold")]
    [InlineData("mains: 230 V, frequency: 50 Hz, breaker: B10, internal resistance: 6 ohm", "trips within the hour")]
    public void Breaker_CurrentInItsBands_IsJudged(string supply, string words) => Assert.Contains(words, Of(Coil, supply).Single(c => c.Name == "breaker").Finding);

    [Fact]
    public void Breaker_BehindATransformer_SeesTheMainsSide()
    {
        // A transformer passes power: 30 V on one side and 230 V on the other, so 30/230 of the winding's current.
        var cautions = Of(Coil, "mains: 230 V, frequency: 50 Hz, through: variable transformer, set to: 30 V, breaker: B10");
        double winding = Number(cautions.Single(c => c.Name == "hot winding coil").Finding, "At ([0-9.]+) A");
        Assert.Equal(winding * 30 / 230, Number(cautions.Single(c => c.Name == "breaker").Finding, "holds the ([0-9.]+) A"), 0.06);
    }

    // 24 V through some 1.7 Ω, so 14 A and on the mains side 1.5 A: twenty times its peak, twice over for a larger transformer, is some 86 A. A B6 holds to 18 A rms, a D32 to 320 A; at 6 V and 0.1 A neither can be reached.
    [Theory]
    [InlineData("24 V", "B6", true), InlineData("24 V", "D32", false), InlineData("6 V", "B6", false)]
    public void Transformer_WhoseInrushTheBreakerMayFeel_IsNamed(string giving, string breaker, bool named) =>
        Assert.Equal(named, Of(Coil, $"mains: 230 V, frequency: 50 Hz, through: safety transformer, giving: {giving}, breaker: {breaker}").Any(c => c.Name == "breaker" && c.Finding.Contains("its transformer", StringComparison.Ordinal)));

    // Adiabatic copper warms at 0.00504 K/s per (A/mm²)² at 20 °C (practice.md, grade b): 10 A in 1 mm² ⌀ 1.1284 mm reach 130 °C from 20 °C in about 3 min, resistance rising.
    [Fact]
    public void HotWinding_TenAmperesASquareMillimetre_ReachesItsClassWhenTheTableSays()
    {
        var finding = Of(Coil.Replace("1 mm grade 1", "1.12 mm grade 1", StringComparison.Ordinal), "current: 10 A").Single(c => c.Name.StartsWith("hot winding", StringComparison.Ordinal)).Finding;
        double density = 10 / (Math.PI / 4 * 1.12 * 1.12), rate = 0.00504 * density * density;
        double seconds = Math.Log(1 + 0.00393 * 110) / (0.00393 * rate);
        Assert.Contains(string.Create(CultureInfo.InvariantCulture, $"insulation after {seconds / 60:0} min"), finding);
    }

    [Fact]
    public void HotWinding_LikeWindings_AreNamedTogether()
    {
        var cautions = Of(
            """
            apparatus: Three
            symmetry: round
            windings:
              first: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: -10 mm, to z: 10 mm}
              second: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: 20 mm, to z: 40 mm}
              third: {turns: 300, wire: 0.5 mm grade 1, between radii: [30 mm, 50 mm], from z: 50 mm, to z: 70 mm}
            supplies:
              box: {SUPPLY, feeds: [first, second, third]}
            """, "current: 5 A");
        Assert.Equal(["hot winding first, second", "hot winding third"], cautions.Where(c => c.Name.StartsWith("hot winding", StringComparison.Ordinal)).Select(c => c.Name));
    }

    // A dipole's 0.5 mT distance on the axis: r = (μ₀ m/(2π 0.5e-3))^(1/3); m = 30 A m² gives 0.229 m (practice.md, grade b).
    [Fact]
    public void StrayField_Magnet_ReachesWhereTheDipoleSays()
    {
        double volume = 30 * PhysicalConstants.MagneticConstant / 1.2, radius = Math.Cbrt(volume / (2 * Math.PI));
        string file = string.Create(CultureInfo.InvariantCulture, $$"""
            apparatus: Magnet
            symmetry: round
            parts:
              magnet: {shape: disc, radius: {{radius * 1e3:R}} mm, thickness: {{2e3 * radius:R}} mm, of: {remanence: 1.2 T, recoil permeability: 1, density: 7500 kg/m3}, magnetised: up}
            """);
        double reach = StrayField.Of(Apparatus(file), NoCurrents)!.Reach(0.5e-3);
        // The magnet as long as it is wide is near enough a dipole at nine radii; 1 % for what it is not, and 1 % for the mesh.
        Assert.Equal(0.229, reach, 0.02 * 0.229);
    }

    [Fact]
    public void StrayField_Magnet_IsNamedWithTheLineForImplants() =>
        Assert.Contains("0.5 mT", Of(Magnet("5 mm"), "").Single(c => c.Name == "stray field").Finding);

    // No magnet's pull exceeds B²/2μ₀ of its face: 1 T gives 397.887 kPa (closed-forms.md).
    [Fact]
    public void Pinch_OneTesla_IsAtMostFourHundredKilopascalsOfItsFace()
    {
        string finding = Of(Magnet("20 mm"), "").Single(c => c.Name == "pinch magnet").Finding;
        double force = double.Parse(Newtons().Match(finding).Groups[1].Value, CultureInfo.InvariantCulture);
        Assert.Equal(397887 * Math.PI * 0.02 * 0.02, force, 0.6);
    }

    [Fact]
    public void Pinch_AButtonOfAMagnet_IsLeftOut() => Assert.DoesNotContain(Of(Magnet("1 mm"), ""), c => c.Name == "pinch magnet");

    [Theory]
    [InlineData("mercury", "Licensed")]
    [InlineData("galinstan", "aluminium")]
    [InlineData("gallium", "ladders")]
    [InlineData("NaK", "no water near")]
    public void LiquidMetal_InTheApparatus_IsNamed(string liquid, string remedy) => Assert.Contains(remedy, Of(
        $$"""
        apparatus: Ring of metal
        symmetry: round
        parts:
          pool: {shape: ring, inner radius: 20 mm, outer radius: 30 mm, thickness: 5 mm, of: {{liquid}}}
        """, "").Single(c => c.Name == "liquid metal pool").Remedy);

    [Fact]
    public void Melting_FoilInAStrongField_IsNamedWithItsMeltingPoint() => Assert.Contains("660 °C", Of(
        """
        apparatus: Foil over a coil
        symmetry: round
        parts:
          foil: {shape: ring, inner radius: 30 mm, outer radius: 50 mm, thickness: 0.2 mm, at: {z: 12 mm}, of: aluminium 1050}
        windings:
          coil: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: -10 mm, to z: 10 mm}
        supplies:
          box: {current: 40 A, frequency: 1 kHz, feeds: coil}
        """, "").Single(c => c.Name == "melting foil").Limit);

    /// <summary>A plate over a pot magnet is pulled down, however hard; it does not jump.</summary>
    [Fact]
    public void DrawnDown_APlateOverAPotMagnet_IsNamedAndDoesNotJump()
    {
        var cautions = Of(
            """
            apparatus: Pot magnet
            symmetry: round
            parts:
              pot: {shape: tube, inner radius: 12 mm, outer radius: 15 mm, length: 20 mm, of: mild steel}
              core: {shape: disc, radius: 6 mm, thickness: 20 mm, of: mild steel}
              base: {shape: disc, radius: 15 mm, thickness: 4 mm, at: {z: -4 mm}, of: mild steel}
              plate: {shape: disc, radius: 15 mm, thickness: 4 mm, at: {z: 20.5 mm}, of: mild steel, moves: up and down}
            windings:
              coil: {turns: 300, wire: 0.5 mm grade 1, between radii: [6.5 mm, 11.5 mm], from z: 1 mm, to z: 19 mm}
            supplies:
              cell: {battery: 6 V, internal resistance: 200 mohm, feeds: coil}
            """, "");
        Assert.DoesNotContain(cautions, c => c.Name == "jumping plate");
        Assert.InRange(double.Parse(Newtons().Match(cautions.Single(c => c.Name == "drawn down plate").Finding).Groups[1].Value, CultureInfo.InvariantCulture), 95, 115);
    }

    [Fact]
    public void Apparatus_AcknowledgedByName_IsPrintedAllTheSame()
    {
        var cautions = Of(Coil + "\nacknowledged cautions: [mains]", "mains: 230 V, frequency: 50 Hz, internal resistance: 20 ohm");
        Assert.True(cautions.Single(c => c.Name == "mains").Acknowledged);
        Assert.False(cautions.Single(c => c.Name == "live terminals").Acknowledged);
    }

    [Fact]
    public void Apparatus_EveryCaution_HasALimitASourceAGradeAndSomethingToDo()
    {
        var all = Of(Coil, "mains: 230 V, frequency: 50 Hz, breaker: B10, internal resistance: 6 ohm").Concat(Of(Magnet("20 mm"), "")).ToList();
        Assert.True(all.Count > 6);
        Assert.All(all, c => Assert.True(c.Finding.Length > 10 && c.Limit.Length > 3 && c.Standard.Length > 3 && c.Remedy.Length > 10 && c.Grade is 'a' or 'b' or 'c'));
    }

    private const string Track =
        """
        apparatus: Track
        symmetry: long
        depth: 60 mm
        windings:
          track: {turns: 60, wire: 1 mm grade 1, phases: 3, slots: 9, slot pitch: 20 mm, slot width: 16 mm, slot height: 16 mm}
        supplies:
          box: {SUPPLY, frequency: 50 Hz, connection: star, feeds: track}
        """;

    [Theory]
    [InlineData("current: 9 A"), InlineData("inverter: 40 V")]
    public void HotWinding_PhasesOfOneWinding_AreOneEntryThatNamesThem(string supply)
    {
        var hot = Of(Track, supply).Where(c => c.Name.StartsWith("hot winding", StringComparison.Ordinal)).ToList();
        Assert.Equal("hot winding track", Assert.Single(hot).Name);
        Assert.Contains("'track' (phases a, b, c)", hot[0].Finding);
    }

    [Fact]
    public void HotWinding_CoilsInStar_AreOneEntry() => Assert.Equal("hot winding lower, middle, upper", Assert.Single(Of(
        """
        apparatus: Stack
        symmetry: round
        windings:
          lower: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 0 mm, to z: 10 mm}
          middle: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 12 mm, to z: 22 mm}
          upper: {turns: 100, wire: 1 mm grade 1, between radii: [20 mm, 40 mm], from z: 24 mm, to z: 34 mm}
        supplies:
          line: {inverter: 20 V, frequency: 50 Hz, feeds: [lower, middle, upper], connection: star}
        """, ""), c => c.Name.StartsWith("hot winding", StringComparison.Ordinal)).Name);

    // ½ C V²: 4.7 mF at 160 V hold 60.16 J, and 2.2 kΩ take ln(160/60) time constants of 10.34 s to 60 V.
    [Theory]
    [InlineData("bleeder: 2.2 kohm", "Its bleeder brings it to 60 V in 10 s")]
    [InlineData("internal resistance: 30 mohm", "without a bleeder it stays charged for days")]
    public void StoredEnergy_Bank_SaysHowMuchAndHowLong(string more, string words)
    {
        var caution = Of(Coil, "capacitor bank: 160 V, capacitance: 4.7 mF, " + more).Single(c => c.Name == "stored energy box");
        Assert.Contains("60.16 J at 160 V", caution.Finding);
        Assert.Contains(words, caution.Finding);
    }

    [Fact]
    public void StoredEnergy_SmallBank_IsLeftOut() => Assert.DoesNotContain(Of(Coil, "capacitor bank: 20 V, capacitance: 1 mF"), c => c.Name.StartsWith("stored energy", StringComparison.Ordinal));

    [Fact]
    public void StoredEnergy_SplittingCapacitor_IsNamedByItsWinding()
    {
        var caution = Of(
            """
            apparatus: Two coils
            symmetry: round
            windings:
              inner: {turns: 900, wire: 0.56 mm grade 2, between radii: [20 mm, 32 mm], from z: -50 mm, to z: 0 mm}
              outer: {turns: 900, wire: 0.56 mm grade 2, between radii: [40 mm, 52 mm], from z: -50 mm, to z: 0 mm}
            supplies:
              line: {mains: 230 V, frequency: 50 Hz, feeds: [inner, outer], connection: parallel, capacitor: {of: 20 uF, before: outer}}
            """, "").Single(c => c.Name == "stored energy line");
        Assert.Contains("The capacitor before 'outer'", caution.Finding);
    }

    // 12 V behind 30 mΩ short to 400 A.
    [Theory]
    [InlineData("30 mohm", true), InlineData("1.2 ohm", false)]
    public void BatteryShort_OfALowResistance_IsNamed(string inside, bool named)
    {
        var found = Of(Coil, $"battery: 12 V, internal resistance: {inside}").Where(c => c.Name == "battery short box").ToList();
        Assert.Equal(named, found.Count == 1);
        Assert.All(found, c => Assert.Contains("400 A", c.Finding));
    }

    // 200 turns on 712 mm² of steel at 36 V swing to 1.14 T; switched on at zero they would need 2.3 T, and the saturated ring lets a good deal of the 51 V peak over the resistance through.
    [Theory]
    [InlineData("B6", true), InlineData("D32", false)]
    public void Breaker_OfASaturatingRing_SeesItsFirstPeak(string breaker, bool named)
    {
        var cautions = Of(
            $$$"""
            apparatus: Ring
            symmetry: long
            depth: 30 mm
            materials:
              steel: {conductivity: 3 MS/m, magnetisation curve: {field strength: A/m, flux density: T, points: [[0, 0], [60, 0.2], [90, 0.5], [120, 0.8], [200, 1.1], [500, 1.35], [1500, 1.5], [5000, 1.68], [15000, 1.88], [50000, 2.1]]}}
            parts:
              core: {shape: core, inner radius: 40 mm, outer radius: 65 mm, of: steel, laminated: {stacking factor: 0.95}}
            windings:
              primary: {turns: 200, wire: 1 mm grade 1, on: core, centred at: 90 deg, length: 60 mm, build: 6 mm, clearance: 1.5 mm}
            supplies:
              line: {mains: 36 V, frequency: 50 Hz, breaker: {{{breaker}}}, feeds: primary}
            """, "").Where(c => c.Name == "breaker").ToList();
        Assert.Equal(named, cautions.Count == 1 && cautions[0].Finding.Contains("first peak", StringComparison.Ordinal));
    }

    // Discs in an open tray: a share exp(−E/kT) of a plane gas is faster than E, so the fastest of n looked at a thousand times has ln(1000 n) of the mean energy.
    [Fact]
    public void Box_OpenAndShaken_HasItsCautions()
    {
        var cautions = Of(
            """
            apparatus: Tray
            symmetry: flat
            box: {width: 200 mm, height: 200 mm, tilt: 20 deg, top: open}
            discs: {count: 20, radius: 6 mm, mass: 2 g, rms speed: 600 mm/s}
            floor: {amplitude: 3 mm, frequency: 40 Hz}
            """, "");
        Assert.Contains(cautions, c => c.Name == "flying discs");
        Assert.Contains("12 mm", cautions.Single(c => c.Name == "small parts").Finding);
        // 3 mm at 40 Hz are 189.5 m/s² peak, 134 m/s² rms; 2.5 m/s² over eight hours are used up in 10 s.
        string hands = cautions.Single(c => c.Name == "shaken hands").Finding;
        Assert.Contains("134 m/s² rms at 40 Hz", hands);
        Assert.Contains("after 10 s", hands);
        Assert.Contains(cautions, c => c.Name == "rattle");
    }

    // IEC 60949: I²t = K² S² ln((θ_f + β)/(θ_i + β)) with K = 148, β = 228 for aluminium; 10 mm × 15 µm at 20 A from 20 °C reaches 65 °C in 0.211 s.
    [Fact]
    public void Foil_AtItsMost_IsHotAndMeltsWhenTheCableFormulaSays()
    {
        var caution = Of(Foil, "").Single(c => c.Name == "hot foil foil");
        double expected = 148 * 148 * 0.15 * 0.15 * Math.Log((65 + 228.0) / (20 + 228)) / 400;
        double found = double.Parse(Seconds().Match(caution.Finding).Groups[1].Value, CultureInfo.InvariantCulture);
        // The wording gives a tenth of a second.
        Assert.Equal(expected, found, 0.051);
        // The cable formula is for metal of 35.4 MS/m; this foil's conducts 6 % better.
        double melts = double.Parse(Seconds().Matches(caution.Finding)[1].Groups[1].Value, CultureInfo.InvariantCulture);
        Assert.Equal(148 * 148 * 0.15 * 0.15 * Math.Log((660 + 228.0) / (20 + 228)) / 400, melts, 0.08 * 1.57 + 0.05);
    }

    /// <summary>One caution says all of a foil: nothing else about hot or melting metal stands beside it.</summary>
    [Fact]
    public void Foil_AtItsMost_IsNamedOnce() => Assert.DoesNotContain(Of(Foil, ""), c => c.Name is "hot metal foil" or "melting foil");

    [Fact]
    public void HotMetal_BeyondItsMeltingPoint_MeltsAndHasNoTemperature()
    {
        string finding = Of(
            """
            apparatus: Washer over a coil
            symmetry: round
            parts:
              washer: {shape: ring, inner radius: 30 mm, outer radius: 50 mm, thickness: 0.2 mm, at: {z: 12 mm}, of: aluminium 1050}
            windings:
              coil: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: -10 mm, to z: 10 mm}
            supplies:
              box: {current: 40 A, frequency: 1 kHz, feeds: coil}
            """, "").Single(c => c.Name == "hot metal washer").Finding;
        Assert.Contains("would melt within a minute", finding);
        Assert.DoesNotContain("°C", finding);
    }

    [Fact]
    public void StrayField_OfTiltedCoilsAndBlocks_IsFoundFromTheirMiddle()
    {
        string file(string x) =>
            $$"""
            apparatus: Block
            symmetry: free
            parts:
              block: {shape: block, length: 30 mm, width: 12 mm, thickness: 8 mm, at: {x: {{x}}, y: 0 mm, z: 5 mm}, of: {remanence: 1.2 T, density: 7500 kg/m3}, magnetised: up, tilted: 30 deg}
            """;
        // Where the one magnet stands is the middle, so moving it changes nothing; its dipole reaches 0.5 mT at (μ₀ m/2π 0.5 mT)^⅓ = 104.7 mm.
        double m = 1.2 / PhysicalConstants.MagneticConstant * 30e-3 * 12e-3 * 8e-3, expected = Math.Cbrt(PhysicalConstants.MagneticConstant * m / (2 * Math.PI * 0.5e-3));
        Assert.Equal(expected, StrayField.Of(Apparatus(file("0 mm")), NoCurrents)!.Reach(0.5e-3), 0.002 * expected);
        Assert.Equal(expected, StrayField.Of(Apparatus(file("400 mm")), NoCurrents)!.Reach(0.5e-3), 0.002 * expected);
    }

    // A leaning coil is a dipole of N I π (a² + a b + b²)/3; the field on its axis falls to 0.5 mT at (μ₀ m/2π 0.5 mT)^⅓.
    [Fact]
    public void StrayField_OfALeaningCoil_ReachesWhereItsMomentSays()
    {
        var coil = Apparatus(
            """
            apparatus: Coil
            symmetry: free
            windings:
              coil: {turns: 300, wire: 0.4 mm grade 1, between radii: [8 mm, 12 mm], from z: -10 mm, to z: 10 mm, tilted: 40 deg}
            supplies:
              box: {current: 8 A, feeds: coil}
            """);
        double m = 300 * 8 * Math.PI / 3 * (64e-6 + 96e-6 + 144e-6), expected = Math.Cbrt(PhysicalConstants.MagneticConstant * m / (2 * Math.PI * 0.5e-3));
        Assert.Equal(expected, StrayField.Of(coil, new Dictionary<string, Complex> { ["coil"] = 8 })!.Reach(0.5e-3), 0.002 * expected);
    }

    [Fact]
    public void Pinch_Block_IsItsLargestFace() => Assert.Contains("up to 206 N", Of(
        """
        apparatus: Block
        symmetry: free
        parts:
          block: {shape: block, length: 30 mm, width: 12 mm, thickness: 8 mm, of: {remanence: 1.2 T, density: 7500 kg/m3}, magnetised: up}
        """, "").Single(c => c.Name == "pinch block").Finding);

    [Fact]
    public void Projectile_SlugOfALauncher_IsNamedWithItsMouthSpeed()
    {
        var caution = Of(
            """
            apparatus: Launcher
            symmetry: round
            parts:
              slug: {shape: tube, inner radius: 14 mm, outer radius: 18 mm, length: 90 mm, at: {z: 10 mm}, of: copper, moves: up and down}
            windings:
              barrel: {turns: 80, wire: 1 mm grade 1, phases: 3, coils: 12, coil pitch: 15 mm, coil length: 14 mm, inner radius: 21 mm, build: 10 mm}
            supplies:
              inverter: {current: 40 A, frequency: 50 Hz, connection: star, feeds: barrel}
            """, "").Single(c => c.Name.StartsWith("projectile", StringComparison.Ordinal));
        Assert.Contains("'slug' can leave with", caution.Finding);
    }

    // Wheeler's formula for a multilayer coil (1928, from memory, good to 1 %): 31.6 N² r²/(6 r + 9 l + 10 c) µH with lengths in m; 300 turns, r = 40 mm, l = 20 mm, c = 20 mm are 7.34 mH, so 20 A hold 1.47 J.
    [Fact]
    public void BrokenCircuit_DirectCurrentInACoil_HoldsWhatWheelerSays()
    {
        var caution = Of(Coil, "current: 20 A").Single(c => c.Name == "broken circuit coil");
        double henry = 31.6e-6 * 300 * 300 * 0.04 * 0.04 / (6 * 0.04 + 9 * 0.02 + 10 * 0.02);
        Assert.Equal(0.5 * henry * 400, Number(caution.Finding, "holds ([0-9.]+) J"), 0.03 * 0.5 * henry * 400);
        Assert.DoesNotContain(Of(Coil, "current: 5 A"), c => c.Name == "broken circuit coil");
        Assert.DoesNotContain(Of(Coil, "current: 20 A, frequency: 50 Hz"), c => c.Name == "broken circuit coil");
    }

    // The heat in a ring goes with the square of field and frequency.
    [Fact]
    public void RingsOnFingers_NearAQuickCoil_AreWarmedByItsSquare()
    {
        double Watts(string supply) => Number(Of(Coil, supply).Single(c => c.Name == "rings on fingers").Finding, "up to ([0-9.]+) W");
        double once = Watts("current: 20 A, frequency: 1 kHz");
        Assert.Equal(4, Watts("current: 40 A, frequency: 1 kHz") / once, 0.1);
        Assert.Equal(4, Watts("current: 20 A, frequency: 2 kHz") / once, 0.1);
        Assert.DoesNotContain(Of(Coil, "current: 2 A, frequency: 50 Hz"), c => c.Name == "rings on fingers");
    }

    // B = µ0 N I/(gap + path/µr) = 0.53 T without fringing, so B² A/(2 µ0) = 84 N; the flux spreads over more than the face and some leaks past the gap.
    [Fact]
    public void ClosingGap_OfACutRing_IsPulledAsTheFluxSays()
    {
        double path = 2 * Math.PI * 0.0525 - 0.002, flux = PhysicalConstants.MagneticConstant * 240 * 4 / (0.002 + path / (2000 * 0.95));
        double expected = flux * flux * 0.025 * 0.03 / (2 * PhysicalConstants.MagneticConstant);
        Assert.InRange(Number(Of(File.Bench.CutRing, "current: 4 A").Single(c => c.Name == "closing gap core").Finding, "up to ([0-9.]+) N"), 0.75 * expected, 1.35 * expected);
        Assert.DoesNotContain(Of(File.Bench.CutRing, "current: 0.5 A"), c => c.Name == "closing gap core");
    }

    [Fact]
    public void Hum_OfSheets_IsAtTwiceTheFrequency()
    {
        Assert.Contains("shake at 120 Hz", Of(File.Bench.CutRing, "current: 1 A, frequency: 60 Hz").Single(c => c.Name == "hum core").Finding);
        Assert.DoesNotContain(Of(File.Bench.CutRing, "current: 1 A"), c => c.Name == "hum core");
        Assert.DoesNotContain(Of(File.Bench.CutRing.Replace(", laminated: {stacking factor: 0.95}", "", StringComparison.Ordinal), "current: 1 A, frequency: 60 Hz"), c => c.Name == "hum core");
    }

    // Lift goes with the square of the current; 90 g of ball in the field of 2.55 N at 60 A are 2.9 times its weight.
    [Fact]
    public void Jumping_BallFarOverItsCurrent_IsNamedWithItsLiftInWeights()
    {
        const string ball =
            """
            apparatus: Ball
            symmetry: free
            parts:
              ball: {shape: ball, radius: 20 mm, at: {x: 0 mm, y: 0 mm, z: 30 mm}, of: aluminium 1050, moves: freely}
            windings:
              coil: {turns: 300, wire: 1 mm grade 1, between radii: [30 mm, 50 mm], from z: -20 mm, to z: 0 mm}
            supplies:
              box: {SUPPLY, feeds: coil}
            """;
        double Weights(string supply) => Number(Of(ball, supply).Single(c => c.Name == "jumping ball").Finding, "is ([0-9.]+) times");
        Assert.Equal(4, Weights("current: 160 A, frequency: 400 Hz") / Weights("current: 80 A, frequency: 400 Hz"), 0.1);
        Assert.DoesNotContain(Of(ball, "current: 50 A, frequency: 400 Hz"), c => c.Name == "jumping ball");
    }

    [Fact]
    public void Board_OfWater_NamesItsPressureAndTheVoltageForWetHands()
    {
        var caution = Of(Board("water", "pump: {pump: 20 kPa, from: ground, to: top}\n    tube: {pipe: 3 mm, length: 0.9 m, from: top, to: ground}"), "").Single(c => c.Name == "water and electricity");
        Assert.Contains("up to 20 kPa", caution.Finding);
        Assert.Contains("12 V alternating or 30 V direct", caution.Limit);
    }

    // 12 W through 10 K/W stand 120 K above the hall at 20 °C.
    [Fact]
    public void Board_OfHeat_NamesNodesThatBurn()
    {
        string Hot(string heat) => Board("heat", $"heater: {{heater: {heat}, from: ground, to: end}}\n    lagging: {{heat resistance: 10 K/W, from: end, to: ground}}");
        Assert.Contains("stands at 140 °C", Of(Hot("12 W"), "").Single(c => c.Name == "hot node end").Finding);
        Assert.DoesNotContain(Of(Hot("2 W"), ""), c => c.Name == "hot node end");
    }

    [Fact]
    public void Board_OfElectricity_NamesJointsAboveSixtyVolts()
    {
        string Live(string volts) => Board("electric", $"cell: {{battery: {volts}, from: ground, to: top}}\n    wire: {{resistor: 100 ohm, from: top, to: ground}}");
        Assert.Contains("up to 96 V", Of(Live("96 V"), "").Single(c => c.Name == "live board").Finding);
        Assert.DoesNotContain(Of(Live("48 V"), ""), c => c.Name == "live board");
    }

    private static string Board(string carries, string elements) => $"apparatus: Board\nsymmetry: board\nhall: {{temperature: 20 °C}}\nboard:\n  carries: {carries}\n  ground: ground\n  elements:\n    {elements}\n";

    // Galinstan of 3.46 MS/m (from memory, good to 10 %): 16 mm across a section of 40 mm by 6 mm are 19.3 µΩ, so that 60 A need 1.2 mV at least where no current goes beyond the electrodes; it spreads, and less is needed.
    [Fact]
    public void HeavyCurrent_InAChannel_NamesCurrentAndVoltage()
    {
        string finding = Of(
            """
            apparatus: Channel
            symmetry: free
            parts:
              metal: {shape: pump channel, length: 40 mm, width: 16 mm, thickness: 6 mm, carries: 60 A, at: {z: -3 mm}, of: galinstan}
              magnet: {shape: block, length: 40 mm, width: 20 mm, thickness: 10 mm, at: {z: 4 mm}, of: NdFeB N42, magnetised: up}
            """, "").Single(c => c.Name == "heavy current metal").Finding;
        Assert.Contains("carries 60 A", finding);
        Assert.InRange(Number(finding, "at ([0-9.]+) mV"), 0.6, 1.25);
    }

    private static double Number(string words, string pattern) => double.Parse(Regex.Match(words, pattern).Groups[1].Value, CultureInfo.InvariantCulture);

    private const string Foil =
        """
        apparatus: Foil
        symmetry: free
        hall: {temperature: 20 °C}
        parts:
          foil: {shape: foil loop, length: 300 mm, width: 10 mm, thickness: 15 um, span: 40 mm, carries: 20 A, at: {x: 0 mm, y: 0 mm, z: 0 mm}, of: aluminium 1199}
        """;

    private static readonly Dictionary<string, Complex> NoCurrents = [];

    private static string Magnet(string radius) =>
        $$"""
        apparatus: Magnet
        symmetry: round
        parts:
          magnet: {shape: disc, radius: {{radius}}, thickness: 10 mm, of: {remanence: 1 T, density: 7500 kg/m3}, magnetised: up}
        """;

    private static IReadOnlyList<Caution> Of(string file, string supply)
    {
        var apparatus = Apparatus(file.Replace("SUPPLY", supply, StringComparison.Ordinal));
        return CautionsOf.Apparatus(apparatus, new RoutePanel(apparatus, 0.05, TestContext.Current.CancellationToken));
    }

    private static Apparatus Apparatus(string file) => File.Bench.Read(file);

    [GeneratedRegex("after ([0-9.]+) s")]
    private static partial Regex Seconds();

    [GeneratedRegex("up to ([0-9.]+) N")]
    private static partial Regex Newtons();
}
