using Fieldwright.Bench.Claims;
using Fieldwright.Bench.File;
using Fieldwright.Bench.Routes;
using Xunit;

namespace Fieldwright.Tests.Bench.Routes;

/// <summary>Why an answer of the field route has no bounds, in words, for each reason there is.</summary>
public class UnboundedTests
{
    private const string Steel = "  body: {shape: disc, radius: 10 mm, thickness: 10 mm, at: {z: 40 mm}, of: mild steel}\n";
    private const string Magnet = "  stud: {shape: disc, radius: 5 mm, thickness: 5 mm, at: {z: -40 mm}, of: ferrite Y30, magnetised: up}\n";

    [Theory]
    [InlineData("inductance of coil", "round", "", "current: 1 A", "")]
    [InlineData("inductance of coil", "long", "", "current: 1 A", "a plane section does not see its ends")]
    [InlineData("inductance of coil", "round", "  body: {shape: disc, radius: 10 mm, thickness: 3 mm, at: {z: 40 mm}, of: copper}\n", "current: 1 A, frequency: 50 Hz", "induced currents flow")]
    [InlineData("inductance of coil", "round", "  body: {shape: disc, radius: 10 mm, thickness: 10 mm, at: {z: 40 mm}, of: mild steel, laminated: {stacking factor: 0.95}}\n", "current: 1 A, frequency: 50 Hz", "steel saturates under alternating current")]
    [InlineData("inductance of coil", "round", Steel + Magnet, "current: 1 A", "a magnet links the winding without a current")]
    [InlineData("inductance of coil", "round", Steel, "current: 1 A", "no current flows in it")]
    [InlineData("mutual inductance", "round", Steel, "current: 1 A", "mutual inductance in steel that saturates")]
    public void Field_WithoutBounds_SaysWhy(string measure, string symmetry, string parts, string supply, string expected)
    {
        string place = symmetry == "long" ? "on: core, centred at: 90 deg, length: 30 mm, build: 6 mm, clearance: 1 mm" : "between radii: [20 mm, 30 mm], from z: 0 mm, to z: 20 mm";
        string core = symmetry == "long" ? "depth: 30 mm\nparts:\n  core: {shape: core, inner radius: 40 mm, outer radius: 60 mm, of: air}\n" : parts.Length > 0 ? "parts:\n" + parts : "";
        var reading = ApparatusFile.Read($"apparatus: Coil\nsymmetry: {symmetry}\n{core}windings:\n  coil: {{turns: 100, wire: 1 mm grade 1, {place}}}\nsupplies:\n  box: {{{supply}, feeds: [coil]}}\n", "");
        Assert.Empty(reading.Mistakes);
        Assert.Equal(expected, StaticMagnetics.WhyUnbounded(reading.Apparatus!, RouteName.Field, measure.StartsWith("mutual", StringComparison.Ordinal) ? null : "coil"));
        Assert.Equal("", StaticMagnetics.WhyUnbounded(reading.Apparatus!, RouteName.Series, "coil"));
    }
}
