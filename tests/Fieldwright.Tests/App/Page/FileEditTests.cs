using Fieldwright.Bench.File;
using Fieldwright.Tests.App;
using Xunit;

namespace Fieldwright.Tests.App.Page;

/// <summary>A thing moved by hand changes its place in the text and nothing else.</summary>
public sealed class FileEditTests
{
    [Fact]
    public void Move_PartInBraces_WritesItsHeightInItsOwnUnit()
    {
        string text = Small.Plate.Replace("at: {z: 14 mm}", "at: {z: 1.4 cm}   ", StringComparison.Ordinal);
        Assert.Contains("at: {z: 1.65 cm}   ", Applied(text, "plate", 0.05, 0.0025), StringComparison.Ordinal);
    }

    [Fact]
    public void Move_Winding_ShiftsBothEnds()
    {
        string moved = Applied(Small.Plate, "coil", 0, -0.004);
        Assert.Contains("from z: -4 mm, to z: 6 mm", moved, StringComparison.Ordinal);
        Assert.Equal(Small.Plate.Split('\n').Length, moved.Split('\n').Length);
    }

    [Fact]
    public void Move_PartWithoutPlace_GetsOne()
    {
        string text = Small.Plate.Replace("at: {z: 14 mm}, ", "", StringComparison.Ordinal).Replace("from z: 0 mm, to z: 10 mm", "from z: -20 mm, to z: -10 mm", StringComparison.Ordinal);
        var reading = ApparatusFile.Read(Applied(text, "plate", 0, 0.003), "");
        Assert.Equal(0.003, reading.Apparatus!.Part("plate")!.Place.Z, 9);
    }

    [Fact]
    public void Move_WindingOnALimb_SlidesRoundItsCore()
    {
        const string ring = """
            apparatus: Ring
            symmetry: long
            depth: 30 mm
            parts:
              core: {shape: core, inner radius: 40 mm, outer radius: 60 mm, of: pure iron}
            windings:
              coil: {turns: 100, wire: 0.8 mm grade 1, on: core, centred at: 90 deg, length: 30 mm, build: 6 mm}
            supplies:
              cell: {current: 1 A, feeds: coil}
            """;
        // From the top of a middle line of 50 mm, 50 mm to the left and 50 mm down is a quarter of a turn on; straight outwards is none.
        Assert.Contains("centred at: 180 deg,", Applied(ring, "coil", -0.05, -0.05), StringComparison.Ordinal);
        Assert.Equal(ring, Applied(ring, "coil", 0, 0.02));
    }

    [Fact]
    public void Move_InSpace_ShiftsAllThreeAxesAndTheDialThatSetsOne()
    {
        const string free = """
            apparatus: Free
            symmetry: free
            parts:
              needle: {shape: probe, at: {x: 4 mm, z: 20 mm}, of: air}
            windings:
              base: {turns: 60, wire: 0.8 mm grade 1, between radii: [30 mm, 36 mm], from z: -10 mm, to z: 0 mm}
              swing: {turns: 40, wire: 0.5 mm grade 1, between radii: [10 mm, 12 mm], from z: 35 mm, to z: 41 mm, at: {x: 10 mm, y: 0 mm}}
            supplies:
              left: {current: 3 A, feeds: [base, swing]}
            dials:
              x of swing: {from: -20 mm, to: 20 mm, now: 10 mm}
            """;
        Assert.Contains("at: {y: -2 mm, x: 5 mm, z: 23 mm}", Applied(free, "needle", 0.001, -0.002, 0.003), StringComparison.Ordinal);
        string moved = Applied(free, "swing", 0.004, 0.001, -0.005);
        Assert.Contains("from z: 30 mm, to z: 36 mm, at: {x: 14 mm, y: 1 mm}", moved, StringComparison.Ordinal);
        Assert.Contains("now: 14 mm", moved, StringComparison.Ordinal);
        // No further than the dial goes.
        Assert.Contains("at: {x: 20 mm, y: 0 mm}", Applied(free, "swing", 0.5, 0, 0), StringComparison.Ordinal);
        Assert.Contains("base: {at: {x: 0 mm, y: 1 mm}, ", Applied(free, "base", 0, 0.001, 0), StringComparison.Ordinal);
        Assert.NotNull(ApparatusFile.Read(moved, "").Apparatus);
    }

    [Fact]
    public void Move_UnknownThingOrWrongFile_ChangesNothing()
    {
        Assert.Empty(FileEdit.Move(Small.Plate, "saucer", 0, 1));
        Assert.Empty(FileEdit.Move("apparatus: [", "plate", 0, 1));
    }

    private static string Applied(string text, string name, double dx, double dy, double dz = 0) =>
        FileEdit.Move(text, name, dx, dy, dz).Reverse().Aggregate(text, (t, e) => t[..e.From] + e.Text + t[e.To..]);
}
