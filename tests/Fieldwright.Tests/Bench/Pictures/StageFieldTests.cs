using Fieldwright.Bench.File;
using Fieldwright.Bench.Model;
using Fieldwright.Bench.Pictures.Live;
using Fieldwright.Fields;
using Fieldwright.Tests.App;
using Xunit;

namespace Fieldwright.Tests.Bench.Pictures;

/// <summary>The field that a live stage shows.</summary>
public sealed class StageFieldTests
{
    private static readonly Apparatus Plate = ApparatusFile.Read(Small.Plate, "plate.yaml").Apparatus!;

    [Fact]
    public void Quick_OtherCurrent_IsTheFieldSolvedAnew()
    {
        var before = StageField.Quick(Plate, null, 10_000, TestContext.Current.CancellationToken);
        var turned = Inputs.Apply(Plate, [new Setting(new InputName("current", "coil", "current in coil"), 8)]);
        var superposed = StageField.Quick(turned, before, 10_000, TestContext.Current.CancellationToken);
        var anew = StageField.Quick(turned, null, 10_000, TestContext.Current.CancellationToken);
        Alike(anew.Grid.Nodes, superposed.Grid.Nodes);
        Alike(anew.Grid.Sources, superposed.Grid.Sources);
        Assert.Equal(anew.Grid.MostCurrentDensity, superposed.Grid.MostCurrentDensity, 1e-9 * anew.Grid.MostCurrentDensity);
        Assert.Equal(anew.Bodies[0].Force!.Value.Y, superposed.Bodies[0].Force!.Value.Y, 1e-9 * anew.Bodies[0].Force!.Value.Y);
    }

    [Fact]
    public void Quick_OtherMatterToo_IsSolvedAnew()
    {
        var before = StageField.Quick(Plate, null, 10_000, TestContext.Current.CancellationToken);
        var copper = ApparatusFile.Read(Small.Plate.Replace("aluminium 1050", "copper", StringComparison.Ordinal), "plate.yaml").Apparatus!;
        var after = StageField.Quick(copper, before, 10_000, TestContext.Current.CancellationToken);
        Alike(StageField.Quick(copper, null, 10_000, TestContext.Current.CancellationToken).Grid.Nodes, after.Grid.Nodes);
    }

    private static void Alike(float[] expected, float[] actual)
    {
        Assert.Equal(expected.Length, actual.Length);
        // A step of a float and a little, of the largest of its kind: every fourth number is of one kind.
        for (int kind = 0; kind < 4; kind++)
        {
            double most = expected.Where((_, i) => i % 4 == kind).Max(Math.Abs);
            Assert.True(expected.Zip(actual).Where((_, i) => i % 4 == kind).All(p => Math.Abs(p.First - p.Second) <= 3e-7 * most), $"Number {kind} of four differs.");
        }
    }
}
