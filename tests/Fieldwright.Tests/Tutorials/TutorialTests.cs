using System.Text.RegularExpressions;
using Fieldwright.Numerics.Sparse;
using Xunit;

namespace Fieldwright.Tests.Tutorials;

/// <summary>The tutorials are programs: they run, they find what they promise, and the pages print them to the letter.</summary>
public class TutorialTests
{
    [Theory]
    [InlineData("numerics", "NumericsTutorial")]
    [InlineData("geometry", "GeometryTutorial")]
    [InlineData("fields", "FieldsTutorial")]
    public void Page_Blocks_AreTheProgram(string page, string program)
    {
        var text = File.ReadAllText(Path.Combine(Repository.Root, "docs", "tutorials", page + ".md"));
        var blocks = Regex.Matches(text, "^```csharp\n(.*?)^```$", RegexOptions.Multiline | RegexOptions.Singleline).Select(m => m.Groups[1].Value);
        var code = File.ReadAllText(Path.Combine(Repository.Root, "tests", "Fieldwright.Tests", "Tutorials", program + ".cs"));
        Assert.Equal(code, string.Join('\n', blocks), ignoreLineEndingDifferences: true);
    }

    [Fact]
    public void Numerics_Program_FindsWhatIsKnownExactly()
    {
        var found = NumericsTutorial.Run();
        // λ of the smoothest shape and of the roughest: their ratio is the condition in the 2-norm, within √n of that in the 1-norm.
        var smoothest = 4 - 4 * Math.Cos(Math.PI / 101);
        var ratio = (8 - smoothest) / smoothest;
        Assert.InRange(found.Condition, ratio / 3, 100 * ratio);
        var rounding = 1.1e-16 * found.Condition;
        Assert.InRange(found.StaticError, 0, rounding);
        Assert.InRange(found.DialError, 0, 4 * rounding);
        Assert.InRange(found.BackwardError, 0, 4e-16);
        Assert.InRange(found.BytesForetold, 1_000_000, 20_000_000);
        Assert.InRange(found.MeanError, 0, 1e-10);
        Assert.Equal(new Inertia(10_000, 1, 0), found.Inertia);
        Assert.InRange(found.CarriedError, 0, 1e-11);
    }

    [Fact]
    public void Geometry_Program_FindsAreasPlacesAndRates()
    {
        var found = GeometryTutorial.Run();
        Assert.Equal(2e-7, found.FoilArea, 1e-15); // 20 mm by 0.01 mm
        Assert.InRange(found.WireAreaErrors[0] / found.WireAreaErrors[1], 15, 17);
        Assert.InRange(found.WireAreaErrors[1] / found.WireAreaErrors[2], 15, 17);
        Assert.Equal(2 * Math.PI * 0.003, found.Perimeter, 1e-6);
        Assert.Equal(2, found.RegionInFoil);
        Assert.True(found.OutsideIsOutside);
        Assert.True(found.Coarsened > 0);
        Assert.True(found.MatrixEntries > found.Triangles);
    }
}
