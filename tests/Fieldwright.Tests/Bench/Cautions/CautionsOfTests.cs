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
        // 18 A at a few tens of volts are a few amperes of mains.
        var caution = Of(Coil, "mains: 230 V, frequency: 50 Hz, through: variable transformer, set to: 30 V, breaker: B10").Single(c => c.Name == "breaker");
        Assert.Contains("holds the", caution.Finding);
    }

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

    [GeneratedRegex("up to ([0-9.]+) N")]
    private static partial Regex Newtons();
}
